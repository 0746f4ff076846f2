//! A card that says it needs fewer percussionists than sound at once.

use crate::catalogue::percussion::fewest_at_once;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Edit;

use super::needs_disagree::NeedsDisagree;
use super::short_of_percussionists::ShortOfPercussionists;
use super::sounding::{Sounding, courses_of, sounding};

rule! {
    /// A card that says it needs fewer percussionists than its own rows take at once.
    ///
    /// # Why it matters
    ///
    /// One of the two is wrong, and the band is judged by both.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare           1-16
    ///     bass drum       1-72
    ///     wood block      9-24
    ///   needs           2 percussionists
    ///                   ^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare           1-16
    ///     bass drum       1-72
    ///     wood block      17-24
    ///   needs           2-3 percussionists
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the score: fix the number or the measures, or write `one player` after two instruments
    /// that one player has by turns.
    NeedsFewerThanSound: "needs fewer than it takes", Percussion, Warning, reads Catalogue, looks at Piece
}

/// What the card says, and what sounds.
pub struct Fewer {
    says: u32,
    sounding: Sounding,
}

impl Notice for NeedsFewerThanSound {
    type What = Fewer;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Fewer>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let said = piece
            .needs
            .iter()
            .filter(|said| said.value.is_percussion())
            .filter_map(|said| Some((said, said.value.most()?)))
            .max_by_key(|(_, most)| *most);
        let Some((said, says)) = said.filter(|(said, _)| said.is_certain()) else {
            return Vec::new();
        };
        let most = courses_of(card, piece)
            .into_iter()
            .filter_map(|course| Some((fewest_at_once(&course)?, course)))
            .max_by_key(|(most, _)| most.players);
        // A band that is short of players there is told so, and what helps it helps the card.
        let fewer = most.filter(|(most, _)| most.players > says);
        // Numbers that disagree among themselves are told as such.
        if fewer.is_some()
            && (!ShortOfPercussionists::notice(card).is_empty() || !NeedsDisagree::notice(card).is_empty())
        {
            return Vec::new();
        }
        fewer
            .and_then(|(most, course)| sounding(piece, &course, &most))
            .map(|sounding| Noticed::new(said.span, Fewer { says, sounding }))
            .into_iter()
            .collect()
    }

    fn say(what: &Fewer, _card: &Card<'_>) -> Saying {
        let players = match what.says {
            1 => "1 percussionist is".to_owned(),
            says => format!("{says} percussionists are"),
        };
        Saying {
            place: what.sounding.place.clone(),
            says: format!(
                "{}, but the card says that {players} enough.",
                what.sounding.sentence()
            ),
            why: "One of the two is wrong, and you would count on too few players.".to_owned(),
            todo: "Look at the score: fix the number or the measures, or write \"one player\" after instruments that one player has by turns.".to_owned(),
        }
    }

    fn related(what: &Fewer, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.sounding.row, "one of the parts that sound there")]
    }

    fn repairs(noticed: &Noticed<Fewer>, _card: &Card<'_>) -> Vec<Repair> {
        let needs = format!("{} percussionists", noticed.what.sounding.players);
        vec![Repair::to_decide(
            format!("Write \"{needs}\""),
            vec![Edit::replace(noticed.span, needs)],
        )]
    }
}
