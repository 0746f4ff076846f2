//! The handbook: what holds for the whole catalogue.

use crate::music::charts::Chart;
use crate::notation::FieldReading;
use crate::notation::values::{Grade, Titled, Value};
use crate::text::Span;

use super::concert::titled;
use super::said::{self, Said, StetSaid};

/// What the handbook says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Handbook {
    /// The version of the notation.
    pub notation: Option<Said<u32>>,
    /// The ensembles pieces are judged for.
    pub bands: Vec<Said<Titled>>,
    /// The chart of school ranges that it follows, as written.
    pub follows: Option<Said<String>>,
    /// How many players a part should have, as written.
    pub players: Vec<Said<String>>,
    /// Changeover times, as written.
    pub change: Vec<Said<String>>,
    /// Percussion instruments that one player covers together, as written.
    pub one_player: Vec<Said<String>>,
    /// Wishes for how strongly findings are shown.
    pub severities: Vec<SeverityWish>,
    /// Findings let stand in the whole catalogue.
    pub stets: Vec<StetSaid>,
    /// The size above which a file is not read, in bytes.
    pub largest_file: Option<u64>,
}

/// How strongly a finding is to be shown.
#[derive(Debug, Clone, PartialEq)]
pub struct SeverityWish {
    /// The field it stands in: `error`, `warning`, `information` or `hint`.
    pub word: &'static str,
    /// The finding's phrase.
    pub phrase: String,
    /// Where it stands.
    pub span: Span,
}

impl Handbook {
    /// Takes the handbook's facts out of its fields.
    pub fn of(all: &[FieldReading], _text: &str) -> Handbook {
        let severities = ["error", "warning", "information", "hint"]
            .into_iter()
            .flat_map(|word| {
                said::words(all, word).into_iter().map(move |said| SeverityWish {
                    word,
                    phrase: said.value,
                    span: said.span,
                })
            })
            .collect();
        Handbook {
            notation: said::first(all, "notation", |value| match value {
                Value::Number(number) => Some(*number),
                _ => None,
            }),
            bands: said::list(all, "for", titled),
            follows: said::words(all, "follows").into_iter().next(),
            players: said::words(all, "players"),
            change: said::words(all, "change"),
            one_player: said::words(all, "one player"),
            severities,
            stets: said::stets(all),
            largest_file: said::words(all, "largest file")
                .first()
                .and_then(|said| megabytes(&said.value)),
        }
    }

    /// The fewest players that a part of a divided section should have, when the handbook says so.
    pub fn fewest_to_a_part(&self) -> Option<u32> {
        self.players.iter().find_map(|said| {
            let words = said.value.strip_prefix("at least ")?;
            let (number, rest) = words.split_once(' ')?;
            rest.contains("part").then(|| number.parse().ok()).flatten()
        })
    }

    /// The chart of school ranges that the catalogue goes by, and its grade in tenths.
    pub fn chart(&self) -> Option<(Chart, u8)> {
        let said = self.follows.as_ref().filter(|said| said.is_certain())?;
        let (name, grade) = said.value.split_once(',')?;
        let grade = Grade::read(grade)?;
        Some((Chart::read(name)?, u8::try_from(grade.low / 10).ok()?))
    }

    /// The groups of percussion instruments that one player covers together.
    pub fn covered_together(&self) -> Vec<Vec<String>> {
        self.one_player
            .iter()
            .map(|said| {
                said.value
                    .split(" and ")
                    .flat_map(|piece| piece.split(" with "))
                    .map(|name| name.trim().to_owned())
                    .filter(|name| !name.is_empty())
                    .collect::<Vec<_>>()
            })
            .filter(|group| group.len() > 1)
            .collect()
    }
}

fn megabytes(words: &str) -> Option<u64> {
    let (number, unit) = words.split_once(' ').unwrap_or((words, "MB"));
    let number: u64 = number.parse().ok()?;
    match unit.trim().to_ascii_uppercase().as_str() {
        "MB" => number.checked_mul(1 << 20),
        "KB" => number.checked_mul(1 << 10),
        _ => None,
    }
}
