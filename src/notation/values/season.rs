//! A school year: `2026-27`.

use std::fmt;

use super::day::{Day, Days};

/// A school year, by the calendar year in which it starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Season {
    /// The first calendar year.
    pub first: i16,
}

impl Season {
    /// Reads `2026-27`, `2026-2027`, `2026/27`, `26-27`, `2026 to 2027`, `the 2026-27 school year`, `Aug 2026 to June
    /// 2027`. The second year must be the next.
    pub fn read(text: &str) -> Option<Season> {
        if let Some(first) = months(text) {
            return Some(Season { first });
        }
        let text = &without_year(text);
        let plain = text
            .trim()
            .replace(" to ", "-")
            .replace(['/', '–', '—'], "-")
            .replace(' ', "");
        if let Some(first) = term(text) {
            return Some(Season { first });
        }
        let (first, second) = plain.split_once('-')?;
        let first = year(first)?;
        (year(second)? == first + 1).then_some(Season { first })
    }
}

/// `autumn and spring terms`, `2nd semester only`, `second semester`: terms of a year that is not said.
pub fn terms(text: &str) -> Option<String> {
    const TERMS: [&str; 9] = [
        "fall",
        "autumn",
        "winter",
        "spring",
        "summer",
        "lent",
        "michaelmas",
        "easter",
        "trinity",
    ];
    const ORDINALS: [(&str, &str); 8] = [
        ("1st", "first"),
        ("2nd", "second"),
        ("first", "first"),
        ("second", "second"),
        ("third", "third"),
        ("3rd", "third"),
        ("both", "both"),
        ("all", "all"),
    ];
    const KINDS: [(&str, &str); 8] = [
        ("terms", "terms"),
        ("term", "term"),
        ("semesters", "semesters"),
        ("semester", "semester"),
        ("sem", "semester"),
        ("sem.", "semester"),
        ("trimester", "trimester"),
        ("half-term", "half-term"),
    ];
    let lower = text.trim().to_lowercase();
    if let Some(said) = this_year(&lower) {
        return Some(said);
    }
    let lower = lower.strip_suffix(" only").unwrap_or(&lower);
    let words: Vec<&str> = lower.split_whitespace().filter(|word| *word != "the").collect();
    let (last, before) = words.split_last()?;
    let (_, kind) = KINDS.iter().find(|(known, _)| known == last)?;
    let mut shown: Vec<&str> = Vec::new();
    for word in before {
        let ordinal = ORDINALS
            .iter()
            .find(|(known, _)| known == word)
            .map(|(_, said)| *said);
        let term = TERMS.iter().find(|term| *term == word).copied();
        match *word {
            "and" | "&" => shown.push("and"),
            _ => shown.push(ordinal.or(term)?),
        }
    }
    let whole =
        shown.first().is_some_and(|word| *word != "and") && shown.last().is_some_and(|word| *word != "and");
    whole.then(|| format!("{} {kind}", shown.join(" ")))
}

/// `this year`, `this yr thru june`: the school year of whoever wrote it, perhaps with the month it ends in.
fn this_year(lower: &str) -> Option<String> {
    let mut words = super::cursor::Cursor::new(lower);
    words
        .any(&["this school year", "this school yr", "this year", "this yr"])
        .then_some(())?;
    if words.done() {
        return Some("this school year".to_owned());
    }
    words
        .any(&["to", "thru", "through", "until", "till", "til"])
        .then_some(())?;
    words.take("the end of");
    let month = Day::read(&words.rest()).filter(|day| day.year.is_none() && day.month.is_some())?;
    Some(format!("this school year to {month}"))
}

/// `Sept-June`, `August 28 to May 24`: from a month or day to another, in a year that is not said.
pub fn span(text: &str) -> Option<Days> {
    let joined = text
        .replace(['–', '—'], "-")
        .replace(" through ", " - ")
        .replace(" thru ", " - ")
        .replace(" to ", " - ");
    let (from, until) = joined.split_once('-')?;
    let day = |text: &str| Day::read(text.trim()).filter(|day| day.year.is_none() && day.month.is_some());
    let (from, until) = (day(from)?, day(until)?);
    Some(Days {
        from: Some(from),
        until: Some(until),
    })
}

/// Without the words that say that it is a school year.
fn without_year(text: &str) -> String {
    let lower = text.trim().to_lowercase();
    let mut text = lower.strip_prefix("the ").unwrap_or(&lower);
    for words in ["school year", "academic year", "sy", "season"] {
        text = text.strip_prefix(words).unwrap_or(text).trim();
        text = text.strip_suffix(words).unwrap_or(text).trim();
    }
    text.to_owned()
}

/// The first year of `Aug 2026 - June 2027`.
fn months(text: &str) -> Option<i16> {
    let joined = text
        .replace(['–', '—'], "-")
        .replace(" to ", " - ")
        .replace(" through ", " - ");
    let (from, to) = joined.split_once('-')?;
    let month = |text: &str| {
        let day = Day::read(text.trim()).filter(|day| day.day.is_none())?;
        Some((day.year?, day.month?))
    };
    let ((first, from), (last, to)) = (month(from)?, month(to)?);
    // A school year begins in the summer and ends before the next.
    (last == first + 1 && from >= 6 && to <= 8).then_some(first)
}

/// The first year of the school year in which a term lies: `fall 2026`, `Autumn term 2026`, `spring 2027`.
fn term(text: &str) -> Option<i16> {
    let lower = text.trim().to_lowercase();
    let (words, written) = lower.rsplit_once(' ')?;
    let words = words
        .trim_end()
        .trim_end_matches("term")
        .trim_end_matches("semester")
        .trim();
    let year = year(written).filter(|_| written.len() == 4)?;
    match words {
        "fall" | "autumn" => Some(year),
        "winter" => None,
        "spring" | "summer" => Some(year - 1),
        _ => None,
    }
}

fn year(text: &str) -> Option<i16> {
    let text = text.trim_start_matches(['\'', '’']);
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    let number: i16 = digits.then(|| text.parse().ok()).flatten()?;
    match text.len() {
        2 => Some(2000 + number),
        4 => (1900..=2099).contains(&number).then_some(number),
        _ => None,
    }
}

impl fmt::Display for Season {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{:02}", self.first, (self.first + 1) % 100)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terms_are_kept_in_their_words() {
        for (written, one_form) in [
            ("2nd sem only", Some("second semester")),
            ("this yr thru june", Some("this school year to June")),
            ("this school year", Some("this school year")),
            ("this yr zqxv june", None),
            ("this yr thru zqxv", None),
            ("last yr thru june", None),
        ] {
            let read = terms(written);
            assert_eq!(read.as_deref(), one_form, "{written}");
            assert_eq!(read.as_deref().and_then(terms), read, "{written} again");
        }
    }

    #[test]
    fn school_years_are_read() {
        for (written, one_form) in [
            ("2026-27", Some("2026-27")),
            ("2026-2027", Some("2026-27")),
            ("26/27", Some("2026-27")),
            ("2026 to 2027", Some("2026-27")),
            ("2026-2027 school year", Some("2026-27")),
            ("the 26-27 school year", Some("2026-27")),
            ("SY 26-27", Some("2026-27")),
            ("Aug 2026 - June 2027", Some("2026-27")),
            ("September 2026 to June 2027", Some("2026-27")),
            ("Aug 2026 - June 2028", None),
            ("Jan 2026 - June 2027", None),
            ("Autumn term 2026", Some("2026-27")),
            ("fall 2026", Some("2026-27")),
            ("spring 2027", Some("2026-27")),
            ("winter 2026", None),
            ("autumn zqxv 2026", None),
            ("2026-99", None),
            ("2026", None),
            ("2026-27 zqxv", None),
            ("zqxv 2026-27", None),
        ] {
            assert_eq!(
                Season::read(written).map(|season| season.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }
}
