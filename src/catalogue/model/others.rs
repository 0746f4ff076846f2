//! Criteria, bundles, lists, skills and instruments.

use crate::music::{Clef, Family, Interval, PitchRange};
use crate::notation::FieldReading;
use crate::notation::values::{Money, Skill, Takes, Titled, Unnamed, Value};

use super::concert::titled;
use super::piece::{money, skills};
use super::said::{self, Said, StetSaid, take};

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
    /// Who sells or publishes it.
    pub from: Option<Said<String>>,
    /// What it costs.
    pub price: Option<Said<Money>>,
    /// The pieces in it.
    pub holds: Vec<Said<Titled>>,
    /// Pieces in it that have no name on the card.
    pub unnamed: Vec<Said<Unnamed>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// A list of pieces with its grades.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ListCard {
    /// The year of the list.
    pub year: Option<Said<u32>>,
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
    /// How long it takes.
    pub takes: Option<Said<Takes>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
}

/// An instrument of the catalogue's own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct InstrumentCard {
    /// Other names.
    pub also: Vec<Said<String>>,
    /// Its family.
    pub family: Option<Said<Family>>,
    /// How far from the written pitch it sounds.
    pub sounds: Option<Said<Interval>>,
    /// Its whole range, written pitch.
    pub range: Option<Said<PitchRange>>,
    /// The clef it reads.
    pub reads: Option<Said<Clef>>,
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
            from: said::words(all, "from")
                .into_iter()
                .next()
                .filter(Said::is_certain),
            price: said::first(all, "price", money),
            holds: said::list(all, "holds", titled),
            unnamed: said::list(all, "holds", take!(Unnamed)),
            stets: said::stets(all),
        }
    }
}

impl ListCard {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> ListCard {
        ListCard {
            year: said::first(all, "year", take!(Number)),
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
            takes: said::first(all, "takes", take!(Takes)),
            stets: said::stets(all),
        }
    }
}

impl InstrumentCard {
    /// Takes the facts out of the fields.
    pub fn of(all: &[FieldReading]) -> InstrumentCard {
        InstrumentCard {
            also: said::words(all, "also"),
            family: said::first(all, "family", take!(Family)),
            sounds: said::first(all, "sounds", take!(Sounds)),
            range: said::first(all, "range", |value| match value {
                Value::Range(range) => Some(*range),
                _ => None,
            }),
            reads: said::first(all, "reads", take!(Clef)),
            sticks: said::words(all, "sticks"),
            stets: said::stets(all),
        }
    }
}
