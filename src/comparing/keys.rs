//! What makes two sayings the same one: the key by which an item, a row or a fact is found again in another
//! writing of its card, and what it says, however it is laid out.

use crate::catalogue::names::key as name_key;
use crate::notation::items::Item;
use crate::notation::row::{Fact, RowFact, RowItem};
use crate::notation::values::{Place, Point, Titled, Value};
use crate::text::Span;

/// Words with single blanks between them.
pub fn single(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What an item says, in the one form where it was understood.
pub fn item_says(text: &str, item: &Item) -> String {
    item.one_form().unwrap_or_else(|| single(item.span.slice(text)))
}

/// What an item is found again by. A stage of a value is found by its place; an item of a list by what it is
/// about, such as the part of which there are copies; any other by all that it says.
pub fn item_key(text: &str, item: &Item, stage: bool) -> String {
    if stage {
        return match &item.place {
            Some(place) => place.to_string(),
            None if item.then => "then".to_owned(),
            None => String::new(),
        };
    }
    let key = match item.value.as_ref().filter(|_| !item.partial) {
        Some(Value::Grade(grade)) => format!("by {:?} {:?}", grade.who, grade.part),
        Some(Value::Mark(mark)) => name_key(&mark.name),
        Some(Value::Copies(copies)) => format!(
            "{} {:?} {} {}",
            name_key(&copies.part),
            copies.page,
            copies.short,
            copies.extra
        ),
        Some(Value::Skill(skill)) => name_key(&skill.name),
        Some(Value::NamedRange(range)) => name_key(&range.name),
        Some(Value::Equipment(thing)) => name_key(&thing.name),
        Some(Value::Titled(titled)) => title_key(titled),
        _ => item_says(text, item),
    };
    // `some 3/4` and `3/4` are two things that one may say side by side.
    match &item.place {
        Some(place) => format!("{key} {place}"),
        None => key,
    }
}

fn title_key(titled: &Titled) -> String {
    let by = titled.by.as_deref().map(name_key).unwrap_or_default();
    format!("\"{}\" {by}", name_key(&titled.name))
}

/// The measure from which a stage holds, where it says one.
pub fn item_measure(item: &Item) -> Option<u32> {
    match item.place.as_ref()? {
        Place::At(Point::Measure(measure)) | Place::Between(Point::Measure(measure), _) => Some(*measure),
        _ => None,
    }
}

/// What a row is called: its names, or what it is in a program.
pub fn row_name(text: &str, row: &RowItem) -> String {
    if !row.names.is_empty() {
        let names: Vec<String> = row.names.iter().map(|name| name.said()).collect();
        return names.join(", ");
    }
    match row.facts.first().map(|fact| &fact.what) {
        Some(Fact::Title(titled)) => format!("\"{}\"", titled.name),
        Some(what) => what.to_string(),
        None => single(row.span.slice(text)),
    }
}

/// The stretch of a row that holds its name or names.
pub fn name_span(row: &RowItem) -> Option<Span> {
    match (row.names.first(), row.names.last()) {
        (Some(first), Some(last)) => Some(first.span.cover(last.span)),
        _ => title(row).map(|fact| fact.span),
    }
}

/// The title that names a row of a program.
pub fn title(row: &RowItem) -> Option<&RowFact> {
    let first = row.facts.first()?;
    (row.names.is_empty() && matches!(first.what, Fact::Title(_))).then_some(first)
}

/// What a fact of a row is found again by; facts that a row may hold several of are found by all that they say.
pub fn fact_key(fact: &RowFact) -> String {
    let key = match &fact.what {
        Fact::Range { .. } => "range",
        Fact::Bound { up: true, .. } => "highest",
        Fact::Bound { up: false, .. } => "lowest",
        Fact::Relation { relation, .. } => relation.words(),
        Fact::Players(..) | Fact::OnePlayer => "players",
        Fact::Measures(_) => "measures",
        Fact::Lasts(_) => "lasts",
        Fact::Line(field, _) => field,
        Fact::Positions(_) => "positions",
        Fact::Lines(_) => "lines",
        Fact::Pitches(..) | Fact::Notes(..) => "notes",
        Fact::CompleteWith(_) => "complete with",
        Fact::Movements(_) => "movements",
        _ => return fact.to_string(),
    };
    match fact.what.place() {
        Some(place) => format!("{key} {place}"),
        None => key.to_owned(),
    }
}
