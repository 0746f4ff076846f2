//! A treble clef player, and a set without a treble clef part.

use crate::catalogue::sections::part_rows;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::for_each_band;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

rule! {
    /// A euphonium or baritone player who reads treble clef, and a set on a coming program whose card counts
    /// copies of the part in bass clef and none in treble clef.
    ///
    /// # Why it matters
    ///
    /// The player sits there with a part that cannot be read, and finds out in the first rehearsal.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, euphonium 2, 1 treble clef
    ///
    /// piece "Harbor Parade"
    ///   library
    ///     copies          8 flute, 2 euphonium
    ///                              ^^^^^^^^^^^
    /// concert "Winter evening"
    ///   program
    ///     "Harbor Parade"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, euphonium 2, 1 treble clef
    ///
    /// piece "Harbor Parade"
    ///   library
    ///     copies          8 flute, 1 euphonium, 1 euphonium T.C.
    /// piece "On the Shelf"
    ///   library
    ///     copies          8 flute, 2 euphonium
    /// concert "Winter evening"
    ///   program
    ///     "Harbor Parade"
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the set for the part, or ask the publisher for one.
    TrebleClefPlayerWithoutAPart: "treble clef player without a part", Coverage, Information, reads Catalogue,
        looks at Piece
}

/// The section, the band, and how many read treble clef.
pub struct Clef {
    instrument: String,
    band: String,
    players: u32,
    related: Vec<Related>,
}

impl Notice for TrebleClefPlayerWithoutAPart {
    type What = Clef;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Clef>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let is = |words: &str, low: bool| {
            card.instrument(words).is_some_and(|found| match low {
                true => matches!(found.name.as_ref(), "euphonium" | "baritone"),
                false => matches!(found.name.as_ref(), "euphonium T.C." | "baritone T.C."),
            })
        };
        let copies = &piece.library.copies;
        let in_treble = copies.iter().any(|said| is(&said.value.part, false))
            || part_rows(piece).any(|row| row.names.iter().any(|name| is(&name.text, false)));
        let low = copies
            .iter()
            .find(|said| said.is_certain() && is(&said.value.part, true));
        let Some(low) = low.filter(|_| !in_treble) else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            if !judging.earnest() {
                return Vec::new();
            }
            let sections = judging.sections(card);
            let reads = sections.all.iter().find(|section| {
                section.treble_clef > 0 && matches!(section.instrument.as_str(), "euphonium" | "baritone")
            });
            let found = reads.map(|section| {
                let what = Clef {
                    instrument: section.instrument.clone(),
                    band: judging.name(),
                    players: section.treble_clef,
                    related: judging.beside(card, section.band, section.span, "who reads treble clef"),
                };
                Noticed::new(low.span, what)
            });
            found.into_iter().collect()
        })
    }

    fn say(what: &Clef, _card: &Card<'_>) -> Saying {
        let players = match what.players {
            1 => format!("1 {} player of {} reads", what.instrument, what.band),
            players => format!("{players} {} players of {} read", what.instrument, what.band),
        };
        Saying {
            place: "copies".to_owned(),
            says: format!("{players} treble clef, and the set has no part in treble clef."),
            why: "The player finds out in the first rehearsal, with a part that cannot be read.".to_owned(),
            todo: "Look in the set for the part, or ask the publisher for one, and write it under copies."
                .to_owned(),
        }
    }

    fn related(what: &Clef, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}
