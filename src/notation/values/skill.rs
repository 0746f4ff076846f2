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
}

impl Skill {
    /// Reads `slurs by 2026-10-01`; words are the skill's name, and a rule tells names that nobody knows.
    pub fn read(text: &str) -> Option<Skill> {
        let text = text.trim();
        let (name, by) = match text.rfind(" by ") {
            // `by` is said of a day alone, so one that cannot be read is told.
            Some(at) => (text.get(..at)?.trim(), Some(Day::read(text.get(at + 4..)?)?)),
            None => (text, None),
        };
        (!name.is_empty()).then(|| Skill {
            name: name.split_whitespace().collect::<Vec<_>>().join(" "),
            by,
        })
    }
}

impl fmt::Display for Skill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)?;
        match self.by {
            Some(day) => write!(f, " by {day}"),
            None => Ok(()),
        }
    }
}
