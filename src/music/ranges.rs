//! Ranges of a part: the lowest and the highest note.

use super::interval::{Interval, size_in_words};
use super::pitch::Pitch;
use super::words;
use std::fmt;

/// A lowest and a highest pitch, written or sounding as the owner says. It may stand upside down
/// as read, so that a rule can say so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PitchRange {
    /// The pitch given first.
    pub low: Pitch,
    /// The pitch given second.
    pub high: Pitch,
}

impl PitchRange {
    /// A range from its two ends, kept in the order given.
    pub const fn new(low: Pitch, high: Pitch) -> Self {
        Self { low, high }
    }

    /// Reads `A3-C5`, `A3 to C5`, `A3–C5` with any spacing.
    pub fn read(text: &str) -> Option<PitchRange> {
        let text = text.trim();
        if text.len() > 64 {
            return None;
        }
        // The dash that parts the notes is not the one of a negative octave, so each is tried.
        for (at, dash) in text.match_indices(['-', '\u{2013}', '\u{2014}', '\u{2212}']) {
            let halves = (text.get(..at), text.get(at + dash.len()..));
            if let (Some(low), Some(high)) = halves
                && let (Some(low), Some(high)) = (Pitch::read(low), Pitch::read(high))
            {
                return Some(Self::new(low, high));
            }
        }
        // `B-flat 1 to B-flat 2`: its dashes part no notes.
        let (low, high) = text.split_once(" to ").or_else(|| words::split_range(text))?;
        Some(Self::new(Pitch::read(low)?, Pitch::read(high)?))
    }

    /// Whether the first pitch sounds above the second.
    pub fn is_upside_down(self) -> bool {
        self.low.midi() > self.high.midi()
    }

    /// The same range with its ends in order.
    pub fn upright(self) -> Self {
        if self.is_upside_down() {
            Self::new(self.high, self.low)
        } else {
            self
        }
    }

    /// Whether `pitch` sounds inside, ends included.
    pub fn holds(self, pitch: Pitch) -> bool {
        let range = self.upright();
        (range.low.midi()..=range.high.midi()).contains(&pitch.midi())
    }

    /// Whether the whole of `other` sounds inside.
    pub fn holds_all(self, other: PitchRange) -> bool {
        self.holds(other.low) && self.holds(other.high)
    }

    /// The interval from the lower end to the upper.
    pub fn span(self) -> Interval {
        let range = self.upright();
        Interval::between(range.low, range.high)
    }

    /// The span in words, by letters: `an octave and a third`.
    pub fn span_in_words(self) -> String {
        size_in_words(self.span().steps)
    }

    /// The smallest range that holds both.
    pub fn joined(self, other: PitchRange) -> Self {
        let (a, b) = (self.upright(), other.upright());
        Self::new(a.low.min(b.low), a.high.max(b.high))
    }

    /// The widest of many by semitones, the first of equals.
    pub fn widest(ranges: impl IntoIterator<Item = PitchRange>) -> Option<PitchRange> {
        let mut best: Option<PitchRange> = None;
        for range in ranges {
            if best.is_none_or(|b| range.span().semitones > b.span().semitones) {
                best = Some(range);
            }
        }
        best
    }

    /// Both ends moved by an interval.
    pub fn transposed(self, by: Interval) -> Option<Self> {
        Some(Self::new(by.transpose(self.low)?, by.transpose(self.high)?))
    }
}

impl fmt::Display for PitchRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.low, self.high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn read_spanned_and_recopied() {
        let table = [
            ("A3-C5", "A3-C5", "an octave and a third"),
            ("A3 to C5", "A3-C5", "an octave and a third"),
            ("e3 – B♭4", "E3-Bb4", "an octave and a fifth"),
            ("Bb1-Bb3", "Bb1-Bb3", "two octaves"),
            ("C-1 - C4", "C-1-C4", "five octaves"),
            ("C5-A3", "C5-A3", "an octave and a third"),
        ];
        for (given, copied, span) in table {
            let range = PitchRange::read(given);
            assert_eq!(range.map(|r| r.to_string()).as_deref(), Some(copied));
            assert_eq!(range.map(|r| r.span_in_words()).as_deref(), Some(span));
        }
        assert_eq!(PitchRange::read("C5-A3").map(|r| r.is_upside_down()), Some(true));
        assert_eq!(PitchRange::read("5-20"), None);
    }

    #[test]
    fn inside() {
        let range = PitchRange::read("E3-Bb4");
        let inside = |p: &str| Some(range?.holds(Pitch::read(p)?));
        assert_eq!(inside("A#4"), Some(true));
        assert_eq!(inside("B4"), Some(false));
        assert_eq!(inside("Eb3"), Some(false));
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,20}") {
            if let Some(range) = PitchRange::read(&text) {
                prop_assert_eq!(PitchRange::read(&range.to_string()), Some(range));
            }
        }
    }
}
