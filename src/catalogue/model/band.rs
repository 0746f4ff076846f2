//! An ensemble: its players, its percussionists, what it owns and has been taught.

use crate::music::Key;
use crate::notation::FieldReading;
use crate::notation::row::{Can, Count, Fact, RowItem};
use crate::notation::values::{Days, Equipment, NamedRange, Skill, Value};
use crate::text::Span;

use super::piece::skills;
use super::said::{self, Said, StetSaid};

/// What a card says of an ensemble.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ensemble {
    /// When and how long it rehearses, in the words used.
    pub meets: Vec<Said<String>>,
    /// Head counts by instrument.
    pub players: Vec<PlayerRow>,
    /// Percussionists by seat or initials.
    pub percussionists: Vec<Percussionist>,
    /// Their number, where only that is said.
    pub percussionist_count: Option<Count>,
    /// Where the percussionists stand on the card.
    pub percussionists_span: Option<Span>,
    /// What the room holds.
    pub owns: Vec<Said<Equipment>>,
    /// What can be had for a concert.
    pub borrowed: Vec<Said<Equipment>>,
    /// For things in `borrowed`, by their place in it: the days for which they are lent.
    pub borrowed_days: Vec<(usize, Days)>,
    /// What each section plays with ease.
    pub ranges: Vec<Said<NamedRange>>,
    /// The concert keys taught.
    pub keys: Vec<Said<Key>>,
    /// Skills taught.
    pub taught: Vec<Said<Skill>>,
    /// Skills met.
    pub introduced: Vec<Said<Skill>>,
    /// Rows of chairs.
    pub rows: Vec<RowItem>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// The players of one instrument.
#[derive(Debug, Clone, PartialEq)]
pub struct PlayerRow {
    /// The instrument as written.
    pub name: String,
    /// Where the row stands.
    pub span: Span,
    /// Where the name stands.
    pub name_span: Span,
    /// How many there are, where that is said.
    pub count: Option<Count>,
    /// What some of them can do: how many (none for all), and what.
    pub some: Vec<(Option<u32>, Can)>,
}

/// One percussionist.
#[derive(Debug, Clone, PartialEq)]
pub struct Percussionist {
    /// The seat or initials.
    pub seat: String,
    /// Where they stand.
    pub span: Span,
    /// What this player plays, as written; nothing said means anything.
    pub plays: Vec<String>,
}

impl Ensemble {
    /// Takes an ensemble's facts out of its fields.
    pub fn of(all: &[FieldReading]) -> Ensemble {
        let equipment = |name| {
            said::list(all, name, |value| match value {
                Value::Equipment(equipment) => Some(equipment.clone()),
                _ => None,
            })
        };
        Ensemble {
            meets: said::words(all, "meets"),
            players: said::rows(all, "players")
                .flat_map(|row| player_rows(&row.row))
                .collect(),
            percussionists: said::rows(all, "percussionists")
                .flat_map(|row| percussionists(&row.row))
                .collect(),
            percussionist_count: said::rows(all, "percussionists").find_map(|row| row.row.count),
            percussionists_span: said::fields(all, "percussionists")
                .next()
                .map(|field| field.whole),
            owns: equipment("owns"),
            borrowed: equipment("borrowed"),
            borrowed_days: borrowed_days(all),
            ranges: said::list(all, "ranges", |value| match value {
                Value::NamedRange(range) => Some(range.clone()),
                _ => None,
            }),
            keys: said::list(all, "keys", |value| match value {
                Value::Key(center) => center.key(),
                _ => None,
            }),
            taught: skills(all, "taught"),
            introduced: skills(all, "introduced"),
            rows: said::rows(all, "rows").map(|row| row.row.clone()).collect(),
            stets: said::stets(all),
        }
    }

    /// How many percussionists there are, where the card says so.
    pub fn percussion_players(&self) -> Option<u32> {
        match self.percussionists.len() {
            0 => self.percussionist_count.map(|count| count.number),
            named => u32::try_from(named).ok(),
        }
    }
}

/// Days stand behind what they are said of, so each belongs to the last thing named before it.
fn borrowed_days(all: &[FieldReading]) -> Vec<(usize, Days)> {
    let mut named = 0usize;
    let mut found = Vec::new();
    for item in said::fields(all, "borrowed").flat_map(FieldReading::items) {
        match &item.value {
            Some(Value::Equipment(_)) => named += 1,
            Some(Value::Days(days)) => found.extend(named.checked_sub(1).map(|at| (at, *days))),
            _ => {}
        }
    }
    found
}

fn player_rows(row: &RowItem) -> Vec<PlayerRow> {
    row.names
        .iter()
        .map(|name| PlayerRow {
            name: name.text.clone(),
            span: row.span,
            name_span: name.words,
            count: row.count,
            some: row
                .facts
                .iter()
                .filter_map(|fact| match &fact.what {
                    Fact::Some { count, can } => Some((*count, can.clone())),
                    _ => None,
                })
                .collect(),
        })
        .collect()
}

fn percussionists(row: &RowItem) -> Vec<Percussionist> {
    row.names
        .iter()
        .map(|name| Percussionist {
            seat: name.text.clone(),
            span: name.span,
            plays: row
                .facts
                .iter()
                .filter_map(|fact| match &fact.what {
                    Fact::Words(words, _) => Some(words.clone()),
                    _ => None,
                })
                .collect(),
        })
        .collect()
}
