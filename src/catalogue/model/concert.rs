//! A concert: when, for whom, what is played, what it calls for.

use crate::notation::FieldReading;
use crate::notation::row::{Fact, Relation};
use crate::notation::values::{Equipment, Lasts, Moment, Titled, Value};

use super::super::quotes::quoted_names;
use super::said::{self, Said, StetSaid};

/// What a card says of a concert.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Concert {
    /// The day and hour.
    pub on: Option<Said<Moment>>,
    /// The ensembles that play.
    pub bands: Vec<Said<Titled>>,
    /// How long it may be.
    pub length: Option<Said<Lasts>>,
    /// The gap between two pieces.
    pub between: Option<Said<Lasts>>,
    /// The pieces in order.
    pub program: Vec<ProgramPiece>,
    /// What it calls for, as written.
    pub calls_for: Vec<Said<String>>,
    /// Who is absent, as written.
    pub absent: Vec<Said<String>>,
    /// Percussion instruments borrowed for it.
    pub borrowed: Vec<Said<Equipment>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// One piece of a program.
#[derive(Debug, Clone, PartialEq)]
pub struct ProgramPiece {
    /// Its title, and who wrote it where two share the title.
    pub title: Said<Titled>,
    /// The bands that play it, when the program says so; none means the concert's.
    pub bands: Vec<String>,
    /// The movements played; none means all.
    pub movements: Vec<u32>,
}

impl Concert {
    /// Takes a concert's facts out of its fields.
    pub fn of(all: &[FieldReading]) -> Concert {
        let lengths = said::words(all, "length");
        Concert {
            on: said::first(all, "on", |value| match value {
                Value::Moment(moment) => Some(*moment),
                _ => None,
            }),
            bands: said::list(all, "for", titled),
            length: lengths.iter().find_map(|said| length(said, false)),
            between: lengths.iter().find_map(|said| length(said, true)),
            program: program(all),
            calls_for: said::words(all, "calls for"),
            absent: said::words(all, "absent"),
            borrowed: said::list(all, "borrowed", |value| match value {
                Value::Equipment(equipment) => Some(equipment.clone()),
                _ => None,
            }),
            stets: said::stets(all),
        }
    }
}

/// `20 minutes`, or `1:30 between pieces` when `between` is asked for.
fn length(said: &Said<String>, between: bool) -> Option<Said<Lasts>> {
    let words = match said.value.find(" between") {
        Some(at) if between => said.value.get(..at)?,
        None if !between => &said.value,
        _ => return None,
    };
    let words = ["at most ", "up to ", "no more than "]
        .iter()
        .find_map(|lead| words.strip_prefix(lead))
        .unwrap_or(words);
    let lasts = Lasts::read(words)?;
    Some(said.clone().map(|_| lasts))
}

pub(super) fn titled(value: &Value) -> Option<Titled> {
    match value {
        Value::Titled(titled) => Some(titled.clone()),
        _ => None,
    }
}

fn program(all: &[FieldReading]) -> Vec<ProgramPiece> {
    let mut pieces = Vec::new();
    for field in said::fields(all, "program") {
        let rows = field.rows();
        for row in rows {
            let Some(first) = row.row.facts.first() else {
                continue;
            };
            let Fact::Title(title) = &first.what else { continue };
            let group = row.under.and_then(|index| rows.get(index));
            let bands = group
                .into_iter()
                .chain(std::iter::once(row))
                .flat_map(|row| &row.row.facts)
                .find_map(|fact| match &fact.what {
                    Fact::Relation {
                        relation: Relation::For,
                        target,
                        ..
                    } => Some(quoted_names(target)),
                    _ => None,
                })
                .unwrap_or_default();
            let words = row.row.facts.iter().filter_map(|fact| match &fact.what {
                Fact::Words(words, _) => Some(words.as_str()),
                _ => None,
            });
            let mut movements = title.movements.clone();
            movements.extend(words.flat_map(movement_numbers));
            pieces.push(ProgramPiece {
                title: Said {
                    value: title.clone(),
                    span: first.span,
                    about: first.about,
                    open: first.open,
                },
                bands,
                movements,
            });
        }
    }
    pieces
}

/// `movements 1 and 3`, `movement 2`, `movements 1-3`.
fn movement_numbers(words: &str) -> Vec<u32> {
    let Some(rest) = words
        .strip_prefix("movements")
        .or_else(|| words.strip_prefix("movement"))
        .or_else(|| words.strip_prefix("mvts"))
    else {
        return Vec::new();
    };
    let mut numbers = Vec::new();
    for piece in rest.split([',', '&']).flat_map(|piece| piece.split(" and ")) {
        let mut ends = piece
            .split(['-', '–'])
            .filter_map(|digits| digits.trim().parse::<u32>().ok());
        if let Some(first) = ends.next() {
            let last = ends.next().unwrap_or(first);
            numbers.extend(first..=last.min(first.saturating_add(50)));
        }
    }
    numbers
}
