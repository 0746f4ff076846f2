//! Movements whose numbers do not go up.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// Movements whose numbers come twice or run backward: 1, 3, 3.
    ///
    /// # Why it matters
    ///
    /// "Movement 3" in a program, or after a part that is silent there, means one of two movements, and nobody
    /// can tell which.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Three Sketches"
    ///   movements
    ///     1 "Gulls"
    ///     3 "Fog"
    ///     3 "Goose Home"
    ///     ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A card may leave movements out.
    ///
    /// ```levare
    /// piece "Four Sketches"
    ///   movements
    ///     1 "Gulls"
    ///     3 "Fog"
    ///     4 "Goose Home"
    /// ```
    ///
    /// # What to do
    ///
    /// Give each movement the number it has in the score.
    MovementNumbersOutOfOrder: "movement numbers out of order", Time, Warning, reads Card, looks at Movements
}

/// A movement's number and the one before it.
pub struct Twice {
    number: u32,
    before: u32,
    before_span: Span,
    /// The number of the movement before it that would put both in order, with its place.
    fix: Option<(Span, u32)>,
}

impl Notice for MovementNumbersOutOfOrder {
    type What = Twice;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Twice>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let movements = &piece.movements;
        let mut found = Vec::new();
        for (at, movement) in movements.iter().enumerate().skip(1) {
            let Some(before) = at.checked_sub(1).and_then(|at| movements.get(at)) else {
                continue;
            };
            if movement.number > before.number {
                continue;
            }
            let sooner = at.checked_sub(2).and_then(|at| movements.get(at));
            let room = movement.number == before.number
                && sooner.map_or(0, |sooner| sooner.number).saturating_add(2) == before.number;
            let digits = Span::long(before.span.start, before.number.to_string().len() as u32);
            let fits = room && card.words(digits) == before.number.to_string();
            let what = Twice {
                number: movement.number,
                before: before.number,
                before_span: before.span,
                fix: fits.then(|| (digits, before.number.saturating_sub(1))),
            };
            found.push(Noticed::new(movement.span, what));
        }
        found
    }

    fn say(what: &Twice, _card: &Card<'_>) -> Saying {
        let says = match what.number == what.before {
            true => format!("Two movements have the number {}.", what.number),
            false => format!("Movement {} comes after movement {}.", what.number, what.before),
        };
        Saying {
            place: "movements".to_owned(),
            says,
            why: "A program or a part that names the movement by its number could mean either one."
                .to_owned(),
            todo: "Give each movement the number it has in the score.".to_owned(),
        }
    }

    fn related(what: &Twice, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before_span, "the movement before it")]
    }

    fn repairs(noticed: &Noticed<Twice>, _card: &Card<'_>) -> Vec<Repair> {
        let fix = noticed.what.fix.iter();
        fix.map(|(span, number)| {
            Repair::to_decide(
                format!("Make the one before it number {number}"),
                vec![Edit::replace(*span, number.to_string())],
            )
        })
        .collect()
    }
}
