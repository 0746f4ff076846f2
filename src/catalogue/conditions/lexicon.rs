//! What may stand at a place of a condition that holds a name: the names that the catalogue's cards use.

use std::collections::{HashMap, HashSet};
use std::sync::{Mutex, OnceLock, PoisonError};

use xxhash_rust::xxh3::xxh3_64;

use crate::catalogue::Snapshot;
use crate::catalogue::model::Facts;
use crate::music::skills;
use crate::notation::Kind;

use super::Condition;
use super::styles::{STYLES, singular};

/// A sort of thing that a condition holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Sort {
    Number,
    Grade,
    Length,
    Money,
    Day,
    Year,
    Pitch,
    Key,
    Meter,
    Size,
    Quoted,
    Instrument,
    Style,
    Skill,
    Person,
    Publisher,
    Technique,
    Feature,
    Suits,
    Liked,
    Rating,
    Went,
    Field,
    Shorter,
}

impl Sort {
    /// What belongs there, in words.
    pub fn says(self) -> &'static str {
        match self {
            Sort::Number => "a number",
            Sort::Grade => "a grade",
            Sort::Length => "a length of time",
            Sort::Money => "a price",
            Sort::Day => "a day or a year",
            Sort::Year => "a year",
            Sort::Pitch => "a note such as D5",
            Sort::Key => "a key",
            Sort::Meter => "a meter",
            Sort::Size => "a size such as an octave",
            Sort::Quoted => "a name in quotes",
            Sort::Instrument => "an instrument",
            Sort::Style => "a style",
            Sort::Skill => "a skill that some card names",
            Sort::Person => "somebody whom some card names",
            Sort::Publisher => "a publisher that some card names",
            Sort::Technique => "a technique that some card names",
            Sort::Feature => "somebody whom some card features",
            Sort::Suits => "somebody whom some card suits",
            Sort::Liked => "somebody who liked a piece",
            Sort::Rating => "a rating such as II",
            Sort::Went => "how it went, such as went well",
            Sort::Field => "what stands at the start of a line of a piece's card",
            Sort::Shorter => "a shorter condition",
        }
    }
}

/// The sorts that hold names from the cards.
const NAMED: [Sort; 8] = [
    Sort::Style,
    Sort::Skill,
    Sort::Person,
    Sort::Publisher,
    Sort::Technique,
    Sort::Feature,
    Sort::Suits,
    Sort::Liked,
];

/// The names of one sort.
#[derive(Debug, Default)]
pub struct Known {
    /// All stretches of words inside the names, as compared.
    stretches: HashSet<String>,
    /// Their single words.
    words: HashSet<String>,
}

impl Known {
    fn add(&mut self, name: &str) {
        let words = plain(name);
        for from in 0..words.len().min(12) {
            for to in from + 1..=words.len().min(from + 6) {
                if let Some(stretch) = words.get(from..to) {
                    self.stretches.insert(stretch.join(" "));
                }
            }
        }
        self.words
            .extend(name.split_whitespace().map(str::to_lowercase).take(12));
    }
}

/// The names of a catalogue by their sort, put together when they are first asked for.
#[derive(Debug, Default)]
pub struct Lexicon {
    sorts: [OnceLock<Known>; NAMED.len()],
    /// Texts of conditions that have been read, by their digest and their place.
    read: Mutex<HashMap<(u64, usize), Vec<Condition>>>,
}

/// So many texts of conditions are kept; then they are read anew.
const MOST_READ: usize = 10_000;

impl Lexicon {
    fn of<'l>(&'l self, sort: Sort, snapshot: &Snapshot) -> Option<&'l Known> {
        let at = NAMED.iter().position(|named| *named == sort)?;
        Some(self.sorts.get(at)?.get_or_init(|| gather(sort, snapshot)))
    }

    /// The conditions in a text that stands at a place, read where somebody asks for the first time.
    pub(super) fn conditions(
        &self,
        text: &str,
        at: usize,
        read: impl FnOnce() -> Vec<Condition>,
    ) -> Vec<Condition> {
        let kept = || self.read.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (xxh3_64(text.as_bytes()), at);
        if let Some(known) = kept().get(&key) {
            return known.clone();
        }
        let found = read();
        let mut kept = kept();
        if kept.len() >= MOST_READ {
            kept.clear();
        }
        kept.insert(key, found.clone());
        found
    }
}

/// Words as compared: small, single, without signs at their ends.
pub(super) fn plain(name: &str) -> Vec<String> {
    name.split_whitespace()
        .map(|word| singular(word.trim_matches(|c: char| !c.is_alphanumeric() && c != '.')))
        .filter(|word| !word.is_empty())
        .collect()
}

fn gather(sort: Sort, snapshot: &Snapshot) -> Known {
    let mut known = Known::default();
    let lines: &[&str] = match sort {
        Sort::Style => &["style"],
        Sort::Skill => &["asks", "teaches"],
        Sort::Publisher => &["publisher"],
        Sort::Technique => &["techniques"],
        Sort::Feature => &["features"],
        Sort::Suits => &["suits"],
        Sort::Liked => &["liked"],
        _ => &[],
    };
    for (_, entry) in snapshot.entries() {
        if entry.kind == Some(Kind::Piece) {
            let words = lines.iter().flat_map(|line| entry.face.words(line));
            words.for_each(|name| known.add(name));
            if sort == Sort::Person {
                entry.face.by.iter().for_each(|person| known.add(&person.name));
            }
            continue;
        }
        match entry.facts() {
            Facts::Skill(card) if sort == Sort::Skill => {
                known.add(&entry.name);
                card.also.iter().for_each(|also| known.add(&also.value));
            }
            Facts::Ensemble(band) if sort == Sort::Skill => {
                for said in band.taught.iter().chain(&band.introduced) {
                    known.add(&said.value.name);
                }
            }
            _ => {}
        }
    }
    known
}

/// Whether some card uses these words for such a thing, or everybody knows them for one.
pub(super) fn is_known(sort: Sort, words: &str, snapshot: &Snapshot) -> bool {
    let standard = match sort {
        Sort::Style => {
            let small = words.to_lowercase();
            STYLES.contains(&small.as_str()) || STYLES.contains(&singular(&small).as_str())
        }
        Sort::Skill => {
            skills::find(words).is_some() || snapshot.names().of(Kind::Skill, words).next().is_some()
        }
        Sort::Feature | Sort::Suits => super::part_words::is_instrument(words, snapshot),
        _ => false,
    };
    standard
        || snapshot
            .lexicon()
            .of(sort, snapshot)
            .is_some_and(|known| known.stretches.contains(&plain(words).join(" ")))
}

/// The single words that such names are made of.
pub(super) fn words_of(sort: Sort, snapshot: &Snapshot) -> Vec<String> {
    let mut found: Vec<String> = match sort {
        Sort::Style => STYLES.iter().map(|style| (*style).to_owned()).collect(),
        Sort::Skill => skills::SKILLS
            .iter()
            .flat_map(|skill| std::iter::once(&skill.name).chain(skill.also))
            .map(|name| (*name).to_owned())
            .collect(),
        Sort::Instrument => snapshot
            .instruments()
            .all()
            .iter()
            .map(|instrument| instrument.name.to_string())
            .collect(),
        _ => Vec::new(),
    };
    let single: Vec<String> = found
        .iter()
        .flat_map(|name| name.split(' ').map(str::to_owned))
        .collect();
    found.extend(single);
    if let Some(known) = snapshot.lexicon().of(sort, snapshot) {
        found.extend(known.words.iter().cloned());
    }
    found.sort();
    found.dedup();
    found
}
