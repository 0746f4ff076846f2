//! What a file or a catalogue holds, as an outline.

use crate::catalogue::conditions::{Condition, Subject, read};
use crate::catalogue::{CardFile, EntryId, Snapshot};
use crate::notation::{Body, FieldReading, Kind};
use crate::planning::find::{Answer, of_piece};
use crate::text::Span;

/// What an outline's line stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// A card.
    Card(Kind),
    /// A field of a card.
    Field,
    /// A row of a table.
    Row,
}

/// One line of an outline. Spans are of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Symbol {
    /// What is shown.
    pub name: String,
    /// What is shown faintly beside it.
    pub detail: String,
    /// What it stands for.
    pub sort: Sort,
    /// All of it.
    pub whole: Span,
    /// Its name; inside `whole`.
    pub name_span: Span,
    /// What is inside it.
    pub inside: Vec<Symbol>,
}

/// The outline of a file: its cards, their fields, the rows of their tables.
pub fn of_file(cards: &CardFile) -> Vec<Symbol> {
    let mut found = Vec::new();
    for (index, entry) in cards.entries.iter().enumerate() {
        let Some(kind) = entry.kind else { continue };
        let reading = entry.reading();
        let Some(head) = &reading.tree.head else { continue };
        let in_file = |span| cards.in_file(index, span);
        let end = reading
            .tree
            .lines
            .iter()
            .rfind(|line| !line.body.is_empty())
            .map_or(head.kind_span.end, |line| line.body.end);
        let name_span = if head.name_span.is_empty() {
            head.kind_span
        } else {
            head.name_span
        };
        let fields = reading
            .fields
            .iter()
            .map(|field| of_field(field, &entry.text, &in_file))
            .collect();
        found.push(Symbol {
            name: card_name(kind, &entry.name),
            detail: kind.word().to_owned(),
            sort: Sort::Card(kind),
            whole: in_file(Span::new(head.kind_span.start, end.max(name_span.end))),
            name_span: in_file(name_span),
            inside: fields,
        });
    }
    found
}

/// What a card is called in an outline; an outline's line must not be empty.
fn card_name(kind: Kind, name: &str) -> String {
    if name.trim().is_empty() {
        kind.word().to_owned()
    } else {
        name.to_owned()
    }
}

fn of_field(field: &FieldReading, text: &str, in_file: &impl Fn(Span) -> Span) -> Symbol {
    let written = field.word.slice(text);
    let name = field.name().unwrap_or(written);
    let (detail, inside) = match &field.body {
        Body::Block(fields) => (
            String::new(),
            fields
                .iter()
                .filter(|inner| !inner.word.is_empty())
                .map(|inner| of_field(inner, text, in_file))
                .collect(),
        ),
        Body::Rows(rows) => {
            let rows = rows.iter().filter(|row| !row.row.names.is_empty()).map(|row| {
                let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
                let first = row.row.names.first().map_or(row.row.span, |name| name.span);
                Symbol {
                    name: names.join(", "),
                    detail: String::new(),
                    sort: Sort::Row,
                    whole: in_file(row.row.span.cover(first)),
                    name_span: in_file(first),
                    inside: Vec::new(),
                }
            });
            (String::new(), rows.collect())
        }
        _ => {
            let value = Span::new(field.word.end, field.whole.end).slice(text);
            (short(value), Vec::new())
        }
    };
    let shown = if name.is_empty() { "?" } else { name };
    Symbol {
        name: shown.to_owned(),
        detail,
        sort: Sort::Field,
        whole: in_file(field.whole.cover(field.word)),
        name_span: in_file(field.word),
        inside,
    }
}

/// The first sixty characters of a value, on one line.
fn short(value: &str) -> String {
    let words = value.split_whitespace().collect::<Vec<_>>().join(" ");
    match words.char_indices().nth(60) {
        Some((at, _)) => format!("{}…", words.get(..at).unwrap_or("")),
        None => words,
    }
}

/// A card found by its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The card.
    pub id: EntryId,
    /// Its kind.
    pub kind: Kind,
    /// Its name.
    pub name: String,
    /// Where the name stands on the card.
    pub span: Span,
}

/// The cards of a catalogue whose names hold the letters of `query` in order, whatever their capitals;
/// those that hold it in one piece first, at most `most`. `stop` is asked at each card.
pub fn of_catalogue(snapshot: &Snapshot, query: &str, most: usize, stop: &dyn Fn() -> bool) -> Vec<Found> {
    let query: Vec<char> = query
        .chars()
        .filter(|c| !c.is_whitespace())
        .flat_map(char::to_lowercase)
        .collect();
    let together: String = query.iter().collect();
    let mut found: Vec<(bool, Found)> = Vec::new();
    for (id, entry) in snapshot.entries() {
        if stop() {
            break;
        }
        let Some(kind) = entry.kind else { continue };
        let name = card_name(kind, &entry.name);
        let lower: String = name
            .chars()
            .filter(|c| !c.is_whitespace())
            .flat_map(char::to_lowercase)
            .collect();
        let mut letters = lower.chars();
        if !query.iter().all(|wanted| letters.any(|c| c == *wanted)) {
            continue;
        }
        let scattered = !lower.contains(&together);
        found.push((
            scattered,
            Found {
                id,
                kind,
                name,
                span: entry.name_span,
            },
        ));
    }
    found.sort_by_key(|(scattered, card)| (*scattered, card.id));
    found.truncate(most);
    found.into_iter().map(|(_, card)| card).collect()
}

/// Whether a query is made of conditions that are understood.
pub fn are_conditions(snapshot: &Snapshot, query: &str) -> bool {
    let conditions = read(snapshot, query);
    !conditions.is_empty() && conditions.iter().all(Condition::is_heard)
}

/// The pieces that surely meet conditions, at most `most`; none where `query` is not made of conditions that
/// are understood. `stop` is asked at each card.
pub fn meeting(snapshot: &Snapshot, query: &str, most: usize, stop: &dyn Fn() -> bool) -> Vec<Found> {
    let conditions = read(snapshot, query);
    if conditions.is_empty() || !conditions.iter().all(Condition::is_heard) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (id, entry) in snapshot.entries() {
        if stop() || found.len() >= most {
            break;
        }
        let Some(subject) = Subject::of(id, entry) else {
            continue;
        };
        if let Answer::Meets(_) = of_piece(snapshot, &conditions, &[], &subject) {
            found.push(Found {
                id,
                kind: Kind::Piece,
                name: card_name(Kind::Piece, &entry.name),
                span: entry.name_span,
            });
        }
    }
    found
}
