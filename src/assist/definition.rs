//! From a name to where it is said what it means: a title to its card, a mark to its measure, a part to
//! its row.

use crate::catalogue::names;
use crate::notation::Kind;
use crate::notation::row::RowName;
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
    let row = place.row()?;
    let target = row.row.partners().find(|name| name.span.touches(place.offset))?;
    let wanted = names::key(&target.text);
    let mut named: Vec<_> = place
        .reading
        .fields
        .iter()
        .filter(|field| matches!(field.name(), Some("parts" | "percussion")))
        .flat_map(|field| field.rows())
        .flat_map(|row| &row.row.names)
        .filter(|name| names::key(&name.text) == wanted)
        .collect();
    // The very part first, then the row that has it among others, then any of the same name.
    let is_within = |name: &RowName| {
        let both = name.numbers.zip(target.numbers);
        both.is_some_and(|((first, last), (from, to))| first <= from && to <= last)
    };
    named.sort_by_key(|name| (name.numbers != target.numbers, !is_within(name)));
    named.first().map(|name| name.span)
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
