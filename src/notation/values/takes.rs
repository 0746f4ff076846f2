//! How long something takes to teach: `2 weeks`, `3-4 rehearsals`.

use std::fmt;

use super::cursor::Cursor;
use super::how_many::HowMany;
use super::lasts::Lasts;

/// A stretch of teaching.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Takes {
    /// How many units.
    pub count: HowMany,
    /// The unit.
    pub unit: Teaching,
    /// How long of each rehearsal.
    pub each: Option<Lasts>,
}

/// In what teaching is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Teaching {
    /// Rehearsals or lessons.
    Rehearsals,
    /// Days.
    Days,
    /// Weeks.
    Weeks,
    /// Months.
    Months,
}

const UNITS: [(&str, Teaching, &str); 20] = [
    ("rehearsals", Teaching::Rehearsals, "rehearsal"),
    ("rehearsal", Teaching::Rehearsals, "rehearsal"),
    ("lessons", Teaching::Rehearsals, "rehearsal"),
    ("lesson", Teaching::Rehearsals, "rehearsal"),
    ("classes", Teaching::Rehearsals, "rehearsal"),
    ("class periods", Teaching::Rehearsals, "rehearsal"),
    ("class", Teaching::Rehearsals, "rehearsal"),
    ("periods", Teaching::Rehearsals, "rehearsal"),
    ("sessions", Teaching::Rehearsals, "rehearsal"),
    ("days", Teaching::Days, "day"),
    ("day", Teaching::Days, "day"),
    ("weeks", Teaching::Weeks, "week"),
    ("week", Teaching::Weeks, "week"),
    ("wks", Teaching::Weeks, "week"),
    ("wks.", Teaching::Weeks, "week"),
    ("wk", Teaching::Weeks, "week"),
    ("wk.", Teaching::Weeks, "week"),
    ("months", Teaching::Months, "month"),
    ("month", Teaching::Months, "month"),
    ("mo.", Teaching::Months, "month"),
];

impl Takes {
    /// Reads `2 weeks`, `one week`, `3-4 rehearsals`, `a month`, `six weeks, 5 minutes a rehearsal`.
    pub fn read(text: &str) -> Option<Takes> {
        let (text, each) = match text.split_once(',') {
            Some((head, tail)) => (head, Some(each(tail)?)),
            None => (text, None),
        };
        let mut words = Cursor::new(text);
        let count = match words.any(&["a", "an"]) {
            true => HowMany::exactly(1),
            false => HowMany::take(&mut words)?,
        };
        let unit = UNITS
            .iter()
            .find(|(word, ..)| words.take(word))
            .map(|(_, unit, _)| *unit)?;
        let some = count.high != Some(0);
        (some && words.done()).then_some(Takes { count, unit, each })
    }

    /// The fewest whole weeks that are meant; none where it is counted in rehearsals.
    pub fn weeks(self) -> Option<u32> {
        let count = self.count.low.or(self.count.high)?;
        match self.unit {
            Teaching::Rehearsals => None,
            Teaching::Days => Some(count.div_ceil(7)),
            Teaching::Weeks => Some(count),
            Teaching::Months => count.checked_mul(4),
        }
    }

    /// The longest that is meant, in days; rehearsals are no days.
    pub fn days(self) -> Option<u32> {
        let count = self.count.high.or(self.count.low)?;
        match self.unit {
            Teaching::Rehearsals => None,
            Teaching::Days => Some(count),
            Teaching::Weeks => count.checked_mul(7),
            Teaching::Months => count.checked_mul(30),
        }
    }
}

/// `5 minutes a rehearsal`, `ten minutes each day`.
fn each(text: &str) -> Option<Lasts> {
    let mut words = Cursor::new(text);
    words.take("at");
    let lasts = words.longest(Lasts::read)?;
    words
        .any(&["each", "a", "per", "every", "of each"])
        .then_some(())?;
    words.any(&["rehearsal", "day", "lesson", "class", "period", "session", "time"]);
    words.done().then_some(lasts)
}

impl fmt::Display for Takes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = UNITS.iter().find(|(_, unit, _)| *unit == self.unit);
        let unit = unit.map_or("", |(.., one)| one);
        let many = if self.count == HowMany::exactly(1) {
            ""
        } else {
            "s"
        };
        write!(f, "{} {unit}{many}", self.count)?;
        match self.each {
            Some(each) => write!(f, ", {} a rehearsal", each.in_minutes()),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn teaching_times_are_read() {
        for (written, one_form) in [
            ("2 weeks", Some("2 weeks")),
            ("six weeks", Some("6 weeks")),
            ("a week", Some("1 week")),
            ("3 wks", Some("3 weeks")),
            ("3-4 rehearsals", Some("3-4 rehearsals")),
            ("3 lessons", Some("3 rehearsals")),
            (
                "six weeks, five minutes a rehearsal",
                Some("6 weeks, 5 minutes a rehearsal"),
            ),
            ("2 weeks, 10 min each", Some("2 weeks, 10 minutes a rehearsal")),
            ("2 weeks, zqxv", None),
            ("2 weeks, 5 minutes zqxv", None),
            ("-1 weeks", None),
            ("0 weeks", None),
            ("2", None),
            ("2 zqxv weeks", None),
            ("2 weeks zqxv", None),
        ] {
            let read = Takes::read(written);
            let shown = read.map(|takes| takes.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Takes::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
