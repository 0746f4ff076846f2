//! How many or how much: `at most 4`, `between 2 and 4`, `a`.

use std::fmt;

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::combinator::{opt, value};
use nom::sequence::{preceded, terminated};

use crate::notation::scan::{Read, blanks, blanks1, dash, number, phrase, word};

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

fn lead(input: &str) -> Read<'_, Lead> {
    let most = alt((
        phrase("at most"),
        phrase("up to"),
        phrase("no more than"),
        phrase("not more than"),
        phrase("no longer than"),
        phrase("not longer than"),
        phrase("no higher than"),
        phrase("no harder than"),
        phrase("maximum of"),
        phrase("a maximum of"),
        phrase("maximum"),
        phrase("max"),
        phrase("within"),
        tag("≤"),
        tag("<="),
    ));
    let least = alt((
        phrase("at least"),
        phrase("no less than"),
        phrase("not less than"),
        phrase("no fewer than"),
        phrase("not fewer than"),
        phrase("minimum of"),
        phrase("a minimum of"),
        phrase("minimum"),
        phrase("min"),
        tag("≥"),
        tag(">="),
    ));
    let under = alt((
        phrase("less than"),
        phrase("fewer than"),
        phrase("shorter than"),
        phrase("under"),
        phrase("below"),
        tag("<"),
    ));
    let over = alt((
        phrase("more than"),
        phrase("longer than"),
        phrase("over"),
        phrase("above"),
        tag(">"),
    ));
    terminated(
        alt((
            value(Lead::Most, most),
            value(Lead::Least, least),
            value(Lead::Under, under),
            value(Lead::Over, over),
            value(
                Lead::Exactly,
                alt((phrase("exactly"), phrase("just"), phrase("only"))),
            ),
        )),
        preceded(opt(tag(".")), blanks),
    )
    .parse(input)
}

fn trail(input: &str) -> Read<'_, Lead> {
    let most = alt((
        phrase("or less"),
        phrase("or fewer"),
        phrase("or lower"),
        phrase("or under"),
        phrase("or shorter"),
        phrase("or easier"),
        phrase("or below"),
        phrase("at most"),
        phrase("maximum"),
        phrase("max"),
    ));
    let least = alt((
        phrase("or more"),
        phrase("or higher"),
        phrase("or longer"),
        phrase("or harder"),
        phrase("or above"),
        phrase("or over"),
        phrase("at least"),
        phrase("minimum"),
        phrase("min"),
    ));
    preceded(blanks1, alt((value(Lead::Most, most), value(Lead::Least, least)))).parse(input)
}

/// Whether words go on with a bound behind an `or`: `or less` splits no alternatives.
pub fn is_trail(after_or: &str) -> bool {
    let text = format!(" or {}", after_or.trim_start());
    trail(&text).is_ok()
}

/// A count in figures or, up to twelve, in words.
pub fn count(input: &str) -> Read<'_, u64> {
    const WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    ];
    if let Ok((rest, found)) = number(input)
        && !rest.starts_with(['/', ':', '.', '+'])
    {
        return Ok((rest, u64::from(found)));
    }
    WORDS
        .iter()
        .zip(1..=12u64)
        .find_map(|(name, count)| Some((word(name).parse(input).ok()?.0, count)))
        .ok_or_else(|| nom::Err::Error(nom::error::Error::new(input, nom::error::ErrorKind::Digit)))
}

/// Reads a bound on values that `value` reads, with what `unit` reads between the number and a bound
/// that comes behind (`4 minutes or less`). Words that stand behind the first of two numbers may be left
/// to the second (`2 to 4 minutes`), so `value` and `unit` are read apart.
pub fn amount<'a>(
    input: &'a str,
    value: impl Fn(&'a str) -> Read<'a, u64>,
    unit: impl Fn(&'a str) -> Read<'a, &'a str>,
) -> Read<'a, Amount> {
    if let Ok((rest, _)) = (phrase("between"), blanks1).parse(input) {
        let (rest, low) = value(rest)?;
        let (rest, _) = (
            blanks,
            opt(&unit),
            blanks,
            alt((phrase("and"), phrase("to"))),
            blanks,
        )
            .parse(rest)?;
        let (rest, high) = value(rest)?;
        let (rest, _) = unit(rest)?;
        return Ok((rest, Amount::Between(low.min(high), low.max(high))));
    }
    let (rest, lead) = opt(lead).parse(input)?;
    let (rest, first) = value(rest)?;
    if lead.is_none() {
        let second = |rest| -> Read<'a, u64> {
            let (rest, _) = (
                blanks,
                alt((nom::combinator::recognize(dash), phrase("to"))),
                blanks,
            )
                .parse(rest)?;
            value(rest)
        };
        if let Ok((rest, second)) = second(rest) {
            let (rest, _) = unit(rest)?;
            return Ok((rest, Amount::Between(first.min(second), first.max(second))));
        }
    }
    let (rest, _) = unit(rest)?;
    let (rest, lead) = match lead {
        Some(lead) => (rest, Some(lead)),
        None => opt(trail).parse(rest)?,
    };
    let amount = match lead {
        None => Amount::Just(first),
        Some(Lead::Exactly) => Amount::Exactly(first),
        Some(Lead::Most) => Amount::AtMost(first),
        Some(Lead::Under) => Amount::AtMost(first.saturating_sub(1)),
        Some(Lead::Least) => Amount::AtLeast(first),
        Some(Lead::Over) => Amount::AtLeast(first.saturating_add(1)),
    };
    Ok((rest, amount))
}

/// Whether words begin as a bound does: such words were meant as a condition.
pub fn begins_as_bound(words: &str) -> bool {
    lead(words.trim_start()).is_ok()
}
