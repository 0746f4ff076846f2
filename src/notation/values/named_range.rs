//! An instrument with a range: `trumpet Bb3-D5`.

use std::fmt;

use crate::music::{Pitch, PitchRange};
use crate::notation::facts::notes::Note;
use crate::notation::names;
use crate::notation::scan;

/// An instrument or section and a range of written pitches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedRange {
    /// The instrument or part as written.
    pub name: String,
    /// The range, written pitch.
    pub range: PitchRange,
    /// Which of its ends the card says; the other is where the instrument ends.
    pub ends: Ends,
}

/// The ends of a range that somebody said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ends {
    /// The lowest note and the highest.
    #[default]
    Both,
    /// How low it goes.
    Low,
    /// How high it goes.
    High,
}

impl Ends {
    /// A range in words, of which only these ends are said: `Bb3-D5`, `up to D5`.
    pub fn words(self, range: PitchRange) -> String {
        match self {
            Ends::Both => range.to_string(),
            Ends::Low => format!("down to {}", range.low),
            Ends::High => format!("up to {}", range.high),
        }
    }
}

impl NamedRange {
    /// Reads `trumpet Bb3-D5` or `clarinet 2 G3-B4`.
    pub fn read(text: &str) -> Option<NamedRange> {
        // How far they surely go is what is asked.
        let text = text.trim();
        let text = [" safe", " safely", " comfortably", " comfortable", " easily"]
            .iter()
            .find_map(|tail| text.strip_suffix(tail))
            .unwrap_or(text);
        let words: Vec<&str> = text.split_whitespace().collect();
        (1..words.len().min(8)).find_map(|at| {
            let range = PitchRange::read(&words.get(at..)?.join(" "))?;
            let name = words.get(..at)?.join(" ");
            // Ranges are written pitch anyway, so that `written` before one says nothing new.
            let name = ["written", "range", "from"]
                .iter()
                .find_map(|word| name.strip_suffix(word)?.strip_suffix([' ', ':']))
                .unwrap_or(&name);
            Some(NamedRange {
                name: names::part_in_full(name.trim_end_matches([':', ' '])),
                range,
                ends: Ends::Both,
            })
        })
    }
}

/// How high or how low an instrument goes, by notes whose octave the director does not write, or on one side only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedBounds {
    /// The instrument or part as written.
    pub name: String,
    /// The lowest note, where it is said.
    pub low: Option<Note>,
    /// The highest note, where it is said.
    pub high: Option<Note>,
}

impl NamedBounds {
    /// Reads `trumpet up to D5`, `clarinet no higher than A4`, `cornets middle C to top-line F`.
    pub fn read(text: &str) -> Option<NamedBounds> {
        let text = text.trim();
        let text = [
            " on a good day",
            " on a bad day",
            " safe",
            " safely",
            " comfortably",
        ]
        .iter()
        .find_map(|tail| text.strip_suffix(tail))
        .unwrap_or(text);
        let name_end = names::known_prefix(text)?;
        let name = names::part_in_full(text.get(..name_end)?.trim_end_matches([':', ' ']));
        let rest = text.get(name_end..)?.trim_start_matches([':', ' ']);
        let notes = |rest: &str| {
            let rest = rest
                .strip_prefix("down to ")
                .or_else(|| rest.strip_prefix("from "))
                .unwrap_or(rest);
            let (low, high) = [" up to ", " thru ", " through ", " to "]
                .iter()
                .find_map(|joint| rest.split_once(joint))?;
            let inside = [" in the stave", " in the staff"]
                .iter()
                .find_map(|tail| high.strip_suffix(tail));
            let high = inside.map_or_else(|| high.to_owned(), |note| format!("staff {note}"));
            Some((Note::read(low)?, Note::read(&high)?))
        };
        if let Some((low, high)) = notes(rest) {
            let (low, high) = (Some(low), Some(high));
            return Some(NamedBounds { name, low, high });
        }
        let led = |leads: &[&str]| {
            let note = leads.iter().find_map(|lead| scan::after_phrase(rest, lead))?;
            Note::read(note)
        };
        let high = led(&[
            "no higher than",
            "not above",
            "never above",
            "up to",
            "to",
            "tops out at",
            "as high as",
        ]);
        let low = led(&[
            "no lower than",
            "not below",
            "never below",
            "down to",
            "as low as",
            "from",
        ]);
        (high.is_some() || low.is_some()).then_some(NamedBounds { name, low, high })
    }

    /// The range that it says of an instrument of this full range; none where a note's octave is left to the
    /// reader.
    pub fn within(&self, full: PitchRange) -> Option<NamedRange> {
        let pitch = |note: Note| {
            Some(Pitch {
                step: note.name.step,
                alter: note.name.alter,
                octave: note.octave?,
            })
        };
        let (low, high) = match (self.low, self.high) {
            (Some(low), Some(high)) => (Some(pitch(low)?), Some(pitch(high)?)),
            (low, high) => (
                low.map(pitch).unwrap_or_default(),
                high.map(pitch).unwrap_or_default(),
            ),
        };
        let ends = match (low, high) {
            (Some(_), Some(_)) => Ends::Both,
            (Some(_), None) => Ends::Low,
            (None, Some(_)) => Ends::High,
            (None, None) => return None,
        };
        let full = full.upright();
        Some(NamedRange {
            name: self.name.clone(),
            range: PitchRange {
                low: low.unwrap_or(full.low),
                high: high.unwrap_or(full.high),
            },
            ends,
        })
    }
}

impl fmt::Display for NamedBounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)?;
        match (self.low, self.high) {
            (Some(low), Some(high)) => write!(f, " {low} to {high}"),
            (Some(low), None) => write!(f, " down to {low}"),
            (None, Some(high)) => write!(f, " up to {high}"),
            (None, None) => Ok(()),
        }
    }
}

impl fmt::Display for NamedRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.name, self.range)
    }
}
