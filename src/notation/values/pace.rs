//! How fast a band is taught, as the handbook says it: `at most 2 new skills a week`, `5 weeks to a piece`.

use std::fmt;

use super::cursor::Cursor;
use super::takes::{Takes, Teaching};

/// One item of the handbook's `teaching`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// So many new skills are in hand in one week, and no more.
    Skills(u32),
    /// So many weeks before a concert its pieces are begun.
    Weeks(u32),
}

impl Pace {
    /// Reads `at most 2 new skills a week`, `one new thing at a time`, `5 weeks to a piece`, `pieces begin 6 weeks
    /// before the concert`.
    pub fn read(text: &str) -> Option<Pace> {
        let mut words = Cursor::new(text);
        let begins = words.any(&[
            "pieces are begun",
            "pieces begin",
            "pieces start",
            "we begin pieces",
            "begin pieces",
            "begin",
            "start",
        ]);
        words.any(&["at most", "no more than", "up to", "about"]);
        let start = words.clone();
        let weeks = words.longest(|text| Takes::read(text)?.whole_weeks());
        if let Some(weeks) = weeks {
            let tail = match begins {
                true => words.any(&[
                    "before a concert",
                    "before the concert",
                    "before each concert",
                    "before",
                ]),
                false => words.any(&[
                    "to a piece",
                    "for a piece",
                    "on a piece",
                    "per piece",
                    "a piece",
                    "each piece",
                    "before a concert",
                    "before the concert",
                ]),
            };
            return (tail && words.done()).then_some(Pace::Weeks(weeks));
        }
        if begins {
            return None;
        }
        words = start;
        let skills = words.number().filter(|count| (1..=20).contains(count))?;
        let new = words.take("new");
        let thing = words.any(&["skills", "skill", "things", "thing", "concepts", "concept"]);
        let at = words.any(&["a week", "per week", "each week", "at a time", "at once"]);
        ((new || thing) && at && words.done()).then_some(Pace::Skills(skills))
    }
}

/// Reads how many new skills at most: `at most 2`, `2 new skills`, `none`.
pub(super) fn new_skills(text: &str) -> Option<u32> {
    let mut words = Cursor::new(text);
    let most = words.any(&["at most", "no more than", "up to"]);
    let count = match !most && words.any(&["none", "nothing", "no"]) {
        true => 0,
        false => words.number()?,
    };
    words.any(&["new"]);
    words.any(&["skills", "skill", "things", "thing", "concepts", "concept"]);
    words.any(&["in all", "at most"]);
    words.done().then_some(count)
}

impl Takes {
    /// Whole weeks, where it is said in weeks and one number.
    fn whole_weeks(self) -> Option<u32> {
        let exact = self.unit == Teaching::Weeks && self.each.is_none() && self.count.low == self.count.high;
        self.count.low.filter(|weeks| exact && (1..=40).contains(weeks))
    }
}

impl fmt::Display for Pace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Pace::Skills(1) => f.write_str("at most 1 new skill a week"),
            Pace::Skills(count) => write!(f, "at most {count} new skills a week"),
            Pace::Weeks(1) => f.write_str("1 week to a piece"),
            Pace::Weeks(weeks) => write!(f, "{weeks} weeks to a piece"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_of_new_skills_is_read() {
        for (written, count) in [
            ("2", Some(2)),
            ("at most two", Some(2)),
            ("up to 3 new skills", Some(3)),
            ("none", Some(0)),
            ("no new skills", Some(0)),
            ("at most none", None),
            ("2 zqxv", None),
            ("2 a week", None),
            ("zqxv 2", None),
        ] {
            assert_eq!(new_skills(written), count, "{written}");
        }
    }

    #[test]
    fn the_pace_of_teaching_is_read() {
        for (written, one_form) in [
            ("at most 2 new skills a week", Some("at most 2 new skills a week")),
            ("one new thing at a time", Some("at most 1 new skill a week")),
            ("3 new at once", Some("at most 3 new skills a week")),
            ("5 weeks to a piece", Some("5 weeks to a piece")),
            (
                "pieces begin six weeks before the concert",
                Some("6 weeks to a piece"),
            ),
            ("2 zqxv skills a week", None),
            ("2 new skills", None),
            ("2 new skills a zqxv", None),
            ("2 a week", None),
            ("5 weeks", None),
            ("5 weeks to a zqxv", None),
            ("pieces begin 2 new skills a week", None),
            ("0 new skills a week", None),
        ] {
            let read = Pace::read(written);
            let shown = read.map(|said| said.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Pace::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
