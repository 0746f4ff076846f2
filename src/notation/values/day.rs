//! Days as directors write them, ISO 8601 in the one form.

use std::fmt;

use jiff::civil::{Date, Weekday};

use super::cursor::Cursor;
use crate::text::sentences::capital;

/// A day, a month, a year or a term of a year. A day whose year is not written has none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Day {
    /// The year, with four digits, where it is written.
    pub year: Option<i16>,
    /// The month, 1 to 12, where it is known.
    pub month: Option<i8>,
    /// The day of the month, where it is known.
    pub day: Option<i8>,
    /// The term, where that is said instead of a month.
    pub term: Option<Term>,
    /// The day of the week, where it is written beside the day.
    pub weekday: Option<Weekday>,
}

/// A part of the year. The months are those a school means by it (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Term {
    /// January to June.
    Spring,
    /// June to August.
    Summer,
    /// August to December.
    Fall,
    /// All of the year, since winter lies at both of its ends.
    Winter,
}

const TERMS: [(&str, Term); 7] = [
    ("spring", Term::Spring),
    ("summer", Term::Summer),
    ("fall", Term::Fall),
    ("autumn", Term::Fall),
    ("winter", Term::Winter),
    ("spr", Term::Spring),
    ("sp", Term::Spring),
];

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// So many days after it a loan's end without a year is still that one, and not the next year's (our own figure: a
/// season of three months).
const LONG_OVER: i64 = 92;

/// Days that are called by a name, and fall on the same day each year.
const NAMED: [(&str, i8, i8); 7] = [
    ("christmas", 12, 25),
    ("xmas", 12, 25),
    ("x-mas", 12, 25),
    ("halloween", 10, 31),
    ("valentine's", 2, 14),
    ("new year's", 1, 1),
    ("new year", 1, 1),
];

const WEEKDAYS: [(Weekday, &str, &[&str]); 7] = [
    (Weekday::Monday, "Monday", &["mon", "mondays"]),
    (Weekday::Tuesday, "Tuesday", &["tue", "tues", "tuesdays"]),
    (Weekday::Wednesday, "Wednesday", &["wed", "weds", "wednesdays"]),
    (
        Weekday::Thursday,
        "Thursday",
        &["thu", "thur", "thurs", "thursdays"],
    ),
    (Weekday::Friday, "Friday", &["fri", "fridays"]),
    (Weekday::Saturday, "Saturday", &["sat", "saturdays"]),
    (Weekday::Sunday, "Sunday", &["sun", "sundays"]),
];

/// The day of the week that a word names: `Thursday`, `Thu`, `thurs.`
pub fn weekday(word: &str) -> Option<Weekday> {
    let word = word.trim_end_matches(['.', ',']);
    let is = |name: &&str| name.eq_ignore_ascii_case(word);
    WEEKDAYS
        .iter()
        .find(|(_, name, others)| is(name) || others.iter().any(is))
        .map(|(weekday, ..)| *weekday)
}

/// The name of a day of the week.
pub fn weekday_name(weekday: Weekday) -> &'static str {
    WEEKDAYS
        .iter()
        .find(|(known, ..)| *known == weekday)
        .map_or("", |(_, name, _)| name)
}

impl Day {
    /// The day as it is said: `Thursday, December 10, 2026`; one that is not in the calendar as it is written.
    pub fn spelled(&self) -> String {
        let date = self.day.and_then(|_| self.first());
        let named = date.and_then(|date| {
            let month = usize::try_from(date.month()).ok()?.checked_sub(1)?;
            Some((date, MONTHS.get(month)?))
        });
        match named {
            Some((date, month)) => format!(
                "{}, {} {}, {}",
                weekday_name(date.weekday()),
                capital(month),
                date.day(),
                date.year()
            ),
            None => self.to_string(),
        }
    }

    /// Reads `2026-12-10`, `2026-12`, `2026`, `Dec 10, 2026`, `Fri, Dec 11, 2026`, `10 December 2026`,
    /// `December 2026`, `12/10/2026`, `12/10/26`, `fall 2025`; without a year `Dec 10`, `12/10`, `December`,
    /// `Christmas`, `last spring`.
    ///
    /// A date with slashes is month, day, year, as in the United States.
    pub fn read(text: &str) -> Option<Day> {
        let text = text.trim();
        if text.len() > 40 {
            return None;
        }
        let spaced = text.replace(',', " ");
        let mut words: Vec<&str> = spaced.split_whitespace().collect();
        let mut found = None;
        if words.len() > 1 {
            if let Some(first) = words.first().and_then(|word| weekday(word)) {
                found = Some(first);
                words.remove(0);
            } else if let Some(last) = words.last().and_then(|word| weekday(word)) {
                found = Some(last);
                words.pop();
            }
        }
        let day = match *words.as_slice() {
            [word] => one_word(word),
            [first, second] => named(&[first, second], None).or_else(|| two_words(first, second)),
            [first, second, third] => three_words(first, second, third),
            _ => None,
        }?;
        match found {
            Some(_) if day.day.is_none() => None,
            weekday => Some(Day { weekday, ..day }),
        }
    }

    /// A calendar day.
    pub fn of(date: Date) -> Day {
        Day {
            year: Some(date.year()),
            month: Some(date.month()),
            day: Some(date.day()),
            term: None,
            weekday: None,
        }
    }

    fn checked(year: Option<i16>, month: Option<i8>, day: Option<i8>) -> Option<Day> {
        // In a leap year, so that the 29th of February can stand without its year.
        Date::new(year.unwrap_or(2024), month.unwrap_or(1), day.unwrap_or(1)).ok()?;
        Some(Day {
            year,
            month,
            day,
            term: None,
            weekday: None,
        })
    }

    /// The first calendar day that it can mean; none where the year is not written.
    pub fn first(self) -> Option<Date> {
        let month = match self.term {
            Some(Term::Summer) => 6,
            Some(Term::Fall) => 8,
            _ => self.month.unwrap_or(1),
        };
        Date::new(self.year?, month, self.day.unwrap_or(1)).ok()
    }

    /// The last calendar day that it can mean; none where the year is not written.
    pub fn last(self) -> Option<Date> {
        let month = match self.term {
            Some(Term::Spring) => 6,
            Some(Term::Summer) => 8,
            _ => self.month.unwrap_or(12),
        };
        match self.day {
            Some(day) => Date::new(self.year?, month, day).ok(),
            None => Date::new(self.year?, month, 1)
                .ok()
                .map(|date| date.last_of_month()),
        }
    }

    /// The same day with the year that it has in a school year: July to December lie in its first calendar
    /// year, January to June in its second (common practice, no source).
    #[must_use]
    pub fn in_season(self, first_year: i16) -> Day {
        let year = match (self.year, self.month) {
            (None, Some(month)) => Some(first_year.saturating_add(i16::from(month < 7))),
            // `last spring` is the one before the school year.
            (None, None) if self.term.is_some() => Some(first_year),
            (year, _) => year,
        };
        Day { year, ..self }
    }

    /// The day on which something ends that is still going on, such as a loan: without a year the one that is at most
    /// so many days over, else the next.
    #[must_use]
    pub fn ending(self, today: Date) -> Day {
        if self.year.is_some() || self.month.is_none() {
            return self;
        }
        let oldest = today
            .checked_sub(jiff::Span::new().days(LONG_OVER))
            .unwrap_or(today);
        let years = [-1, 0, 1].map(|more| today.year().saturating_add(more));
        let days = years.map(|year| Day {
            year: Some(year),
            ..self
        });
        let found = days
            .into_iter()
            .find(|day| day.last().is_some_and(|last| last >= oldest));
        found.unwrap_or(self)
    }

    /// The day of the week that it is, where it is written otherwise.
    pub fn other_weekday(self) -> Option<Weekday> {
        let written = self.weekday?;
        let is = Date::new(self.year?, self.month?, self.day?).ok()?.weekday();
        (is != written).then_some(is)
    }
}

/// A day in figures of which nobody can tell which is the month: `12/11/22`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EitherWay {
    /// Where it starts, in bytes.
    pub start: usize,
    /// How many bytes it takes.
    pub length: usize,
    /// The day with the month first, as it is read.
    pub month_first: Day,
    /// The day with the month second.
    pub day_first: Day,
}

impl EitherWay {
    /// The first such day in a text, with slashes or dots between its figures.
    pub fn find(text: &str) -> Option<EitherWay> {
        text.split([' ', ',', ';']).find_map(|word| {
            let parts: Vec<&str> = word.split(['/', '.']).collect();
            let [first, second, year] = parts.as_slice() else {
                return None;
            };
            let (month, day, year) = (figure(first)?, figure(second)?, year_of(year)?);
            (month != day).then_some(())?;
            Some(EitherWay {
                start: word.as_ptr() as usize - text.as_ptr() as usize,
                length: word.len(),
                month_first: Day::checked(Some(year), Some(month), Some(day))?,
                day_first: Day::checked(Some(year), Some(day), Some(month))?,
            })
        })
    }
}

/// Whether a card is written as the British write, who put the day before the month: its money or its note values say
/// so (common practice, no source).
pub fn is_british(text: &str) -> bool {
    const WORDS: [&str; 16] = [
        "crotchet",
        "crotchets",
        "quaver",
        "quavers",
        "minim",
        "minims",
        "semibreve",
        "semibreves",
        "semiquaver",
        "semiquavers",
        "demisemiquavers",
        "centre",
        "programme",
        "gbp",
        "half-term",
        "fete",
    ];
    text.contains('£')
        || text
            .split(|c: char| !(c.is_alphanumeric() || c == '-'))
            .any(|word| WORDS.iter().any(|known| word.eq_ignore_ascii_case(known)))
}

/// `Christmas`, `New Year's`: a day that is called by its name.
fn named(words: &[&str], year: Option<i16>) -> Option<Day> {
    let name = words.join(" ").to_lowercase();
    let (_, month, day) = NAMED.iter().find(|(known, ..)| *known == name)?;
    Day::checked(year, Some(*month), Some(*day))
}

fn one_word(word: &str) -> Option<Day> {
    if let Some(day) = named(&[word], None) {
        return Some(day);
    }
    if let Some(month) = month_named(word) {
        return Day::checked(None, Some(month), None);
    }
    let slashed = word.contains('/');
    let parts: Vec<&str> = word.trim_end_matches('.').split(['/', '-', '–', '.']).collect();
    match *parts.as_slice() {
        [year] => {
            let short = year
                .strip_prefix(['\'', '’'])
                .filter(|figures| figures.len() == 2);
            let year = match short {
                Some(figures) => year_of(figures)?,
                None => full_year(year)?,
            };
            Day::checked(Some(year), None, None)
        }
        [year, month] if full_year(year).is_some() => Day::checked(
            full_year(year),
            Some(figure(month).or_else(|| month_named(month))?),
            None,
        ),
        [month, day] if slashed => Day::checked(None, Some(figure(month)?), Some(figure(day)?)),
        [year, month, day] if full_year(year).is_some() => Day::checked(
            full_year(year),
            Some(figure(month).or_else(|| month_named(month))?),
            Some(figure(day)?),
        ),
        [month, day, year] if slashed => {
            Day::checked(Some(year_of(year)?), Some(figure(month)?), Some(figure(day)?))
        }
        [month, day, year] => Day::checked(Some(full_year(year)?), Some(figure(month)?), Some(figure(day)?)),
        _ => None,
    }
}

fn two_words(first: &str, second: &str) -> Option<Day> {
    if let Some((_, term)) = TERMS.iter().find(|(name, _)| first.eq_ignore_ascii_case(name)) {
        return Some(Day {
            term: Some(*term),
            ..Day::checked(Some(year_of(second)?), None, None)?
        });
    }
    // `last spring`: which one that is hangs on the day it was written.
    if first.eq_ignore_ascii_case("last") {
        let (_, term) = TERMS.iter().find(|(name, _)| second.eq_ignore_ascii_case(name))?;
        return Some(Day {
            term: Some(*term),
            ..Day::checked(None, None, None)?
        });
    }
    if let Some(day) = full_year(second).and_then(|year| named(&[first], Some(year))) {
        return Some(day);
    }
    if let Some(year) = full_year(first) {
        return Day::checked(
            Some(year),
            Some(month_named(second).or_else(|| figure(second))?),
            None,
        );
    }
    if let Some(month) = month_named(first) {
        return match year_named(second) {
            Some(year) => Day::checked(Some(year), Some(month), None),
            None => Day::checked(None, Some(month), Some(figure(ordinal(second))?)),
        };
    }
    Day::checked(None, Some(month_named(second)?), Some(figure(ordinal(first))?))
}

fn three_words(first: &str, second: &str, third: &str) -> Option<Day> {
    let second_day = || figure(ordinal(second));
    if let Some(year) = full_year(first) {
        let month = month_named(second).or_else(second_day)?;
        return Day::checked(Some(year), Some(month), Some(figure(ordinal(third))?));
    }
    if let Some(month) = month_named(first) {
        return Day::checked(Some(year_named(third)?), Some(month), Some(second_day()?));
    }
    let month = month_named(second)?;
    Day::checked(
        Some(year_named(third)?),
        Some(month),
        Some(figure(ordinal(first))?),
    )
}

/// A month or day in one or two figures.
fn figure(word: &str) -> Option<i8> {
    let digits = (1..=2).contains(&word.len()) && word.chars().all(|c| c.is_ascii_digit());
    digits.then(|| word.parse().ok()).flatten()
}

/// A year in four figures. Beyond these ends it is a slip: nobody's library is older, and no plan is farther.
fn full_year(part: &str) -> Option<i16> {
    let digits = part.len() == 4 && part.chars().all(|c| c.is_ascii_digit());
    digits
        .then(|| part.parse().ok())
        .flatten()
        .filter(|year| (1800..=2079).contains(year))
}

/// A year in four figures, or in two: `26` is 2026, `98` is 1998.
fn year_of(part: &str) -> Option<i16> {
    let part = part.trim_start_matches(['\'', '’']);
    full_year(part).or_else(|| {
        let short = i16::from(figure(part).filter(|_| part.len() == 2)?);
        Some(if short < 80 { 2000 + short } else { 1900 + short })
    })
}

/// A year behind the name of a month: in two figures only after an apostrophe, since `Dec 26` is a day.
fn year_named(part: &str) -> Option<i16> {
    full_year(part).or_else(|| part.starts_with(['\'', '’']).then(|| year_of(part)).flatten())
}

fn month_named(part: &str) -> Option<i8> {
    let part = part.trim_end_matches('.').to_lowercase();
    if part.len() < 3 {
        return None;
    }
    let index = MONTHS
        .iter()
        .position(|month| *month == part || *month.get(..3).unwrap_or("") == part || short(month, &part))?;
    i8::try_from(index + 1).ok()
}

/// `sept`, `june` as `jun`, `march` as `mar`: an abbreviation of four letters.
fn short(month: &str, part: &str) -> bool {
    part.len() == 4 && month.starts_with(part)
}

fn ordinal(part: &str) -> &str {
    ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|ending| part.strip_suffix(ending))
        .unwrap_or(part)
}

impl PartialOrd for Day {
    fn partial_cmp(&self, other: &Day) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Day {
    fn cmp(&self, other: &Day) -> std::cmp::Ordering {
        let weekday = |day: &Day| day.weekday.map(|day| day.to_monday_one_offset());
        let term = |day: &Day| day.term.map(|term| term as u8);
        (self.year, self.month, self.day, term(self), weekday(self)).cmp(&(
            other.year,
            other.month,
            other.day,
            term(other),
            weekday(other),
        ))
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(weekday) = self.weekday {
            write!(f, "{} ", weekday_name(weekday))?;
        }
        let Some(year) = self.year else {
            if let Some(term) = self.term {
                let name = TERMS.iter().find(|(_, known)| *known == term);
                return write!(f, "last {}", name.map_or("", |(name, _)| name));
            }
            let month = self.month.and_then(|month| usize::try_from(month - 1).ok());
            let name = month.and_then(|month| MONTHS.get(month)).unwrap_or(&"");
            let capital: String = name
                .chars()
                .enumerate()
                .map(|(at, c)| if at == 0 { c.to_ascii_uppercase() } else { c })
                .collect();
            return match self.day {
                Some(day) => write!(f, "{} {day}", capital.get(..3).unwrap_or(&capital)),
                None => f.write_str(&capital),
            };
        };
        if let Some(term) = self.term {
            let name = TERMS.iter().find(|(_, known)| *known == term);
            write!(f, "{} ", name.map_or("", |(name, _)| name))?;
        }
        write!(f, "{year:04}")?;
        if let Some(month) = self.month {
            write!(f, "-{month:02}")?;
            if let Some(day) = self.day {
                write!(f, "-{day:02}")?;
            }
        }
        Ok(())
    }
}

/// A stretch of days, such as a loan or a holiday.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Days {
    /// The first day, where it is said.
    pub from: Option<Day>,
    /// The last day, where it is said.
    pub until: Option<Day>,
}

impl Days {
    /// Reads `2027-03-01 to 2027-05-15`, `Dec 21-Jan 3`, `until 2027-05-15`, `from 2027-03-01`,
    /// `in December`, and one day alone.
    pub fn read(text: &str) -> Option<Days> {
        let mut words = Cursor::new(text);
        if words.any(&["until", "till", "til", "through", "thru", "'til"]) {
            return Days::ends(None, Day::read(&words.rest()));
        }
        if words.any(&["in", "for", "during"]) {
            let day = Day::read(&words.rest()).filter(|day| day.day.is_none())?;
            return Days::ends(Some(day), Some(day));
        }
        let from = words.take("from");
        let rest = words.rest();
        if let Some(day) = Day::read(&rest) {
            return Days::ends(Some(day), Some(day).filter(|_| !from));
        }
        for joint in [" to ", " until ", " through ", " thru ", "-", "–", "—"] {
            for (at, _) in rest.match_indices(joint) {
                let (head, tail) = (rest.get(..at)?.trim(), rest.get(at + joint.len()..)?.trim());
                let Some(first) = Day::read(head) else { continue };
                if let Some(last) = Day::read(tail).or_else(|| same_month(first, tail)) {
                    return Days::ends(Some(first), Some(last));
                }
            }
        }
        None
    }

    fn ends(from: Option<Day>, until: Option<Day>) -> Option<Days> {
        let backwards = from
            .and_then(Day::first)
            .zip(until.and_then(Day::last))
            .is_some_and(|(from, until)| until < from);
        let some = from.is_some() || until.is_some();
        (some && !backwards).then_some(Days { from, until })
    }

    /// Whether a day lies in the stretch. An end whose year is not known holds nothing off.
    pub fn holds(self, day: Date) -> bool {
        let begun = self.from.and_then(Day::first).is_none_or(|from| from <= day);
        begun && self.until.and_then(Day::last).is_none_or(|until| day <= until)
    }

    /// The same stretch, of something that is still going on, with the years that its ends have then.
    #[must_use]
    pub fn ending(self, today: Date) -> Days {
        let until = self.until.map(|day| day.ending(today));
        let from = self
            .from
            .map(|from| match until.map(|until| (until.year, until.month)) {
                // `Dec 1 to Jan 5` begins in the year before.
                Some((Some(year), Some(month))) if from.year.is_none() => Day {
                    year: Some(year.saturating_sub(i16::from(from.month.is_some_and(|from| from > month)))),
                    ..from
                },
                _ => from,
            });
        Days { from, until }
    }

    /// The same stretch with the years that its ends have in a school year.
    #[must_use]
    pub fn in_season(self, first_year: i16) -> Days {
        Days {
            from: self.from.map(|day| day.in_season(first_year)),
            until: self.until.map(|day| day.in_season(first_year)),
        }
    }
}

/// `Dec 21-23`: the month in front serves the day behind.
fn same_month(first: Day, tail: &str) -> Option<Day> {
    let day = figure(ordinal(tail))?;
    first.day.filter(|from| *from < day)?;
    Day::checked(first.year, first.month, Some(day))
}

impl fmt::Display for Days {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.from, self.until) {
            (Some(from), Some(until)) if from == until && from.day.is_none() => write!(f, "in {from}"),
            (Some(from), Some(until)) if from == until => write!(f, "{from}"),
            (Some(from), Some(until)) => write!(f, "{from} to {until}"),
            (Some(from), None) => write!(f, "from {from}"),
            (None, Some(until)) => write!(f, "until {until}"),
            (None, None) => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("2026-12-10", Some("2026-12-10")),
            ("Dec 10, 2026", Some("2026-12-10")),
            ("Dec. 10th, 2026", Some("2026-12-10")),
            ("10 December 2026", Some("2026-12-10")),
            ("12/10/2026", Some("2026-12-10")),
            ("12/10/26", Some("2026-12-10")),
            ("Thursday 2026-12-10", Some("Thursday 2026-12-10")),
            ("Fri, Dec 11, 2026", Some("Friday 2026-12-11")),
            ("2026-12-10 Thurs.", Some("Thursday 2026-12-10")),
            ("2024-02", Some("2024-02")),
            ("May 2024", Some("2024-05")),
            ("2024", Some("2024")),
            ("spring 2024", Some("spring 2024")),
            ("Autumn 2025", Some("fall 2025")),
            ("Dec 10", Some("Dec 10")),
            ("12/10", Some("Dec 10")),
            ("December", Some("December")),
            ("Feb 29", Some("Feb 29")),
            ("2026-02-30", None),
            ("2026-13-01", None),
            ("2020-13-14", None),
            ("2091-05-01", None),
            ("13/10/2026", None),
            ("Thursday", None),
            ("Thursday 2026", None),
            ("next spring", None),
            ("spring", None),
            ("Thanksgiving", None),
            ("Dec 10, 2026 zqxv", None),
            ("2026-12-10-11", None),
            ("soon", None),
            ("", None),
        ] {
            let read = Day::read(written);
            let shown = read.map(|day| day.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(shown.and_then(|shown| Day::read(&shown)), read, "{written} again");
        }
    }

    #[test]
    fn a_day_without_a_year_gets_it_from_the_school_year() {
        let in_season = |text: &str| Day::read(text).map(|day| day.in_season(2026).to_string());
        assert_eq!(in_season("Dec 10").as_deref(), Some("2026-12-10"));
        assert_eq!(in_season("May 4").as_deref(), Some("2027-05-04"));
        assert_eq!(in_season("2025-05-04").as_deref(), Some("2025-05-04"));
        assert_eq!(Day::read("Dec 10").and_then(Day::first), None);
    }

    #[test]
    fn the_end_of_a_loan_without_a_year_is_the_next_or_just_over() {
        let today = jiff::civil::date(2026, 10, 20);
        let end = |text: &str| Day::read(text).map(|day| day.ending(today).to_string());
        assert_eq!(end("Dec 25").as_deref(), Some("2026-12-25"));
        assert_eq!(end("Sept 1").as_deref(), Some("2026-09-01"));
        assert_eq!(end("Feb 1").as_deref(), Some("2027-02-01"));
        assert_eq!(end("2024-02-01").as_deref(), Some("2024-02-01"));
        assert_eq!(end("last spring").as_deref(), Some("last spring"));
        let days = |text: &str| Days::read(text).map(|days| days.ending(today).to_string());
        assert_eq!(days("Dec 1-Jan 5").as_deref(), Some("2026-12-01 to 2027-01-05"));
        assert_eq!(days("until Dec 20").as_deref(), Some("until 2026-12-20"));
    }

    #[test]
    fn another_weekday_than_the_written_one_is_seen() {
        let other = |text: &str| Day::read(text).and_then(Day::other_weekday);
        assert_eq!(other("Thursday 2026-12-10"), None);
        assert_eq!(other("Friday 2026-12-10"), Some(Weekday::Thursday));
        assert_eq!(other("Friday Dec 10"), None);
    }

    #[test]
    fn stretches_of_days_are_read() {
        for (written, one_form) in [
            ("2026-11-23 to 2026-11-27", Some("2026-11-23 to 2026-11-27")),
            ("Dec 21-Jan 3", Some("Dec 21 to Jan 3")),
            ("Dec 21-23", Some("Dec 21 to Dec 23")),
            ("until 2027-05-01", Some("until 2027-05-01")),
            ("til December", Some("until December")),
            ("in December", Some("in December")),
            ("from 2027-05-01", Some("from 2027-05-01")),
            ("2026-11-23", Some("2026-11-23")),
            ("2026-11-27 to 2026-11-23", None),
            ("until Thanksgiving", None),
            ("in zqxv", None),
        ] {
            let read = Days::read(written);
            let shown = read.map(|days| days.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Days::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
