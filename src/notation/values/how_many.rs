//! How many: `4`, `4-5`, `4 or 5`, `four`, `4+`, `at least 6`, `no more than 6`.

use std::fmt;

use super::cursor::{Cursor, number};

/// A number, a span of numbers, or one that is open at an end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct HowMany {
    /// The fewest, where that is said.
    pub low: Option<u32>,
    /// The most, where that is said.
    pub high: Option<u32>,
}

impl HowMany {
    /// Just so many.
    pub fn exactly(number: u32) -> HowMany {
        HowMany {
            low: Some(number),
            high: Some(number),
        }
    }

    /// Reads `4`, `four`, `4-5`, `4 or 5`, `4 to 5`, `4+`, `4 or more`, `at least 6`, `6 at least`,
    /// `no more than 6`, `up to 6`.
    pub fn read(text: &str) -> Option<HowMany> {
        let mut words = Cursor::new(text);
        let many = HowMany::take(&mut words)?;
        words.done().then_some(many)
    }

    /// Takes such a number from the words at hand, where one stands there.
    pub(super) fn take(words: &mut Cursor<'_>) -> Option<HowMany> {
        const LEAST: [&str; 8] = [
            "at least",
            "a minimum of",
            "no fewer than",
            "no less than",
            "not fewer than",
            "minimum of",
            "minimum",
            "min.",
        ];
        const MOST: [&str; 9] = [
            "at most",
            "a maximum of",
            "room for",
            "no more than",
            "not more than",
            "up to",
            "maximum of",
            "maximum",
            "max.",
        ];
        let start = words.clone();
        let least = words.any(&LEAST) || words.take("min");
        let most = !least && (words.any(&MOST) || words.take("max"));
        let Some(found) = plain(words) else {
            *words = start;
            return None;
        };
        if least || most {
            let (Some(low), Some(high)) = (found.low, found.high) else {
                *words = start;
                return None;
            };
            return Some(HowMany {
                low: least.then_some(low),
                high: most.then_some(high),
            });
        }
        if words.any(&["or more", "and up", "or over", "at least"]) {
            return Some(HowMany { high: None, ..found });
        }
        if words.any(&["or fewer", "or less", "at most", "tops"]) {
            return Some(HowMany { low: None, ..found });
        }
        Some(found)
    }
}

/// `4`, `four`, `4-5`, `4 or 5`, `4+`.
fn plain(words: &mut Cursor<'_>) -> Option<HowMany> {
    let word = words.peek()?;
    if let Some(low) = words.number() {
        let before = words.clone();
        if words.any(&["or", "to", "-", "–"])
            && let Some(high) = words.number()
        {
            return span(low, high);
        }
        *words = before;
        return Some(HowMany::exactly(low));
    }
    let found = if let Some(low) = word.strip_suffix('+') {
        HowMany {
            low: Some(number(low)?),
            high: None,
        }
    } else {
        let (low, high) = word.split_once(['-', '–', '—', '/'])?;
        span(number(low)?, number(high)?)?
    };
    words.longest(|text| (text == word).then_some(()))?;
    Some(found)
}

fn span(low: u32, high: u32) -> Option<HowMany> {
    (low <= high).then_some(HowMany {
        low: Some(low),
        high: Some(high),
    })
}

impl fmt::Display for HowMany {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.low, self.high) {
            (Some(low), Some(high)) if low == high => write!(f, "{low}"),
            (Some(low), Some(high)) => write!(f, "{low}-{high}"),
            (Some(low), None) => write!(f, "at least {low}"),
            (None, Some(high)) => write!(f, "at most {high}"),
            (None, None) => Ok(()),
        }
    }
}
