//! What the name under the cursor stands for, and every place where that name stands.

use crate::catalogue::{Entry, EntryId, NameUse, Snapshot, Wants, names};
use crate::notation::row::Fact;
use crate::notation::values::Value;
use crate::notation::{Body, FieldReading, Kind};
use crate::text::Span;

use super::{NameHere, Place, Target, marks, words};

/// What a name stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Thing {
    /// A card.
    Card(EntryId),
    /// A name that no card bears: how it is used, and the name.
    Missing(Wants, String),
    /// A name that several cards bear.
    Several(Vec<EntryId>),
    /// A rehearsal mark of the card, as it is set.
    Mark(String),
    /// A part of the card, by its name as compared.
    Part(String),
}

/// A place where a name stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// Where.
    pub target: Target,
    /// Whether the name is given here rather than used.
    pub gives: bool,
}

/// What the name under the cursor stands for, and where exactly it stands there.
pub fn thing(place: &Place<'_>) -> Option<(Thing, Span)> {
    let text = place.text();
    match place.name() {
        Some(NameHere::Own(span)) => return Some((Thing::Card(place.id), words::trimmed(text, span))),
        Some(NameHere::Use(name)) => {
            let span = words::trimmed(text, name.span);
            let meant = place.snapshot.meant(name);
            return Some(match meant.as_slice() {
                [] => (Thing::Missing(name.wants, name.name.clone()), span),
                [only] => (Thing::Card(*only), span),
                _ => (Thing::Several(meant), span),
            });
        }
        None => {}
    }
    if place.entry.kind == Some(Kind::Piece)
        && let Some((name, spots)) = marks::at(&place.reading.fields, text, place.offset)
    {
        let span = spots.iter().find(|spot| spot.span.touches(place.offset))?.span;
        return Some((Thing::Mark(name), span));
    }
    // An instrument or a skill may stand in many kinds of lines, so the cards that have one are gone through.
    for (id, entry) in place.snapshot.entries() {
        if matches!(entry.kind, Some(Kind::Instrument | Kind::Skill)) {
            let here = in_lines(place.snapshot, place.entry, &place.reading.fields, entry)
                .into_iter()
                .find(|span| span.touches(place.offset));
            if let Some(span) = here {
                return Some((Thing::Card(id), span));
            }
        }
    }
    part_at(place)
}

/// Every place of the thing, in the order of the catalogue.
pub fn of(place: &Place<'_>, thing: &Thing) -> Vec<Spot> {
    let snapshot = place.snapshot;
    let mut found = match thing {
        Thing::Card(id) => of_card(snapshot, *id),
        Thing::Several(ids) => ids.iter().flat_map(|id| of_card(snapshot, *id)).collect(),
        Thing::Missing(wants, name) => of_missing(snapshot, *wants, name),
        Thing::Mark(_) => marks::at(&place.reading.fields, place.text(), place.offset)
            .into_iter()
            .flat_map(|(_, spots)| spots)
            .map(|spot| Spot {
                target: Target {
                    id: place.id,
                    span: spot.span,
                },
                gives: spot.sets,
            })
            .collect(),
        Thing::Part(key) => parts(&place.reading.fields)
            .into_iter()
            .filter(|(name, ..)| name == key)
            .map(|(_, span, gives)| Spot {
                target: Target { id: place.id, span },
                gives,
            })
            .collect(),
    };
    found.sort_unstable();
    found.dedup_by_key(|spot| spot.target);
    found
}

/// Every place of a card's name.
pub(super) fn of_card(snapshot: &Snapshot, id: EntryId) -> Vec<Spot> {
    let Some(card) = snapshot.entry(id) else {
        return Vec::new();
    };
    let trimmed = |entry: &Entry, span| words::trimmed(&entry.text, span);
    let mut found = vec![Spot {
        target: Target {
            id,
            span: trimmed(card, card.name_span),
        },
        gives: true,
    }];
    let used = |id: EntryId, name: &NameUse| {
        Some(Spot {
            target: Target {
                id,
                span: trimmed(snapshot.entry(id)?, name.span),
            },
            gives: false,
        })
    };
    found.extend(
        snapshot
            .uses_of(id)
            .into_iter()
            .filter_map(|(user, name)| used(user, name)),
    );
    if matches!(card.kind, Some(Kind::Instrument | Kind::Skill)) {
        for (user, entry) in snapshot.entries() {
            // Reading a card anew costs more than looking whether the words stand in it at all.
            if words::find(&entry.text, Span::whole(&entry.text), &card.name).is_empty() {
                continue;
            }
            let spans = in_lines(snapshot, entry, &entry.reading().fields, card);
            found.extend(spans.into_iter().map(|span| Spot {
                target: Target { id: user, span },
                gives: false,
            }));
        }
    }
    found
}

fn of_missing(snapshot: &Snapshot, wants: Wants, name: &str) -> Vec<Spot> {
    let key = names::key(name);
    let mut found = Vec::new();
    for (id, entry) in snapshot.entries() {
        let same = |used: &&NameUse| used.wants == wants && names::key(&used.name) == key;
        found.extend(entry.uses.iter().filter(same).map(|used| Spot {
            target: Target {
                id,
                span: words::trimmed(&entry.text, used.span),
            },
            gives: false,
        }));
    }
    found
}

/// Where the bare name of an instrument's or a skill's card stands in lines that are no list of names.
fn in_lines(snapshot: &Snapshot, entry: &Entry, fields: &[FieldReading], card: &Entry) -> Vec<Span> {
    let mut found = Vec::new();
    for field in fields {
        match card.kind {
            Some(Kind::Instrument) => of_instrument(snapshot, entry, field, card, &mut found),
            Some(Kind::Skill) => of_skill(entry, field, &card.name, &mut found),
            _ => {}
        }
        match &field.body {
            Body::Block(inside) => found.extend(in_lines(snapshot, entry, inside, card)),
            Body::Rows(rows) => {
                for row in rows {
                    found.extend(in_lines(snapshot, entry, &row.fields, card));
                }
            }
            _ => {}
        }
    }
    found
}

/// The `asks` of a row, and conditions that ask or teach it. Lists of skills are names that cards use already.
fn of_skill(entry: &Entry, field: &FieldReading, name: &str, found: &mut Vec<Span>) {
    let facts = field.rows().iter().flat_map(|row| &row.row.facts);
    for fact in facts.filter(|fact| matches!(fact.what, Fact::Asks(_))) {
        found.extend(words::find(&entry.text, fact.span, name));
    }
    if field.name() == Some("calls for") {
        for item in field.items() {
            let said = item.span.slice(&entry.text).to_lowercase();
            if said.contains("asks ") || said.contains("teaches ") {
                found.extend(words::find(&entry.text, item.span, name));
            }
        }
    }
}

fn of_instrument(
    snapshot: &Snapshot,
    entry: &Entry,
    field: &FieldReading,
    card: &Entry,
    found: &mut Vec<Span>,
) {
    let text: &str = &entry.text;
    let wanted = names::key(&card.name);
    let mut add = |within: Span| {
        found.extend(
            words::find(text, within, &card.name)
                .into_iter()
                .filter(|span| stands_alone(snapshot, text, within, *span, &card.name)),
        );
    };
    for row in field.rows() {
        for fact in &row.row.facts {
            if let Fact::Some { .. } | Fact::Switches(_) = &fact.what {
                add(fact.span);
            }
        }
    }
    for item in field.items() {
        if let Some(Value::Equipment(_) | Value::NamedRange(_) | Value::Copies(_)) = &item.value {
            add(item.core);
        }
    }
    // Names that were read as names know their own places.
    for name in field.rows().iter().flat_map(|row| row.row.all_names()) {
        if names::key(&name.text) == wanted {
            found.push(name.words);
        }
    }
}

/// Whether the name is not the end or the beginning of another instrument's longer name.
fn stands_alone(snapshot: &Snapshot, text: &str, within: Span, span: Span, name: &str) -> bool {
    let before = Span::new(within.start, span.start).slice(text);
    let after = Span::new(span.end, within.end).slice(text);
    let exact = |words: String| {
        let found = snapshot.instruments().find(&words).exact();
        found.is_some_and(|instrument| !instrument.name.eq_ignore_ascii_case(name))
    };
    let joined_before = before
        .split_whitespace()
        .next_back()
        .is_some_and(|word| exact(format!("{word} {name}")));
    let joined_after = after
        .split_whitespace()
        .next()
        .is_some_and(|word| exact(format!("{name} {word}")));
    !joined_before && !joined_after
}

/// The parts that rows name and stand in a relation to: the name as compared, where, and whether it is the row's own.
fn parts(fields: &[FieldReading]) -> Vec<(String, Span, bool)> {
    let mut found = Vec::new();
    let rows = fields
        .iter()
        .filter(|field| matches!(field.name(), Some("parts" | "percussion")))
        .flat_map(FieldReading::rows);
    for row in rows {
        for name in &row.row.names {
            found.push((names::key(&name.said()), name.span, true));
        }
        for name in row.row.partners() {
            found.push((names::key(&name.said()), name.span, false));
        }
    }
    found
}

fn part_at(place: &Place<'_>) -> Option<(Thing, Span)> {
    let (key, span, _) = parts(&place.reading.fields)
        .into_iter()
        .find(|(_, span, _)| span.touches(place.offset))?;
    Some((Thing::Part(key), span))
}
