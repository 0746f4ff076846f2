//! The rehearsal marks of a piece: where each is set, and where the card goes back to it.

use crate::notation::values::{Place as Where, Point, Value};
use crate::notation::{Body, FieldReading};
use crate::text::Span;

use super::words;

/// A place where a mark stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Spot {
    /// The mark's own letters.
    pub(super) span: Span,
    /// Whether the mark is set here.
    pub(super) sets: bool,
}

/// Every place of the mark that the cursor is on, and its name as it is set; none when there is no mark there
/// that the card sets.
pub(super) fn at(fields: &[FieldReading], text: &str, offset: u32) -> Option<(String, Vec<Spot>)> {
    // A movement's own marks come before those of the piece.
    for field in fields {
        for row in field.rows() {
            if !row.fields.is_empty()
                && let Some(found) = at(&row.fields, text, offset)
            {
                return Some(found);
            }
        }
    }
    names(fields).into_iter().find_map(|name| {
        let spots = spots(fields, text, &name);
        let here = spots.iter().any(|spot| spot.span.touches(offset));
        here.then_some((name, spots))
    })
}

/// The marks that these fields set, as written.
pub(super) fn names(fields: &[FieldReading]) -> Vec<String> {
    fields
        .iter()
        .filter(|field| field.name() == Some("rehearsal marks"))
        .flat_map(FieldReading::items)
        .filter_map(|item| match &item.value {
            // A mark that is its own measure has no name to speak of.
            Some(Value::Mark(mark)) if mark.name != mark.measure.to_string() => Some(mark.name.clone()),
            _ => None,
        })
        .collect()
}

/// Where a mark stands in these fields and below them, in the order of the text.
pub(super) fn spots(fields: &[FieldReading], text: &str, name: &str) -> Vec<Spot> {
    let mut found = Vec::new();
    for field in fields {
        of_field(field, text, name, &mut found);
    }
    found.sort_by_key(|spot| spot.span);
    found.dedup();
    found
}

fn of_field(field: &FieldReading, text: &str, name: &str, found: &mut Vec<Spot>) {
    let sets = field.name() == Some("rehearsal marks");
    for item in field.items() {
        let named = |point: &Point| point.mark().is_some_and(|mark| same(mark, name));
        if sets {
            if matches!(&item.value, Some(Value::Mark(mark)) if same(&mark.name, name))
                && let Some(span) = words::find(text, item.core, name).into_iter().next()
            {
                found.push(Spot { span, sets: true });
            }
            continue;
        }
        if let Some(Value::Road(step)) = &item.value
            && step.points().into_iter().any(named)
        {
            found.extend(use_in(text, item.core, name, false));
        }
        if item.place.as_ref().is_some_and(|place| of_place(place, &named)) {
            found.extend(use_in(text, Span::new(item.core.end, item.span.end), name, true));
        }
    }
    match &field.body {
        Body::Rows(rows) => {
            for row in rows {
                for fact in &row.row.facts {
                    let place = fact.what.place();
                    let named = |point: &Point| point.mark().is_some_and(|mark| same(mark, name));
                    if place.is_some_and(|place| of_place(place, &named)) {
                        found.extend(use_in(text, fact.span, name, true));
                    }
                }
                let own = names(&row.fields).iter().any(|mark| same(mark, name));
                for inner in row.fields.iter().filter(|_| !own) {
                    of_field(inner, text, name, found);
                }
            }
        }
        Body::Block(inside) => {
            for inner in inside {
                of_field(inner, text, name, found);
            }
        }
        _ => {}
    }
}

fn same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

fn of_place(place: &Where, named: &impl Fn(&Point) -> bool) -> bool {
    match place {
        Where::At(point) => named(point),
        Where::Between(from, to) => named(from) || named(to),
        Where::Throughout | Where::Movement(_) => false,
    }
}

/// The uses of a mark in words that name it as a place: behind `at`, and where a stretch ends behind `to`. A
/// mark may be called what a sign is called (`to coda at coda`), so the words before it decide.
fn use_in(text: &str, within: Span, name: &str, to: bool) -> Vec<Spot> {
    let all = words::find(text, within, name);
    let led = |span: &&Span| {
        let before = Span::new(within.start, span.start).slice(text);
        let word = before.split_whitespace().next_back().unwrap_or("").to_lowercase();
        ["at", "the", "rehearsal", "letter", "mark", "from"].contains(&word.as_str()) || (to && word == "to")
    };
    let mut found: Vec<Span> = all.iter().filter(led).copied().collect();
    if found.is_empty() {
        found.extend(all.last());
    }
    found.into_iter().map(|span| Spot { span, sets: false }).collect()
}
