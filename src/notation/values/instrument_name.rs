//! The name of an instrument or part inside a value: known, near to a known one, or a household object.

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

/// A name as it stands in a value, and how it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Known {
    /// An instrument or a grouping of the trade's table, all of its words.
    Wholly,
    /// No such name, and no known one inside it: one of the catalogue's own, or a slip.
    Not,
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
    if !plain.chars().all(fine) || words.len() > 4 {
        return None;
    }
    if Instruments::standard()
        .nearest(&plain)
        .is_some_and(|near| key(near).len().abs_diff(key(&plain).len()) <= 2 && is_slip(&plain, near))
    {
        return Some(Known::Not);
    }
    let holds = (1..words.len()).any(|at| {
        let (head, tail) = words.split_at(at);
        is_known(&head.join(" ")) || is_known(&tail.join(" "))
    });
    (!holds).then_some(Known::Not)
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

/// A slip of the hand keeps the number of words, or glues or parts two of them.
fn is_slip(written: &str, near: &str) -> bool {
    let (written, near) = (written.split(' ').count(), near.split(' ').count());
    written.abs_diff(near) <= 1
}

/// Where a value says something. Two values that say the same are equal wherever they stand.
#[derive(Debug, Clone, Copy, Default)]
pub struct At(pub Span);

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
