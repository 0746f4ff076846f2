//! An instrument with a range: `trumpet Bb3-D5`.

use std::fmt;

use crate::music::PitchRange;
use crate::notation::names;

/// An instrument or section and a range of written pitches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedRange {
    /// The instrument or part as written.
    pub name: String,
    /// The range, written pitch.
    pub range: PitchRange,
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
            })
        })
    }
}

impl fmt::Display for NamedRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.name, self.range)
    }
}
