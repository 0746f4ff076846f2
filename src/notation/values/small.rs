//! Rehearsal marks.

use std::fmt;

use nom::Parser;
use nom::combinator::opt;
use nom::sequence::preceded;

use super::place::measure_word;
use crate::notation::scan::{self, number};

/// A rehearsal mark and the measure it stands at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// The mark's name; for a mark that is a measure number, that number.
    pub name: String,
    /// Its measure.
    pub measure: u32,
}

impl Mark {
    /// Reads `A 9`, `B at m. 33`, `coda = 81`, `17` (a mark that is its measure's number).
    pub fn read(text: &str) -> Option<Mark> {
        let text = text.trim();
        if let Ok(("", measure)) = preceded(opt(measure_word), number).parse(text) {
            return Some(Mark {
                name: measure.to_string(),
                measure,
            });
        }
        let digits = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let (head, tail) = text.split_at_checked(text.len() - digits)?;
        let measure = tail.parse().ok()?;
        let mut name = head.trim_end();
        for lead in ["measure", "bar", "mm.", "m.", "at", "=", ":", "@"] {
            if let Some(rest) = strip_end(name, lead) {
                name = rest;
            }
        }
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        let name = name.trim_matches(scan::is_quote).to_owned();
        (!name.is_empty() && name.chars().count() <= 40).then_some(Mark { name, measure })
    }
}

/// `name` without `lead` at its end, where it stands there as a word of its own.
fn strip_end<'a>(name: &'a str, lead: &str) -> Option<&'a str> {
    let head = name.get(..name.len().checked_sub(lead.len())?)?;
    let tail = name.get(head.len()..)?;
    let apart = head.ends_with(scan::is_blank) || !lead.starts_with(char::is_alphabetic);
    (tail.eq_ignore_ascii_case(lead) && apart && !head.trim().is_empty()).then(|| head.trim_end())
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.name == self.measure.to_string() {
            return f.write_str(&self.name);
        }
        write!(f, "{} {}", self.name, self.measure)
    }
}
