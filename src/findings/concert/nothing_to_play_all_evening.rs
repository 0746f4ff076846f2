//! A percussionist whom no piece of a program has anything for.

use crate::catalogue::model::Ensemble;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::percussion::Players;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::joined;

use super::asked_for::{asked_for, what_they_play};

rule! {
    /// A percussionist who plays none of the instruments that the pieces of a program ask for, by what the
    /// band's card says. Only where every piece that the band plays has its percussion on its card.
    ///
    /// # Why it matters
    ///
    /// A student dresses for the concert, comes, and stands at the back all evening.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              snare, bass drum
    ///     P2              bells, xylophone
    /// piece "Drum Hill"
    ///   percussion
    ///     snare           1-40
    ///     bass drum       1-40
    /// piece "Harbor Parade"
    ///   percussion
    ///     snare           1-64
    /// concert "Winter evening"
    ///          ^^^^^^^^^^^^^^
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Drum Hill"
    ///     "Harbor Parade"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              snare, bass drum
    ///     P2              mallets
    /// piece "Drum Hill"
    ///   percussion
    ///     snare           1-40
    /// piece "Bells of Marrow Lane"
    ///   percussion
    ///     bells           1-40
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Drum Hill"
    ///     "Bells of Marrow Lane"
    /// ```
    ///
    /// # What to do
    ///
    /// Teach the player a part that is there, or choose a piece with one.
    NothingToPlayAllEvening: "nothing to play all evening", Concert, Information, reads Catalogue,
        looks at Concert
}

/// The players with what they play and where the band's card says so.
pub struct Idle {
    players: Vec<(String, Vec<String>, Span)>,
    band: crate::catalogue::EntryId,
}

impl Notice for NothingToPlayAllEvening {
    type What = Idle;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Idle>> {
        let Some(asked) = asked_for(card) else {
            return Vec::new();
        };
        let names: Vec<String> = asked.pieces.into_iter().flatten().collect();
        let players: Vec<_> = idle(card, asked.band, &names).collect();
        let what = Idle {
            players,
            band: asked.id,
        };
        match what.players.is_empty() {
            true => Vec::new(),
            false => vec![Noticed::new(card.head_span(), what)],
        }
    }

    fn say(what: &Idle, _card: &Card<'_>) -> Saying {
        let players: Vec<String> = what
            .players
            .iter()
            .map(|(seat, plays, _)| format!("{seat} ({})", plays.join(", ")))
            .collect();
        Saying {
            place: "program".to_owned(),
            says: format!("No piece of this program has anything for {}.", joined(&players)),
            why: "A student dresses for the concert, comes, and stands at the back all evening.".to_owned(),
            todo: "Teach the player a part that is there, or choose a piece with one.".to_owned(),
        }
    }

    fn related(what: &Idle, card: &Card<'_>) -> Vec<Related> {
        what_they_play(
            card,
            what.band,
            what.players.iter().map(|(seat, _, span)| (seat, *span)),
        )
    }
}

/// The players who say what they play, and can play none of these instruments.
fn idle<'e>(
    card: &'e Card<'_>,
    band: &'e Ensemble,
    asked: &'e [String],
) -> impl Iterator<Item = (String, Vec<String>, Span)> + 'e {
    let who = Players::of(card.snapshot);
    band.percussionists
        .iter()
        .filter(|player| !player.can.plays.is_empty() && player.can.also.is_empty())
        .filter(move |player| !asked.iter().any(|name| who.can_play(&player.can, name)))
        .map(|player| (player.seat.clone(), player.can.words(), player.span))
}
