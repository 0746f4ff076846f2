//! From a name to where it is said what it means: a title to its card, a mark to its measure, a part to
//! its row.

use crate::notation::Kind;
use crate::notation::values::Value;
use crate::text::Span;

use super::{Place, Target};

/// Where the name under the cursor is said what it means; empty when nothing there is a name.
pub fn of(place: &Place<'_>) -> Vec<Target> {
    let cards: Vec<Target> = place
        .meant()
        .into_iter()
        .filter_map(|id| {
            let entry = place.snapshot.entry(id)?;
            Some(Target {
                id,
                span: entry.name_span,
            })
        })
        .collect();
    if !cards.is_empty() {
        return cards;
    }
    let here = |span| Target { id: place.id, span };
    if let Some(span) = mark(place) {
        return vec![here(span)];
    }
    if let Some(span) = part(place) {
        return vec![here(span)];
    }
    instrument(place)
}

/// The mark under the cursor, in the card's own marks.
fn mark(place: &Place<'_>) -> Option<Span> {
    let word = place.word().slice(place.text());
    if word.is_empty() {
        return None;
    }
    let field = place.field()?;
    if field.name() == Some("rehearsal marks") || field.word.touches(place.offset) {
        return None;
    }
    let fields = &place.reading.fields;
    fields
        .iter()
        .filter(|field| field.name() == Some("rehearsal marks"))
        .flat_map(|field| field.items())
        .find(|item| match &item.value {
            Some(Value::Mark(mark)) => mark.name.eq_ignore_ascii_case(word),
            _ => false,
        })
        .map(|item| item.core)
}

/// The part that a row stands in a relation to.
fn part(place: &Place<'_>) -> Option<Span> {
    use crate::notation::row::Fact;
    let row = place.row()?;
    let target = row.row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Relation {
            target, target_span, ..
        } if target_span.touches(place.offset) => Some(target),
        _ => None,
    })?;
    let wanted = crate::catalogue::names::key(target);
    let mut rows = place
        .reading
        .fields
        .iter()
        .filter(|field| matches!(field.name(), Some("parts" | "percussion")))
        .flat_map(|field| field.rows());
    rows.find_map(|row| {
        row.row
            .names
            .iter()
            .find(|name| {
                crate::catalogue::names::key(&name.one_form()) == wanted
                    || crate::catalogue::names::key(&name.text) == wanted
            })
            .map(|name| name.span)
    })
}

/// The catalogue's own card of an instrument named in a row.
fn instrument(place: &Place<'_>) -> Vec<Target> {
    let Some(row) = place.row() else {
        return Vec::new();
    };
    let Some(name) = row.row.names.iter().find(|name| name.span.touches(place.offset)) else {
        return Vec::new();
    };
    place
        .snapshot
        .names()
        .of(Kind::Instrument, &name.text)
        .filter_map(|id| {
            let entry = place.snapshot.entry(id)?;
            Some(Target {
                id,
                span: entry.name_span,
            })
        })
        .collect()
}
