//! A measure that comes after the last one.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Point, Value};
use crate::rule;
use crate::text::{Edit, Span};

use super::places::Named;
use super::walk::Level;

rule! {
    /// A measure, entrance, mark or repeat after the last measure of its piece or movement.
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
    /// One wrong count puts every later place past the end; three of them are reported once, at the count.
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   measures        27
    ///                   ^^
    ///   rehearsal marks A 9, B 25, C 41, D 57
    ///   percussion
    ///     snare           1-24, 57-72
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
    /// Look in the score for the number of the last measure, then fix the count or the place.
    MeasurePastTheEnd: "measure past the end", Notation, Error, reads Card, looks at Any
}

/// How many places past the end make the count the likelier slip.
const MANY: usize = 3;

/// Measures past the last one.
pub struct Past {
    whose: String,
    measure: u32,
    last: u32,
    last_span: Span,
    /// How many places are past the end, where they are told together.
    places: usize,
    /// The place that reaches furthest.
    furthest: Span,
}

impl Notice for MeasurePastTheEnd {
    type What = Past;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Past>> {
        let mut found = Vec::new();
        for (level, places) in card.places() {
            let past = past(level, places);
            match past.iter().max_by_key(|(_, past)| past.measure) {
                // One wrong count puts every later place past the end, and is told once.
                Some((_, most)) if past.len() >= MANY => found.push(Noticed::new(
                    most.last_span,
                    Past {
                        whose: level.at("measures"),
                        measure: most.measure,
                        last: most.last,
                        last_span: most.last_span,
                        places: past.len(),
                        furthest: most.furthest,
                    },
                )),
                _ => found.extend(past.into_iter().map(|(span, past)| Noticed::new(span, past))),
            }
        }
        found
    }

    fn say(what: &Past, _card: &Card<'_>) -> Saying {
        if what.places >= MANY {
            return Saying {
                place: what.whose.clone(),
                says: format!(
                    "The card counts {} measures, but {} places on it lie after that, up to measure {}.",
                    what.last, what.places, what.measure
                ),
                why:
                    "The count is probably wrong, and with it the length and everything that runs to the end."
                        .to_owned(),
                todo: "Look in the score for the number of the last measure, and write it.".to_owned(),
            };
        }
        let place = format!("{}, measure {}", what.whose, what.measure);
        Saying {
            place,
            says: format!(
                "Measure {} comes after the last one: the card counts {} measures.",
                what.measure, what.last
            ),
            why: "Somebody would look for an entrance that is not there, or the length is figured too short."
                .to_owned(),
            todo: "Look in the score for the last measure, then fix the count or this place.".to_owned(),
        }
    }

    fn related(what: &Past, card: &Card<'_>) -> Vec<Related> {
        let (span, says) = match what.places >= MANY {
            true => (what.furthest, "The place that reaches furthest.".to_owned()),
            false => (what.last_span, format!("The card counts {} measures.", what.last)),
        };
        vec![card.beside(card.entry, span, says)]
    }

    fn repairs(noticed: &Noticed<Past>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        if what.places < MANY {
            return Vec::new();
        }
        vec![Repair::to_decide(
            format!("Write {}, the furthest measure on the card", what.measure),
            vec![Edit::replace(noticed.span, what.measure.to_string())],
        )]
    }
}

/// The counts of measures on a card that are probably wrong, by their places.
pub(in crate::findings) fn wrong_counts(card: &Card<'_>) -> Vec<Span> {
    let mut found = Vec::new();
    for (level, places) in card.places() {
        let past = past(level, places);
        if past.len() >= MANY {
            found.extend(past.first().map(|(_, past)| past.last_span));
        }
    }
    found
}

/// The places of a level past the last measure.
fn past(level: &Level<'_>, places: &[Named<'_>]) -> Vec<(Span, Past)> {
    let mut found = Vec::new();
    let measures = level
        .fields
        .iter()
        .filter(|field| field.name() == Some("measures"));
    let Some(item) = measures.flat_map(|field| field.items()).next() else {
        return found;
    };
    let Some(Value::Number(last)) = item.value.as_ref().filter(|_| item.is_certain()) else {
        return found;
    };
    for named in places.iter().filter(|named| !named.open) {
        let furthest = named.points.iter().filter_map(|point| match point {
            Point::Measure(measure) | Point::Pickup(measure) => Some(*measure),
            Point::Mark(_) | Point::Beside(..) | Point::FromEnd(_) => None,
        });
        if let Some(measure) = furthest.max().filter(|measure| measure > last) {
            let past = Past {
                whose: named.whose(level),
                measure,
                last: *last,
                last_span: item.core,
                places: 1,
                furthest: named.span,
            };
            found.push((named.span, past));
        }
    }
    found
}
