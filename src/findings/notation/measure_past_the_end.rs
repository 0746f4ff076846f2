//! A measure that comes after the last one.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Point, Value};
use crate::rule;
use crate::text::Span;

use super::places::named;
use super::walk::levels;

rule! {
    /// A measure, entrance, mark or repeat that stands after the last measure of its piece or movement.
    ///
    /// # Why it matters
    ///
    /// Either the count of measures is wrong, and with it the length, or somebody is told to play where there is
    /// no music.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Rain in a Copper Hat"
    ///   measures        64
    ///   percussion
    ///     wood block      17-32, 57-72
    ///                            ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Each movement has its own count.
    ///
    /// ```levare
    /// piece "Four Doors"
    ///   movements
    ///     1 "The Brass Door"
    ///       measures        40
    ///     2 "The Iron Door"
    ///       measures        66
    ///       percussion
    ///         snare           17-48
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for the number of the last measure, then mend the count or the place.
    MeasurePastTheEnd: "measure past the end", Notation, Error, reads Card
}

/// A measure past the last one.
pub struct Past {
    whose: String,
    measure: u32,
    last: u32,
    last_span: Span,
}

impl Notice for MeasurePastTheEnd {
    type What = Past;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Past>> {
        let mut found = Vec::new();
        for level in levels(card) {
            let measures = level
                .fields
                .iter()
                .filter(|field| field.name() == Some("measures"));
            let Some(item) = measures.flat_map(|field| field.items()).next() else {
                continue;
            };
            let Some(Value::Number(last)) = item.value.as_ref().filter(|_| item.is_certain()) else {
                continue;
            };
            for named in named(&level, card).into_iter().filter(|named| !named.open) {
                let furthest = named.points.iter().filter_map(|point| match point {
                    Point::Measure(measure) => Some(*measure),
                    Point::Mark(_) => None,
                });
                if let Some(measure) = furthest.max().filter(|measure| measure > last) {
                    found.push(Noticed::new(
                        named.span,
                        Past {
                            whose: named.whose,
                            measure,
                            last: *last,
                            last_span: item.core,
                        },
                    ));
                }
            }
        }
        found
    }

    fn say(what: &Past, _card: &Card<'_>) -> Saying {
        let place = format!("{}, measure {}", what.whose, what.measure);
        Saying {
            place,
            says: format!(
                "Measure {} comes after the last one: the card counts {} measures.",
                what.measure, what.last
            ),
            why:
                "Somebody would look for an entrance that is not there, or the length is reckoned too short."
                    .to_owned(),
            todo: "Look in the score for the last measure, then mend the count or this place.".to_owned(),
        }
    }

    fn related(what: &Past, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(
            card.entry,
            what.last_span,
            format!("The card counts {} measures.", what.last),
        )]
    }
}
