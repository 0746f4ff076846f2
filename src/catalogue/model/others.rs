//! Criteria, bundles, lists, skills and instruments.

use crate::music::PitchRange;
use crate::notation::FieldReading;
use crate::notation::values::{Money, Skill, Titled, Value};

use super::concert::titled;
use super::piece::{money, skills};
use super::said::{self, Said, StetSaid};

/// Conditions under a name.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Criteria {
    /// The conditions, as written.
    pub calls_for: Vec<Said<String>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// Pieces sold together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bundle {
    /// What it costs.
    pub price: Option<Said<Money>>,
    /// The pieces in it.
    pub holds: Vec<Said<Titled>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// A list of pieces with its grades.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ListCard {
    /// The pieces on it.
    pub holds: Vec<Said<Titled>>,
    /// What a program drawn from it must have, as written.
    pub calls_for: Vec<Said<String>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// Something to be taught.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SkillCard {
    /// Other words for it.
    pub also: Vec<Said<String>>,
    /// What must be taught before it.
    pub after: Vec<Said<Skill>>,
    /// How long it takes, as written.
    pub takes: Option<Said<String>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// An instrument of the catalogue's own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct InstrumentCard {
    /// Other names.
    pub also: Vec<Said<String>>,
    /// Its family, as written.
    pub family: Option<Said<String>>,
    /// How far from the written pitch it sounds, as written.
    pub sounds: Option<Said<String>>,
    /// Its whole range, written pitch.
    pub range: Option<Said<PitchRange>>,
    /// The clef it reads, as written.
    pub reads: Option<Said<String>>,
    /// Its sticks, as written.
    pub sticks: Vec<Said<String>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

impl Criteria {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> Criteria {
        Criteria {
            calls_for: said::words(all, "calls for"),
            stets: said::stets(all),
        }
    }
}

impl Bundle {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> Bundle {
        Bundle {
            price: said::first(all, "price", money),
            holds: said::list(all, "holds", titled),
            stets: said::stets(all),
        }
    }
}

impl ListCard {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> ListCard {
        ListCard {
            holds: said::list(all, "holds", titled),
            calls_for: said::words(all, "calls for"),
            stets: said::stets(all),
        }
    }
}

impl SkillCard {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> SkillCard {
        SkillCard {
            also: said::words(all, "also"),
            after: skills(all, "after"),
            takes: said::words(all, "takes").into_iter().next(),
            stets: said::stets(all),
        }
    }
}

impl InstrumentCard {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> InstrumentCard {
        InstrumentCard {
            also: said::words(all, "also"),
            family: said::words(all, "family").into_iter().next(),
            sounds: said::words(all, "sounds").into_iter().next(),
            range: said::first(all, "range", |value| match value {
                Value::Range(range) => Some(*range),
                _ => None,
            }),
            reads: said::words(all, "reads").into_iter().next(),
            sticks: said::words(all, "sticks"),
            stets: said::stets(all),
        }
    }
}
