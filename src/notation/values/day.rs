//! Days as directors write them, ISO 8601 in the one form.

use std::fmt;

use jiff::civil::Date;

/// A day, a month or a year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Day {
    /// The year, with four digits.
    pub year: i16,
    /// The month, 1 to 12, where it is known.
    pub month: Option<i8>,
    /// The day of the month, where it is known.
    pub day: Option<i8>,
}

/// A day and perhaps an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Moment {
    /// The day.
    pub day: Day,
    /// Hours (0 to 23) and minutes.
    pub time: Option<(u8, u8)>,
}

/// A stretch of days, such as a loan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Days {
    /// The first day, where it is said.
    pub from: Option<Day>,
    /// The last day.
    pub until: Day,
}

impl Days {
    /// Reads `2027-03-01 to 2027-05-15` and `until 2027-05-15`.
    pub fn read(text: &str) -> Option<Days> {
        let text = text.trim();
        if let Some(until) = text.strip_prefix("until ") {
            return Some(Days {
                from: None,
                until: Day::read(until)?,
            });
        }
        let (from, until) = text.split_once(" to ").or_else(|| text.split_once(" until "))?;
        Some(Days {
            from: Some(Day::read(from)?),
            until: Day::read(until)?,
        })
    }

    /// Whether a day lies in the stretch.
    pub fn holds(self, day: Date) -> bool {
        let begun = self.from.and_then(Day::first).is_none_or(|from| from <= day);
        begun && self.until.last().is_none_or(|until| day <= until)
    }
}

impl fmt::Display for Days {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.from {
            Some(from) => write!(f, "{from} to {}", self.until),
            None => write!(f, "until {}", self.until),
        }
    }
}

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

impl Day {
    /// Reads `2026-12-10`, `2026-12`, `2026`, `Dec 10, 2026`, `10 December 2026`, `December 2026`, `12/10/2026`.
    ///
    /// A date with slashes is month, day, year, as in the United States.
    pub fn read(text: &str) -> Option<Day> {
        let text = text.trim().trim_end_matches('.');
        if text.len() > 40 {
            return None;
        }
        let parts: Vec<&str> = text
            .split(|c: char| c == ',' || c == '/' || c == '-' || c == '–' || c.is_whitespace())
            .map(|part| part.trim_end_matches('.'))
            .filter(|part| !part.is_empty())
            .collect();
        let number = |part: &str| ordinal(part).parse::<i16>().ok();
        let month = |part: &str| month_named(part);
        let day = match *parts.as_slice() {
            [year] => Day::checked(year_of(year)?, None, None),
            [first, second] => match (month(first), year_of(first)) {
                (Some(month), _) => Day::checked(year_of(second)?, Some(month), None),
                (None, Some(year)) => Day::checked(
                    year,
                    number(second).map(|m| m as i8).or_else(|| month(second)),
                    None,
                ),
                _ => None,
            },
            [first, second, third] => {
                if let Some(year) = year_of(first) {
                    Day::checked(
                        year,
                        number(second).map(|m| m as i8).or_else(|| month(second)),
                        number(third).map(|d| d as i8),
                    )
                } else if let Some(month) = month(first) {
                    Day::checked(year_of(third)?, Some(month), number(second).map(|d| d as i8))
                } else if let Some(month) = month(second) {
                    Day::checked(year_of(third)?, Some(month), number(first).map(|d| d as i8))
                } else if text.contains('/') {
                    Day::checked(
                        year_of(third)?,
                        number(first).map(|m| m as i8),
                        number(second).map(|d| d as i8),
                    )
                } else {
                    None
                }
            }
            _ => None,
        }?;
        // A month or day that was written but could not be read makes the whole unreadable.
        let written = 1 + usize::from(day.month.is_some()) + usize::from(day.day.is_some());
        (written == parts.len()).then_some(day)
    }

    fn checked(year: i16, month: Option<i8>, day: Option<i8>) -> Option<Day> {
        Date::new(year, month.unwrap_or(1), day.unwrap_or(1)).ok()?;
        Some(Day { year, month, day })
    }

    /// The first calendar day that it can mean.
    pub fn first(self) -> Option<Date> {
        Date::new(self.year, self.month.unwrap_or(1), self.day.unwrap_or(1)).ok()
    }

    /// The last calendar day that it can mean.
    pub fn last(self) -> Option<Date> {
        let month = self.month.unwrap_or(12);
        match self.day {
            Some(day) => Date::new(self.year, month, day).ok(),
            None => Date::new(self.year, month, 1)
                .ok()
                .map(|date| date.last_of_month()),
        }
    }
}

fn year_of(part: &str) -> Option<i16> {
    (part.len() == 4)
        .then(|| part.parse().ok())
        .flatten()
        .filter(|year| (1000..=9999).contains(year))
}

fn month_named(part: &str) -> Option<i8> {
    let part = part.to_lowercase();
    if part.len() < 3 {
        return None;
    }
    let index = MONTHS
        .iter()
        .position(|month| month.starts_with(&part) || (part == "sept" && *month == "september"))?;
    Some(index as i8 + 1)
}

fn ordinal(part: &str) -> &str {
    part.strip_suffix("st")
        .or_else(|| part.strip_suffix("nd"))
        .or_else(|| part.strip_suffix("rd"))
        .or_else(|| part.strip_suffix("th"))
        .unwrap_or(part)
}

impl Moment {
    /// Reads a day, and after a comma or blank an hour: `2026-12-10, 19:00`, `Dec 10, 2026, 7 pm`, `2026-12-10 7:00 p.m.`
    pub fn read(text: &str) -> Option<Moment> {
        let text = text.trim();
        if let Some(day) = Day::read(text) {
            return Some(Moment { day, time: None });
        }
        let gaps = text
            .char_indices()
            .filter(|(_, c)| *c == ',' || c.is_whitespace());
        for (gap, _) in gaps {
            let (Some(day), Some(rest)) = (text.get(..gap).and_then(Day::read), text.get(gap..)) else {
                continue;
            };
            let rest = rest.trim_start_matches(|c: char| c == ',' || c.is_whitespace());
            let rest = rest.strip_prefix("at ").unwrap_or(rest);
            if let Some(time) = read_time(rest) {
                return Some(Moment {
                    day,
                    time: Some(time),
                });
            }
        }
        None
    }
}

fn read_time(text: &str) -> Option<(u8, u8)> {
    let plain: String = text
        .to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '.')
        .collect();
    let (digits, add) = match (plain.strip_suffix("pm"), plain.strip_suffix("am")) {
        (Some(digits), _) => (digits, 12),
        (_, Some(digits)) => (digits, 0),
        _ => (plain.as_str(), u8::MAX),
    };
    let (hours, minutes) = digits
        .split_once(':')
        .unwrap_or((digits, if add == u8::MAX { "" } else { "0" }));
    let (hours, minutes): (u8, u8) = (hours.parse().ok()?, minutes.parse().ok()?);
    let hours = match add {
        u8::MAX => hours,
        add if (1..=12).contains(&hours) => hours % 12 + add,
        _ => return None,
    };
    (hours < 24 && minutes < 60).then_some((hours, minutes))
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}", self.year)?;
        if let Some(month) = self.month {
            write!(f, "-{month:02}")?;
            if let Some(day) = self.day {
                write!(f, "-{day:02}")?;
            }
        }
        Ok(())
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.day)?;
        match self.time {
            Some((hours, minutes)) => write!(f, ", {hours:02}:{minutes:02}"),
            None => Ok(()),
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
            ("2024-02", Some("2024-02")),
            ("May 2024", Some("2024-05")),
            ("2024", Some("2024")),
            ("2026-02-30", None),
            ("2026-13-01", None),
            ("13/10/2026", None),
            ("soon", None),
            ("", None),
        ] {
            assert_eq!(
                Day::read(written).map(|day| day.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }

    #[test]
    fn hours_are_read_after_the_day() {
        for (written, one_form) in [
            ("2026-12-10, 19:00", Some("2026-12-10, 19:00")),
            ("Dec 10, 2026, 7 pm", Some("2026-12-10, 19:00")),
            ("12/10/2026 7:30 p.m.", Some("2026-12-10, 19:30")),
            ("2026-12-10 at 12 am", Some("2026-12-10, 00:00")),
            ("2026-12-10", Some("2026-12-10")),
            ("2026-12-10, 25:00", None),
        ] {
            assert_eq!(
                Moment::read(written).map(|at| at.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }
}
