//! What a piece needs: percussionists, other players, or an instrument.

use std::fmt;

use crate::notation::names;

use super::cursor::{ARTICLES, Cursor};
use super::how_many::HowMany;
use super::instrument_name::is_known;

/// One need of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Needs {
    /// Percussionists, in a number that is wanted or the fewest it can be done with.
    Percussionists {
        /// How many it wants.
        ideal: Option<HowMany>,
        /// The fewest with which it can be done.
        min: Option<u32>,
        /// How many percussion parts there are, where that is said beside the players.
        parts: Option<u32>,
    },
    /// Players of an instrument or group, or the instrument itself.
    Players {
        /// How many, where that is said.
        count: Option<HowMany>,
        /// What they must be, such as `strong` or `solo`.
        able: Option<&'static str>,
        /// The instruments or groups; any one of them will do.
        any_of: Vec<String>,
        /// Whether a whole section is meant.
        section: bool,
    },
}

/// What players must be, in the one form.
const ABLE: [(&str, &str); 20] = [
    ("very strong", "strong"),
    ("strong", "strong"),
    ("solid", "strong"),
    ("confident", "strong"),
    ("secure", "strong"),
    ("really good", "good"),
    ("very good", "good"),
    ("good", "good"),
    ("decent", "good"),
    ("capable", "good"),
    ("reliable", "good"),
    ("able", "good"),
    ("steady", "good"),
    ("advanced", "advanced"),
    ("experienced", "advanced"),
    ("mature", "advanced"),
    ("solo", "solo"),
    ("featured", "solo"),
    ("full", "full"),
    ("big", "full"),
];

const PERCUSSIONISTS: [&str; 16] = [
    "percussion players",
    "percussion parts",
    "percussionists",
    "percussionist",
    "percussion",
    "perc. players",
    "perc players",
    "perc.",
    "perc",
    "drummers",
    "drummer",
    "players",
    "player",
    "kids",
    "people",
    "hands",
];

/// Behind a number: it can be done with so few.
const IF_SHORT: [&str; 16] = [
    "minimum",
    "min.",
    "min",
    "at a pinch",
    "in a pinch",
    "if short",
    "if need be",
    "if needed",
    "if necessary",
    "will do",
    "at the least",
    "if you must",
    "is enough",
    "are enough",
    "can do",
    "at a push",
];

impl Needs {
    /// Percussionists, so many.
    pub fn percussionists(count: HowMany) -> Needs {
        match count {
            HowMany { low, high: None } => Needs::Percussionists {
                ideal: None,
                min: low,
                parts: None,
            },
            count => Needs::Percussionists {
                ideal: Some(count),
                min: None,
                parts: None,
            },
        }
    }

    /// Reads `4-5 percussionists`, `4 minimum`, `at least 4 percussionists`, `4 at a pinch`,
    /// `6 percussionists, 4 if short`, `8 parts, playable with 4-5`, `a strong trumpet`,
    /// `2 flutes`, `piano or synth`.
    pub fn read(text: &str) -> Option<Needs> {
        let spaced = text.replace([',', ';'], " ");
        percussion(&spaced).or_else(|| players(&spaced))
    }

    /// Whether it counts percussionists; a bare number or minimum does.
    pub fn is_percussion(&self) -> bool {
        matches!(self, Needs::Percussionists { .. })
    }

    /// Whether it says only the fewest with which it can be done.
    pub fn is_minimum(&self) -> bool {
        matches!(
            self,
            Needs::Percussionists {
                ideal: None,
                min: Some(_),
                ..
            }
        )
    }

    /// The fewest percussionists with which it can be done, as far as this need says.
    pub fn fewest(&self) -> Option<u32> {
        match self {
            Needs::Percussionists { ideal, min, .. } => min.or_else(|| ideal.and_then(|ideal| ideal.low)),
            Needs::Players { .. } => None,
        }
    }

    /// The most percussionists that it says it takes.
    pub fn most(&self) -> Option<u32> {
        match self {
            Needs::Percussionists { ideal, .. } => ideal.and_then(|ideal| ideal.high),
            Needs::Players { .. } => None,
        }
    }
}

fn percussion(text: &str) -> Option<Needs> {
    let mut words = Cursor::new(text);
    let parts = parts(&mut words);
    if parts.is_some() && words.done() {
        return None;
    }
    words.any(&[
        "playable with",
        "playable by",
        "can be done with",
        "can do with",
        "works with",
        "with",
        "for",
    ]);
    let mut count = HowMany::take(&mut words)?;
    words.any(&PERCUSSIONISTS);
    if words.any(&["at least", "or more", "and up"]) {
        count.high = None;
    }
    let mut ends = words.clone();
    if ends.any(&IF_SHORT) && ends.done() {
        let min = count.low?;
        return Some(Needs::Percussionists {
            ideal: None,
            min: Some(min),
            parts,
        });
    }
    let min = match words.done() {
        true => None,
        false => {
            words.any(&["but", "or", "and"]);
            let led = words.any(&[
                "can be done with",
                "can do with",
                "can do w",
                "playable with",
                "playable by",
                "works with",
                "at least",
                "minimum",
                "min.",
                "min",
            ]);
            let least = words.number()?;
            words.any(&PERCUSSIONISTS);
            let ends = words.any(&IF_SHORT);
            (led || ends).then_some(())?;
            Some(least)
        }
    };
    if !words.done() {
        return None;
    }
    match Needs::percussionists(count) {
        Needs::Percussionists { ideal, min: low, .. } => {
            let min = min.or(low);
            let backwards = ideal
                .and_then(|ideal| ideal.low)
                .zip(min)
                .is_some_and(|(ideal, min)| min > ideal);
            (!backwards).then_some(Needs::Percussionists { ideal, min, parts })
        }
        other => Some(other),
    }
}

/// `8 parts`, `8 percussion parts`.
fn parts(words: &mut Cursor<'_>) -> Option<u32> {
    let start = words.clone();
    let found = words.number();
    words.any(&["percussion", "perc."]);
    if found.is_some() && words.take("parts") {
        return found;
    }
    *words = start;
    None
}

fn players(text: &str) -> Option<Needs> {
    let mut words = Cursor::new(text);
    let count = match words.any(&ARTICLES) {
        true => None,
        false => HowMany::take(&mut words),
    };
    let able = words.one_of(&ABLE);
    if able.is_some() {
        words.take("and");
        words.one_of(&ABLE);
    }
    let mut any_of = vec![instrument(&mut words)?];
    while words.any(&["or"]) {
        words.any(&ARTICLES);
        any_of.push(instrument(&mut words)?);
    }
    let section = words.any(&["section", "sections"]);
    let person = words.any(&["player", "players", "soloist", "soloists", "solo"]);
    if !words.done() || (count.is_none() && able.is_none() && section && person) {
        return None;
    }
    Some(Needs::Players {
        count,
        able,
        any_of,
        section,
    })
}

/// A known instrument or group, without `section` and `player` behind it.
fn instrument(words: &mut Cursor<'_>) -> Option<String> {
    words.longest(|text| {
        let ends = ["section", "sections", "player", "players", "soloist", "solo"];
        let last = text.rsplit(' ').next()?;
        (!ends.contains(&last) && is_known(text)).then(|| names::part_in_full(text))
    })
}

impl fmt::Display for Needs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Needs::Percussionists { ideal, min, parts } => {
                if let Some(parts) = parts {
                    write!(f, "{parts} parts, playable with ")?;
                }
                match (ideal, min) {
                    (Some(ideal), Some(min)) => write!(f, "{ideal} percussionists, {min} minimum"),
                    (Some(ideal), None) => {
                        let one = *ideal == HowMany::exactly(1);
                        write!(f, "{ideal} percussionist{}", if one { "" } else { "s" })
                    }
                    (None, Some(min)) => write!(f, "{min} minimum"),
                    (None, None) => Ok(()),
                }
            }
            Needs::Players {
                count,
                able,
                any_of,
                section,
            } => {
                let mut parts = Vec::new();
                match (count, able) {
                    (Some(count), _) => parts.push(count.to_string()),
                    (None, Some(_)) => parts.push("a".to_owned()),
                    (None, None) => {}
                }
                parts.extend(able.map(str::to_owned));
                parts.push(any_of.join(" or "));
                if *section {
                    parts.push("section".to_owned());
                }
                f.write_str(&parts.join(" "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_are_read_as_directors_write_them() {
        for (written, one_form, fewest) in [
            ("4 percussionists", Some("4 percussionists"), Some(4)),
            ("4", Some("4 percussionists"), Some(4)),
            ("4 or 5", Some("4-5 percussionists"), Some(4)),
            ("4-5 players", Some("4-5 percussionists"), Some(4)),
            ("4 to 5 percussion players", Some("4-5 percussionists"), Some(4)),
            ("four", Some("4 percussionists"), Some(4)),
            ("4+", Some("4 minimum"), Some(4)),
            ("at least 6", Some("6 minimum"), Some(6)),
            ("6 at least", Some("6 minimum"), Some(6)),
            ("6 percussionists at least", Some("6 minimum"), Some(6)),
            ("no more than 6", Some("at most 6 percussionists"), None),
            ("6, 4 at a pinch", Some("6 percussionists, 4 minimum"), Some(4)),
            (
                "6 percussionists, 4 if short",
                Some("6 percussionists, 4 minimum"),
                Some(4),
            ),
            ("4 can do with 3", Some("4 percussionists, 3 minimum"), Some(3)),
            ("6 can do w 3", Some("6 percussionists, 3 minimum"), Some(3)),
            (
                "6 but can do with 3",
                Some("6 percussionists, 3 minimum"),
                Some(3),
            ),
            ("4 if short", Some("4 minimum"), Some(4)),
            ("4 minimum", Some("4 minimum"), Some(4)),
            (
                "8 parts, playable with 4-5",
                Some("8 parts, playable with 4-5 percussionists"),
                Some(4),
            ),
            ("a strong trumpet", Some("a strong trumpet"), None),
            ("2 flutes", Some("2 flutes"), None),
            ("a good clarinet section", Some("a good clarinet section"), None),
            ("baritone sax", Some("baritone sax"), None),
            ("piano or synth", Some("piano or synth"), None),
            ("4 zqxv percussionists", None, None),
            ("zqxv 4", None, None),
            ("a strong zqxv", None, None),
            ("a zqxv trumpet", None, None),
            ("patience", None, None),
            ("8 parts", None, None),
        ] {
            let read = Needs::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(read.as_ref().and_then(Needs::fewest), fewest, "{written}");
            assert_eq!(
                shown.and_then(|shown| Needs::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
