//! Measures that are written from the last to the first.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Body;
use crate::notation::row::Fact;
use crate::notation::values::{Place, Point, RoadStep, Stretch, Value};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A stretch of measures whose first number is higher than its second: 57-46.
    ///
    /// # Why it matters
    ///
    /// Nobody can tell which of the two numbers slipped, so whatever happens there is left out of every count.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Canyon Onions"
    ///   measures        90
    ///   percussion
    ///     crash cymbals   57-46
    ///                     ^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Gray Squirrel Gallop"
    ///   measures        128
    ///   roadmap         repeat 49-32
    ///                   ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Canyon Onions"
    ///   measures        90
    ///   key signature   2 flats, 3 flats at 46-57
    ///   percussion
    ///     triangle        46-57, 60
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score; turn the numbers around if both are right.
    MeasuresBackwards: "measures backwards", Time, Warning, reads Card, looks at Piece
}

impl Notice for MeasuresBackwards {
    type What = Stretch;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Stretch>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        // A figure past the end is told by its own rule, and once.
        let levels = || std::iter::once(piece).chain(piece.movements.iter().map(|movement| &movement.piece));
        let past = |measure: u32| {
            let mut counted = levels().filter(|level| level.measures.is_some()).peekable();
            counted.peek().is_some() && counted.all(|level| level.is_past_the_end(measure))
        };
        let mut found = Vec::new();
        for field in card.all_fields() {
            match &field.body {
                Body::Items(items) => {
                    for item in items {
                        if let Some(Value::Road(step)) = &item.value {
                            let steps = step.clone().each();
                            let stretches = steps.iter().filter_map(RoadStep::stretch);
                            found.extend(stretches.map(|stretch| (item.span, stretch)));
                        }
                        let place = item.place.as_ref().and_then(of_place);
                        found.extend(place.map(|stretch| (item.span, stretch)));
                    }
                }
                Body::Rows(rows) => {
                    let facts = rows.iter().flat_map(|row| &row.row.facts);
                    found.extend(facts.filter_map(|fact| Some((fact.span, of_fact(&fact.what)?))));
                }
                _ => {}
            }
        }
        found
            .into_iter()
            .filter(|(_, stretch)| stretch.last < stretch.first && !past(stretch.first))
            .map(|(span, stretch)| Noticed::new(span, stretch))
            .collect()
    }

    fn say(what: &Stretch, _card: &Card<'_>) -> Saying {
        Saying {
            place: format!("measure {}", what.first),
            says: format!("Measures {}-{} run backward.", what.first, what.last),
            why:
                "Nobody can tell which of the two is wrong, so what happens there is left out of every count."
                    .to_owned(),
            todo: format!(
                "Look in the score: {}-{} if both numbers are right, else fix the wrong one.",
                what.last, what.first
            ),
        }
    }

    fn repairs(noticed: &Noticed<Stretch>, card: &Card<'_>) -> Vec<Repair> {
        let Stretch { first, last } = noticed.what;
        let words = card.words(noticed.span);
        let Some((from, to)) = numbers(words, first, last) else {
            return Vec::new();
        };
        let shift = |span: Span| span.shift(i64::from(noticed.span.start));
        vec![Repair::to_decide(
            format!("Turn them around: {last}-{first}"),
            vec![
                Edit::replace(shift(from), last.to_string()),
                Edit::replace(shift(to), first.to_string()),
            ],
        )]
    }
}

fn of_place(place: &Place) -> Option<Stretch> {
    match place {
        Place::Between(Point::Measure(first), Point::Measure(last)) => Some(Stretch {
            first: *first,
            last: *last,
        }),
        _ => None,
    }
}

fn of_fact(fact: &Fact) -> Option<Stretch> {
    match fact {
        Fact::Plays(place, _) => of_place(place),
        other => other.place().and_then(of_place),
    }
}

/// Where two numbers stand in words, the second after the first.
fn numbers(words: &str, first: u32, last: u32) -> Option<(Span, Span)> {
    let mut runs: Vec<(Span, u32)> = Vec::new();
    let mut start: Option<usize> = None;
    let ends = std::iter::once((words.len(), ' '));
    for (at, c) in words.char_indices().chain(ends) {
        match (start, c.is_ascii_digit()) {
            (None, true) => start = Some(at),
            (Some(from), false) => {
                if let Some(number) = words.get(from..at).and_then(|digits| digits.parse().ok()) {
                    runs.push((Span::new(from as u32, at as u32), number));
                }
                start = None;
            }
            _ => {}
        }
    }
    let pair = runs
        .windows(2)
        .find(|pair| matches!(pair, [(_, a), (_, b)] if *a == first && *b == last))?;
    match pair {
        [(from, _), (to, _)] => Some((*from, *to)),
        _ => None,
    }
}
