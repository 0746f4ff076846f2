//! Instruments of the concert band: their names, how they transpose, what they read.

use super::instrument_rows::{ROWS, Row};
use super::pitch::{Pitch, Step};
use super::ranges::PitchRange;
use super::staff::Clef;
use super::transposition::Transposition;
use std::borrow::Cow;
use std::collections::HashSet;
use std::sync::OnceLock;

mod keys;

pub(crate) use keys::Table;
use keys::with_key;
pub use keys::{key, same};

/// The families of the band, in score order; percussion is split in the five that school
/// directors assign by (common usage, no source).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Family {
    Flutes,
    DoubleReeds,
    Clarinets,
    Saxes,
    Trumpets,
    Horns,
    LowBrass,
    Strings,
    Keyboard,
    Voice,
    Electronics,
    Timpani,
    Mallets,
    Battery,
    Accessories,
    World,
    /// An instrument of a catalogue's own that says no more.
    Other,
}

impl Family {
    /// The name in words.
    pub fn name(self) -> &'static str {
        match self {
            Family::Flutes => "flutes",
            Family::DoubleReeds => "double reeds",
            Family::Clarinets => "clarinets",
            Family::Saxes => "saxes",
            Family::Trumpets => "trumpets",
            Family::Horns => "horns",
            Family::LowBrass => "low brass",
            Family::Strings => "strings",
            Family::Keyboard => "keyboards",
            Family::Voice => "voices",
            Family::Electronics => "electronics",
            Family::Timpani => "timpani",
            Family::Mallets => "mallets",
            Family::Battery => "drums and cymbals",
            Family::Accessories => "accessories",
            Family::World => "hand percussion",
            Family::Other => "other instruments",
        }
    }

    /// Whether percussionists play it.
    pub fn is_percussion(self) -> bool {
        matches!(
            self,
            Family::Timpani | Family::Mallets | Family::Battery | Family::Accessories | Family::World
        )
    }

    /// Whether it is blown through reeds or a flute.
    pub fn is_woodwind(self) -> bool {
        matches!(
            self,
            Family::Flutes | Family::DoubleReeds | Family::Clarinets | Family::Saxes
        )
    }

    /// Whether it is brass.
    pub fn is_brass(self) -> bool {
        matches!(self, Family::Trumpets | Family::Horns | Family::LowBrass)
    }
}

/// One instrument. It owns its words, so that a catalogue can define or change one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instrument {
    /// The name in the one form, `alto sax`.
    pub name: Cow<'static, str>,
    /// Other full names.
    pub aliases: Vec<Cow<'static, str>>,
    /// Abbreviations, with their dots.
    pub abbreviations: Vec<Cow<'static, str>>,
    /// Its family.
    pub family: Family,
    /// The clef its part is printed in.
    pub clef: Clef,
    /// Written to sounding.
    pub transposition: Transposition,
    /// The full written range of a handbook, from memory: tops are soft. `None` without pitch.
    pub full_range: Option<PitchRange>,
    /// Whether it plays definite pitches.
    pub is_pitched: bool,
    /// What it is struck with as a rule, common practice, no source; `None` where that has no
    /// meaning.
    pub sticks: Option<Cow<'static, str>>,
    /// The place in score order, counted from 0.
    pub order: u16,
}

impl Instrument {
    /// A catalogue's own instrument of which only the name is known: treble clef, as written,
    /// last in score order.
    pub fn own(name: impl Into<Cow<'static, str>>) -> Instrument {
        Instrument {
            name: name.into(),
            aliases: Vec::new(),
            abbreviations: Vec::new(),
            family: Family::Other,
            clef: Clef::Treble,
            transposition: Transposition::NONE,
            full_range: None,
            is_pitched: true,
            sticks: None,
            order: u16::MAX,
        }
    }
}

/// The answer to a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lookup<'a> {
    /// The one instrument of this name.
    Exact(&'a Instrument),
    /// An abbreviation or a word that stands for several.
    Ambiguous(Vec<&'a Instrument>),
    /// No instrument of this name.
    None,
}

impl<'a> Lookup<'a> {
    /// The instrument, when there is exactly one.
    pub fn exact(self) -> Option<&'a Instrument> {
        match self {
            Lookup::Exact(instrument) => Some(instrument),
            _ => None,
        }
    }
}

/// A set of instruments with all their names.
#[derive(Clone, Debug)]
pub struct Instruments {
    all: Vec<Instrument>,
    /// Names and aliases, which always win over abbreviations.
    names: Table<String, Vec<usize>>,
    short: Table<String, Vec<usize>>,
}

/// Full words that stand for several instruments, with all of them.
const SHARED: [(&str, &[&str]); 8] = [
    ("tenor horn", &["Eb horn", "euphonium"]),
    ("sax", &["alto sax", "tenor sax", "baritone sax", "soprano sax"]),
    ("cymbal", &["crash cymbals", "suspended cymbal"]),
    ("bass", &["string bass", "bass guitar", "tuba"]),
    ("drum", &["snare", "bass drum", "drum set"]),
    ("block", &["wood block", "temple blocks"]),
    (
        "contra clarinet",
        &["contra-alto clarinet", "contrabass clarinet"],
    ),
    ("keyboard", &["piano", "synthesizer"]),
];

impl Instruments {
    /// The instruments of the concert band and its percussion.
    pub fn standard() -> &'static Instruments {
        static STANDARD: OnceLock<Instruments> = OnceLock::new();
        STANDARD.get_or_init(|| Instruments::new(ROWS.iter().enumerate().map(from_row).collect()))
    }

    /// A set of its own. Where two share a name the later one has it; where two share an alias
    /// or an abbreviation, it is ambiguous.
    pub fn new(all: Vec<Instrument>) -> Instruments {
        let mut names: Table<String, Vec<usize>> = Table::default();
        let mut short: Table<String, Vec<usize>> = Table::default();
        for (i, instrument) in all.iter().enumerate() {
            names.insert(key(&instrument.name), vec![i]);
        }
        for (i, instrument) in all.iter().enumerate() {
            for alias in &instrument.aliases {
                let held = names.entry(key(alias)).or_default();
                let is_a_name = held
                    .iter()
                    .any(|h| all.get(*h).is_some_and(|o| key(&o.name) == key(alias)));
                if !is_a_name && !held.contains(&i) {
                    held.push(i);
                }
            }
            for abbreviation in &instrument.abbreviations {
                let held = short.entry(key(abbreviation)).or_default();
                if !held.contains(&i) {
                    held.push(i);
                }
            }
        }
        for (word, meant) in SHARED {
            let found: Vec<usize> = meant
                .iter()
                .filter_map(|m| names.get(&key(m)).and_then(|v| v.first()).copied())
                .collect();
            if !found.is_empty() && !names.contains_key(&key(word)) {
                names.insert(key(word), found);
            }
        }
        Instruments { all, names, short }
    }

    /// This set with a catalogue's own instruments added. An own instrument replaces one of its
    /// name, and takes every word it claims from the others.
    pub fn with_own(&self, own: Vec<Instrument>) -> Instruments {
        let replaced: HashSet<String> = own.iter().map(|i| key(&i.name)).collect();
        let kept = self.all.iter().filter(|i| !replaced.contains(&key(&i.name)));
        let mut all: Vec<Instrument> = kept.cloned().collect();
        let from = all.len();
        all.extend(own);
        let mut set = Instruments::new(all);
        for (i, instrument) in set.all.iter().enumerate().skip(from) {
            let words = std::iter::once(&instrument.name)
                .chain(&instrument.aliases)
                .chain(&instrument.abbreviations);
            for word in words {
                set.names.insert(key(word), vec![i]);
            }
        }
        set
    }

    /// All of them, in the order given.
    pub fn all(&self) -> &[Instrument] {
        &self.all
    }

    /// Finds by name, alias or abbreviation, in any case, with or without dots and hyphens, in
    /// singular or plural: `Clarinets`, `b. cl.`, `bari sax`, `crash cymbal`. Part numbers are
    /// the caller's to take off.
    pub fn find(&self, name: &str) -> Lookup<'_> {
        let found = with_key(name, |wanted| {
            self.names.get(wanted).or_else(|| self.short.get(wanted))
        });
        match found.map(Vec::as_slice) {
            None | Some([]) => Lookup::None,
            Some([one]) => self.all.get(*one).map_or(Lookup::None, Lookup::Exact),
            Some(many) => Lookup::Ambiguous(many.iter().filter_map(|i| self.all.get(*i)).collect()),
        }
    }

    /// The name nearest to one that is not known, for "did you mean"; `None` when nothing is near
    /// enough (an edit for every three letters).
    pub fn nearest(&self, name: &str) -> Option<&str> {
        let wanted = key(name);
        let length = wanted.chars().count();
        if length > 40 {
            return None;
        }
        let letters = letters(&wanted);
        let mut allowed = length.div_ceil(3).min(4);
        let mut best: Option<(usize, usize)> = None;
        for (word, instruments) in &self.names {
            // A word of very different length is never near, and may be of any length; letters that one
            // of them lacks are edits too.
            if word.len() > 80 || word.chars().count().abs_diff(length) > allowed {
                continue;
            }
            let own = self::letters(word);
            let lacking = (own & !letters).count_ones().max((letters & !own).count_ones());
            if lacking as usize > allowed {
                continue;
            }
            // A word that stands for several is no help to somebody who is asked what was meant.
            let [first] = instruments.as_slice() else {
                continue;
            };
            let away = strsim::damerau_levenshtein(&wanted, word);
            // Of names equally near, the one first in score order counts.
            if away <= allowed && best.is_none_or(|best| (away, *first) < best) {
                best = Some((away, *first));
                allowed = away;
            }
        }
        let (_, nearest) = best?;
        Some(self.all.get(nearest)?.name.as_ref())
    }
}

/// The letters of a word, one bit for each that is in it: where two words differ in so many of them, they are at
/// least as many edits apart.
fn letters(word: &str) -> u64 {
    word.bytes().fold(0, |letters, byte| letters | 1 << (byte & 63))
}

/// Takes a part number off a name: `clarinet 2`, `2nd clarinet`, `clarinet II`, `1st trumpet`.
/// A clef or a key in the name is no number. `None` in the second place for no number.
pub fn split_part(name: &str) -> (&str, Option<u8>) {
    let name = name.trim();
    let number = |word: &str| {
        let word = word.trim_end_matches('.');
        let roman = match word {
            "I" | "1st" | "first" | "First" => Some(1),
            "II" | "2nd" | "second" | "Second" => Some(2),
            "III" | "3rd" | "third" | "Third" => Some(3),
            "IV" | "4th" | "fourth" | "Fourth" => Some(4),
            _ => None,
        };
        let digits = || super::words::digits(word).and_then(|n| u8::try_from(n).ok());
        roman.or_else(digits).filter(|n| *n > 0)
    };
    if let Some((rest, last)) = name.rsplit_once(char::is_whitespace)
        && let Some(part) = number(last)
    {
        return (rest.trim_end(), Some(part));
    }
    if let Some((first, rest)) = name.split_once(char::is_whitespace)
        && let Some(part) = number(first)
    {
        return (rest.trim_start(), Some(part));
    }
    (name, None)
}

/// The written note just below the clarinet's break, B-flat 4 (The guidelines, clarinetlist.com).
pub const BELOW_THE_BREAK: Pitch = Pitch::new(Step::B, -1, 4);
/// The first written note over the clarinet's break, B 4: two fingers become nine (Halftime
/// Magazine, woodwind column, 2011).
pub const OVER_THE_BREAK: Pitch = Pitch::new(Step::B, 0, 4);

/// Whether a written note lies over the clarinet's break. It holds for every clarinet in treble
/// clef.
pub fn is_over_the_break(written: Pitch) -> bool {
    written.midi() >= OVER_THE_BREAK.midi()
}

/// Whether the step from one written note to the next crosses the break.
pub fn crosses_the_break(from: Pitch, to: Pitch) -> bool {
    is_over_the_break(from) != is_over_the_break(to)
}

fn from_row((order, row): (usize, &Row)) -> Instrument {
    let list = |words: &'static str| {
        words
            .split('|')
            .filter(|w| !w.is_empty())
            .map(Cow::Borrowed)
            .collect()
    };
    let (diatonic, chromatic, octave_change) = row.transpose;
    Instrument {
        name: Cow::Borrowed(row.name),
        aliases: list(row.aliases),
        abbreviations: list(row.short),
        family: row.family,
        clef: row.clef,
        transposition: Transposition::new(diatonic, chromatic, octave_change),
        full_range: PitchRange::read(row.range),
        is_pitched: row.clef != Clef::Percussion,
        sticks: (!row.sticks.is_empty()).then_some(Cow::Borrowed(row.sticks)),
        order: u16::try_from(order).unwrap_or(u16::MAX),
    }
}

#[cfg(test)]
mod tests;
