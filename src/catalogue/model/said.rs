//! A value with its place and how surely it is meant, and the helpers that take values out of fields.

use crate::notation::row::{Fact, RowFact};
use crate::notation::values::{Equipment, Owned, Place, Stet, Value};
use crate::notation::{Body, FieldReading, TableRow};
use crate::text::Span;

/// A value as a card says it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said<T> {
    /// The value.
    pub value: T,
    /// Where it stands, in bytes from the start of the card's text.
    pub span: Span,
    /// Whether it is only near enough.
    pub about: bool,
    /// Whether it is an open question.
    pub open: bool,
    /// Whether words beside it were not understood, so that it may be meant otherwise.
    pub partial: bool,
}

impl<T> Said<T> {
    /// Whether a rule may treat it as certain.
    pub fn is_certain(&self) -> bool {
        !self.about && !self.open && !self.partial
    }

    /// The same place and sureness with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Said<U> {
        Said {
            value: f(self.value),
            span: self.span,
            about: self.about,
            open: self.open,
            partial: self.partial,
        }
    }
}

/// One stage of a value that changes on the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage<T> {
    /// The value.
    pub said: Said<T>,
    /// All of it, with `then` and the place.
    pub whole: Span,
    /// Where it holds or starts; none for the first, and where only `then` is known.
    pub place: Option<Place>,
    /// Whether it comes some time after the one before.
    pub then: bool,
    /// Whether it holds only here and there.
    pub some: bool,
}

/// A finding that is let stand, with the line or row it covers.
#[derive(Debug, Clone, PartialEq)]
pub struct StetSaid {
    /// The phrase and the reason.
    pub stet: Stet,
    /// Where it stands.
    pub span: Span,
    /// The row it covers; none for the whole card.
    pub covers: Option<Span>,
}

/// All fields of that name.
pub(super) fn fields<'f>(
    fields: &'f [FieldReading],
    name: &'f str,
) -> impl Iterator<Item = &'f FieldReading> {
    fields.iter().filter(move |field| field.name() == Some(name))
}

/// The values of that name for which `take` finds something, in the order they are written.
pub(super) fn list<T>(all: &[FieldReading], name: &str, take: impl Fn(&Value) -> Option<T>) -> Vec<Said<T>> {
    fields(all, name)
        .flat_map(FieldReading::items)
        .filter_map(|item| {
            Some(Said {
                value: take(item.value.as_ref()?)?,
                span: item.core,
                about: item.about,
                open: item.open,
                partial: item.partial,
            })
        })
        .collect()
}

/// The first value of that name.
pub(super) fn first<T>(
    all: &[FieldReading],
    name: &str,
    take: impl Fn(&Value) -> Option<T>,
) -> Option<Said<T>> {
    list(all, name, take).into_iter().next()
}

/// The stages of that name.
pub(super) fn stages<T>(
    all: &[FieldReading],
    name: &str,
    take: impl Fn(&Value) -> Option<T>,
) -> Vec<Stage<T>> {
    fields(all, name)
        .flat_map(FieldReading::items)
        .filter_map(|item| {
            Some(Stage {
                said: Said {
                    value: take(item.value.as_ref()?)?,
                    span: item.core,
                    about: item.about,
                    open: item.open,
                    partial: item.partial,
                },
                whole: item.span,
                place: item.place.clone(),
                then: item.then,
                some: item.some,
            })
        })
        .collect()
}

/// Words as written.
pub(super) fn words(all: &[FieldReading], name: &str) -> Vec<Said<String>> {
    list(all, name, |value| match value {
        Value::Words(words) => Some(words.clone()),
        _ => None,
    })
}

/// Takes values of one kind: `take!(Takes)` for [`Value::Takes`].
macro_rules! take {
    ($kind:ident) => {
        |value: &$crate::notation::values::Value| match value {
            $crate::notation::values::Value::$kind(said) => Some(said.clone()),
            _ => None,
        }
    };
}
pub(super) use take;

/// Instruments of that name, each with what later items of its line say of it.
pub(super) fn equipment(all: &[FieldReading], name: &str) -> Vec<Said<Equipment>> {
    let mut found: Vec<Said<Equipment>> = Vec::new();
    for item in fields(all, name).flat_map(FieldReading::items) {
        let owned = match item.value.as_ref() {
            Some(Value::Equipment(thing)) => Owned::Thing(thing.clone()),
            Some(Value::Days(days)) => Owned::Days(*days),
            Some(Value::Owned(owned)) => owned.clone(),
            _ => continue,
        };
        let Owned::Thing(value) = owned else {
            // What follows a thing says more of it, and is sure only where both are.
            let last = found.iter_mut().rev().take(owned.reach());
            for said in last {
                if said.value.add(&owned) {
                    said.about |= item.about;
                    said.open |= item.open;
                    said.partial |= item.partial;
                    break;
                }
            }
            continue;
        };
        found.push(Said {
            value,
            span: item.core,
            about: item.about,
            open: item.open,
            partial: item.partial,
        });
    }
    found
}

/// The rows of a table of that name.
pub(super) fn rows<'f>(all: &'f [FieldReading], name: &'f str) -> impl Iterator<Item = &'f TableRow> {
    fields(all, name).flat_map(FieldReading::rows)
}

/// Every stet of a card: on lines of its own, and under rows.
pub(super) fn stets(all: &[FieldReading]) -> Vec<StetSaid> {
    let mut found: Vec<StetSaid> = list(all, "stet", |value| match value {
        Value::Stet(stet) => Some(stet.clone()),
        _ => None,
    })
    .into_iter()
    .map(|said| StetSaid {
        stet: said.value,
        span: said.span,
        covers: None,
    })
    .collect();
    for field in all {
        let Body::Rows(rows) = &field.body else { continue };
        for row in rows {
            found.extend(row.row.facts.iter().filter_map(|fact| row_stet(row, fact)));
        }
    }
    found
}

fn row_stet(row: &TableRow, fact: &RowFact) -> Option<StetSaid> {
    match &fact.what {
        Fact::Stet(stet) => Some(StetSaid {
            stet: stet.clone(),
            span: fact.span,
            covers: Some(row.row.span),
        }),
        _ => None,
    }
}
