//! Whether two texts of a card say the same: everything that was read, places in the text aside.

use crate::notation::heard::Expected;
use crate::notation::items::Item;
use crate::notation::read::{Body, FieldReading, Reading};
use crate::notation::remarks::{blanked, remarks};
use crate::notation::row::{Fact, RowItem, RowName};
use crate::text::Span;

/// Whether two readings say the same, and every remark and unread word is in both.
pub fn reading(one: (&str, &Reading), other: (&str, &Reading)) -> bool {
    let ((a, one), (b, other)) = (one, other);
    let head = |reading: &Reading| {
        let head = reading.tree.head.as_ref();
        head.map(|head| (head.kind, head.name.clone(), head.closed))
    };
    let strays = |text: &str, reading: &Reading| -> Vec<_> {
        let strays = reading.tree.strays.iter();
        strays
            .map(|stray| (stray.why, stray.body.slice(text).to_owned()))
            .collect()
    };
    head(one) == head(other)
        && strays(a, one) == strays(b, other)
        && fields(a, &one.fields, b, &other.fields)
        && all_remarks(a) == all_remarks(b)
        && unheard(a, one, Span::whole(a)) == unheard(b, other, Span::whole(b))
}

/// Whether two readings say the same but for their remarks.
pub fn but_for_remarks(one: (&str, &Reading), other: (&str, &Reading)) -> bool {
    let ((a, one), (b, other)) = (one, other);
    fields(a, &one.fields, b, &other.fields)
        && unheard(a, one, Span::whole(a)) == unheard(b, other, Span::whole(b))
}

/// The words of a stretch that nobody understood, one after another, and what was expected there.
pub fn unheard(text: &str, reading: &Reading, within: Span) -> Vec<(Expected, String)> {
    let masked = blanked(text);
    let left = reading.unheard.iter().filter(|left| within.encloses(left.span));
    left.flat_map(|left| {
        let words = left.span.slice(&masked).split_whitespace();
        words.map(|word| (left.expected, word.to_owned()))
    })
    .collect()
}

/// Whether two rows of fields say the same, in the same order.
fn fields(a: &str, one: &[FieldReading], b: &str, other: &[FieldReading]) -> bool {
    one.len() == other.len()
        && one
            .iter()
            .zip(other)
            .all(|(one, other)| field((a, one), (b, other)))
}

/// Whether two fields say the same.
pub fn field(one: (&str, &FieldReading), other: (&str, &FieldReading)) -> bool {
    let ((a, one), (b, other)) = (one, other);
    if one.name() != other.name() {
        return false;
    }
    match (&one.body, &other.body) {
        (Body::Running(one, _), Body::Running(other, _)) => one == other,
        (Body::Items(one), Body::Items(other)) => items((a, one), (b, other)),
        (Body::Rows(one), Body::Rows(other)) => {
            one.len() == other.len()
                && one.iter().zip(other).all(|(one, other)| {
                    row(&one.row) == row(&other.row)
                        && one.under == other.under
                        && fields(a, &one.fields, b, &other.fields)
                })
        }
        (Body::Block(one), Body::Block(other)) => fields(a, one, b, other),
        (Body::Unknown, Body::Unknown) => words(one.whole.slice(a)) == words(other.whole.slice(b)),
        _ => false,
    }
}

/// Whether two rows of items say the same.
pub fn items(one: (&str, &[Item]), other: (&str, &[Item])) -> bool {
    let ((a, one), (b, other)) = (one, other);
    one.len() == other.len()
        && one.iter().zip(other).all(|(one, other)| {
            // What was not understood must be there word for word.
            let kept = one.value.is_some() || words(one.core.slice(a)) == words(other.core.slice(b));
            kept && item(one) == item(other)
        })
}

fn item(item: &Item) -> Item {
    Item {
        span: Span::at(0),
        core: Span::at(0),
        ..item.clone()
    }
}

/// Whether rows that stand on one line say the same.
pub fn rows(one: &[RowItem], other: &[RowItem]) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(one, other)| row(one) == row(other))
}

/// A row without its places.
pub fn row(row: &RowItem) -> RowItem {
    let mut row = row.clone();
    row.span = Span::at(0);
    row.line = 0;
    unplaced(&mut row.names);
    if let Some(count) = &mut row.count {
        count.span = Span::at(0);
    }
    for fact in &mut row.facts {
        fact.span = Span::at(0);
        match &mut fact.what {
            Fact::Relation {
                target_span, targets, ..
            } => {
                *target_span = Span::at(0);
                unplaced(targets);
            }
            Fact::Instruments { names, .. } => unplaced(names),
            Fact::Line(_, stages) => {
                for stage in stages {
                    *stage = item(stage);
                }
            }
            _ => {}
        }
    }
    row
}

/// Takes the places out of names.
fn unplaced(names: &mut [RowName]) {
    for name in names {
        name.span = Span::at(0);
        name.words = Span::at(0);
    }
}

fn all_remarks(text: &str) -> Vec<String> {
    remarks(text)
        .into_iter()
        .filter_map(|(start, end)| text.get(start..end))
        .map(words)
        .collect()
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
