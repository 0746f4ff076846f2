//! When a band rehearses: `every other day, 45 minutes, not 2026-11-23 to 2026-11-27`.

use std::fmt;

use jiff::civil::{Date, Weekday};

use super::cursor::Cursor;
use super::day::{Day, Days, weekday, weekday_name};
use super::lasts::Lasts;
use super::moment::{Hour, both_halves, read_time, show_time, venue};

/// What one item says of rehearsals.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Meets {
    /// On which days.
    pub on: Option<Pattern>,
    /// For how long.
    pub lasts: Option<Lasts>,
    /// When in the day, in one of the usual words.
    pub when: Option<String>,
    /// From what hour to what hour.
    pub hours: Option<(Hour, Hour)>,
    /// Days on which there is none.
    pub not: Option<Days>,
    /// When else there is none, in one of the usual words: days that nobody can figure from them.
    pub off: Option<String>,
    /// The first day of all.
    pub starts: Option<Day>,
    /// The last day of all.
    pub ends: Option<Day>,
    /// Where, in one of the usual words.
    pub venue: Option<&'static str>,
    /// Days on which only sections meet, and not the band.
    pub sectionals: Option<Vec<Weekday>>,
}

/// On which days a band rehearses.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pattern {
    /// Every school day.
    Daily,
    /// Every other school day.
    EveryOtherDay,
    /// On days that the school calls by a letter, of two that take turns.
    Letter(char),
    /// On these days of the week.
    Weekdays(Vec<Weekday>),
    /// So many times a week.
    TimesAWeek(u32),
    /// Other days in weeks that the school calls by letters, of two that take turns.
    Weeks(Vec<(char, Vec<Weekday>)>),
}

/// Stretches without rehearsals that have no date of their own (common practice, no source).
const OFF: [&str; 22] = [
    "both half-terms",
    "both half terms",
    "half-terms",
    "early release wednesdays",
    "early release weds",
    "half days",
    "holidays",
    "school holidays",
    "vacations",
    "breaks",
    "half-term",
    "half term",
    "exam week",
    "exam weeks",
    "testing week",
    "testing",
    "test weeks",
    "finals week",
    "assembly days",
    "early release days",
    "early release",
    "snow days",
];

/// When in the day, in the one form.
const WHEN: [(&str, &str); 14] = [
    ("before school", "before school"),
    ("after school", "after school"),
    ("at lunchtime", "at lunch"),
    ("lunchtime", "at lunch"),
    ("at lunch", "at lunch"),
    ("after lunch", "after lunch"),
    ("in the morning", "in the morning"),
    ("mornings", "in the morning"),
    ("in the afternoon", "in the afternoon"),
    ("afternoons", "in the afternoon"),
    ("in the evening", "in the evening"),
    ("evenings", "in the evening"),
    ("zero hour", "zero hour"),
    ("homeroom", "homeroom"),
];

impl Meets {
    /// Reads one item: `every other day`, `Mon Wed Fri 45 min`, `M/W/F`, `A days`, `twice a week`,
    /// `45 minutes before school`, `not 2026-11-23 to 2026-11-27`, `no rehearsal Dec 21-Jan 3`,
    /// `starts 2026-08-24`.
    pub fn read(text: &str) -> Option<Meets> {
        let mut words = Cursor::new(text);
        let mut meets = Meets::default();
        if words.any(&[
            "no rehearsals from",
            "no rehearsals",
            "no rehearsal on",
            "no rehearsal",
            "not on",
            "not",
            "none",
            "off",
            "except",
            "xcept",
            "but not",
        ]) {
            match words.longest(Days::read) {
                Some(days) => meets.not = Some(days),
                None => meets.off = Some(off(&mut words)?),
            }
            return words.done().then_some(meets);
        }
        if words.any(&[
            "starting",
            "starts on",
            "starts",
            "begins",
            "beginning",
            "from",
            "since",
        ]) {
            meets.starts = Some(words.longest(Day::read)?);
            return words.done().then_some(meets);
        }
        if words.any(&["ends on", "ends", "ending", "until", "through"]) {
            meets.ends = Some(words.longest(Day::read)?);
            return words.done().then_some(meets);
        }
        while !words.done() {
            if meets.hours.is_none()
                && meets.lasts.is_none()
                && let Some((from, until)) = words.longest(hours)
            {
                meets.hours = Some((from, until));
                let minutes = minutes_of(until).checked_sub(minutes_of(from))?;
                meets.lasts = Some(Lasts::read(&format!("{minutes} minutes"))?);
            } else if meets.lasts.is_none()
                && let Some(lasts) = words.longest(Lasts::read)
            {
                meets.lasts = Some(lasts);
            } else if meets.on.is_none()
                && let Some(pattern) = pattern(&mut words)
            {
                meets.on = Some(pattern);
            } else if meets.when.is_none()
                && let Some(when) = when(&mut words)
            {
                meets.when = Some(when);
            } else if meets.venue.is_none()
                && let Some(venue) = venue(&mut words)
            {
                meets.venue = Some(venue);
            } else if let Some(Pattern::Weekdays(days)) = &meets.on
                && words.any(&[
                    "sectionals only",
                    "sectionals",
                    "sectional",
                    "are sectionals",
                    "for sectionals",
                ])
            {
                meets.sectionals = Some(days.clone());
                meets.on = None;
            } else {
                return None;
            }
            words.any(&["for", "each", "at"]);
            if words.any(&["except", "xcept", "but not", "not"]) {
                match words.longest(Days::read) {
                    Some(days) => meets.not = Some(days),
                    None => meets.off = Some(off(&mut words)?),
                }
                return words.done().then_some(meets);
            }
        }
        (meets != Meets::default()).then_some(meets)
    }
}

fn minutes_of((hours, minutes): Hour) -> u32 {
    u32::from(hours) * 60 + u32::from(minutes)
}

/// `9:05-9:50`, `2:10 to 2:55 pm`, `8:15-9:00`: from one hour to a later one. School begins at seven, so that `2:10`
/// is in the afternoon (common practice, no source).
fn hours(text: &str) -> Option<(Hour, Hour)> {
    // `quarter to five` has a `to` of its own, so that the other joints go before it.
    let (from, until) = [" - ", " – ", " till ", " til ", " until ", " to ", "-", "–"]
        .iter()
        .find_map(|joint| text.split_once(joint))?;
    let half = |text: &str| text.to_lowercase().ends_with('m');
    let hour = |text: &str| {
        let text = with_colon(text.trim());
        let text = text.as_str();
        let quarters = ["half ", "quarter ", "a quarter "]
            .iter()
            .any(|lead| text.starts_with(lead));
        if !text.contains(':') && !half(text) && !quarters {
            return None;
        }
        let (hours, minutes) = read_time(text).or_else(|| both_halves(text).map(|[_, earlier]| earlier))?;
        let afternoon = hours < 7 && !text.starts_with('0') && !half(text);
        Some((if afternoon { hours + 12 } else { hours }, minutes))
    };
    let (from, until) = (hour(from)?, hour(until)?);
    let long = minutes_of(until).checked_sub(minutes_of(from))?;
    // Nobody rehearses longer than four hours, and a span that short is a length: `0:45-0:50`.
    (15..=240).contains(&long).then_some((from, until))
}

/// `3.30` is `3:30` (British use).
fn with_colon(text: &str) -> String {
    match text.split_once('.') {
        Some((hours, minutes))
            if (1..=2).contains(&hours.len())
                && hours.bytes().all(|byte| byte.is_ascii_digit())
                && minutes.len() >= 2
                && minutes.bytes().take(2).all(|byte| byte.is_ascii_digit()) =>
        {
            format!("{hours}:{minutes}")
        }
        _ => text.to_owned(),
    }
}

impl Meets {
    /// Days off and nothing else, as they are said beside a season: `off at both half-terms`, `nothing in January`.
    pub fn off_only(text: &str) -> Option<Meets> {
        let text = text.trim();
        let rest = [
            "nothing in ",
            "nothing on ",
            "nothing from ",
            "no rehearsals in ",
            "no school in ",
            "off in ",
            "off at ",
            "off for ",
            "off ",
        ]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))?;
        let mut words = Cursor::new(rest);
        let mut meets = Meets::default();
        match words.longest(Days::read) {
            Some(days) => meets.not = Some(days),
            None => meets.off = Some(off(&mut words)?),
        }
        words.done().then_some(meets)
    }
}

/// `the last week of term`, `in exam week`, `on assembly days`.
fn off(words: &mut Cursor<'_>) -> Option<String> {
    words.any(&["in", "on", "during"]);
    words.take("the");
    if let Some(off) = words.one_of(&OFF.map(|off| (off, off))) {
        return Some(off.to_owned());
    }
    let which = ["first", "last", "second"]
        .into_iter()
        .find(|which| words.take(which))?;
    let unit = ["week", "day"].into_iter().find(|unit| words.take(unit))?;
    words.take("of").then_some(())?;
    words.any(&["each", "every", "the"]);
    let span = ["term", "semester", "quarter", "month", "school", "half-term"]
        .into_iter()
        .find(|span| words.take(span))?;
    Some(format!("the {which} {unit} of {span}"))
}

fn when(words: &mut Cursor<'_>) -> Option<String> {
    if let Some(when) = words.one_of(&WHEN) {
        return Some(when.to_owned());
    }
    if words.any(&["periods", "pds", "blocks"]) {
        let first = words.number()?;
        words.any(&["and", "&", "+"]);
        return Some(format!("periods {first} and {}", words.number()?));
    }
    if words.any(&["period", "pd", "pd.", "block", "hour"]) {
        return Some(format!("period {}", words.number()?));
    }
    words.longest(|text| {
        let number = ["1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th"]
            .iter()
            .position(|ordinal| {
                text.strip_prefix(ordinal).is_some_and(|rest| {
                    matches!(
                        rest,
                        " period" | " hour" | " hr" | " per" | " per." | " pd" | " block"
                    )
                })
            })?;
        Some(format!("period {}", number + 1))
    })
}

fn pattern(words: &mut Cursor<'_>) -> Option<Pattern> {
    if words.any(&["every day", "daily", "every school day", "each day", "all week"]) {
        if words.any(&["but", "except", "but not", "besides"]) {
            let off = words.longest(weekdays)?;
            let school = Weekday::Monday.cycle_forward().take(5);
            return Some(Pattern::Weekdays(
                school.filter(|day| !off.contains(day)).collect(),
            ));
        }
        return Some(Pattern::Daily);
    }
    if words.any(&[
        "every other day",
        "alternate days",
        "every second day",
        "alternating days",
        "on alternating days",
        "on alternate days",
    ]) {
        return Some(Pattern::EveryOtherDay);
    }
    let times = words.longest(|text| {
        let times = [
            ("once", 1),
            ("twice", 2),
            ("two times", 2),
            ("three times", 3),
            ("four times", 4),
        ];
        let count = text
            .strip_suffix(" a week")
            .or_else(|| text.strip_suffix(" per week"))?;
        let plain = times
            .iter()
            .find(|(word, _)| *word == count)
            .map(|(_, number)| *number);
        plain.or_else(|| {
            count
                .strip_suffix(" times")
                .and_then(super::cursor::number)
                .filter(|n| *n <= 7)
        })
    });
    if let Some(times) = times {
        return Some(Pattern::TimesAWeek(times));
    }
    let letter = words.longest(|text| {
        let text = text.strip_prefix("on ").unwrap_or(text);
        let (letter, rest) = text.split_once([' ', '-'])?;
        let mut chars = letter.chars();
        let only = chars
            .next()
            .filter(|_| chars.next().is_none())?
            .to_ascii_uppercase();
        let days = matches!(rest, "days" | "day" | "Days");
        (days && matches!(only, 'A' | 'B')).then_some(only)
    });
    if let Some(letter) = letter {
        return Some(Pattern::Letter(letter));
    }
    if let Some(weeks) = weeks(words) {
        return Some(Pattern::Weeks(weeks));
    }
    words.take("on");
    words.longest(weekdays).map(Pattern::Weekdays)
}

/// `wk A mon/wed wk B tues`: the days of each of two weeks that take turns.
fn weeks(words: &mut Cursor<'_>) -> Option<Vec<(char, Vec<Weekday>)>> {
    let start = words.clone();
    let mut found: Vec<(char, Vec<Weekday>)> = Vec::new();
    while words.any(&["week", "wk", "wk.", "weeks"]) {
        let letter = ['A', 'B'].into_iter().find(|letter| {
            [letter.to_string(), format!("{letter}:")]
                .iter()
                .any(|name| words.take(name))
        });
        let days = letter.and_then(|letter| Some((letter, words.longest(weekdays)?)));
        match days.filter(|(letter, _)| found.iter().all(|(known, _)| known != letter)) {
            Some(days) => found.push(days),
            None => {
                *words = start;
                return None;
            }
        }
        words.take("and");
    }
    (!found.is_empty()).then_some(found)
}

/// `Tuesday and Thursday`, `Mon Wed Fri`, `M/W/F`, `MWF`, `T/Th`.
fn weekdays(text: &str) -> Option<Vec<Weekday>> {
    let mut found: Vec<Weekday> = Vec::new();
    let spaced = text.replace(['/', '&', '+'], " ");
    for word in spaced.split_whitespace() {
        if word == "and" {
            continue;
        }
        match weekday(word).or_else(|| letter(word)) {
            Some(day) => found.push(day),
            None => found.extend(letters(word)?),
        }
    }
    let whole = !spaced.trim().ends_with(" and") && !spaced.starts_with("and ");
    let mut sorted = found.clone();
    sorted.sort_by_key(|day| day.to_monday_one_offset());
    sorted.dedup();
    (whole && !found.is_empty() && sorted.len() == found.len()).then_some(sorted)
}

fn letter(word: &str) -> Option<Weekday> {
    Some(match word {
        "M" => Weekday::Monday,
        "T" | "Tu" => Weekday::Tuesday,
        "W" => Weekday::Wednesday,
        "Th" | "R" => Weekday::Thursday,
        "F" => Weekday::Friday,
        _ => return None,
    })
}

/// `MWF`, `TTh`.
fn letters(word: &str) -> Option<Vec<Weekday>> {
    match word {
        "MWF" => Some(vec![Weekday::Monday, Weekday::Wednesday, Weekday::Friday]),
        "TTh" | "TR" => Some(vec![Weekday::Tuesday, Weekday::Thursday]),
        "MW" => Some(vec![Weekday::Monday, Weekday::Wednesday]),
        _ => None,
    }
}

/// When a band rehearses, all of its items together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Meeting {
    /// On which days.
    pub on: Option<Pattern>,
    /// For how long.
    pub lasts: Option<Lasts>,
    /// Stretches without rehearsals.
    pub not: Vec<Days>,
    /// The first day of all.
    pub starts: Option<Day>,
    /// The last day of all.
    pub ends: Option<Day>,
}

impl Meeting {
    /// Puts the items of a card together; days without a year lie in the school year that starts in
    /// `first_year`, where that is known.
    pub fn of<'m>(items: impl IntoIterator<Item = &'m Meets>, first_year: Option<i16>) -> Meeting {
        let day = |day: Day| first_year.map_or(day, |year| day.in_season(year));
        let mut meeting = Meeting::default();
        for item in items {
            match (&mut meeting.on, &item.on) {
                (Some(Pattern::Weeks(all)), Some(Pattern::Weeks(more))) => all.extend(more.iter().cloned()),
                (on @ None, found) => on.clone_from(found),
                _ => {}
            }
            meeting.lasts = meeting.lasts.or(item.lasts);
            meeting.starts = meeting.starts.or(item.starts.map(day));
            meeting.ends = meeting.ends.or(item.ends.map(day));
            let not = item
                .not
                .map(|days| first_year.map_or(days, |year| days.in_season(year)));
            meeting.not.extend(not);
        }
        meeting
    }

    /// Whether there is no rehearsal, and no school, on a day.
    pub fn is_off(&self, day: Date) -> bool {
        // A stretch whose years are not known holds no day.
        let known = |days: &&Days| {
            let ends = [days.from, days.until];
            ends.iter().flatten().all(|day| day.year.is_some())
        };
        self.not.iter().filter(known).any(|days| days.holds(day))
    }

    /// How many rehearsals there are from one day to another, both counted; none where the card does not say
    /// when the band meets. Every other day, and days with a letter, are half of the school days left.
    pub fn rehearsals(&self, from: Date, to: Date) -> Option<u32> {
        u32::try_from(self.days(from, to)?.len()).ok()
    }

    /// Whether the card says on which days the band meets, and not only how often.
    pub fn tells_days(&self) -> bool {
        matches!(self.on, Some(Pattern::Daily | Pattern::Weekdays(_)))
    }

    /// The days of rehearsal from one day to another, both counted; none where the card does not say when the
    /// band meets. Where it says only how often, the first of the school days that are left is a rehearsal, and
    /// the others follow as often.
    pub fn days(&self, from: Date, to: Date) -> Option<Vec<Date>> {
        let pattern = self.on.as_ref()?;
        let first = self
            .starts
            .and_then(Day::first)
            .map_or(from, |starts| starts.max(from));
        let last = self.ends.and_then(Day::last).map_or(to, |ends| ends.min(to));
        let mut found = Vec::new();
        // School days, and days that fit the pattern, so far.
        let (mut open, mut matching) = (0u32, 0u32);
        let mut day = first;
        // Two years and some days are more than any school plans, and bound the work.
        for _ in 0..800 {
            if day > last {
                break;
            }
            let school = !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday);
            if !self.is_off(day) {
                open += u32::from(school);
                let before = matching;
                match pattern {
                    Pattern::Weekdays(days) => matching += u32::from(days.contains(&day.weekday())),
                    Pattern::Weeks(weeks) => {
                        let meets = weeks.iter().filter(|(_, days)| days.contains(&day.weekday()));
                        matching = matching.saturating_add(meets.count() as u32);
                    }
                    _ => {}
                }
                let already = found.len() as u32;
                let due = match pattern {
                    Pattern::Daily => open,
                    Pattern::EveryOtherDay | Pattern::Letter(_) => open.div_ceil(2),
                    Pattern::Weekdays(_) => already + (matching - before),
                    // Each of the two weeks comes every other week.
                    Pattern::Weeks(_) => matching.div_ceil(2),
                    Pattern::TimesAWeek(times) => open.saturating_mul(*times) / 5,
                };
                for _ in already..due.min(already.saturating_add(3)) {
                    found.push(day);
                }
            }
            let Ok(next) = day.tomorrow() else { break };
            day = next;
        }
        Some(found)
    }
}

fn names(days: &[Weekday]) -> String {
    let names: Vec<&str> = days.iter().map(|day| weekday_name(*day)).collect();
    names.join(" and ")
}

impl fmt::Display for Pattern {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Pattern::Daily => f.write_str("daily"),
            Pattern::EveryOtherDay => f.write_str("every other day"),
            Pattern::Letter(letter) => write!(f, "{letter} days"),
            Pattern::TimesAWeek(1) => f.write_str("once a week"),
            Pattern::TimesAWeek(2) => f.write_str("twice a week"),
            Pattern::TimesAWeek(times) => write!(f, "{times} times a week"),
            Pattern::Weekdays(days) => f.write_str(&names(days)),
            Pattern::Weeks(weeks) => {
                let weeks: Vec<String> = weeks
                    .iter()
                    .map(|(letter, days)| format!("week {letter} {}", names(days)))
                    .collect();
                f.write_str(&weeks.join(" "))
            }
        }
    }
}

impl fmt::Display for Meets {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut parts: Vec<String> = Vec::new();
        parts.extend(self.on.as_ref().map(ToString::to_string));
        parts.extend(self.when.clone());
        let hours = self
            .hours
            .map(|(from, until)| format!("{}-{}", show_time(from), show_time(until)));
        let lasts = self.lasts.filter(|_| hours.is_none());
        parts.extend(hours);
        parts.extend(lasts.map(Lasts::in_minutes));
        parts.extend(
            self.sectionals
                .as_ref()
                .map(|days| format!("{} sectionals", names(days))),
        );
        parts.extend(self.venue.map(|venue| format!("in the {venue}")));
        parts.extend(self.not.map(|days| format!("not {days}")));
        parts.extend(self.off.as_ref().map(|off| format!("not {off}")));
        parts.extend(self.starts.map(|day| format!("starts {day}")));
        parts.extend(self.ends.map(|day| format!("ends {day}")));
        f.write_str(&parts.join(" "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rehearsals_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("every other day", Some("every other day")),
            (
                "every day but Wednesday",
                Some("Monday and Tuesday and Thursday and Friday"),
            ),
            ("every day but zqxv", None),
            ("45 minutes", Some("45 minutes")),
            (
                "Mon Wed Fri 45 min",
                Some("Monday and Wednesday and Friday 45 minutes"),
            ),
            ("M/W/F", Some("Monday and Wednesday and Friday")),
            (
                "Tuesday and Thursday before school",
                Some("Tuesday and Thursday before school"),
            ),
            ("A days", Some("A days")),
            ("a days pd 3", Some("A days period 3")),
            ("twice a week", Some("twice a week")),
            ("every day after lunch", Some("daily after lunch")),
            (
                "not 2026-11-23 to 2026-11-27",
                Some("not 2026-11-23 to 2026-11-27"),
            ),
            ("no rehearsal Dec 21-Jan 3", Some("not Dec 21 to Jan 3")),
            ("starts 2026-08-24", Some("starts 2026-08-24")),
            ("not the last week of term", Some("not the last week of term")),
            ("not exam week", Some("not exam week")),
            ("T/Th sectionals only", Some("Tuesday and Thursday sectionals")),
            (
                "Tuesdays 3.30 to 4.45 in the hall",
                Some("Tuesday 15:30-16:45 in the hall"),
            ),
            ("half three till quarter to five", Some("15:30-16:45")),
            (
                "periods 3 and 4 on alternating days",
                Some("every other day periods 3 and 4"),
            ),
            (
                "wk A mon/wed wk B tues",
                Some("week A Monday and Wednesday week B Tuesday"),
            ),
            ("not the last week of zqxv", None),
            ("not the zqxv week of term", None),
            ("wk A zqxv", None),
            ("wk A mon wk A tues", None),
            ("every other zqxv day", None),
            ("Mon zqxv Fri", None),
            ("Mon and", None),
            ("45 minutes zqxv", None),
            ("not zqxv", None),
        ] {
            let read = Meets::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Meets::read(&shown)),
                read,
                "{written} again"
            );
        }
    }

    #[test]
    fn rehearsals_are_counted() {
        let date = |text: &str| Day::read(text).and_then(Day::first);
        let (Some(from), Some(to)) = (date("2026-11-16"), date("2026-12-04")) else {
            panic!("days");
        };
        let count = |items: &[&str]| {
            let items: Vec<Meets> = items.iter().filter_map(|item| Meets::read(item)).collect();
            Meeting::of(&items, Some(2026)).rehearsals(from, to)
        };
        assert_eq!(count(&["daily"]), Some(15));
        assert_eq!(count(&["daily", "not Nov 23-27"]), Some(10));
        assert_eq!(count(&["every other day", "not Nov 23-27"]), Some(5));
        assert_eq!(count(&["Mon Wed Fri 45 min", "not Nov 25-27"]), Some(7));
        assert_eq!(count(&["twice a week"]), Some(6));
        assert_eq!(count(&["daily", "starts Nov 30"]), Some(5));
        assert_eq!(count(&["45 minutes"]), None);
    }
}
