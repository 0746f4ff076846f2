//! Names of cards: who has which, and which are nearly alike.

use std::collections::HashMap;
use std::sync::Arc;

use crate::notation::Kind;

use super::snapshot::EntryId;

mod near;
mod spellings;

use near::Near;
pub use spellings::{Spelling, Spellings};

/// Every named card by its name.
#[derive(Debug, Default)]
pub struct Names {
    by_key: HashMap<Arc<str>, Bearers>,
    /// The titles of pieces as compared, each once, with the pieces in their order.
    titles: Vec<(Arc<str>, Vec<EntryId>)>,
    /// The names of all other cards.
    others: HashMap<Kind, Vec<(Arc<str>, EntryId)>>,
    near: Near,
    /// People who wrote pieces.
    people: Spellings,
    /// Houses that publish or sell them.
    houses: Spellings,
}

/// The cards of one name.
#[derive(Debug, Default)]
struct Bearers {
    cards: Vec<(Kind, EntryId)>,
    /// The number of the title, where it is one of a piece.
    title: Option<u32>,
}

/// A name as it is compared: small letters, straight quotes, single blanks, `&` as `and`.
pub fn key(name: &str) -> String {
    let mut key = String::with_capacity(name.len());
    if name.is_ascii() {
        for word in name.split(|c: char| c.is_ascii() && c.is_whitespace()) {
            if !key.is_empty() && !word.is_empty() {
                key.push(' ');
            }
            key.push_str(if word == "&" { "and" } else { word });
        }
        key.make_ascii_lowercase();
        return match key.contains('`') {
            true => key.replace('`', "'"),
            false => key,
        };
    }
    for word in name.split_whitespace() {
        if !key.is_empty() {
            key.push(' ');
        }
        if word == "&" {
            key.push_str("and");
            continue;
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
    letters_of(&key(title))
}

/// The same of a title as it is compared.
fn letters_of(key: &str) -> Vec<char> {
    key.chars().filter(|c| c.is_alphanumeric()).take(80).collect()
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
    let allowed = if shorter >= 12 { 2 } else { 1 };
    shorter >= 4 && slips(&a, &b, allowed).is_some() && numerals(one) == numerals(other)
}

/// How many slips lie between two rows of letters, where there are no more than so many.
fn slips(one: &[char], other: &[char], most: usize) -> Option<usize> {
    if one.len().abs_diff(other.len()) > most {
        return None;
    }
    // What both begin and end with needs no slip.
    let same = |(a, b): &(&char, &char)| a == b;
    let head = one.iter().zip(other).take_while(same).count();
    let (one, other) = (one.get(head..)?, other.get(head..)?);
    let tail = one.iter().rev().zip(other.iter().rev()).take_while(same).count();
    let one = one.get(..one.len() - tail)?;
    let other = other.get(..other.len() - tail)?;
    // A letter that one of them has oftener is a slip at least.
    let lacking = |some: &[char], others: &[char]| {
        let mut left: Vec<char> = others.to_vec();
        let mut lacks = |letter: &&char| match left.iter().position(|other| other == *letter) {
            Some(at) => {
                left.swap_remove(at);
                false
            }
            None => true,
        };
        some.iter().filter(|letter| lacks(letter)).take(most + 1).count()
    };
    if lacking(one, other) > most || lacking(other, one) > most {
        return None;
    }
    Some(strsim::generic_damerau_levenshtein(one, other)).filter(|slips| *slips <= most)
}

impl Names {
    /// Adds a card.
    pub fn add(&mut self, kind: Kind, name: &str, id: EntryId) {
        let key: Arc<str> = key(name).into();
        let bearers = self.by_key.entry(Arc::clone(&key)).or_default();
        bearers.cards.push((kind, id));
        if kind == Kind::Piece {
            let number = *bearers.title.get_or_insert(self.titles.len() as u32) as usize;
            match self.titles.get_mut(number) {
                Some((_, pieces)) => pieces.push(id),
                None => {
                    self.titles.push((key, vec![id]));
                    self.near.forget();
                }
            }
        } else {
            self.others.entry(kind).or_default().push((key, id));
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
            .get(key(name).as_str())
            .into_iter()
            .flat_map(|bearers| &bearers.cards)
            .filter(move |(found, _)| *found == kind)
            .map(|(_, id)| *id)
    }

    /// The pieces whose titles may be one slip away from this one, or two in a long title, each once, itself
    /// included.
    pub fn near(&self, title: &str) -> Vec<EntryId> {
        let titles = self.near_titles(title);
        let mut found: Vec<EntryId> = titles.flat_map(|(_, pieces)| pieces).copied().collect();
        found.sort_unstable();
        found
    }

    /// The titles that may be one slip away from this one, or two in a long title, each as compared and with its
    /// pieces in their order, itself included.
    pub fn near_titles(&self, title: &str) -> impl Iterator<Item = (&str, &[EntryId])> {
        let all = || self.titles.iter().map(|(title, _)| letters_of(title));
        let numbers = self.near.of(&letters(title), true, all).into_iter();
        let titles = numbers.filter_map(|number| self.titles.get(number as usize));
        titles.map(|(title, pieces)| (&**title, pieces.as_slice()))
    }

    /// All names of a kind's cards, as compared, in no order.
    pub fn all(&self, kind: Kind) -> impl Iterator<Item = (&str, EntryId)> {
        let pieces = self.titles.iter().filter(move |_| kind == Kind::Piece);
        let pieces = pieces.flat_map(|(name, pieces)| pieces.iter().map(move |id| (&**name, *id)));
        let others = self.others.get(&kind).into_iter().flatten();
        pieces.chain(others.map(|(name, id)| (&**name, *id)))
    }
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
    fn slips_are_counted_as_they_always_were() {
        // Every word of up to five of three letters against some others.
        let words: Vec<Vec<char>> = (0..3usize.pow(5))
            .map(|mut number| {
                let mut word = Vec::new();
                while number > 0 {
                    word.push(['a', 'b', 'c'][number % 3]);
                    number /= 3;
                }
                word
            })
            .collect();
        for (one, other) in words
            .iter()
            .flat_map(|one| words.iter().map(move |other| (one, other)))
        {
            let all = strsim::generic_damerau_levenshtein(one, other);
            for most in [1, 2] {
                let wanted = Some(all).filter(|slips| *slips <= most);
                assert_eq!(slips(one, other, most), wanted, "{one:?} {other:?}");
            }
        }
    }

    #[test]
    fn names_are_compared_whatever_their_letters() {
        let long = |name: &str| {
            let words: Vec<String> = name.split_whitespace().map(str::to_lowercase).collect();
            words
                .join(" ")
                .replace(['’', '‘', '`'], "'")
                .replace(['–', '—', '‐'], "-")
        };
        for name in [
            "",
            " ",
            "A  B",
            "\tOld\u{b}Mill`s Day ",
            "Böhm’s  Tune – No. 2",
            "X\u{1c}Y",
        ] {
            assert_eq!(key(name), long(name), "{name}");
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

    #[test]
    fn few_titles_are_looked_at_however_many_there_are() {
        let mut names = Names::default();
        let id = |entry| EntryId { file: 0, entry };
        for entry in 0..20_000 {
            names.add(Kind::Piece, "Paper Glider", id(entry));
        }
        let titles: Vec<usize> = names
            .near_titles("Paper Glider")
            .map(|(_, pieces)| pieces.len())
            .collect();
        assert_eq!(titles, [20_000], "one title, however many cards bear it");
        // Every one of these is one letter away from every other.
        for entry in 0..20_000u32 {
            let letter = char::from_u32(0x4e00 + entry).expect("a letter");
            names.add(
                Kind::Piece,
                &format!("Copper Kettle Jig {letter}"),
                id(20_000 + entry),
            );
        }
        let looked_at = names.near_titles("Copper Kettle Jig Z").count();
        assert!((1..2_000).contains(&looked_at), "{looked_at}");
    }
}
