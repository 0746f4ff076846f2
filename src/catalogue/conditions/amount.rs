//! How many or how much: `at most 4`, `between 2 and 4`, `a`.

use std::fmt;

use super::cursor::Words;
use super::lexicon::Sort;

/// A bound on a number. What the number counts (pieces, seconds, hundredths of a grade, cents) is
/// said by the condition that holds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// `a`, `an`: one is enough.
    A,
    /// A bare number. Counting, that many are enough; measuring, it is just that.
    Just(u64),
    /// `exactly 2`.
    Exactly(u64),
    /// `at least 2`.
    AtLeast(u64),
    /// `at most 2`.
    AtMost(u64),
    /// `between 2 and 4`.
    Between(u64, u64),
}

impl Amount {
    /// Whether a measured value keeps to it.
    pub fn holds(self, found: u64) -> bool {
        match self {
            Amount::A => found >= 1,
            Amount::Just(wanted) | Amount::Exactly(wanted) => found == wanted,
            Amount::AtLeast(wanted) => found >= wanted,
            Amount::AtMost(wanted) => found <= wanted,
            Amount::Between(low, high) => (low..=high).contains(&found),
        }
    }

    /// Whether a count keeps to it: a bare number is enough when there are more.
    pub fn holds_count(self, found: u64) -> bool {
        match self {
            Amount::Just(wanted) => found >= wanted,
            other => other.holds(found),
        }
    }

    /// Whether some value from `low` to `high` keeps to it, and whether all do. `high` is none where
    /// there is no upper end.
    pub fn holds_in(self, low: u64, high: Option<u64>, counting: bool) -> (bool, bool) {
        let (from, to) = match self {
            Amount::A => (1, None),
            Amount::Just(wanted) if counting => (wanted, None),
            Amount::Just(wanted) | Amount::Exactly(wanted) => (wanted, Some(wanted)),
            Amount::AtLeast(wanted) => (wanted, None),
            Amount::AtMost(wanted) => (0, Some(wanted)),
            Amount::Between(from, to) => (from, Some(to)),
        };
        let some = to.is_none_or(|to| low <= to) && high.is_none_or(|high| from <= high);
        let all = from <= low && to.is_none_or(|to| high.is_some_and(|high| high <= to));
        (some, all)
    }

    /// Whether it only sets an upper end.
    pub fn is_at_most(self) -> bool {
        matches!(self, Amount::AtMost(_))
    }

    /// The number that speaks for it, to choose `1 flat` or `2 flats`.
    pub fn number(self) -> u64 {
        match self {
            Amount::A => 1,
            Amount::Just(n) | Amount::Exactly(n) | Amount::AtLeast(n) | Amount::AtMost(n) => n,
            Amount::Between(_, high) => high,
        }
    }

    /// The words of the one form; `show` writes a number.
    pub fn show(self, show: impl Fn(u64) -> String) -> String {
        match self {
            Amount::A => "a".to_owned(),
            Amount::Just(n) => show(n),
            Amount::Exactly(n) => format!("exactly {}", show(n)),
            Amount::AtLeast(n) => format!("at least {}", show(n)),
            Amount::AtMost(n) => format!("at most {}", show(n)),
            Amount::Between(low, high) => format!("between {} and {}", show(low), show(high)),
        }
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.show(|n| n.to_string()))
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Lead {
    Most,
    Under,
    Least,
    Over,
    Exactly,
}

const LEADS: [(Lead, &[&str]); 5] = [
    (
        Lead::Most,
        &[
            "at most",
            "up to",
            "no more than",
            "not more than",
            "no longer than",
            "not longer than",
            "no higher than",
            "not higher than",
            "no harder than",
            "not harder than",
            "no wider than",
            "no later than",
            "nothing above",
            "nothing over",
            "nothing more than",
            "not above",
            "not over",
            "never over",
            "never above",
            "never more than",
            "maximum of",
            "a maximum of",
            "maximum",
            "max",
            "within",
            "≤",
            "<=",
        ],
    ),
    (
        Lead::Least,
        &[
            "at least",
            "no less than",
            "not less than",
            "no fewer than",
            "not fewer than",
            "no easier than",
            "no shorter than",
            "not under",
            "not below",
            "minimum of",
            "a minimum of",
            "minimum",
            "min",
            "≥",
            ">=",
        ],
    ),
    (
        Lead::Under,
        &[
            "less than",
            "fewer than",
            "shorter than",
            "easier than",
            "lower than",
            "cheaper than",
            "under",
            "below",
            "<",
        ],
    ),
    (
        Lead::Over,
        &[
            "more than",
            "longer than",
            "harder than",
            "higher than",
            "over",
            "above",
            ">",
        ],
    ),
    (Lead::Exactly, &["exactly", "just", "only"]),
];

const TRAILS: [(Lead, &[&str]); 2] = [
    (
        Lead::Most,
        &[
            "or less",
            "or fewer",
            "or lower",
            "or under",
            "or shorter",
            "or easier",
            "or below",
            "or cheaper",
            "at most",
            "maximum",
            "max",
            "tops",
        ],
    ),
    (
        Lead::Least,
        &[
            "or more",
            "or higher",
            "or longer",
            "or harder",
            "or above",
            "or over",
            "or better",
            "at least",
            "and up",
            "plus",
            "minimum",
            "min",
            "+",
        ],
    ),
];

/// Words that a bound may begin with behind `no` or `not`.
pub(super) fn is_comparing(word: &str) -> bool {
    matches!(
        word,
        "more"
            | "less"
            | "fewer"
            | "longer"
            | "shorter"
            | "higher"
            | "lower"
            | "harder"
            | "easier"
            | "wider"
            | "later"
            | "over"
            | "under"
            | "above"
            | "below"
    )
}

fn lead(w: Words<'_>, at: usize) -> Option<(usize, Lead)> {
    LEADS
        .iter()
        .filter_map(|(lead, phrases)| Some((w.one_of(at, phrases)?, *lead)))
        .max_by_key(|(end, _)| *end)
}

fn trail(w: Words<'_>, at: usize) -> Option<(usize, Lead)> {
    TRAILS
        .iter()
        .filter_map(|(lead, phrases)| Some((w.one_of(at, phrases)?, *lead)))
        .max_by_key(|(end, _)| *end)
}

/// Whether the word behind an `or` makes a bound of it: `or less` splits no alternatives.
pub(super) fn is_trail(after_or: &str) -> bool {
    TRAILS.iter().any(|(_, phrases)| {
        phrases
            .iter()
            .any(|phrase| phrase.strip_prefix("or ").is_some_and(|word| word == after_or))
    })
}

/// A count in figures or, up to twelve, in words.
pub(super) fn count(w: Words<'_>, at: usize) -> Option<(usize, u64)> {
    const WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    ];
    let small = w.small(at);
    let figures = !small.is_empty() && small.bytes().all(|b| b.is_ascii_digit() || b == b',');
    let found = match figures {
        true => small.replace(',', "").parse::<u32>().ok().map(u64::from),
        false => WORDS
            .iter()
            .zip(1..=12u64)
            .find(|(word, _)| **word == small)
            .map(|(_, n)| n),
    };
    if found.is_none() {
        w.expect(at, Sort::Number);
    }
    Some((at + 1, found?))
}

fn dash(w: Words<'_>, at: usize) -> Option<usize> {
    w.one_of(at, &["-", "–", "—", "−", "‐", "‑", "to"])
}

/// Reads a bound on values that `value` reads, with what `unit` reads between the number and a bound
/// that comes after it (`4 minutes or less`).
pub(super) fn amount(
    w: Words<'_>,
    at: usize,
    value: impl Fn(Words<'_>, usize) -> Option<(usize, u64)>,
    unit: impl Fn(Words<'_>, usize) -> Option<usize>,
) -> Option<(usize, Amount)> {
    if let Some(here) = w.one_of(at, &["between", "from"]) {
        let between = || {
            let (here, low) = value(w, here)?;
            let here = unit(w, here).unwrap_or(here);
            let here = w.phrase(here, "and").or_else(|| dash(w, here))?;
            let (here, high) = value(w, here)?;
            Some((unit(w, here)?, Amount::Between(low.min(high), low.max(high))))
        };
        if let Some(found) = between() {
            return Some(found);
        }
    }
    let (here, lead) = match lead(w, at) {
        Some((here, lead)) => (here, Some(lead)),
        None => (at, None),
    };
    let (here, first) = value(w, here)?;
    if lead.is_none() {
        let between = || {
            let (here, second) = value(w, dash(w, here)?)?;
            Some((
                unit(w, here)?,
                Amount::Between(first.min(second), first.max(second)),
            ))
        };
        if let Some(found) = between() {
            return Some(found);
        }
        // `2+ marches`: the bound may stand at the number itself.
        if let Some(found) = w.phrase(here, "+").and_then(|here| unit(w, here)) {
            return Some((found, Amount::AtLeast(first)));
        }
    }
    let here = unit(w, here)?;
    let (here, lead) = match lead {
        Some(lead) => (here, Some(lead)),
        None => trail(w, here).map_or((here, None), |(here, lead)| (here, Some(lead))),
    };
    let amount = match lead {
        None => Amount::Just(first),
        Some(Lead::Exactly) => Amount::Exactly(first),
        Some(Lead::Most) => Amount::AtMost(first),
        Some(Lead::Under) => Amount::AtMost(first.saturating_sub(1)),
        Some(Lead::Least) => Amount::AtLeast(first),
        Some(Lead::Over) => Amount::AtLeast(first.saturating_add(1)),
    };
    Some((here, amount))
}
