//! A band's wind players by instrument: how many, what some of them can do, who switches, and how they
//! divide over the parts of a section.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::music::groups::Group;
use crate::music::instruments::key;
use crate::music::{Instrument, Instruments, Pitch};
use crate::notation::names::is_the_usual;
use crate::notation::row::{Can, Fact, Relation, RowItem, RowName};
use crate::text::Span;

use super::doubt::Doubts;
use super::instruments::instrument_named;
use super::model::{Ensemble, Piece};

/// Instruments whose parts the same players read as they are printed, or that come with a part in either
/// clef (common practice, no source).
const SAME_CHAIR: [&[&str]; 6] = [
    &["euphonium", "euphonium T.C.", "baritone", "baritone T.C."],
    &["trombone", "trombone T.C.", "bass trombone"],
    &["bass clarinet", "bass clarinet B.C."],
    &["trumpet", "cornet"],
    &["horn", "mellophone"],
    &["string bass", "bass guitar"],
];

/// Whether players of the one read parts of the other; both by their names in the one form.
pub fn same_chair(a: &str, b: &str) -> bool {
    Chair::of(a).takes(b)
}

/// The instruments whose parts the players of one read.
struct Chair<'n> {
    name: &'n str,
    others: &'static [&'static str],
}

impl<'n> Chair<'n> {
    fn of(name: &'n str) -> Chair<'n> {
        let others = SAME_CHAIR.iter().find(|chair| chair.contains(&name));
        Chair {
            name,
            others: others.copied().unwrap_or_default(),
        }
    }

    fn takes(&self, name: &str) -> bool {
        self.name == name || self.others.contains(&name)
    }
}

/// The players of one instrument.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The instrument's name in the one form.
    pub instrument: String,
    /// Which of the bands it belongs to, by its place among those given.
    pub band: usize,
    /// Where its row stands on the band's card.
    pub span: Span,
    /// How many there are; none where the card gives no certain number.
    pub players: Option<u32>,
    /// How many can play over the break; none where the card does not say.
    pub over_the_break: Option<u32>,
    /// How many can play up to a written pitch; no number means all.
    pub up_to: Vec<(Option<u32>, Pitch)>,
    /// How many can play down to a written pitch; no number means all.
    pub down_to: Vec<(Option<u32>, Pitch)>,
    /// How many read treble clef where others read bass clef.
    pub treble_clef: u32,
    /// How many share a stand with another of them.
    pub sharing: u32,
}

/// All wind players of a band, or of bands that play together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sections {
    /// The sections in the order of the cards.
    pub all: Vec<Section>,
    /// Players who also play something else: the instrument they switch to, and how many can.
    pub switchers: Vec<(String, u32)>,
    /// Groupings the card counts as one, such as `low reeds 3`.
    pub groups: Vec<Group>,
    /// Names on the cards that are not understood, so that nobody knows whose players they count.
    pub doubts: Doubts,
}

impl Sections {
    /// The sections of bands that play together.
    pub fn of(bands: &[&Ensemble], instruments: &Instruments) -> Sections {
        Sections::on(bands, instruments, None)
    }

    /// The same on a day, without those who join later or have left by then.
    pub fn on(bands: &[&Ensemble], instruments: &Instruments, day: Option<Date>) -> Sections {
        let rows = bands.iter().flat_map(|band| &band.players);
        let mut sections = Sections {
            doubts: Doubts::of(rows.map(|row| row.name.as_str()), instruments),
            ..Sections::default()
        };
        for (band, ensemble) in bands.iter().enumerate() {
            for row in &ensemble.players {
                for (count, can) in &row.some {
                    if let Can::Also(other) = can {
                        sections.add_switcher(other, count.unwrap_or(1), instruments);
                    }
                }
                let known =
                    instrument_named(instruments, &row.name).filter(|_| !sections.doubts.has(&row.name));
                let Some(instrument) = known else {
                    sections.groups.extend(Group::read(&row.name));
                    continue;
                };
                let players = row
                    .count
                    .filter(|count| !count.about && !count.open)
                    .map(|count| count.number)
                    .map(|number| number - day.map_or(0, |day| row.not_there(day)));
                let mut section = Section {
                    instrument: instrument.name.to_string(),
                    band,
                    span: row.span,
                    players,
                    over_the_break: None,
                    up_to: Vec::new(),
                    down_to: Vec::new(),
                    treble_clef: 0,
                    sharing: 0,
                };
                for (count, can) in &row.some {
                    match can {
                        Can::OverTheBreak => section.over_the_break = count.or(players),
                        Can::UpTo(pitch) => section.up_to.push((*count, *pitch)),
                        Can::DownTo(pitch) => section.down_to.push((*count, *pitch)),
                        Can::TrebleClef => section.treble_clef = count.or(players).unwrap_or(0),
                        Can::Also(_)
                        | Can::Reach(_)
                        | Can::Standing(_)
                        | Can::Since(_)
                        | Can::Until(_)
                        | Can::Away(_)
                        | Can::More(_)
                        | Can::Maybe
                        | Can::Share { stand: false, .. } => {}
                        Can::Share { stand: true, .. } => {
                            section.sharing = count.or(players).unwrap_or(0);
                        }
                    }
                }
                sections.all.push(section);
            }
            for percussionist in ensemble.percussionists_on(day) {
                for other in &percussionist.can.also {
                    sections.add_switcher(other, 1, instruments);
                }
            }
        }
        sections
    }

    fn add_switcher(&mut self, other: &str, count: u32, instruments: &Instruments) {
        if let Some(instrument) = instrument_named(instruments, other) {
            self.switchers.push((instrument.name.to_string(), count));
        }
    }

    /// Whether any players are known at all.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty() && self.groups.is_empty()
    }

    /// The sections of exactly this instrument, by its name in the one form.
    pub fn named<'a>(&'a self, instrument: &'a str) -> impl Iterator<Item = &'a Section> {
        self.all
            .iter()
            .filter(move |section| section.instrument == instrument)
    }

    /// How many copies its players need, where two of them may share a stand; none where the cards do not say for
    /// certain how many they are.
    pub fn stands(&self, instrument: &Instrument) -> Option<u32> {
        let players = self.players(instrument)?;
        let chair = Chair::of(&instrument.name);
        let chairs = self.all.iter().filter(|s| chair.takes(&s.instrument));
        let shared = chairs
            .map(|section| section.sharing / 2)
            .fold(0u32, u32::saturating_add);
        Some(players.saturating_sub(shared))
    }

    /// How many can play this instrument's parts, those who switch to it included: none where the card
    /// does not say for certain.
    pub fn players(&self, instrument: &Instrument) -> Option<u32> {
        if self.groups.iter().any(|group| group.holds(instrument)) || self.doubts.may_be(instrument) {
            return None;
        }
        let mut players: u32 = 0;
        let chair = Chair::of(&instrument.name);
        for section in self.all.iter().filter(|s| chair.takes(&s.instrument)) {
            players = players.saturating_add(section.players?);
        }
        for (_, count) in self.switchers.iter().filter(|(name, _)| *name == instrument.name) {
            players = players.saturating_add(*count);
        }
        Some(players)
    }

    /// Leaves out all who play this instrument's parts.
    pub fn take_away(&mut self, instrument: &Instrument) {
        self.all
            .retain(|section| !same_chair(&section.instrument, &instrument.name));
        self.switchers.retain(|(name, _)| *name != instrument.name);
    }

    /// Whether somebody can play this instrument's parts, or the card leaves it open.
    pub fn has(&self, instrument: &Instrument) -> bool {
        self.players(instrument) != Some(0)
    }
}

/// How many players sit on the parts from the first to this one, as evenly divided as can be, the smaller
/// parts first. `part` counts from 1.
pub fn players_up_to_part(players: u32, parts: u32, part: u32) -> u32 {
    let (parts, part) = (u64::from(parts.max(1)), u64::from(part));
    let part = part.min(parts);
    u32::try_from(u64::from(players) * part / parts).unwrap_or(players)
}

/// How many players each part gets, the smaller parts first; at most 64 parts.
pub fn shares(players: u32, parts: u32) -> Vec<u32> {
    let parts = parts.clamp(1, 64);
    let up_to = |part| players_up_to_part(players, parts, part);
    (1..=parts).map(|part| up_to(part) - up_to(part - 1)).collect()
}

/// All rows of a piece's wind parts, those of its movements included.
pub fn part_rows(piece: &Piece) -> impl Iterator<Item = &RowItem> {
    piece
        .parts
        .iter()
        .chain(piece.movements.iter().flat_map(|movement| &movement.piece.parts))
}

/// The name itself, or where it is `the usual` the handbook's parts, without those that the row takes out.
pub fn meant_by<'p>(row: &'p RowItem, name: &'p RowName, usual: &'p [RowItem]) -> Vec<&'p RowName> {
    if usual.is_empty() || !is_the_usual(&name.text) {
        return vec![name];
    }
    let out: Vec<&RowName> = row
        .facts
        .iter()
        .flat_map(|fact| match &fact.what {
            Fact::Relation {
                relation: Relation::Without,
                targets,
                ..
            } => targets.as_slice(),
            _ => &[],
        })
        .collect();
    let is_out = |name: &RowName| {
        out.iter().any(|out| {
            key(&out.text) == key(&name.text) && (out.numbers.is_none() || out.numbers == name.numbers)
        })
    };
    let all = usual.iter().flat_map(|row| &row.names);
    all.filter(|name| !is_out(name)).collect()
}

/// Whether a row has one of these relations.
pub fn relates(row: &RowItem, kinds: &[Relation]) -> bool {
    row.facts
        .iter()
        .any(|fact| matches!(&fact.what, Fact::Relation { relation, .. } if kinds.contains(relation)))
}

/// Whether a row's part may be left out.
pub fn is_optional(row: &RowItem) -> bool {
    row.facts.iter().any(|fact| fact.what == Fact::Optional)
}

/// Whether a row's part may be left out, or the row holds words that nobody understood and that may say so.
pub fn may_be_spared(row: &RowItem) -> bool {
    row.partial || is_optional(row)
}

/// Into how many parts a piece divides an instrument's section, counting the rows that `counts` takes:
/// the highest part number, or one where none has a number. Never more than 64.
pub fn divisions(
    piece: &Piece,
    instruments: &Instruments,
    instrument: &str,
    counts: impl Fn(&RowItem) -> bool,
) -> u32 {
    let mut numbers: BTreeSet<u32> = BTreeSet::new();
    for row in part_rows(piece).filter(|row| counts(row)) {
        for name in &row.names {
            if instrument_named(instruments, &name.text).is_some_and(|found| found.name == instrument) {
                numbers.extend(name.numbers.map(|(first, last)| first.max(last)));
            }
        }
    }
    numbers.last().copied().unwrap_or(1).clamp(1, 64)
}

/// Into how many parts a section reads a piece: as [`divisions`], and two where the card names only the first,
/// for where there is a first part there is a second.
pub fn desks(
    piece: &Piece,
    instruments: &Instruments,
    instrument: &str,
    counts: impl Fn(&RowItem) -> bool,
) -> u32 {
    let is = |name: &RowName| {
        instrument_named(instruments, &name.text).is_some_and(|found| found.name == instrument)
    };
    let numbered =
        part_rows(piece).any(|row| row.names.iter().any(|name| name.numbers.is_some() && is(name)));
    let parts = divisions(piece, instruments, instrument, counts);
    parts.max(if numbered { 2 } else { 1 })
}

/// How many players a row itself asks for at most: one player, or the number it gives.
pub fn players_asked(row: &RowItem) -> Option<u32> {
    row.facts
        .iter()
        .filter(|fact| fact.is_certain())
        .find_map(|fact| match fact.what {
            Fact::OnePlayer => Some(1),
            Fact::Players(low, high) => Some(low.max(high).max(1)),
            _ => None,
        })
}

/// The first and last part number of a name; an unnumbered part is all of its section.
pub fn part_numbers(name: &RowName, parts: u32) -> (u32, u32) {
    match name.numbers {
        Some((first, last)) => (first.min(last).max(1), first.max(last)),
        None => (1, parts.max(1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Entry;

    fn sections_of(rows: &str, percussionists: &str) -> Sections {
        let text = format!("ensemble \"B\"\n  players\n    {rows}\n  percussionists\n    {percussionists}\n");
        let entry = Entry::read(crate::text::Shared::from(text.as_str()));
        entry
            .ensemble()
            .map(|band| Sections::of(&[band], Instruments::standard()))
            .unwrap_or_default()
    }

    #[test]
    fn who_can_play_what() {
        let table = [
            ("flute  9", "flute", Some(9)),
            ("Cl. 11, 6 over the break", "clarinet", Some(11)),
            ("flute  9", "oboe", Some(0)),
            ("flute  5, 1 also piccolo", "piccolo", Some(1)),
            ("euphonium  2, 1 treble clef", "baritone T.C.", Some(2)),
            ("trumpet  8", "cornet", Some(8)),
            ("trumpet  about 8", "trumpet", None),
            ("low reeds  3", "bassoon", None),
            ("trumpt  8", "trumpet", None),
            ("trumpt  8", "bassoon", Some(0)),
            ("low reeds  3", "flute", Some(1)),
        ];
        for (rows, name, wanted) in table {
            let sections = sections_of(rows, "P1  mallets, also flute");
            let found = Instruments::standard()
                .find(name)
                .exact()
                .map(|i| sections.players(i));
            let wanted = match name {
                // P1 also plays flute.
                "flute" if rows.starts_with("flute") => wanted.map(|players: u32| players + 1),
                _ => wanted,
            };
            assert_eq!(found, Some(wanted), "{rows}: {name}");
        }
        let clarinets = sections_of("clarinet  12, 4 over the break", "P1");
        assert_eq!(clarinets.all.first().and_then(|s| s.over_the_break), Some(4));
        let none = sections_of("clarinet  12, none over the break", "P1");
        assert_eq!(none.all.first().and_then(|s| s.over_the_break), Some(0));
    }

    #[test]
    fn how_they_divide() {
        let table: [(u32, u32, &[u32]); 5] = [
            (10, 2, &[5, 5]),
            (7, 2, &[3, 4]),
            (2, 3, &[0, 1, 1]),
            (4, 0, &[4]),
            (u32::MAX, 1, &[u32::MAX]),
        ];
        for (players, parts, wanted) in table {
            assert_eq!(shares(players, parts), wanted, "{players} on {parts}");
        }
        assert_eq!(players_up_to_part(10, 2, 2), 10);
    }

    #[test]
    fn into_how_many_parts() {
        let table = [
            ("flute  C4-C5", 1),
            ("flute 1  C4-C5\n    flute 2  C4-C5", 2),
            ("flute 1-3", 3),
            ("flute 1\n    flute 2  optional", 1),
            ("clarinet 1\n    clarinet 2", 1),
        ];
        for (rows, wanted) in table {
            let entry = Entry::read(crate::text::Shared::from(
                format!("piece \"A\"\n  parts\n    {rows}\n").as_str(),
            ));
            let found = entry
                .piece()
                .map(|piece| divisions(piece, Instruments::standard(), "flute", |row| !is_optional(row)));
            assert_eq!(found, Some(wanted), "{rows}");
        }
    }
}
