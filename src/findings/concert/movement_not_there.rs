//! A program that asks for a movement that the piece does not have.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

rule! {
    /// A program that lists a movement by a number which the piece's card does not have.
    ///
    /// # Why it matters
    ///
    /// The printed program and the folders are made from this line.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Four Doors"
    ///   movements
    ///     1 The Brass Door
    ///     2 The Glass Door
    /// concert "Winter evening"
    ///   program
    ///     "Four Doors", movements 1 and 3
    ///     ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Four Doors"
    ///   movements
    ///     1 The Brass Door
    ///     2 The Glass Door
    /// concert "Winter evening"
    ///   program
    ///     "Four Doors", movement 2
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the number, or add the movement to the piece's card.
    MovementNotThere: "movement not there", Concert, Error, reads Catalogue, looks at Concert
}

/// A movement asked for, and how many there are.
pub struct Missing {
    title: String,
    by: Option<String>,
    number: u32,
    count: usize,
}

impl Notice for MovementNotThere {
    type What = Missing;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Missing>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for listed in &concert.program {
            let title = &listed.title.value;
            let pieces = card.snapshot.pieces_titled(&title.name, title.by.as_deref());
            let Some(piece) = pieces
                .first()
                .and_then(|id| card.snapshot.entry(*id))
                .and_then(|entry| entry.piece())
            else {
                continue;
            };
            let known = |number: &u32| piece.movements.iter().any(|movement| movement.number == *number);
            if piece.movements.is_empty() {
                continue;
            }
            if let Some(number) = listed.movements.iter().find(|number| !known(number)) {
                let missing = Missing {
                    title: title.name.clone(),
                    by: title.by.clone(),
                    number: *number,
                    count: piece.movements.len(),
                };
                found.push(Noticed::new(listed.title.span, missing));
            }
        }
        found
    }

    fn say(what: &Missing, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "The program asks for movement {} of \"{}\", whose card has {}.",
                what.number, what.title, what.count
            ),
            why: "The printed program and the folders are made from this line.".to_owned(),
            todo: "Fix the number, or add the movement to the piece's card.".to_owned(),
        }
    }

    fn related(what: &Missing, card: &Card<'_>) -> Vec<Related> {
        let pieces = card.snapshot.pieces_titled(&what.title, what.by.as_deref());
        let Some(entry) = pieces.first().and_then(|id| card.snapshot.entry(*id)) else {
            return Vec::new();
        };
        let last = entry.piece().and_then(|piece| piece.movements.last());
        last.map(|last| card.beside(entry, last.span, "the last movement on its card"))
            .into_iter()
            .collect()
    }
}
