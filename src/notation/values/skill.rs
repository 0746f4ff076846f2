//! Something taught or asked: `slurs by 2026-10-01`.

use std::fmt;

use super::day::Day;

/// Something taught or asked, perhaps by a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skill {
    /// Its name as written.
    pub name: String,
    /// The day by which it is taught.
    pub by: Option<Day>,
    /// Whether the card says that just this is not asked or taught: `compound feel, no`.
    pub not: bool,
}

impl Skill {
    /// Reads `slurs by 2026-10-01`; words are the skill's name, and a rule tells names that nobody knows.
    pub fn read(text: &str) -> Option<Skill> {
        let text = text.trim();
        let (text, not) = yes_or_no(text);
        let (name, by) = match text.rfind(" by ") {
            Some(at) => {
                let (head, tail) = (text.get(..at)?.trim(), text.get(at + 4..)?.trim());
                match Day::read(tail) {
                    Some(day) => (head, Some(day)),
                    // `by Thanksgiving` was meant as a day; `dynamics by subtraction` is a name.
                    None if is_meant_as_a_day(tail) => return None,
                    None => (text, None),
                }
            }
            None => (text, None),
        };
        (!name.is_empty() && is_a_name(name)).then(|| Skill {
            name: name.split_whitespace().collect::<Vec<_>>().join(" "),
            by,
            not,
        })
    }
}

/// A skill without the `yes` or `no` behind it, and whether it is denied.
fn yes_or_no(text: &str) -> (&str, bool) {
    let behind = |word: &str| {
        let at = text.len().checked_sub(word.len())?;
        let head = text.get(..at)?;
        let fits = text.get(at..)?.eq_ignore_ascii_case(word) && head.ends_with([' ', ',']);
        fits.then(|| head.trim_end_matches([' ', ',']))
            .filter(|head| !head.is_empty())
    };
    if let Some(head) = behind("no").or_else(|| behind("no.")) {
        return (head, true);
    }
    let denied = ["no ", "not "].iter().find_map(|lead| text.strip_prefix(lead));
    match denied {
        Some(rest) => (rest.trim_start(), true),
        None => (behind("yes").or_else(|| behind("yes.")).unwrap_or(text), false),
    }
}

impl fmt::Display for Skill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.not { "no " } else { "" })?;
        f.write_str(&self.name)?;
        match self.by {
            Some(day) => write!(f, " by {day}"),
            None => Ok(()),
        }
    }
}

/// Whether words can name a skill. A word that denies or puts off (`6/8 no`, `not 6/8`, `syncopation next`) is no
/// part of a name, and neither is a sentence's full stop in the middle.
fn is_a_name(words: &str) -> bool {
    const NONE: [&str; 18] = [
        "no", "not", "yes", "never", "none", "yet", "next", "kinda", "sorta", "maybe", "isn't", "cannot",
        "can't", "don't", "didn't", "still", "soon", "already",
    ];
    if words.starts_with(crate::notation::scan::is_quote) {
        return true;
    }
    let mut all = words.split_whitespace().peekable();
    while let Some(word) = all.next() {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
        let stop = word.ends_with('.') && bare.chars().count() > 3 && all.peek().is_some();
        let week = matches!(bare.as_str(), "week" | "weeks" | "wk")
            && all
                .peek()
                .is_some_and(|next| next.starts_with(|c: char| c.is_ascii_digit()));
        if NONE.contains(&bare.as_str()) || stop || week {
            return false;
        }
    }
    true
}

/// Whether words after `by` were meant as a day: they hold a figure, a capital, or a word of the calendar.
fn is_meant_as_a_day(words: &str) -> bool {
    const CALENDAR: [&str; 12] = [
        "spring", "summer", "fall", "autumn", "winter", "next", "this", "last", "then", "week", "month",
        "the",
    ];
    let first = words.split_whitespace().next().unwrap_or("");
    words.contains(|c: char| c.is_ascii_digit())
        || first.starts_with(char::is_uppercase)
        || CALENDAR.contains(&first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_skill_may_have_its_day() {
        for (written, one_form) in [
            ("slurs by 2026-10-01", Some("slurs by 2026-10-01")),
            ("slurs by Oct 1, 2026", Some("slurs by 2026-10-01")),
            ("dynamics by subtraction", Some("dynamics by subtraction")),
            ("slurs by Thanksgiving", None),
            ("slurs by 2026-13-01", None),
            ("slurs by next spring", None),
            ("not 6/8", Some("no 6/8")),
            ("not yet secure", None),
            ("ties. not 6/8", None),
            ("no", None),
            ("lip slurs yes", Some("lip slurs")),
            ("lip slurs no", Some("no lip slurs")),
            ("compound feel, no", Some("no compound feel")),
            ("no lip slurs", Some("no lip slurs")),
            ("yes", None),
            ("rolls kinda & 1st scale syncopation next", None),
            ("week 5", None),
            ("D.S. al Coda", Some("D.S. al Coda")),
        ] {
            let shown = Skill::read(written).map(|skill| skill.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
        }
    }
}
