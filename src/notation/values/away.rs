//! Who of a band is away on some day: `2 flutes and the tuba on 2026-10-22`.

use std::fmt;

use super::absent::Absent;
use super::day::Days;
use crate::notation::scan;

/// One item of who is away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Away {
    /// Players, and the days on which they are.
    On(Vec<Absent>, Days),
    /// Why: `for the science trip`.
    Why(String),
}

/// What kind of a trip or meet it is (common practice, no source).
const KINDS: [&str; 22] = [
    "field",
    "choir",
    "science",
    "school",
    "class",
    "band",
    "wrestling",
    "track",
    "swim",
    "soccer",
    "basketball",
    "football",
    "volleyball",
    "baseball",
    "math",
    "museum",
    "ski",
    "family",
    "state",
    "orchestra",
    "drama",
    "church",
];

/// What players are away for (common practice, no source).
const REASONS: [&str; 12] = [
    "trip",
    "meet",
    "game",
    "match",
    "tournament",
    "camp",
    "concert",
    "contest",
    "rehearsal",
    "testing",
    "wedding",
    "play",
];

impl Away {
    /// Reads players with a day behind them, or what they are away for.
    pub fn read(text: &str) -> Option<Away> {
        let text = text.trim();
        let blanks = text.match_indices(' ').map(|(at, _)| at);
        for at in blanks.take(12) {
            let (head, tail) = text.split_at_checked(at)?;
            let day = scan::after_phrase(tail.trim_start(), "on").unwrap_or(tail);
            if let Some(days) = Days::read(day.trim())
                && let Some(who) = who(head)
            {
                return Some(Away::On(who, days));
            }
        }
        let is_in = |known: &[&str], word: &str| known.iter().any(|one| word.eq_ignore_ascii_case(one));
        let mut words = text.split_whitespace().rev();
        let why = words.next().is_some_and(|last| is_in(&REASONS, last));
        let known = words.all(|word| is_in(&["for", "the", "a"], word) || is_in(&KINDS, word));
        (why && known).then(|| Away::Why(scan::single(text)))
    }
}

/// `two flutes and the tuba`, `P1 and P2`.
fn who(text: &str) -> Option<Vec<Absent>> {
    if let Some(one) = Absent::read(text) {
        return Some(vec![one]);
    }
    text.replace(['&', '+'], " and ")
        .split(" and ")
        .map(Absent::read)
        .collect()
}

impl fmt::Display for Away {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Away::On(who, days) => {
                let who: Vec<String> = who.iter().map(ToString::to_string).collect();
                write!(f, "{} on {days}", who.join(" and "))
            }
            Away::Why(words) => f.write_str(words),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_is_away_is_read() {
        for (written, one_form) in [
            (
                "two flutes and the tuba on October 22, 2026",
                Some("2 flutes and 1 tuba on 2026-10-22"),
            ),
            ("both flutes mar 12", Some("2 flutes on Mar 12")),
            ("P3 on 2026-10-22", Some("P3 on 2026-10-22")),
            (
                "P1 and P2 2026-10-22 to 2026-10-24",
                Some("P1 and P2 on 2026-10-22 to 2026-10-24"),
            ),
            ("for the science trip", Some("for the science trip")),
            ("for the zqxv trip", None),
            ("two flutes", None),
            ("zqxv flutes on 2026-10-22", None),
            ("two flutes zqxv 2026-10-22", None),
            ("two flutes and zqxv on 2026-10-22", None),
            ("1 tuba trip 2", None),
        ] {
            let read = Away::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Away::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
