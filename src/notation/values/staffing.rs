//! How many players a part should have, as the handbook says it.

use std::fmt;

use super::cursor::Cursor;

/// One item of the handbook's `players`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Staffing {
    /// At least so many to each wind part.
    AtLeast(u32),
    /// The extra ones of a section play the upper parts.
    ExtraUpper,
    /// The extra ones of a section play the lower parts.
    ExtraLower,
}

impl Staffing {
    /// Reads `at least 2 to a wind part`, `2 on a part`, `extra players on the upper parts`.
    pub fn read(text: &str) -> Option<Staffing> {
        let mut words = Cursor::new(text);
        if words.any(&["extra players", "extra ones", "extras", "extra"]) {
            words.any(&["go to", "play", "on", "to", "in"]);
            words.take("the");
            let upper = words.any(&["upper", "first", "1st", "top", "higher"]);
            let lower = !upper && words.any(&["lower", "second", "2nd", "bottom", "lowest"]);
            words.any(&["parts", "part"]);
            return match (words.done(), upper, lower) {
                (true, true, _) => Some(Staffing::ExtraUpper),
                (true, _, true) => Some(Staffing::ExtraLower),
                _ => None,
            };
        }
        words.any(&[
            "at least",
            "minimum of",
            "no fewer than",
            "never fewer than",
            "never less than",
        ]);
        let count = words.number().filter(|count| (1..=99).contains(count))?;
        words.any(&["players", "player", "kids", "people"]);
        words.any(&["to", "on", "for", "per"]);
        words.any(&["a", "each", "every"]);
        words.any(&["wind"]);
        let part = words.any(&["parts", "part"]);
        // What a rule of the house is for is said with it.
        words.any(&[
            "before i call it safe",
            "before we call it safe",
            "to call it safe",
            "to be safe",
            "is safe",
            "or it is not covered",
        ]);
        (words.done() && part).then_some(Staffing::AtLeast(count))
    }
}

impl fmt::Display for Staffing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Staffing::AtLeast(count) => write!(f, "at least {count} to a wind part"),
            Staffing::ExtraUpper => f.write_str("extra players on the upper parts"),
            Staffing::ExtraLower => f.write_str("extra players on the lower parts"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn staffing_is_read() {
        for (written, one_form) in [
            ("at least 2 to a wind part", Some("at least 2 to a wind part")),
            ("2 on a part", Some("at least 2 to a wind part")),
            (
                "extra players to the first parts",
                Some("extra players on the upper parts"),
            ),
            ("extra on lower parts", Some("extra players on the lower parts")),
            ("at least zqxv 2 to a part", None),
            ("at least 2 zqxv to a part", None),
            ("extra zqxv players on the upper parts", None),
            ("2", None),
        ] {
            assert_eq!(
                Staffing::read(written).map(|said| said.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
    }
}
