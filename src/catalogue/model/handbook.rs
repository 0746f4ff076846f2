//! The handbook: what holds for the whole catalogue.

use crate::music::charts::Chart;
use crate::notation::fields::fields_of;
use crate::notation::names::cut_number;
use crate::notation::row::{RowItem, RowName};
use crate::notation::values::{
    ChangeTime, Equipment, Grade, Pace, Pin, Postage, Staffing, There, Titled, Value,
};
use crate::notation::{FieldReading, Kind};
use crate::text::Span;

use super::concert::titled;
use super::said::{self, Said, StetSaid, take};
use super::unread::{Unread, unread};

/// What the handbook says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Handbook {
    /// The version of the notation.
    pub notation: Option<Said<u32>>,
    /// The ensembles pieces are judged for.
    pub bands: Vec<Said<Titled>>,
    /// The chart of school ranges that it follows, as written.
    pub follows: Option<Said<String>>,
    /// How many players a part should have.
    pub players: Vec<Said<Staffing>>,
    /// How fast its bands are taught.
    pub teaching: Vec<Said<Pace>>,
    /// What sellers take for sending an order.
    pub postage: Vec<Said<Postage>>,
    /// Changeover times.
    pub change: Vec<Said<ChangeTime>>,
    /// Percussion instruments that one player covers together.
    pub one_player: Vec<Said<Vec<String>>>,
    /// The parts that a piece usually has, as rows of names and nothing else.
    pub usual: Vec<RowItem>,
    /// Who is always to play what.
    pub assigned: Vec<Said<Pin>>,
    /// The percussion instruments that all bands share.
    pub owns: Vec<Said<Equipment>>,
    /// Wishes for how strongly findings are shown.
    pub severities: Vec<SeverityWish>,
    /// Findings let stand in the whole catalogue.
    pub stets: Vec<StetSaid>,
    /// What was not understood.
    pub unread: Vec<Unread>,
    /// The size above which a file is not read, in bytes.
    pub largest_file: Option<u64>,
}

/// A part that is named in a list, as the row it would be on a piece's card.
fn row(said: &Said<String>) -> RowItem {
    let cut = cut_number(&said.value, true);
    let name = RowName {
        span: said.span,
        words: said.span,
        text: cut.words.to_owned(),
        numbers: cut.numbers,
        open: !said.is_certain(),
    };
    RowItem {
        span: said.span,
        line: 0,
        names: vec![name],
        count: None,
        facts: Vec::new(),
        partial: false,
    }
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
    pub fn of(all: &[FieldReading], text: &str) -> Handbook {
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
            players: said::list(all, "players", take!(Staffing)),
            teaching: said::list(all, "teaching", take!(Pace)),
            postage: said::list(all, "postage", take!(Postage)),
            change: said::list(all, "change", take!(Change)),
            one_player: said::list(all, "one player", take!(Together)),
            usual: said::words(all, "parts").iter().map(row).collect(),
            assigned: said::list(all, "assigned", take!(Pin)),
            owns: said::equipment(all, "owns")
                .into_iter()
                .filter(|said| matches!(said.value.there, There::Yes | There::Shared(_)))
                .collect(),
            severities,
            unread: unread(all, fields_of(Kind::Handbook), text),
            stets: said::stets(all),
            largest_file: said::first(all, "largest file", take!(Size)).map(|said| said.value),
        }
    }

    /// The fewest players that a part of a divided section should have, when the handbook says so.
    pub fn fewest_to_a_part(&self) -> Option<u32> {
        self.players.iter().find_map(|said| match said.value {
            Staffing::AtLeast(count) => Some(count),
            _ => None,
        })
    }

    /// Whether the extra players of a section play its upper parts, when the handbook says so.
    pub fn extra_players_upper(&self) -> bool {
        self.players.iter().any(|said| said.value == Staffing::ExtraUpper)
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
        self.one_player.iter().map(|said| said.value.clone()).collect()
    }
}
