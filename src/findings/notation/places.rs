//! Every place in the music that a level of a card names, with where it is written.

use crate::findings::card::Card;
use crate::notation::row::{Fact, RowFact, RowItem};
use crate::notation::values::{Place, Point, RoadStep, Stretch, Value};
use crate::text::Span;

use super::walk::Level;

/// A place as a card names it.
pub(in crate::findings) struct Named<'c> {
    /// Where it is written.
    pub span: Span,
    /// The field that says it.
    field: &'static str,
    /// The row that says it, where it stands in one.
    row: Option<&'c RowItem>,
    /// The points it names.
    pub points: Vec<Point>,
    /// Whether it is marked as an open question.
    pub open: bool,
}

impl Named<'_> {
    /// Whose place it is: `percussion, wood block`.
    pub fn whose(&self, level: &Level<'_>) -> String {
        match self.row {
            None => level.at(self.field),
            Some(row) => {
                let names: Vec<String> = row.names.iter().map(|name| name.one_form()).collect();
                level.at(&format!("{}, {}", self.field, names.join(", ")))
            }
        }
    }
}

/// All places of a level, in the order they are written.
pub(in crate::findings) fn named<'c>(level: &Level<'c>, card: &Card<'_>) -> Vec<Named<'c>> {
    let mut found = Vec::new();
    for field in level.fields {
        let Some(spec) = field.spec else { continue };
        for item in field.items() {
            let own = match &item.value {
                Some(Value::Mark(mark)) => vec![Point::Measure(mark.measure)],
                Some(Value::Road(step)) => of_step(step),
                _ => Vec::new(),
            };
            if !own.is_empty() {
                found.push(Named {
                    span: item.core,
                    field: spec.name,
                    row: None,
                    points: own,
                    open: item.open,
                });
            }
            if let Some(place) = &item.place {
                let points = of_place(place);
                let after = trimmed(card, Span::new(item.core.end, item.span.end));
                found.push(Named {
                    span: match after.is_empty() {
                        true => among_the_words(card, item.span, &points),
                        false => after,
                    },
                    field: spec.name,
                    row: None,
                    points,
                    open: item.open,
                });
            }
        }
        for row in field.rows().iter().filter(|row| row.fields.is_empty()) {
            for fact in &row.row.facts {
                let points = of_fact(fact);
                if !points.is_empty() {
                    found.push(Named {
                        span: fact.span,
                        field: spec.name,
                        row: Some(&row.row),
                        points,
                        open: fact.open,
                    });
                }
            }
        }
    }
    found.retain(|named| !named.points.is_empty());
    found
}

fn trimmed(card: &Card<'_>, span: Span) -> Span {
    let text = card.words(span);
    let start = text.len() - text.trim_start_matches(['?', ' ', '\t']).len();
    Span::long(
        span.start + start as u32,
        text.get(start..).map_or(0, |rest| rest.trim_end().len()) as u32,
    )
}

/// `faster at the bridge 120`: the place stands before the end of its item, and is found by the mark's name.
fn among_the_words(card: &Card<'_>, item: Span, points: &[Point]) -> Span {
    let mut marks = points.iter().filter_map(Point::mark);
    let found = marks.find_map(|mark| Some((card.words(item).find(mark)?, mark)));
    found.map_or(item, |(at, mark)| {
        Span::long(item.start + at as u32, mark.len() as u32)
    })
}

fn of_stretch(stretch: Stretch) -> Vec<Point> {
    vec![Point::Measure(stretch.first), Point::Measure(stretch.last)]
}

fn of_place(place: &Place) -> Vec<Point> {
    match place {
        Place::At(point) => vec![point.clone()],
        Place::Between(from, to) => vec![from.clone(), to.clone()],
        Place::Throughout | Place::Movement(_) => Vec::new(),
    }
}

fn of_step(step: &RoadStep) -> Vec<Point> {
    step.clone()
        .each()
        .iter()
        .flat_map(|step| match step.stretch() {
            Some(stretch) => of_stretch(stretch),
            None => step.points().into_iter().cloned().collect(),
        })
        .collect()
}

fn of_fact(fact: &RowFact) -> Vec<Point> {
    match &fact.what {
        Fact::Plays(place, _) => of_place(place),
        other => other.place().map(of_place).unwrap_or_default(),
    }
}
