//! What a band's card says of keys besides the keys themselves: `signatures up to 2 flats`.

use std::fmt;

use super::cursor::Cursor;
use super::day::Day;
use crate::music::Center;

/// How many flats and sharps a band reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Signatures {
    /// The most flats, where that is said.
    pub flats: Option<u32>,
    /// The most sharps, where that is said.
    pub sharps: Option<u32>,
}

/// A key that the band is learning, and the day by which it has it, where that is said.
#[derive(Debug, Clone, PartialEq)]
pub struct KeySoon {
    /// The key.
    pub key: Center,
    /// By when.
    pub by: Option<Day>,
}

impl KeySoon {
    /// Reads `F by January`, `G minor on the way`, `with A-flat to begin in January`, `Ab next`.
    pub fn read(text: &str) -> Option<KeySoon> {
        let text = text.trim();
        let text = ["with ", "and ", "then ", "adding "]
            .iter()
            .find_map(|lead| text.strip_prefix(lead))
            .unwrap_or(text);
        let soon = [
            " on the way",
            " coming",
            " coming soon",
            " soon",
            " next",
            " in progress",
            " started",
            " being learned",
        ];
        if let Some(key) = soon.iter().find_map(|tail| text.strip_suffix(tail)) {
            return Center::read(key).map(|key| KeySoon { key, by: None });
        }
        let (key, day) = [
            " to begin in ",
            " to start in ",
            " starting in ",
            " starts in ",
            " begins in ",
            " by ",
            " from ",
            " in ",
        ]
        .iter()
        .find_map(|joint| text.split_once(joint))?;
        // `f by jan`: beside a day a small letter can only be a key.
        let large = key.to_uppercase();
        let key = if key.len() == 1 { large.as_str() } else { key };
        Some(KeySoon {
            key: Center::read(key)?,
            by: Some(Day::read(day)?),
        })
    }
}

impl fmt::Display for KeySoon {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.by {
            Some(day) => write!(f, "{} by {day}", self.key),
            None => write!(f, "{} soon", self.key),
        }
    }
}

impl Signatures {
    /// Reads `signatures up to two flats`, `up to 3 flats and 1 sharp`, `no more than 2 flats`.
    pub fn read(text: &str) -> Option<Signatures> {
        let mut words = Cursor::new(text);
        words.any(&["key signatures", "signatures", "keys", "all keys", "concert"]);
        words
            .any(&["up to", "at most", "no more than", "not more than", "to"])
            .then_some(())?;
        let mut found = Signatures {
            flats: None,
            sharps: None,
        };
        while !words.done() {
            let number = words.number().filter(|number| *number <= 7)?;
            let place = match (words.any(&["flats", "flat"]), words.any(&["sharps", "sharp"])) {
                (true, false) => &mut found.flats,
                (false, true) => &mut found.sharps,
                _ => return None,
            };
            place.is_none().then_some(())?;
            *place = Some(number);
            let joins = words.any(&["and", "&", "or"]);
            (joins != words.done()).then_some(())?;
        }
        (found.flats.is_some() || found.sharps.is_some()).then_some(found)
    }
}

impl fmt::Display for Signatures {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let one = |number: u32, sign: &str| match number {
            1 => format!("1 {sign}"),
            number => format!("{number} {sign}s"),
        };
        let mut parts: Vec<String> = Vec::new();
        parts.extend(self.flats.map(|number| one(number, "flat")));
        parts.extend(self.sharps.map(|number| one(number, "sharp")));
        write!(f, "signatures up to {}", parts.join(" and "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signatures_are_read() {
        for (written, one_form) in [
            ("signatures up to two flats", Some("signatures up to 2 flats")),
            (
                "up to 3 flats and 1 sharp",
                Some("signatures up to 3 flats and 1 sharp"),
            ),
            ("no more than 2 flats", Some("signatures up to 2 flats")),
            ("up to 9 flats", None),
            ("up to 2 flats 1 sharp", None),
            ("signatures up to zqxv flats", None),
            ("signatures up to two flats and", None),
            ("signatures up to two flats zqxv", None),
            ("2 flats", None),
        ] {
            let read = Signatures::read(written);
            let shown = read.map(|read| read.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Signatures::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
