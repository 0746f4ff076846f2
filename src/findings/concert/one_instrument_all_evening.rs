//! A percussionist who can play only one of the instruments that a program asks for.

use crate::catalogue::EntryId;
use crate::catalogue::model::Ensemble;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Family;
use crate::planning::percussion::Players;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{joined, the};

use super::asked_for::{AskedFor, asked_for, what_they_play};

/// A program of fewer pieces is no long evening on one instrument (common practice, no source).
const PIECES: usize = 3;

rule! {
    /// A percussionist who, by what the band's card says, can play only one of all the instruments that a program
    /// of three or more pieces asks for, and that one is a drum other than the snare, a pair of cymbals, or an
    /// accessory. Mallets, timpani, snare and drum set are studied for years, and draw nothing. (Common practice, no
    /// source.) Only where every piece that the band plays has its percussion on its card.
    ///
    /// # Why it matters
    ///
    /// The same child stands at the bass drum all evening, and learns nothing else this term.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              snare, bass drum, bells
    ///     P2              bass drum
    /// piece "Drum Hill"
    ///   percussion
    ///     snare           1-40
    ///     bass drum       1-40
    /// piece "Harbor Parade"
    ///   percussion
    ///     bells           1-64
    ///     bass drum       1-64
    /// piece "Creek Bridge"
    ///   percussion
    ///     snare           1-24
    /// concert "Winter evening"
    ///          ^^^^^^^^^^^^^^
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Drum Hill"
    ///     "Harbor Parade"
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              snare, bass drum, bells
    ///     P2              bass drum, accessories
    /// piece "Drum Hill"
    ///   percussion
    ///     snare           1-40
    ///     bass drum       1-40
    /// piece "Harbor Parade"
    ///   percussion
    ///     bells           1-64
    ///     triangle        1-64
    /// piece "Creek Bridge"
    ///   percussion
    ///     snare           1-24
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Drum Hill"
    ///     "Harbor Parade"
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Teach the player a second instrument before the concert and write it beside the seat, or choose a piece
    /// with another part within reach.
    OneInstrumentAllEvening: "one instrument all evening", Concert, Hint, reads Catalogue, looks at Concert
}

/// The players, each with the one instrument, and where the band's card says so.
pub struct Bound {
    players: Vec<(String, String, Span)>,
    pieces: usize,
    band: EntryId,
    name: String,
}

impl Notice for OneInstrumentAllEvening {
    type What = Bound;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Bound>> {
        let Some(asked) = asked_for(card).filter(|asked| asked.pieces.len() >= PIECES) else {
            return Vec::new();
        };
        let players = bound(card, &asked);
        let name = card
            .snapshot
            .entry(asked.id)
            .map(|entry| the(&entry.name))
            .unwrap_or_default();
        match players.is_empty() {
            true => Vec::new(),
            false => vec![Noticed::new(
                card.head_span(),
                Bound {
                    players,
                    pieces: asked.pieces.len(),
                    band: asked.id,
                    name,
                },
            )],
        }
    }

    fn say(what: &Bound, _card: &Card<'_>) -> Saying {
        let players: Vec<String> = what
            .players
            .iter()
            .map(|(seat, name, _)| format!("{seat} nothing but {name}"))
            .collect();
        Saying {
            place: "program".to_owned(),
            says: format!(
                "In {} pieces there is for {} of {}.",
                what.pieces,
                joined(&players),
                what.name
            ),
            why: "The same child stands at one instrument all evening, and learns nothing else this term."
                .to_owned(),
            todo: "Teach the player a second instrument and write it beside the seat, or choose a piece with another part within reach."
                .to_owned(),
        }
    }

    fn related(what: &Bound, card: &Card<'_>) -> Vec<Related> {
        what_they_play(
            card,
            what.band,
            what.players.iter().map(|(seat, _, span)| (seat, *span)),
        )
    }
}

/// The players who say what they play, and can play just one of these instruments.
fn bound(card: &Card<'_>, asked: &AskedFor<'_>) -> Vec<(String, String, Span)> {
    let who = Players::of(card.snapshot);
    let band: &Ensemble = asked.band;
    band.percussionists
        .iter()
        .filter(|player| !player.can.plays.is_empty() && player.can.also.is_empty())
        .filter_map(|player| {
            let mut within: Vec<&str> = Vec::new();
            for name in asked.pieces.iter().flatten() {
                let one = card.instrument(name).map_or(name.as_str(), |found| &found.name);
                if !within.contains(&one) && who.can_play(&player.can, name) {
                    within.push(one);
                }
            }
            match within.as_slice() {
                [one] if teaches_little(card, one) => {
                    Some((player.seat.clone(), (*one).to_owned(), player.span))
                }
                _ => None,
            }
        })
        .collect()
}

/// Whether an instrument is one on which a child can stand for a year and learn next to nothing.
fn teaches_little(card: &Card<'_>, name: &str) -> bool {
    card.instrument(name).is_some_and(|found| {
        let by_family = matches!(
            found.family,
            Family::Battery | Family::Accessories | Family::World
        );
        by_family && !matches!(&*found.name, "snare" | "drum set")
    })
}
