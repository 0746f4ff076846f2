//! Names of cards: who has which, and which are nearly alike.

use std::collections::HashMap;

use crate::notation::Kind;

use super::snapshot::EntryId;

/// Every named card by its name.
#[derive(Debug, Default, PartialEq)]
pub struct Names {
    by_key: HashMap<String, Vec<(Kind, EntryId)>>,
    /// Titles by every way to leave out one letter: two titles one slip apart meet in one of these.
    near: HashMap<u64, Vec<EntryId>>,
    /// Long titles by every two of their four quarters: two slips leave two quarters as they were, unless two
    /// letters have changed places across the border of two.
    quarters: HashMap<u64, Vec<EntryId>>,
    /// People who wrote pieces.
    people: Spellings,
    /// Houses that publish or sell them.
    houses: Spellings,
}

/// Spellings of people, or of publishers, so that two spellings of one are found.
#[derive(Debug, Default, PartialEq)]
pub struct Spellings {
    /// Every spelling by its key: as first written, on how many cards, and the first of them.
    spellings: HashMap<String, (String, u32, EntryId)>,
    /// The keys by every way to leave out one letter.
    near: HashMap<u64, Vec<String>>,
}

/// Another spelling of a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spelling {
    /// As first written.
    pub name: String,
    /// On how many cards it stands.
    pub cards: u32,
    /// The first of them.
    pub first: EntryId,
}

/// How many letters a name has at least for one slip in it to be a slip at all.
const LONG_NAME: usize = 8;

/// A name as it is compared: small letters, straight quotes, single blanks.
pub fn key(name: &str) -> String {
    let mut key = String::with_capacity(name.len());
    for word in name.split_whitespace() {
        if !key.is_empty() {
            key.push(' ');
        }
        key.extend(word.chars().flat_map(char::to_lowercase).map(|c| match c {
            '’' | '‘' | '`' => '\'',
            '–' | '—' | '‐' => '-',
            c => c,
        }));
    }
    key
}

/// A title's letters and digits alone, for telling titles that are nearly alike.
fn letters(title: &str) -> Vec<char> {
    key(title)
        .chars()
        .filter(|c| c.is_alphanumeric())
        .take(80)
        .collect()
}

/// The numerals of a title, Arabic or Roman: suites and dances differ by these on purpose.
fn numerals(title: &str) -> Vec<String> {
    title
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| {
            !word.is_empty()
                && (word.chars().all(|c| c.is_ascii_digit())
                    || word.chars().all(|c| matches!(c, 'I' | 'V' | 'X'))
                    || matches!(
                        word.to_lowercase().as_str(),
                        "one"
                            | "two"
                            | "three"
                            | "four"
                            | "five"
                            | "six"
                            | "first"
                            | "second"
                            | "third"
                            | "fourth"
                    ))
        })
        .map(str::to_lowercase)
        .collect()
}

/// Whether two different titles are so nearly alike that one may be a slip for the other.
///
/// Numerals must match. One slip is allowed, two in titles of twelve letters or more.
pub fn nearly_alike(one: &str, other: &str) -> bool {
    let (a, b) = (letters(one), letters(other));
    let shorter = a.len().min(b.len());
    if shorter < 4 || numerals(one) != numerals(other) {
        return false;
    }
    let slips = strsim::generic_damerau_levenshtein(&a, &b);
    slips <= if shorter >= 12 { 2 } else { 1 }
}

impl Spellings {
    fn add(&mut self, name: &str, id: EntryId) {
        match self.spellings.get_mut(&key(name)) {
            Some((_, cards, _)) => *cards = cards.saturating_add(1),
            None => {
                for variant in variants(name) {
                    self.near.entry(variant).or_default().push(key(name));
                }
                self.spellings.insert(key(name), (name.to_owned(), 1, id));
            }
        }
    }

    /// How often a name is spelled like this.
    pub fn own(&self, name: &str) -> Option<Spelling> {
        let (written, cards, first) = self.spellings.get(&key(name))?;
        Some(Spelling {
            name: written.clone(),
            cards: *cards,
            first: *first,
        })
    }

    /// The other spellings of a name that are one slip away, the commonest first.
    pub fn others(&self, name: &str) -> Vec<Spelling> {
        let own = letters(name);
        if own.len() < LONG_NAME {
            return Vec::new();
        }
        let variants = variants(name);
        let keys: std::collections::BTreeSet<&String> = variants
            .iter()
            .filter_map(|variant| self.near.get(variant))
            .flatten()
            .collect();
        let mut found: Vec<Spelling> = keys
            .into_iter()
            .filter(|other| **other != key(name) && nearly_alike(other, name))
            .filter(|other| strsim::generic_damerau_levenshtein(&letters(other), &own) == 1)
            .filter_map(|other| self.own(other))
            .collect();
        found.sort_by_key(|spelling| (std::cmp::Reverse(spelling.cards), spelling.first));
        found
    }
}

impl Names {
    /// Adds a card.
    pub fn add(&mut self, kind: Kind, name: &str, id: EntryId) {
        self.by_key.entry(key(name)).or_default().push((kind, id));
        if kind == Kind::Piece {
            for variant in variants(name) {
                self.near.entry(variant).or_default().push(id);
            }
            for pair in quarters(&letters(name)) {
                self.quarters.entry(pair).or_default().push(id);
            }
        }
    }

    /// Adds somebody who wrote a piece.
    pub fn add_person(&mut self, name: &str, id: EntryId) {
        self.people.add(name, id);
    }

    /// Adds a house that publishes or sells a piece.
    pub fn add_house(&mut self, name: &str, id: EntryId) {
        self.houses.add(name, id);
    }

    /// The people who wrote pieces, by the spellings of their names.
    pub fn people(&self) -> &Spellings {
        &self.people
    }

    /// The houses that publish or sell pieces.
    pub fn houses(&self) -> &Spellings {
        &self.houses
    }

    /// The cards of a kind that bear a name.
    pub fn of<'n>(&'n self, kind: Kind, name: &str) -> impl Iterator<Item = EntryId> + 'n {
        self.by_key
            .get(&key(name))
            .into_iter()
            .flatten()
            .filter(move |(found, _)| *found == kind)
            .map(|(_, id)| *id)
    }

    /// The pieces whose titles may be one slip away from this one, or two in a long title, each once, itself
    /// included.
    pub fn near(&self, title: &str) -> Vec<EntryId> {
        let one = variants(title);
        let one = one.iter().filter_map(|variant| self.near.get(variant));
        let two = shifted_quarters(&letters(title));
        let two = two
            .iter()
            .filter_map(|pair| self.quarters.get(pair))
            .filter(|sharing| sharing.len() <= SERIES);
        let mut found: Vec<EntryId> = one.chain(two).flatten().copied().collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// All names of a kind's cards, as compared, in no order.
    pub fn all(&self, kind: Kind) -> impl Iterator<Item = (&str, EntryId)> {
        self.by_key
            .iter()
            .flat_map(|(name, cards)| cards.iter().map(move |card| (name.as_str(), card)))
            .filter(move |(_, (found, _))| *found == kind)
            .map(|(name, (_, id))| (name, *id))
    }
}

/// Digests of the title's letters, whole and with each one left out.
fn variants(title: &str) -> Vec<u64> {
    let letters = letters(title);
    let digest = |skip: usize| {
        let text: String = letters
            .iter()
            .enumerate()
            .filter(|(at, _)| *at != skip)
            .map(|(_, c)| *c)
            .collect();
        xxhash_rust::xxh3::xxh3_64(text.as_bytes())
    };
    (0..=letters.len()).map(digest).collect()
}

/// So many titles with the same two quarters are a series, no slips of each other; comparing all of them with all
/// would also take the square of their number.
const SERIES: usize = 16;

/// How many letters a title has at least for two slips in it to be a slip at all.
const LONG: usize = 12;

/// Where the quarters of so many letters begin and end.
fn bounds(length: usize) -> [(usize, usize); 4] {
    [0, 1, 2, 3].map(|quarter| (length * quarter / 4, length * (quarter + 1) / 4))
}

/// A digest of two quarters of a title of so many letters.
fn pair(length: usize, which: (usize, usize), first: &[char], second: &[char]) -> u64 {
    let text: String = first.iter().chain(&['\n']).chain(second).collect();
    let seed = (length as u64) << 8 | (which.0 as u64) << 4 | which.1 as u64;
    xxhash_rust::xxh3::xxh3_64_with_seed(text.as_bytes(), seed)
}

/// Every two quarters, by their places.
const PAIRS: [(usize, usize); 6] = [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)];

/// The digests that a long title is found by.
fn quarters(letters: &[char]) -> Vec<u64> {
    if letters.len() < LONG {
        return Vec::new();
    }
    let bounds = bounds(letters.len());
    let quarter = |at: usize| bounds.get(at).and_then(|(from, to)| letters.get(*from..*to));
    PAIRS
        .iter()
        .filter_map(|which| Some(pair(letters.len(), *which, quarter(which.0)?, quarter(which.1)?)))
        .collect()
}

/// The digests of all titles that two slips may have made of this one: two quarters stand as they were, each
/// shifted by no more than two letters.
fn shifted_quarters(letters: &[char]) -> Vec<u64> {
    let mut found = Vec::new();
    if letters.len() + 2 < LONG {
        return found;
    }
    let shift = |(from, to): (usize, usize), by: isize| {
        letters.get(from.checked_add_signed(by)?..to.checked_add_signed(by)?)
    };
    for length in letters.len().saturating_sub(2).max(LONG)..=letters.len() + 2 {
        let bounds = bounds(length);
        for which in PAIRS {
            for one in -2..=2_isize {
                for other in -2..=2_isize {
                    let ends = bounds.get(which.0).zip(bounds.get(which.1));
                    let quarters = ends.and_then(|(a, b)| Some((shift(*a, one)?, shift(*b, other)?)));
                    if let Some((first, second)) = quarters.filter(|_| one.abs_diff(other) <= 2) {
                        found.push(pair(length, which, first, second));
                    }
                }
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_told_from_different_titles() {
        for (one, other, alike) in [
            ("Paper Glider", "Paper Gliders", true),
            ("Copper Kettle Jig", "Copper Kettel Jig", true),
            ("Lanterns on the Weir", "Lantern on the Wier", true),
            ("Suite No. 1", "Suite No. 2", false),
            ("Folk Dances I", "Folk Dances II", false),
            ("Air", "Ayr", false),
            ("Harbor Parade", "Harbor Lights", false),
            ("Harbor Parade", "Harbor Parade", true),
        ] {
            assert_eq!(nearly_alike(one, other), alike, "{one} / {other}");
        }
    }

    #[test]
    fn near_titles_are_found_without_comparing_all() {
        let mut names = Names::default();
        let id = |entry| EntryId { file: 0, entry };
        for (entry, title) in [
            "Paper Glider",
            "Paper Gliders",
            "Harbor Parade",
            "Copper Kettle Jig",
        ]
        .iter()
        .enumerate()
        {
            names.add(Kind::Piece, title, id(entry as u32));
        }
        assert_eq!(names.near("Paper Glider"), [id(0), id(1)]);
        assert_eq!(names.near("Copper Kettel Jig"), [id(3)]);
        assert_eq!(names.near("Something Else"), []);
        for two_slips in [
            "Coper Kettle Jjg",
            "Copper Kettle Jigse",
            "opper Kettle Ji",
            "Cpoper Kettle Jgi",
            "Xopper Kettle Jix",
            "Copperr Kkettle Jig",
        ] {
            assert!(nearly_alike(two_slips, "Copper Kettle Jig"), "{two_slips}");
            assert_eq!(names.near(two_slips), [id(3)], "{two_slips}");
        }
    }
}
