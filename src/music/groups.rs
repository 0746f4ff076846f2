//! Groups of instruments as directors name them: woodwinds, low brass, low voices.
//!
//! Which instruments are "low" is common practice, no source.

use std::sync::LazyLock;

use super::instruments::{Family, Instrument, Table};
use super::words;

/// A group named in one phrase.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Group {
    Everyone,
    Winds,
    Woodwinds,
    HighWoodwinds,
    LowReeds,
    DoubleReeds,
    Flutes,
    Clarinets,
    LowClarinets,
    Saxes,
    Brass,
    HighBrass,
    LowBrass,
    LowVoices,
    Strings,
    Percussion,
    Mallets,
    Drums,
    Accessories,
}

const LOW_REEDS: [&str; 8] = [
    "bassoon",
    "contrabassoon",
    "bass clarinet",
    "bass clarinet B.C.",
    "contra-alto clarinet",
    "contrabass clarinet",
    "baritone sax",
    "bass sax",
];

const NAMES: [(Group, &str, &[&str]); 19] = [
    (
        Group::Everyone,
        "everyone",
        &["full band", "tutti", "all", "whole band"],
    ),
    (Group::Winds, "winds", &["wind"]),
    (Group::Woodwinds, "woodwinds", &["woodwind", "ww", "ww."]),
    (
        Group::HighWoodwinds,
        "high woodwinds",
        &["upper woodwinds", "upper winds"],
    ),
    (Group::LowReeds, "low reeds", &["low woodwinds", "low winds"]),
    (Group::DoubleReeds, "double reeds", &["double reed"]),
    (Group::Flutes, "all flutes", &["flute family"]),
    (
        Group::Clarinets,
        "all clarinets",
        &["clarinet family", "clarinet choir"],
    ),
    (Group::LowClarinets, "low clarinets", &["contra clarinets"]),
    (Group::Saxes, "saxes", &["saxophones", "all saxes", "sax section"]),
    (Group::Brass, "brass", &["all brass"]),
    (Group::HighBrass, "high brass", &["upper brass"]),
    (
        Group::LowBrass,
        "low brass",
        &["lower brass", "low br", "low br."],
    ),
    (
        Group::LowVoices,
        "low voices",
        &["low instruments", "bass line", "low end"],
    ),
    (Group::Strings, "strings", &[]),
    (
        Group::Percussion,
        "percussion",
        &["perc.", "perc", "all percussion"],
    ),
    (
        Group::Mallets,
        "mallets",
        &[
            "mallet percussion",
            "keyboard percussion",
            "tuned percussion",
            "mallet",
        ],
    ),
    (Group::Drums, "drums", &["battery", "drums and cymbals"]),
    (
        Group::Accessories,
        "accessories",
        &[
            "accessory percussion",
            "auxiliary percussion",
            "aux. percussion",
            "aux percussion",
            "auxiliary",
            "aux",
            "acc",
            "accessory",
            "traps",
        ],
    ),
];

impl Group {
    /// Reads a group's name in any case.
    pub fn read(text: &str) -> Option<Group> {
        static BY_NAME: LazyLock<Table<&'static str, Group>> = LazyLock::new(|| {
            let mut table = Table::default();
            for (group, name, others) in &NAMES {
                for name in std::iter::once(name).chain(*others) {
                    table.entry(*name).or_insert(*group);
                }
            }
            table
        });
        if words::is_tidy(text) {
            return BY_NAME.get(text).copied();
        }
        let single = !text.contains("  ") && text.trim() == text;
        let tidy = match single {
            true => text.to_ascii_lowercase(),
            false => words::tidy(text),
        };
        BY_NAME.get(tidy.as_str()).copied()
    }

    /// All names that groups go by, in small letters.
    pub(crate) fn names() -> impl Iterator<Item = &'static str> {
        NAMES
            .iter()
            .flat_map(|(_, name, others)| std::iter::once(*name).chain(others.iter().copied()))
    }

    /// The name in the one form.
    pub fn name(self) -> &'static str {
        let found = NAMES.iter().find(|(group, _, _)| *group == self);
        found.map_or("", |(_, name, _)| name)
    }

    /// All groups.
    pub fn all() -> impl Iterator<Item = Group> {
        NAMES.iter().map(|(group, _, _)| *group)
    }

    /// Whether an instrument belongs to the group. An instrument of a catalogue's own is judged
    /// by its family.
    pub fn holds(self, instrument: &Instrument) -> bool {
        let family = instrument.family;
        let low_reed = LOW_REEDS.contains(&instrument.name.as_ref());
        match self {
            Group::Everyone => true,
            Group::Winds => family.is_woodwind() || family.is_brass(),
            Group::Woodwinds => family.is_woodwind(),
            Group::HighWoodwinds => family.is_woodwind() && family != Family::Saxes && !low_reed,
            Group::LowReeds => low_reed,
            Group::DoubleReeds => family == Family::DoubleReeds,
            Group::Flutes => family == Family::Flutes,
            Group::Clarinets => family == Family::Clarinets,
            Group::LowClarinets => family == Family::Clarinets && low_reed,
            Group::Saxes => family == Family::Saxes,
            Group::Brass => family.is_brass(),
            Group::HighBrass => matches!(family, Family::Trumpets | Family::Horns),
            Group::LowBrass => family == Family::LowBrass,
            Group::LowVoices => {
                low_reed
                    || family == Family::LowBrass
                    || matches!(instrument.name.as_ref(), "string bass" | "bass guitar")
            }
            Group::Strings => family == Family::Strings,
            Group::Percussion => family.is_percussion(),
            Group::Mallets => family == Family::Mallets,
            Group::Drums => family == Family::Battery,
            Group::Accessories => matches!(family, Family::Accessories | Family::World),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::instruments::Instruments;

    #[test]
    fn who_belongs() {
        let table = [
            ("woodwinds", "alto sax", true),
            ("low reeds", "baritone sax", true),
            ("low reeds", "tenor sax", false),
            ("high woodwinds", "bass clarinet", false),
            ("high brass", "horn", true),
            ("low brass", "tuba", true),
            ("low voices", "string bass", true),
            ("Mallet percussion", "bells", true),
            ("accessories", "claves", true),
            ("drums", "crash cymbals", true),
            ("percussion", "piano", false),
        ];
        for (group, name, wanted) in table {
            let found = Instruments::standard().find(name).exact();
            let holds = Group::read(group).zip(found).map(|(g, i)| g.holds(i));
            assert_eq!(holds, Some(wanted), "{group}: {name}");
        }
        for group in Group::all() {
            assert_eq!(Group::read(group.name()), Some(group));
        }
        assert!(
            LOW_REEDS
                .iter()
                .all(|n| Instruments::standard().find(n).exact().is_some())
        );
    }
}
