//! The name of an instrument or part inside a value: known, near to a known one, or a household object.

use std::fmt;
use std::sync::OnceLock;

use crate::music::instruments::key;
use crate::music::{Instruments, Lookup};
use crate::notation::names;
use crate::text::Span;

use super::cursor::single;

/// Words before an instrument that say what it looks like and change nothing else.
const LOOKS: [&str; 34] = [
    "concert",
    "small",
    "large",
    "big",
    "little",
    "medium",
    "old",
    "new",
    "wooden",
    "wood",
    "metal",
    "brass",
    "steel",
    "plastic",
    "orchestral",
    "school",
    "marching",
    "student",
    "practice",
    "deep",
    "low",
    "high",
    "pair of",
    "pairs of",
    "set of",
    "sets of",
    "pr",
    "pr.",
    "pair",
    "set",
    "good",
    "mounted",
    "hand-tuned",
    "pedal",
];

/// Words that no instrument is called by: those that join, and those that the lines use.
const NO_NAMES: [&str; 34] = [
    "and",
    "or",
    "to",
    "from",
    "until",
    "till",
    "in",
    "for",
    "with",
    "without",
    "by",
    "at",
    "on",
    "of",
    "no",
    "not",
    "the",
    "a",
    "an",
    "new",
    "other",
    "sticks",
    "mallets",
    "beaters",
    "instrument",
    "instruments",
    "neighbor",
    "neighboring",
    "neighbouring",
    "players",
    "player",
    "copies",
    "drums",
    "than",
];

/// A name as it stands in a value, and how it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Known {
    /// An instrument or a grouping of the trade's table, all of its words.
    Wholly,
    /// No such name, and no known one inside it: one of the catalogue's own, or a slip.
    Not,
}

/// Whether words can be a name, known or the catalogue's own, that is looked up where all cards are known.
pub(super) fn is_name(name: &str) -> bool {
    let plain = single(name);
    let fine = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’' | '.' | '&');
    let grammar = |word: &str| NO_NAMES.iter().any(|known| word.eq_ignore_ascii_case(known));
    is_known(&plain)
        || (plain.starts_with(char::is_alphabetic)
            && plain.chars().all(fine)
            && plain.split(' ').count() <= 4
            && !plain.split(' ').any(grammar))
}

/// How the trade knows a name. None where a known instrument stands among words that are not known: those
/// words must not be lost, so such a stretch is not read.
pub(super) fn known(name: &str) -> Option<Known> {
    let plain = single(name);
    let words: Vec<&str> = plain.split(' ').collect();
    if plain.is_empty() || words.len() > 6 || !plain.starts_with(char::is_alphabetic) {
        return None;
    }
    if is_known(&plain) || strip_looks(&plain).is_some_and(is_known) {
        return Some(Known::Wholly);
    }
    let fine = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’' | '.' | '&');
    let grammar = |word: &&str| NO_NAMES.iter().any(|known| word.eq_ignore_ascii_case(known));
    if !plain.chars().all(fine) || words.len() > 4 || words.iter().any(grammar) {
        return None;
    }
    if is_slip(&words) {
        return Some(Known::Not);
    }
    let holds = (0..words.len()).any(|from| {
        (from + 1..=words.len()).any(|to| {
            words
                .get(from..to)
                .is_some_and(|words| is_known(&words.join(" ")))
        })
    });
    (!holds).then_some(Known::Not)
}

/// The known instrument at the end of a name that the trade does not know as a whole and that may be one of the
/// catalogue's own: `bells` in `near bells`.
pub(super) fn own_name(name: &str) -> Option<&str> {
    let grammar = |word: &str| NO_NAMES.iter().any(|known| word.eq_ignore_ascii_case(known));
    let fine = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’');
    let few = (2..=4).contains(&name.split(' ').count());
    if !few || !name.chars().all(fine) || name.split(' ').any(grammar) || is_known(name) {
        return None;
    }
    // The words before it must be no instrument themselves: `snare bells` is two with a comma left out.
    let (at, _) = name
        .match_indices(' ')
        .find(|(at, _)| name.get(at + 1..).is_some_and(is_known))?;
    let before = name.get(..at)?;
    let strange = !before.split(' ').any(is_known);
    strange.then(|| name.get(at + 1..)).flatten()
}

/// A name without the words before it that say only what it looks like.
pub(super) fn strip_looks(name: &str) -> Option<&str> {
    let mut rest = name;
    while let Some(next) = LOOKS.iter().find_map(|look| {
        let head = rest.get(..look.len())?;
        let tail = rest.get(look.len()..)?;
        (head.eq_ignore_ascii_case(look) && tail.starts_with(' ')).then(|| tail.trim_start())
    }) {
        rest = next;
    }
    (rest.len() < name.len()).then_some(rest)
}

/// Whether the trade's table has an instrument or grouping of this name.
pub(super) fn is_known(name: &str) -> bool {
    names::is_group(name) || !matches!(Instruments::standard().find(name), Lookup::None)
}

/// A name of the trade's table, made ready to be compared with what is written.
struct Ready {
    /// Its words in small letters, each with its letters counted.
    words: Vec<(String, usize)>,
    /// Its key, with its letters counted.
    key: (String, usize),
}

/// All names of the trade's table. They never change, so they are made ready once.
fn ready() -> &'static [Ready] {
    static READY: OnceLock<Vec<Ready>> = OnceLock::new();
    READY.get_or_init(|| {
        let all = Instruments::standard().all().iter();
        let names = all.flat_map(|instrument| std::iter::once(&instrument.name).chain(&instrument.aliases));
        names
            .map(|name| Ready {
                words: name.split(' ').map(|word| counted(word.to_lowercase())).collect(),
                key: counted(key(name)),
            })
            .collect()
    })
}

fn counted(text: String) -> (String, usize) {
    let letters = text.chars().count();
    (text, letters)
}

/// Whether each word is a slip away from the word of a known name in its place: a slip for every four letters.
fn is_slip(written: &[&str]) -> bool {
    let together = counted(key(&written.join(" ")));
    let written: Vec<(String, usize)> = written.iter().map(|word| counted(word.to_lowercase())).collect();
    // Where one is longer than the other by more letters than there may be slips, nothing needs comparing.
    let near = |(known, long): &(String, usize), (written, other): &(String, usize), allowed: usize| {
        long.abs_diff(*other) <= allowed && strsim::damerau_levenshtein(known, written) <= allowed
    };
    ready().iter().any(|name| {
        if name.words.len() != written.len() {
            return name.key.0.len() > 5 && near(&name.key, &together, 1);
        }
        let mut pairs = name.words.iter().zip(&written);
        pairs.all(|(known, written)| near(known, written, known.1.div_ceil(4)))
    })
}

/// Where a value says something. Two values that say the same are equal wherever they stand.
#[derive(Clone, Copy, Default)]
pub struct At(pub Span);

impl fmt::Debug for At {
    /// A place is no part of what a value says, so it does not show where two are compared by their words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("At")
    }
}

impl PartialEq for At {
    fn eq(&self, _: &At) -> bool {
        true
    }
}

impl Eq for At {}

/// Where `part`, a slice of `whole`, stands in it.
pub(super) fn at(whole: &str, part: &str) -> At {
    let start = (part.as_ptr() as usize).saturating_sub(whole.as_ptr() as usize);
    let end = start.saturating_add(part.len()).min(whole.len());
    At(Span::new(start.min(whole.len()) as u32, end as u32))
}
