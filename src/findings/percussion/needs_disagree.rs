//! A minimum of percussionists above the number that is wanted.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

rule! {
    /// A minimum of percussionists that is more than the number the card says it takes in all.
    ///
    /// # Why it matters
    ///
    /// Pieces are chosen by this line, and one of its numbers is wrong.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   needs           4-5 percussionists, 6 minimum
    ///                                       ^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   needs           5-6 percussionists, 4 minimum
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the percussion parts and fix one of the numbers.
    NeedsDisagree: "needs disagree", Percussion, Warning, reads Card, looks at Piece
}

/// The two numbers.
pub struct Odds {
    least: u32,
    most: u32,
    most_span: Span,
}

impl Notice for NeedsDisagree {
    type What = Odds;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Odds>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let needs = || {
            let certain = piece.needs.iter().filter(|said| said.is_certain());
            certain.filter(|said| said.value.is_percussion())
        };
        let most = needs()
            .filter(|said| !said.value.is_minimum())
            .filter_map(|said| Some((said.value.most()?, said.span)))
            .max_by_key(|(most, _)| *most);
        let Some((most, most_span)) = most else {
            return Vec::new();
        };
        needs()
            .filter(|said| said.value.is_minimum())
            .filter_map(|said| Some((said.value.fewest()?, said.span)))
            .filter(|(least, _)| *least > most)
            .map(|(least, span)| {
                Noticed::new(
                    span,
                    Odds {
                        least,
                        most,
                        most_span,
                    },
                )
            })
            .collect()
    }

    fn say(what: &Odds, _card: &Card<'_>) -> Saying {
        Saying {
            place: "needs".to_owned(),
            says: format!(
                "At least {} percussionists are needed, but {} are said to be all it takes.",
                what.least, what.most
            ),
            why: "Pieces are chosen by this line, and one of its numbers is wrong.".to_owned(),
            todo: "Look at the percussion parts and fix one of the numbers.".to_owned(),
        }
    }

    fn related(what: &Odds, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.most_span, "all it takes")]
    }
}
