//! How long a percussionist needs from one instrument to the next: what the handbook says, else figures from
//! memory.

use crate::catalogue::model::Said;
use crate::catalogue::{family_named, instrument_named};
use crate::music::instruments::key;
use crate::music::{Family, Instruments};
use crate::notation::values::{Change as What, ChangeTime};
use crate::planning::assign::Tenths;

/// From memory: nobody publishes such figures. To an instrument that stands beside the other.
const BESIDE: Tenths = 30;
/// From memory: across the section, as to the timpani.
const ACROSS: Tenths = 80;
/// From memory: to put down one pair of sticks and take up another.
const STICKS: Tenths = 30;
/// From memory: for one player to step aside and the other to stand there, or for an instrument to go from hand to hand.
const HAND_OVER: Tenths = 30;
/// From memory: to put crash cymbals down or take them up.
const CYMBALS: Tenths = 30;

/// From memory: to tune one kettle and hear that it is right.
const RETUNE: Tenths = 40;

/// An instrument where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Station {
    /// The instrument's name in the one form, or as written where it is not known.
    pub name: String,
    /// Its family, where it is known.
    pub family: Option<Family>,
}

/// Where a time comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// The handbook says so.
    Handbook,
    /// The handbook says nothing; a figure from memory.
    Memory,
}

/// The times that hold for a piece.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ChangeTimes {
    lines: Vec<(Tenths, What)>,
    /// By how much figures from memory count: 0 for not at all, 2 for young players.
    pub memory: i64,
}

impl ChangeTimes {
    /// Takes the handbook's lines. Figures from memory count once for what they leave open.
    pub fn of(said: &[Said<ChangeTime>]) -> ChangeTimes {
        let lines = said
            .iter()
            .map(|line| (line.value.tenths, line.value.what.clone()));
        ChangeTimes {
            memory: 1,
            lines: lines.collect(),
        }
    }

    /// The time from one instrument to another, in tenths of a second. `sticks` says whether they take
    /// different ones.
    pub fn time(
        &self,
        from: &Station,
        to: &Station,
        sticks: bool,
        instruments: &Instruments,
    ) -> (Tenths, Ground) {
        let words = self.words(instruments);
        let (there, here) = (ranks(from, &words), ranks(to, &words));
        self.between((from, &there), (to, &here), sticks)
    }

    /// The times between all of some instruments, in tenths of a second: with the same sticks, and with others.
    pub fn walks(&self, stations: &[Station], instruments: &Instruments) -> [Vec<Vec<Tenths>>; 2] {
        let words = self.words(instruments);
        let ranked: Vec<(&Station, Ranks)> = stations
            .iter()
            .map(|station| (station, ranks(station, &words)))
            .collect();
        [false, true].map(|sticks| {
            let row = |(one, there): &(&Station, Ranks)| {
                let to = ranked.iter();
                to.map(|(other, here)| self.between((one, there), (other, here), sticks).0)
                    .collect()
            };
            ranked.iter().map(row).collect()
        })
    }

    /// The words of the lines, for each line those of its one and its other instrument.
    fn words(&self, instruments: &Instruments) -> Vec<[Option<Words>; 2]> {
        let meant = |words: &str| Some(Words::of(words, instruments));
        let of_line = |(_, what): &(Tenths, What)| match what {
            What::Pair(one, other) => [meant(one), meant(other)],
            What::To(words) | What::Hands(words) => [meant(words), None],
            _ => [None, None],
        };
        self.lines.iter().map(of_line).collect()
    }

    fn between(
        &self,
        (from, there): (&Station, &Ranks),
        (to, here): (&Station, &Ranks),
        sticks: bool,
    ) -> (Tenths, Ground) {
        let rank = |ranks: &Ranks, line: usize, other: usize| *ranks.get(line)?.get(other)?;
        // The line that fits best holds; of such lines one that goes this way before one that goes back, and
        // the last before the others.
        let pairs = self.lines.iter().enumerate().filter_map(|(line, (time, what))| {
            let What::Pair(..) = what else { return None };
            let this_way = rank(there, line, 0).zip(rank(here, line, 1));
            let back = rank(here, line, 0).zip(rank(there, line, 1));
            let this_way = this_way.map(|(a, b)| (a + b, true));
            Some((this_way.max(back.map(|(a, b)| (a + b, false)))?, *time))
        });
        let pair = pairs.max_by_key(|(rank, _)| *rank);
        if from.name == to.name {
            return (0, Ground::Handbook);
        }
        if let Some((_, time)) = pair {
            return (time, Ground::Handbook);
        }
        let said = |wanted: &dyn Fn(usize, &What) -> bool| {
            let lines = self.lines.iter().enumerate();
            let lines = lines.filter(|(line, (_, what))| wanted(*line, what));
            lines.map(|(_, (time, _))| *time).max()
        };
        let at_either = |line: usize| rank(there, line, 0).is_some() || rank(here, line, 0).is_some();
        let far = said(&|line, what| matches!(what, What::To(_)) && at_either(line));
        let near = said(&|_, what| matches!(what, What::Neighbor));
        let is_timpani = |station: &Station| station.family == Some(Family::Timpani);
        let across = is_timpani(from) || is_timpani(to);
        let memory = |tenths: Tenths| tenths.saturating_mul(self.memory);
        let (way, ground) = match (far, near) {
            (Some(time), _) => (time, Ground::Handbook),
            (None, Some(time)) if !across => (time, Ground::Handbook),
            (None, Some(time)) => (time.max(memory(ACROSS)), Ground::Memory),
            (None, None) if across => (memory(ACROSS), Ground::Memory),
            (None, None) => (memory(BESIDE), Ground::Memory),
        };
        let other_sticks = match (sticks, ground) {
            (false, _) => 0,
            (true, Ground::Handbook) => said(&|_, what| *what == What::Sticks).unwrap_or(0),
            (true, Ground::Memory) => self.sticks(),
        };
        let hands = said(&|line, what| matches!(what, What::Hands(_)) && at_either(line));
        let holds = from.name == "crash cymbals" || to.name == "crash cymbals";
        let hands = hands.unwrap_or(match (holds, ground) {
            (true, Ground::Memory) => memory(CYMBALS),
            _ => 0,
        });
        (way.max(other_sticks).saturating_add(hands), ground)
    }
}

impl ChangeTimes {
    /// The time to tune so many kettles otherwise, in tenths of a second.
    pub fn retuning(&self, drums: u32) -> Tenths {
        RETUNE
            .saturating_mul(self.memory)
            .saturating_mul(Tenths::from(drums))
    }

    /// The least rest in which a part goes from one player to another, in tenths of a second.
    pub fn handing_over(&self) -> Tenths {
        let mut said = self.lines.iter().rev();
        let said = said.find(|(_, what)| *what == What::HandingOver);
        said.map_or(HAND_OVER.saturating_mul(self.memory), |(time, _)| *time)
    }

    /// The time for other sticks at one and the same instrument, in tenths of a second.
    pub fn sticks(&self) -> Tenths {
        let mut said = self.lines.iter().rev();
        let said = said.find(|(_, what)| *what == What::Sticks);
        said.map_or(STICKS.saturating_mul(self.memory), |(time, _)| *time)
    }
}

/// What the words of a line mean.
struct Words {
    key: String,
    instrument: Option<String>,
    family: Option<Family>,
}

impl Words {
    fn of(words: &str, instruments: &Instruments) -> Words {
        let named = instrument_named(instruments, words);
        Words {
            key: key(words),
            instrument: named.map(|found| found.name.to_string()),
            family: match named {
                Some(_) => None,
                None => family_named(words),
            },
        }
    }
}

/// How well the words of each line name a station.
type Ranks = Vec<[Option<u32>; 2]>;

fn ranks(station: &Station, words: &[[Option<Words>; 2]]) -> Ranks {
    let own = key(&station.name);
    let rank = |words: &Option<Words>| rank(words.as_ref()?, station, &own);
    words.iter().map(|line| line.each_ref().map(rank)).collect()
}

/// How well words name a station: 2 the instrument, 1 its family. `own` is the station's name as names are compared.
fn rank(words: &Words, station: &Station, own: &str) -> Option<u32> {
    if words.key == own || words.instrument.as_ref() == Some(&station.name) {
        return Some(2);
    }
    // In the drawer of small instruments lie those of all the world.
    let drawer = words.family == Some(Family::Accessories) && station.family == Some(Family::World);
    (words.family.is_some() && (words.family == station.family || drawer)).then_some(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Span;

    fn times(lines: &[&str]) -> ChangeTimes {
        let said: Vec<Said<ChangeTime>> = lines
            .iter()
            .filter_map(|line| ChangeTime::read(line))
            .map(|value| Said {
                value,
                span: Span::new(0, 0),
                about: false,
                open: false,
                partial: false,
            })
            .collect();
        ChangeTimes::of(&said)
    }

    fn station(name: &str) -> Station {
        let found = instrument_named(Instruments::standard(), name);
        Station {
            name: found.map_or(name.to_owned(), |found| found.name.to_string()),
            family: found.map(|found| found.family),
        }
    }

    #[test]
    fn what_the_handbook_says_and_what_it_leaves_open() {
        let said = &[
            "5 s to a neighboring percussion instrument",
            "10 s to the timpani",
            "3 s from bells to snare",
            "0.3 sec. between glock. and triangle",
            "4.25 s from the accessories to the mallets",
            "2 s for crash cymbals",
        ][..];
        let table: &[(&[&str], &str, &str, Tenths, Ground)] = &[
            (said, "bells", "snare", 30, Ground::Handbook),
            (said, "S.D.", "glockenspiel", 30, Ground::Handbook),
            (said, "snare", "bass drum", 50, Ground::Handbook),
            (said, "snare", "timpani", 100, Ground::Handbook),
            (said, "timpani", "bells", 100, Ground::Handbook),
            (said, "triangle", "bells", 3, Ground::Handbook),
            (said, "claves", "marimba", 43, Ground::Handbook),
            (said, "snare", "crash cymbals", 70, Ground::Handbook),
            (said, "soup pot", "snare", 50, Ground::Handbook),
            (said, "snare", "snare", 0, Ground::Handbook),
            (&[], "snare", "triangle", 30, Ground::Memory),
            (&[], "snare", "timpani", 80, Ground::Memory),
            (&[], "snare", "crash cymbals", 60, Ground::Memory),
            (
                &["9 s to a neighboring instrument"],
                "snare",
                "timpani",
                90,
                Ground::Memory,
            ),
        ];
        for (lines, from, to, time, ground) in table {
            let found = times(lines).time(&station(from), &station(to), false, Instruments::standard());
            assert_eq!(found, (*time, *ground), "{from} to {to}");
        }
    }

    #[test]
    fn figures_from_memory_double_for_the_young() {
        let mut young = times(&[]);
        young.memory = 2;
        let (snare, triangle) = (station("snare"), station("triangle"));
        assert_eq!(young.time(&snare, &triangle, true, Instruments::standard()).0, 60);
        young.memory = 0;
        assert_eq!(young.time(&snare, &triangle, true, Instruments::standard()).0, 0);
    }
}
