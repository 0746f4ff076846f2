//! What changed on one card, fact by fact.

use super::pairs::{pair, stays};
use super::said::{Said, What};

/// What became of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Became {
    /// It is new.
    Added,
    /// It is gone.
    TakenOut,
    /// It says something else.
    Changed,
    /// It stands at another place, where the order counts.
    Moved,
    /// It has another name.
    Renamed,
}

impl Became {
    /// The word for programs.
    pub fn word(self) -> &'static str {
        match self {
            Became::Added => "added",
            Became::TakenOut => "taken out",
            Became::Changed => "changed",
            Became::Moved => "moved",
            Became::Renamed => "renamed",
        }
    }
}

/// One thing that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The field; empty for remarks and stray words.
    pub field: String,
    /// The row; empty where it is said of no row.
    pub row: String,
    /// What became of it.
    pub became: Became,
    /// What it is.
    pub what: What,
    /// What was said.
    pub was: Option<String>,
    /// What is said.
    pub now: Option<String>,
}

/// What changed from one writing of a card to another. `renames` are the old and new names of cards that rows may
/// name.
pub fn between(old: &[Said], new: &[Said], renames: &[(String, String)]) -> Vec<Change> {
    let mut changes = Vec::new();
    let mut fields: Vec<&str> = Vec::new();
    for said in new.iter().chain(old) {
        if !fields.contains(&said.field.as_str()) {
            fields.push(&said.field);
        }
    }
    for field in fields {
        let of =
            |all: &[Said]| -> Vec<Said> { all.iter().filter(|said| said.field == field).cloned().collect() };
        one_field(field, &of(old), &of(new), renames, &mut changes);
    }
    changes
}

fn one_field(
    field: &str,
    old: &[Said],
    new: &[Said],
    renames: &[(String, String)],
    changes: &mut Vec<Change>,
) {
    let loose =
        |all: &[Said]| -> Vec<Said> { all.iter().filter(|said| said.row.is_empty()).cloned().collect() };
    facts(field, "", &loose(old), &loose(new), changes);
    let (was, now) = (rows(old), rows(new));
    let mut pairs: Vec<Option<usize>> = was
        .iter()
        .map(|row| {
            now.iter()
                .position(|other| other.name == row.name && other.nth == row.nth)
        })
        .collect();
    // A row that is gone and one that is new, saying the same for the most part, are one that was renamed.
    for at in 0..was.len() {
        let Some(row) = was.get(at).filter(|_| pairs.get(at) == Some(&None)) else {
            continue;
        };
        let free = |other: &usize| !pairs.contains(&Some(*other));
        let found = (0..now.len()).filter(free).find(|other| {
            let other = now.get(*other);
            let quoted = |name: &str| format!("\"{name}\"");
            let follows = |other: &Row<'_>| {
                let mut names = renames.iter();
                names.any(|(old, new)| row.name == quoted(old) && other.name == quoted(new))
            };
            other.is_some_and(|other| alike(row, other) || follows(other))
        });
        if let Some(pair) = pairs.get_mut(at) {
            *pair = found;
        }
    }
    let mut put = |row: &str, became, what, was: Option<String>, now: Option<String>| {
        changes.push(Change {
            field: field.to_owned(),
            row: row.to_owned(),
            became,
            what,
            was,
            now,
        });
    };
    for (row, pair) in was.iter().zip(&pairs) {
        if pair.is_none() {
            put(&row.name, Became::TakenOut, row.what, Some(row.told()), None);
        }
    }
    for (at, row) in now.iter().enumerate() {
        if !pairs.contains(&Some(at)) {
            put(&row.name, Became::Added, row.what, None, Some(row.told()));
        }
    }
    for (row, pair) in was.iter().zip(&pairs) {
        let Some(other) = pair.and_then(|at| now.get(at)) else {
            continue;
        };
        if row.name != other.name {
            put(
                &other.name,
                Became::Renamed,
                row.what,
                Some(row.name.clone()),
                Some(other.name.clone()),
            );
        }
    }
    for (from, to) in moved(&pairs) {
        let (Some(row), Some(other)) = (was.get(from), now.get(to)) else {
            continue;
        };
        if matches!(row.what, What::Row { ordered: true }) {
            put(
                &other.name,
                Became::Moved,
                row.what,
                Some((from + 1).to_string()),
                Some((to + 1).to_string()),
            );
        }
    }
    for (row, pair) in was.iter().zip(&pairs) {
        if let Some(other) = pair.and_then(|at| now.get(at)) {
            let of = |facts: &[&Said]| -> Vec<Said> { facts.iter().map(|said| (*said).clone()).collect() };
            facts(field, &other.name, &of(&row.facts), &of(&other.facts), changes);
        }
    }
}

/// A row with what is said of it.
struct Row<'s> {
    name: String,
    /// How many rows of the same name stand above it.
    nth: usize,
    what: What,
    facts: Vec<&'s Said>,
}

impl Row<'_> {
    fn told(&self) -> String {
        let facts: Vec<&str> = self.facts.iter().map(|said| said.words.as_str()).collect();
        facts.join(", ")
    }
}

fn rows(all: &[Said]) -> Vec<Row<'_>> {
    let mut rows: Vec<Row<'_>> = Vec::new();
    for said in all.iter().filter(|said| !said.row.is_empty()) {
        if matches!(said.what, What::Row { .. }) {
            rows.push(Row {
                name: said.row.clone(),
                nth: rows.iter().filter(|row| row.name == said.row).count(),
                what: said.what,
                facts: Vec::new(),
            });
        } else if let Some(row) = rows.last_mut() {
            row.facts.push(said);
        }
    }
    rows
}

fn alike(one: &Row<'_>, other: &Row<'_>) -> bool {
    let has = |said: &&&Said| other.facts.iter().any(|fact| fact.words == said.words);
    let shared = one.facts.iter().filter(has).count();
    shared > 0 && shared * 2 >= one.facts.len().max(other.facts.len())
}

/// The rows that stand in another order than before: as few as explain the new order.
fn moved(pairs: &[Option<usize>]) -> Vec<(usize, usize)> {
    let kept: Vec<(usize, usize)> = pairs
        .iter()
        .enumerate()
        .filter_map(|(at, pair)| pair.map(|pair| (at, pair)))
        .collect();
    let places: Vec<usize> = kept.iter().map(|(_, place)| *place).collect();
    let stays = stays(&places);
    let moves = kept.iter().zip(stays).filter(|(_, stays)| !stays);
    moves.map(|(pair, _)| *pair).collect()
}

/// Facts of one row, or what a field says without rows.
fn facts(field: &str, row: &str, old: &[Said], new: &[Said], changes: &mut Vec<Change>) {
    let pairs = pair(old, new);
    let mut put = |became, what, was: Option<&Said>, now: Option<&Said>| {
        changes.push(Change {
            field: field.to_owned(),
            row: row.to_owned(),
            became,
            what,
            was: was.map(|said| said.words.clone()),
            now: now.map(|said| said.words.clone()),
        });
    };
    for (was, pair) in old.iter().zip(&pairs) {
        match pair.and_then(|at| new.get(at)) {
            Some(now) if now.words == was.words => {}
            Some(now) => put(Became::Changed, now.what, Some(was), Some(now)),
            None => put(Became::TakenOut, was.what, Some(was), None),
        }
    }
    for (at, now) in new.iter().enumerate() {
        if !pairs.contains(&Some(at)) {
            put(Became::Added, now.what, None, Some(now));
        }
    }
}
