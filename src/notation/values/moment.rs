//! A day and the hour: `2026-12-10, 19:00`.

use std::fmt;

use crate::notation::scan;

use super::cursor::Cursor;
use super::day::Day;

/// Hours (0 to 23) and minutes.
pub type Hour = (u8, u8);

/// A day and perhaps an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Moment {
    /// The day.
    pub day: Day,
    /// Hours (0 to 23) and minutes.
    pub time: Option<Hour>,
    /// When the doors open, where that is said.
    pub doors: Option<Hour>,
    /// When the players have to be there, where that is said.
    pub call: Option<Hour>,
    /// Where, in one of the usual words.
    pub venue: Option<&'static str>,
}

/// Where school concerts are (common practice, no source). Other places have a field of their own.
const VENUES: [&str; 22] = [
    "gym",
    "gymnasium",
    "cafeteria",
    "lunchroom",
    "auditorium",
    "cafetorium",
    "commons",
    "hall",
    "school hall",
    "sports hall",
    "assembly hall",
    "village hall",
    "church hall",
    "band room",
    "church",
    "park",
    "library",
    "theater",
    "courtyard",
    "stadium",
    "high school",
    "middle school",
];

/// Takes `gym`, `in the gym`, `@ the park`.
pub(super) fn venue(words: &mut Cursor<'_>) -> Option<&'static str> {
    let start = words.clone();
    words.any(&["in", "at", "@"]);
    words.take("the");
    let found = words.one_of(&VENUES.map(|venue| (venue, venue)));
    if found.is_none() {
        *words = start;
    }
    found
}

/// The words of a moment without the venue at their end, and that venue.
pub fn without_venue(text: &str) -> &str {
    // Nobody writes a longer one, and each of its ends would be looked into.
    if text.len() > scan::LONGEST as usize {
        return text;
    }
    let blanks = text.char_indices().filter(|(_, c)| c.is_whitespace());
    for (at, _) in blanks {
        let (Some(head), Some(tail)) = (text.get(..at), text.get(at..)) else {
            continue;
        };
        let mut words = Cursor::new(tail);
        if venue(&mut words).is_some() && words.done() {
            return head.trim_end();
        }
    }
    text
}

impl Moment {
    /// Reads a day, and after a comma or blank an hour: `2026-12-10, 19:00`, `Dec 10, 2026, 7 pm`,
    /// `Thursday, Dec 10, 2026 at 7:00 p.m., doors 6:30 pm`, `Dec 17, 2026, 18:30 in the gym`.
    pub fn read(text: &str) -> Option<Moment> {
        let spaced = text.replace([',', ';'], " ");
        let mut words = Cursor::new(&spaced);
        let before = words.longest(starts_at);
        words.take("on");
        let day = words.longest(Day::read)?;
        let mut time = match before {
            Some(time) => Some(time),
            None if words.any(&["at", "@"]) => words.longest(after_at),
            None => words.longest(starts_at),
        };
        let (mut doors, mut call, mut place) = (None, None, None);
        while !words.done() {
            let earlier =
                |words: &mut Cursor<'_>| words.longest(|text| read_time(text).or_else(|| beside(text, time)));
            if doors.is_none() && words.any(&["doors open at", "doors open", "doors at", "doors"]) {
                doors = Some(earlier(&mut words)?);
            } else if call.is_none() && words.any(&CALL) {
                words.any(&["is at", "at", "is", "by"]);
                call = Some(earlier(&mut words)?);
            } else if time.is_none() && words.any(&PLAYS) {
                time = Some(words.longest(starts_at)?);
            } else if place.is_none()
                && let Some(found) = venue(&mut words)
            {
                place = Some(found);
            } else {
                return None;
            }
        }
        let venue = place;
        // A lone `at` before nothing was meant to go on.
        let ends = spaced.trim_end().ends_with(" at") || spaced.trim_end().ends_with('@');
        (words.done() && !ends).then_some(Moment {
            day,
            time,
            doors,
            call,
            venue,
        })
    }
}

/// Words before the hour at which the players have to be there.
const CALL: [&str; 17] = [
    "call time",
    "call",
    "report time",
    "report",
    "kids there",
    "kids arrive",
    "kids",
    "students there",
    "students arrive",
    "students report",
    "players there",
    "players arrive",
    "band there",
    "be there",
    "warm-up",
    "warmup",
    "warm up",
];

/// Words before the hour at which the band plays.
const PLAYS: [&str; 12] = [
    "stage at",
    "stage",
    "on stage at",
    "on stage",
    "downbeat at",
    "downbeat",
    "we play at",
    "we play",
    "performance at",
    "performance",
    "starts at",
    "starts",
];

/// The hour a concert starts: `6:30` is in the evening and `2:15` in the afternoon, since no concert starts before
/// eight in the morning (common practice, no source).
fn starts_at(text: &str) -> Option<Hour> {
    let plain = plain(text);
    // `630` right behind the day is an hour and its minutes.
    let run = plain.len() == 3 && plain.bytes().all(|byte| byte.is_ascii_digit());
    if run && let Some((hour, minutes)) = plain.split_at_checked(1) {
        return after_at(&format!("{hour}:{minutes}"));
    }
    let said = text.contains(':') || plain.starts_with("halfpast");
    read_time(text).or_else(|| said.then(|| after_at(text)).flatten())
}

/// The hour behind `at`, where a bare `7` is an hour as well.
fn after_at(text: &str) -> Option<Hour> {
    let later = || both_halves(text).map(|[later, _]| later);
    read_time(text).or_else(|| later().filter(|(hour, _)| *hour < 20))
}

/// `6:30` beside a concert at 19:00: the half of the day is the concert's.
fn beside(text: &str, time: Option<Hour>) -> Option<Hour> {
    let (hour, _) = time.filter(|(hour, _)| *hour >= 12)?;
    let (hours, minutes) = figures(text)?;
    let later = hours.checked_add(12).filter(|later| *later <= hour)?;
    Some((later, minutes))
}

/// Reads `7pm`, `7:00 pm`, `7 p.m.`, `19:00`, `09:50`, `noon`.
///
/// `7` and `8:00` may be either half of the day and are not read; [`both_halves`] gives the two.
pub fn read_time(text: &str) -> Option<Hour> {
    let plain = plain(text);
    if plain == "noon" {
        return Some((12, 0));
    }
    let short = |half: char| {
        let head = plain.strip_suffix(half)?;
        head.ends_with(|c: char| c.is_ascii_digit()).then_some(head)
    };
    let (later, earlier) = (
        plain.strip_suffix("pm").or_else(|| short('p')),
        plain.strip_suffix("am").or_else(|| short('a')),
    );
    let (digits, add) = match (later, earlier) {
        (Some(digits), _) => (digits, 12),
        (_, Some(digits)) => (digits, 0),
        _ => {
            let (hours, minutes) = figures(text)?;
            let doubt = hours < 9 && !plain.starts_with('0');
            return (plain.contains(':') && !doubt).then_some((hours, minutes));
        }
    };
    let (hours, minutes) = figures(digits)?;
    (1..=12).contains(&hours).then_some((hours % 12 + add, minutes))
}

/// The two hours that `7` or `7:00` may mean, where the half of the day is not said.
pub fn both_halves(text: &str) -> Option<[Hour; 2]> {
    if read_time(text).is_some() {
        return None;
    }
    let (hours, minutes) = figures(text)?;
    (1..12)
        .contains(&hours)
        .then_some([(hours + 12, minutes), (hours, minutes)])
}

/// `quarter to five`, `quarter past seven`, `half three`, without blanks: half three is half past three (British use;
/// common practice, no source).
fn in_quarters(plain: &str) -> Option<Hour> {
    let plain = plain
        .strip_prefix('a')
        .filter(|rest| rest.starts_with("quarter"))
        .unwrap_or(plain);
    let (minutes, hours) = [
        ("quarterpast", 15),
        ("quarterto", 45),
        ("quarter-past", 15),
        ("quarter-to", 45),
        ("half", 30),
    ]
    .iter()
    .find_map(|(lead, minutes)| Some((*minutes, plain.strip_prefix(lead)?)))?;
    let hours = super::cursor::number(hours).filter(|hours| (1..=12).contains(hours))?;
    let hours = if minutes == 45 { hours - 1 } else { hours };
    Some((u8::try_from(hours).ok()?, minutes))
}

/// An hour in the one form.
pub fn show_time((hours, minutes): Hour) -> String {
    format!("{hours:02}:{minutes:02}")
}

fn plain(text: &str) -> String {
    let mut plain = text.to_lowercase();
    plain.retain(|c| !c.is_whitespace());
    // `7.15`: a dot before two figures stands for a colon (British use).
    if let Some((hours, behind)) = plain.split_once('.')
        && hours.bytes().all(|byte| byte.is_ascii_digit())
        && behind.bytes().take_while(u8::is_ascii_digit).count() == 2
    {
        plain = format!("{hours}:{behind}");
    }
    plain.retain(|c| c != '.');
    plain
}

/// Hours and minutes in figures, as they stand.
fn figures(text: &str) -> Option<Hour> {
    let plain = plain(text);
    if let Some(hour) = in_quarters(&plain) {
        return Some(hour);
    }
    if let Some(hours) = plain.strip_prefix("halfpast") {
        let hours = super::cursor::number(hours).filter(|hours| (1..=12).contains(hours))?;
        return Some((u8::try_from(hours).ok()?, 30));
    }
    let in_words = super::number_words::read(&plain)
        .filter(|hours| (1..=12).contains(hours))
        .map(|hours| hours.to_string());
    let plain = in_words.unwrap_or(plain);
    let (hours, minutes) = plain.split_once(':').unwrap_or((&plain, "00"));
    let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    if !digits(hours) || !digits(minutes) || minutes.len() != 2 || hours.len() > 2 {
        return None;
    }
    let (hours, minutes): (u8, u8) = (hours.parse().ok()?, minutes.parse().ok()?);
    (hours < 24 && minutes < 60).then_some((hours, minutes))
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.day)?;
        if let Some(time) = self.time {
            write!(f, ", {}", show_time(time))?;
        }
        if let Some(doors) = self.doors {
            write!(f, ", doors {}", show_time(doors))?;
        }
        if let Some(call) = self.call {
            write!(f, ", call time {}", show_time(call))?;
        }
        match self.venue {
            Some(venue) => write!(f, ", {venue}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_are_read_after_the_day() {
        for (written, one_form) in [
            ("2026-12-10, 19:00", Some("2026-12-10, 19:00")),
            ("Dec 10, 2026, 7 pm", Some("2026-12-10, 19:00")),
            ("12/10/2026 7:30 p.m.", Some("2026-12-10, 19:30")),
            ("2026-12-10 at 12 am", Some("2026-12-10, 00:00")),
            ("7pm 12/10/26", Some("2026-12-10, 19:00")),
            (
                "Thursday, Dec 10, 2026 at 7:00 p.m.",
                Some("Thursday 2026-12-10, 19:00"),
            ),
            (
                "2026-12-10, 19:00, doors 6:30",
                Some("2026-12-10, 19:00, doors 18:30"),
            ),
            ("Dec 10, 7pm", Some("Dec 10, 19:00")),
            ("2026-12-10 noon", Some("2026-12-10, 12:00")),
            ("2026-12-10", Some("2026-12-10")),
            ("2026-12-10, 19:00 in the gym", Some("2026-12-10, 19:00, gym")),
            ("2026-12-10 @ the park", Some("2026-12-10, park")),
            ("2026-12-10, 19:00 in zqxv", None),
            ("2026-12-10, 19:00 gym zqxv", None),
            ("2026-12-10, 25:00", None),
            ("2026-12-10, 7", None),
            ("2026-12-10, 7:00", Some("2026-12-10, 19:00")),
            ("2026-12-10 at 7", Some("2026-12-10, 19:00")),
            ("half past six, Dec 10", Some("Dec 10, 18:30")),
            ("10/29 7p", Some("Oct 29, 19:00")),
            (
                "March 7, 2025, warm-up 10:40 a.m., stage 11:10 a.m.",
                Some("2025-03-07, 11:10, call time 10:40"),
            ),
            ("2026-12-10, 1:15", Some("2026-12-10, 13:15")),
            ("2026-12-10, 8:00", None),
            ("2026-12-10 at 8", None),
            ("2026-12-10, 08:00", Some("2026-12-10, 08:00")),
            ("2026-12-10, 07:00", Some("2026-12-10, 07:00")),
            ("2026-12-10, 9:50", Some("2026-12-10, 09:50")),
            ("2026-12-10 at", None),
            ("2026-12-10, 19:00 zqxv", None),
            ("zqxv 2026-12-10", None),
        ] {
            let read = Moment::read(written);
            let shown = read.map(|at| at.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Moment::read(&shown)),
                read,
                "{written} again"
            );
        }
        assert_eq!(both_halves("7"), Some([(19, 0), (7, 0)]));
        assert_eq!(both_halves("7:30"), Some([(19, 30), (7, 30)]));
        assert_eq!(both_halves("19:30"), None);
        assert_eq!(both_halves("half past six"), Some([(18, 30), (6, 30)]));
        assert_eq!(read_time("half past six pm"), Some((18, 30)));
        assert_eq!(both_halves("half past zqxv"), None);
    }
}
