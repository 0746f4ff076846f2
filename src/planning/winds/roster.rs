//! The wind players of bands, one by one, with what each can do.
//!
//! A card says how many of a section can do something, not who. The players of a section are counted from the
//! ablest: the first so many have an ability, so that one who goes over the break is also one who reaches the
//! high note. Those who switch and those who read the other clef are counted from the end.

use crate::catalogue::instrument_named;
use crate::catalogue::model::{Ensemble, PlayerRow};
use crate::music::Instruments;
use crate::music::groups::Group;
use crate::notation::row::Can;

use super::told::Players;

/// The most players that are looked at; no band has so many.
pub const MOST_PLAYERS: usize = 300;

/// The players of bands.
#[derive(Debug, Default)]
pub struct Roster {
    /// Players who are alike, in the order of the cards.
    pub players: Vec<Players>,
    /// Instruments whose number is not said, or not for certain.
    pub open_counts: Vec<String>,
    /// Whether there are more than are looked at.
    pub cut: bool,
}

/// Reads the rosters of bands that play together; `absent` are words such as `1 tuba`.
pub fn roster(bands: &[&Ensemble], absent: &[String], instruments: &Instruments) -> Roster {
    let mut roster = Roster::default();
    let mut away: Vec<(String, usize)> = absent
        .iter()
        .filter_map(|words| read_absent(words, instruments))
        .collect();
    for row in bands.iter().flat_map(|band| &band.players) {
        let name = match instrument_named(instruments, &row.name) {
            Some(instrument) if instrument.family.is_percussion() => continue,
            Some(instrument) => instrument.name.to_string(),
            None => match Group::read(&row.name) {
                Some(group) => group.name().to_owned(),
                // What the table of instruments does not know is said elsewhere; it may still have parts.
                None => row.name.clone(),
            },
        };
        if row.count.is_none_or(|count| count.about || count.open) {
            roster.open_counts.push(name.clone());
        }
        let mut number = row.count.map_or(0, |count| count.number as usize);
        for (_, gone) in away.iter_mut().filter(|(other, _)| *other == name) {
            let taken = number.min(*gone);
            number -= taken;
            *gone -= taken;
        }
        let taken: usize = roster.players.iter().map(|players| players.count).sum();
        let room = MOST_PLAYERS.saturating_sub(taken);
        roster.cut |= number > room;
        add(&mut roster.players, row, &name, number.min(room), instruments);
    }
    roster
}

/// Whether words such as `1 tuba` say that wind players are away.
pub fn is_away(words: &str, instruments: &Instruments) -> bool {
    read_absent(words, instruments).is_some()
}

/// `1 tuba`, `tuba`: an instrument, and how many are away.
fn read_absent(words: &str, instruments: &Instruments) -> Option<(String, usize)> {
    let words = words.trim();
    let (number, name) = match words.split_once(' ') {
        Some((first, rest)) => match first.parse() {
            Ok(number) => (number, rest),
            Err(_) => (1, words),
        },
        None => (1, words),
    };
    let found = instruments.find(name.trim()).exact()?;
    if found.family.is_percussion() {
        return None;
    }
    Some((found.name.to_string(), number))
}

/// Adds the players of a row, those alike in one.
fn add(all: &mut Vec<Players>, row: &PlayerRow, name: &str, number: usize, instruments: &Instruments) {
    let mut switches: Vec<(usize, String)> = Vec::new();
    for (some, can) in &row.some {
        if let Can::Also(other) = can
            && let Some(instrument) = instrument_named(instruments, other)
        {
            let some = some.map_or(number, |some| some as usize).min(number);
            switches.push((some, instrument.name.to_string()));
        }
    }
    for at in 0..number {
        let one = one(row, name, at, number, &switches);
        match all.last_mut() {
            Some(last) if alike(last, &one) => last.count += 1,
            _ => all.push(one),
        }
    }
}

fn alike(a: &Players, b: &Players) -> bool {
    let same = |players: &Players| Players {
        count: 1,
        ..players.clone()
    };
    same(a) == same(b)
}

fn one(row: &PlayerRow, name: &str, at: usize, number: usize, switches: &[(usize, String)]) -> Players {
    let mut one = Players {
        instrument: name.to_owned(),
        count: 1,
        over_the_break: None,
        up_to: None,
        down_to: None,
        treble_clef: false,
        switch_to: Vec::new(),
    };
    for (some, can) in &row.some {
        let some = some.map_or(number, |some| some as usize);
        let first = at < some;
        let last = at >= number.saturating_sub(some);
        match can {
            Can::OverTheBreak => one.over_the_break = Some(one.over_the_break == Some(true) || first),
            Can::UpTo(pitch) if first && one.up_to.is_none_or(|up| up.midi() < pitch.midi()) => {
                one.up_to = Some(*pitch);
            }
            Can::DownTo(pitch) if first && one.down_to.is_none_or(|down| down.midi() > pitch.midi()) => {
                one.down_to = Some(*pitch);
            }
            Can::TrebleClef => one.treble_clef |= last,
            _ => {}
        }
    }
    // Different switches fall to different players as long as there are enough of them.
    let from_end = number.saturating_sub(1).saturating_sub(at);
    let mut before = 0usize;
    for (some, other) in switches {
        let round = number.max(1);
        if (from_end + round - before % round) % round < *some {
            one.switch_to.push(other.clone());
        }
        before = before.saturating_add(*some);
    }
    one
}
