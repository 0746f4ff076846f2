//! A missing part of a piece that is about to be played.

use crate::catalogue::sections::{is_optional, part_rows};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::judging::for_each_band;
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::split_part;
use crate::rule;
use crate::text::sentences::agree;

rule! {
    /// A part that is missing from the set of a piece in a coming program, for which the band has players.
    ///
    /// # Why it matters
    ///
    /// A replacement from the publisher takes weeks, and the players sit without music until it comes.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     missing         2 tuba
    ///                     ^^^^^^
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, tuba 2
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     missing         bassoon
    /// piece "On the Shelf"
    ///   library
    ///     missing         2 tuba
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, tuba 2
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Order the part from the publisher now, and take the line out when it is in the folder.
    MissingPartInAProgram: "missing part in a program", Library, Warning, reads Catalogue, looks at Piece
}

/// The part and who needs it.
pub struct Gone {
    part: String,
    band: String,
    bands: usize,
}

impl Notice for MissingPartInAProgram {
    type What = Gone;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Gone>> {
        let Some(piece) = card.piece().filter(|piece| !piece.library.missing.is_empty()) else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            if !judging.earnest() {
                return Vec::new();
            }
            let sections = judging.sections(card);
            let missing = piece.library.missing.iter().filter(|said| said.is_certain());
            missing
                .filter(|said| {
                    let (name, _) = split_part(&said.value.part);
                    let Some(instrument) = card.instrument(name) else {
                        return true;
                    };
                    let mut rows = part_rows(piece).filter(|row| {
                        row.names.iter().any(|name| {
                            card.instrument(&name.text)
                                .is_some_and(|found| found.name == instrument.name)
                        })
                    });
                    let spared = rows.next().is_some_and(is_optional);
                    !spared
                        && (instrument.family.is_percussion()
                            || sections.is_empty()
                            || sections.has(instrument))
                })
                .map(|said| {
                    let what = Gone {
                        part: said.value.to_string(),
                        band: judging.name(),
                        bands: judging.bands.len(),
                    };
                    Noticed::judged(said.span, true, what)
                })
                .collect()
        })
    }

    fn say(what: &Gone, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "{} is missing from the set, and {} {} about to play the piece.",
                what.part,
                what.band,
                agree(what.bands, "is", "are")
            ),
            why: "A replacement from the publisher takes weeks, and the players sit without music until it comes.".to_owned(),
            todo: "Order the part from the publisher now, and take the line out when it is in the folder.".to_owned(),
        }
    }
}
