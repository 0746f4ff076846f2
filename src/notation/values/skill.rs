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
    /// Whether the card says that it is not.
    pub not: bool,
    /// The week of the term in which it was met.
    pub week: Option<u32>,
    /// Whether it is said to be not secure yet.
    pub shaky: bool,
    /// Whether it is what comes next, and so is not taught.
    pub next: bool,
}

/// Words that say that a skill was met and is not secure yet.
const SHAKY: [&str; 18] = [
    "not yet secure",
    "not secure yet",
    "not secure",
    "not yet solid",
    "not solid yet",
    "not solid",
    "still shaky",
    "shaky",
    "needs work",
    "needs more work",
    "not there yet",
    "in progress",
    "kinda",
    "sorta",
    "kind of",
    "sort of",
    "a little",
    "almost there",
];

/// Words that say what being taught says anyway.
const SECURE: [&str; 5] = ["solid", "down pat", "secure", "down cold", "nailed"];

/// Words that say that a skill comes next.
const NEXT: [&str; 5] = ["is next", "comes next", "coming next", "up next", "next"];

impl Skill {
    /// Reads `slurs by 2026-10-01`, `sixteenths, week 5`, `ties, not yet secure`, `not 6/8`, `6/8 not yet`; words are
    /// the skill's name, and a rule tells names that nobody knows.
    pub fn read(text: &str) -> Option<Skill> {
        let (mut head, mut week, mut shaky) = (text.trim(), None, false);
        while let Some((before, part)) = head.rsplit_once([',', ';']) {
            match week_of(part) {
                Some(found) if week.is_none() => week = Some(found),
                None if is_shaky(part) && !shaky => shaky = true,
                _ => break,
            }
            head = before.trim_end();
        }
        if week.is_none() {
            (head, week) = take_week(head);
        }
        if !shaky {
            (head, shaky) = take_tail(head, &SHAKY);
        }
        if !shaky {
            (head, _) = take_tail(head, &SECURE);
        }
        let (head, next) = match shaky {
            true => (head, false),
            false => take_tail(head, &NEXT),
        };
        let (head, not) = match next {
            true => (head, true),
            false => take_not(head),
        };
        let skill = Skill::bare(head)?;
        // A skill that is not taught was not met in a week, and is not shaky.
        let fits = !not || week.is_none() && !shaky && skill.by.is_none();
        fits.then_some(Skill {
            not,
            week,
            shaky,
            next,
            ..skill
        })
    }

    /// Whether words go on with the skill before them: `week 5`, `not yet secure`.
    pub fn goes_on(text: &str) -> bool {
        let answer = ["yes", "no"]
            .iter()
            .any(|answer| text.trim().eq_ignore_ascii_case(answer));
        answer || week_of(text).is_some() || is_shaky(text)
    }

    fn bare(text: &str) -> Option<Skill> {
        let text = text.trim();
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
        // `cut time, October 2026`: when it was met, and no skill; and `its the whole riff` is talk.
        let dated = Day::read(name).filter(|day| {
            // `6/8` is a meter, and `march` a style.
            name.contains(char::is_alphabetic)
                && day.month.is_some()
                && (day.year.is_some() || day.day.is_some())
        });
        let other = dated.is_some() || is_talk(name);
        (!name.is_empty() && !other && is_a_name(name)).then(|| Skill {
            name: crate::notation::scan::single(name),
            by,
            not: false,
            week: None,
            shaky: false,
            next: false,
        })
    }
}

/// Whether words begin as a sentence about somebody does, which no skill's name is.
fn is_talk(name: &str) -> bool {
    const LEADS: [&str; 18] = [
        "it's", "its", "it", "they", "they're", "we", "i", "i'm", "you", "he", "she", "so", "but", "which",
        "who", "kids", "that's", "thats",
    ];
    let first = name.split(' ').next().unwrap_or("");
    name.contains(' ') && LEADS.iter().any(|lead| first.eq_ignore_ascii_case(lead))
}

/// `week 5`, `in wk 5`.
fn week_of(text: &str) -> Option<u32> {
    let mut words = super::cursor::Cursor::new(text);
    words.take("in");
    words.any(&["week", "wk", "wk."]).then_some(())?;
    let week = words.number().filter(|week| (1..=60).contains(week))?;
    words.done().then_some(week)
}

fn is_shaky(text: &str) -> bool {
    SHAKY.iter().any(|known| text.trim().eq_ignore_ascii_case(known))
}

/// `sixteenths in week 5`: the week off the end.
fn take_week(text: &str) -> (&str, Option<u32>) {
    let found = [" in week ", " in wk ", " week ", " wk "]
        .iter()
        .find_map(|lead| {
            let at = text.rfind(lead)?;
            Some((text.get(..at)?.trim_end(), Some(week_of(text.get(at..)?)?)))
        });
    found.unwrap_or((text, None))
}

/// `ties not yet secure`: what is said of it off the end.
fn take_tail<'t>(text: &'t str, tails: &[&str]) -> (&'t str, bool) {
    let found = tails.iter().find_map(|words| {
        let at = text.len().checked_sub(words.len())?;
        let head = text.get(..at)?;
        let fits = text.get(at..)?.eq_ignore_ascii_case(words) && head.ends_with(' ');
        fits.then(|| head.trim_end())
    });
    match found {
        Some(head) => (head, true),
        None => (text, false),
    }
}

/// `not 6/8`, `no 6/8 yet`, `6/8 not yet`: whether the card says that it is not so.
fn take_not(text: &str) -> (&str, bool) {
    // `compound feel, no` and `lip slurs yes` are questions with their answers.
    for (answer, not) in [("no", true), ("yes", false)] {
        let head = text
            .len()
            .checked_sub(answer.len())
            .filter(|at| {
                text.get(*at..)
                    .is_some_and(|tail| tail.eq_ignore_ascii_case(answer))
            })
            .and_then(|at| text.get(..at))
            .filter(|head| head.ends_with([' ', ',']))
            .map(|head| head.trim_end_matches([' ', ',']));
        if let Some(head) = head.filter(|head| !head.is_empty()) {
            return (head, not);
        }
    }
    for lead in ["not yet ", "not ", "no ", "never "] {
        if let Some(rest) = text.strip_prefix(lead).filter(|rest| !rest.trim().is_empty()) {
            let rest = rest.trim_end().strip_suffix(" yet").unwrap_or(rest);
            return (rest, true);
        }
    }
    match [" not yet", " not taught", " not"]
        .iter()
        .find_map(|tail| text.strip_suffix(tail))
    {
        Some(head) if !head.is_empty() => (head, true),
        _ => (text, false),
    }
}

impl fmt::Display for Skill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.not && !self.next { "not " } else { "" })?;
        f.write_str(&self.name)?;
        f.write_str(if self.next { " next" } else { "" })?;
        if let Some(day) = self.by {
            write!(f, " by {day}")?;
        }
        if let Some(week) = self.week {
            write!(f, " in week {week}")?;
        }
        f.write_str(if self.shaky { ", not yet secure" } else { "" })
    }
}

/// What a player learns not to do (common practice, no source).
const HELD_BACK: [&str; 7] = ["rush", "drag", "speed", "slow", "breathe", "stop", "breathing"];

/// Whether words can name a skill. A word that denies or puts off (`6/8 no`, `not 6/8`, `syncopation next`) is no
/// part of a name, and neither is a sentence's full stop in the middle.
fn is_a_name(words: &str) -> bool {
    const NONE: [&str; 20] = [
        "just", "solid", "no", "not", "yes", "never", "none", "yet", "next", "kinda", "sorta", "maybe",
        "isn't", "cannot", "can't", "don't", "didn't", "still", "soon", "already",
    ];
    if words.starts_with(crate::notation::scan::is_quote) {
        return true;
    }
    // `everything up to exercise 84` is no skill's name, and neither is `all`.
    let lower = words.to_lowercase();
    // `m 33` is a place, and so is `once` no skill.
    if crate::notation::facts::starts_measure(words)
        || matches!(lower.as_str(), "once" | "twice")
        || lower.contains(" last ")
    {
        return false;
    }
    let sweeping = [
        "everything",
        "anything",
        "all of",
        "most of",
        "half of",
        "week of",
        "since",
        "last week",
    ]
    .iter()
    .any(|lead| {
        lower
            .strip_prefix(lead)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    });
    // `two lessons so far` is a time, and `concert Bb` a key.
    let count = lower.split(' ').take(2).collect::<Vec<_>>().join(" ");
    let key = words.strip_prefix("concert ").unwrap_or(words);
    let mut letters = key.chars();
    let is_key = letters.next().is_some_and(|c| ('A'..='G').contains(&c))
        && matches!(letters.as_str(), "" | "b" | "#" | "♭" | "♯");
    if is_key || super::takes::Takes::read(&count).is_some() {
        return false;
    }
    if sweeping || lower.contains(" up to ") {
        return false;
    }
    if words.contains([',', ';']) {
        return false;
    }
    let mut all = words.split_whitespace().peekable();
    let mut joint = false;
    while let Some(word) = all.next() {
        // `hold a note & not rush` is one thing to be able to do.
        let held = joint && word == "not" && all.peek().is_some_and(|next| HELD_BACK.contains(next));
        joint = matches!(word, "and" | "&");
        if held {
            continue;
        }
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
            ("not 6/8", Some("not 6/8")),
            ("6/8 not yet", Some("not 6/8")),
            ("lip slurs yes", Some("lip slurs")),
            ("lip slurs no", Some("not lip slurs")),
            ("compound feel, no", Some("not compound feel")),
            ("yes", None),
            (
                "semiquavers, week 5; not yet secure",
                Some("semiquavers in week 5, not yet secure"),
            ),
            ("ties still shaky", Some("ties, not yet secure")),
            (
                "slurs by 2026-10-01, week 5",
                Some("slurs by 2026-10-01 in week 5"),
            ),
            ("semiquavers, zqxv", None),
            ("not 6/8 in week 5", None),
            ("everything up to exercise 84", None),
            ("two lessons so far", None),
            ("concert Bb", None),
            ("not Db", None),
            ("ties. not 6/8", None),
            ("no", None),
            ("rolls kinda & 1st scale syncopation next", None),
            ("rolls kinda", Some("rolls, not yet secure")),
            ("eighths solid", Some("eighths")),
            ("syncopation next", Some("syncopation next")),
            ("next syncopation", None),
            ("syncopation zqxv next week", None),
            (
                "everybody can hold a whole note & not rush",
                Some("everybody can hold a whole note & not rush"),
            ),
            ("hold a whole note & not 6/8", None),
            ("week 5", None),
            ("D.S. al Coda", Some("D.S. al Coda")),
        ] {
            let read = Skill::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Skill::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
