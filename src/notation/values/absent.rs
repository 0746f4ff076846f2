//! Who will not be there: `P3`, `P1-P3`, `1 tuba`.

use std::fmt;

use crate::notation::{names, scan};

use super::cursor::Cursor;
use super::instrument_name::is_known;

/// One item of who is absent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Absent {
    /// Percussionists, by seat or initials.
    Seats(Vec<String>),
    /// Players of an instrument.
    Players {
        /// How many.
        count: u32,
        /// Of which instrument, in full.
        instrument: String,
    },
    /// Everybody of a grade, in the one form.
    Group(&'static str),
    /// Somebody in the director's own words, in quotation marks.
    Somebody(String),
}

/// Groups of students, in the one form last.
const GROUPS: [(&[&str], &str); 6] = [
    (
        &["fifth graders", "5th graders", "fifth grade"],
        "the fifth graders",
    ),
    (
        &["sixth graders", "6th graders", "sixth grade"],
        "the sixth graders",
    ),
    (
        &["seventh graders", "7th graders", "seventh grade"],
        "the seventh graders",
    ),
    (
        &["eighth graders", "8th graders", "eighth grade"],
        "the eighth graders",
    ),
    (&["ninth graders", "9th graders", "freshmen"], "the ninth graders"),
    (&["beginners", "first years"], "the beginners"),
];

impl Absent {
    /// Reads `P3`, `P1-P3`, `P1 and P2`, `AK`, `1 tuba`, `two trumpets`, `the tuba`, `"the new horn"`.
    pub fn read(text: &str) -> Option<Absent> {
        let text = text.trim();
        if let Ok((rest, name)) = scan::quoted(text) {
            return (rest.is_empty() && !name.is_empty()).then(|| Absent::Somebody(name.to_owned()));
        }
        if let Some(seats) = seats(text) {
            return Some(Absent::Seats(seats));
        }
        let lower = text.to_lowercase();
        let plain = lower.strip_prefix("the ").unwrap_or(&lower);
        if let Some(group) = GROUPS.iter().find(|(words, _)| words.contains(&plain)) {
            return Some(Absent::Group(group.1));
        }
        let mut words = Cursor::new(text);
        let count = match words.any(&["the", "a", "one of the", "my", "our"]) {
            true => 1,
            false if words.take("both") => 2,
            false => words.number().unwrap_or(1),
        };
        let instrument = words.longest(|text| is_known(text).then(|| names::part_in_full(text)))?;
        words.any(&["player", "players"]);
        (words.done() && count > 0).then_some(Absent::Players { count, instrument })
    }
}

/// `P1`, `P1 and P2`, `P1-P3`, `P1 to P3`, `AK WJ`.
pub(super) fn seats(text: &str) -> Option<Vec<String>> {
    // Most words are no seat, and then nothing behind the first one matters.
    let gap = |c: char| c.is_whitespace() || matches!(c, '&' | '/');
    let first = text
        .trim_start_matches(gap)
        .split(|c: char| gap(c) || matches!(c, '-' | '–' | '—'))
        .next()?;
    if !is_seat(first) && !are_initials(first) {
        return None;
    }
    let mut found: Vec<String> = Vec::new();
    let spaced = text
        .replace(['&', '/'], " ")
        .replace(['–', '—'], "-")
        .replace(" to ", "-");
    let mut joined = true;
    for word in spaced.split_whitespace() {
        if word == "and" {
            if joined {
                return None;
            }
            joined = true;
            continue;
        }
        joined = false;
        match word.split_once('-') {
            Some((first, last)) => found.extend(stretch(first, last)?),
            None if (is_seat(word) || are_initials(word)) && !is_known(word) => found.push(word.to_owned()),
            None => return None,
        }
    }
    (!joined && !found.is_empty()).then_some(found)
}

/// `P1` and `P3`, or `P1` and `3`, with the seats between them.
fn stretch(first: &str, last: &str) -> Option<Vec<String>> {
    let lead: String = first.chars().take_while(|c| c.is_alphabetic()).collect();
    let from: u32 = first.get(lead.len()..)?.parse().ok()?;
    let to: u32 = last.strip_prefix(lead.as_str()).unwrap_or(last).parse().ok()?;
    let fits = is_seat(first) && from < to && to <= 40;
    fits.then(|| (from..=to).map(|seat| format!("{lead}{seat}")).collect())
}

/// Whether a word may be a seat or initials: short, and with a capital in front (`P9`, `AK`, `A.K.`).
pub fn is_seat(word: &str) -> bool {
    let short = word.chars().count() <= 5;
    let fine = |c: char| c.is_ascii_digit() || c.is_uppercase() || c == '.';
    let ends_small = word.chars().skip(1).all(|c| fine(c) || c.is_lowercase());
    let small = word.chars().filter(|c| c.is_lowercase()).count();
    short && word.starts_with(|c: char| c.is_uppercase()) && ends_small && small <= 1
}

/// Two small letters: `jt`.
fn are_initials(word: &str) -> bool {
    const WORDS: [&str; 18] = [
        "an", "at", "by", "he", "if", "in", "is", "it", "me", "my", "no", "of", "on", "or", "so", "to", "up",
        "we",
    ];
    word.len() == 2 && word.chars().all(|c| c.is_ascii_lowercase()) && !WORDS.contains(&word)
}

impl fmt::Display for Absent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Absent::Seats(seats) => f.write_str(&seats.join(" and ")),
            Absent::Players { count, instrument } => write!(f, "{count} {instrument}"),
            Absent::Group(group) => f.write_str(group),
            Absent::Somebody(name) => write!(f, "\"{name}\""),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_absent_are_read() {
        for (written, one_form) in [
            ("P3", Some("P3")),
            ("P1 and P2", Some("P1 and P2")),
            ("P1-P3", Some("P1 and P2 and P3")),
            ("P1 to P3", Some("P1 and P2 and P3")),
            ("AK", Some("AK")),
            ("jt", Some("jt")),
            ("we", None),
            ("1 tuba", Some("1 tuba")),
            ("tuba", Some("1 tuba")),
            ("two trumpets", Some("2 trumpets")),
            ("the Eighth Graders", Some("the eighth graders")),
            ("the zqxv eighth graders", None),
            ("\"the new horn\"", Some("\"the new horn\"")),
            ("P1 zqxv", None),
            ("zqxv P1", None),
            ("P1 and zqxv", None),
            ("1 zqxv tuba", None),
            ("Anna Miller", None),
        ] {
            let read = Absent::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Absent::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
