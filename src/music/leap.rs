//! How far a key moves: up a fourth, down a step.

use super::key::Tonic;
use super::words;
use std::fmt;

/// A move of a key by an interval that is told without doubt. A bare "third" is not among them: it may be a
/// major or a minor one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Leap {
    up: bool,
    /// The index in [`SIZES`].
    size: usize,
}

/// Names, other names, and what going up by it adds on the line of fifths.
const SIZES: [(&str, &[&str], i32); 7] = [
    (
        "half step",
        &["halfstep", "half tone", "semitone", "minor second"],
        -5,
    ),
    ("whole step", &["step", "tone", "whole tone", "major second"], 2),
    ("minor third", &[], -3),
    ("major third", &[], 4),
    ("fourth", &["perfect fourth", "4th"], -1),
    ("fifth", &["perfect fifth", "5th"], 1),
    ("octave", &[], 0),
];

impl Leap {
    /// Reads `up a fourth`, `down a step`, `a half step higher`.
    pub fn read(text: &str) -> Option<Leap> {
        let text = words::tidy(text).replace('-', " ");
        let (up, size) = match text.split_once(' ')? {
            ("up", rest) => (true, rest),
            ("down", rest) => (false, rest),
            _ => match text.rsplit_once(' ')? {
                (rest, "higher" | "up") => (true, rest),
                (rest, "lower" | "down") => (false, rest),
                _ => return None,
            },
        };
        let size = ["a ", "an ", "one ", "by a "]
            .iter()
            .find_map(|lead| size.strip_prefix(lead))
            .unwrap_or(size);
        let size = SIZES
            .iter()
            .position(|(name, others, _)| *name == size || others.contains(&size))?;
        Some(Leap { up, size })
    }

    /// What it adds on the line of fifths.
    pub fn fifths(self) -> i32 {
        let (.., fifths) = SIZES.get(self.size).copied().unwrap_or(("", &[], 0));
        if self.up { fifths } else { -fifths }
    }

    /// The tonic after the move, with no more than seven signs in its major key.
    pub fn from(self, tonic: Tonic) -> Tonic {
        let fifths = tonic.fifths().saturating_add(self.fifths());
        Tonic::from_fifths(match fifths {
            f if f > 7 => f - 12,
            f if f < -7 => f + 12,
            f => f,
        })
    }
}

impl fmt::Display for Leap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (name, ..) = SIZES.get(self.size).copied().unwrap_or(("", &[], 0));
        let article = if name == "octave" { "an" } else { "a" };
        write!(f, "{} {article} {name}", if self.up { "up" } else { "down" })
    }
}
