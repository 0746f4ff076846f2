//! Intervals: letters and semitones together, and their names in words.

use super::pitch::{Pitch, Step};
use super::words;
use std::fmt;

/// A directed interval. Both numbers are counted whole, octaves included; down is negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Interval {
    /// Letters crossed: a second is 1, an octave 7.
    pub steps: i32,
    /// Semitones crossed: an octave is 12.
    pub semitones: i32,
}

/// Semitones of the perfect or major interval on each number of letters.
const NATURAL: [i32; 7] = [0, 2, 4, 5, 7, 9, 11];
const ORDINALS: [&str; 7] = ["unison", "second", "third", "fourth", "fifth", "sixth", "seventh"];

impl Interval {
    /// As written: no distance at all.
    pub const UNISON: Interval = Interval {
        steps: 0,
        semitones: 0,
    };

    /// An interval from its two numbers.
    pub const fn new(steps: i32, semitones: i32) -> Self {
        Self { steps, semitones }
    }

    /// The interval that leads from one pitch to the other.
    pub fn between(from: Pitch, to: Pitch) -> Self {
        Self::new(to.position() - from.position(), to.midi() - from.midi())
    }

    /// The same distance the other way.
    pub fn reversed(self) -> Self {
        Self::new(self.steps.saturating_neg(), self.semitones.saturating_neg())
    }

    /// One after the other.
    pub fn plus(self, other: Self) -> Self {
        Self::new(
            self.steps.saturating_add(other.steps),
            self.semitones.saturating_add(other.semitones),
        )
    }

    /// The pitch this far away, spelled by the letters; `None` where no octave or accidental
    /// could be written (more than three signs).
    pub fn transpose(self, pitch: Pitch) -> Option<Pitch> {
        let position = pitch.position().checked_add(self.steps)?;
        let octave = i8::try_from(position.div_euclid(7)).ok()?;
        let step = Step::from_index(position);
        let midi = pitch.midi().checked_add(self.semitones)?;
        let alter = i8::try_from(midi.checked_sub(Pitch::new(step, 0, octave).midi())?).ok()?;
        (alter.unsigned_abs() <= 3).then(|| Pitch::new(step, alter, octave))
    }

    /// Whether it leads down: fewer letters, or the same letter and fewer semitones.
    pub fn is_down(self) -> bool {
        self.steps < 0 || (self.steps == 0 && self.semitones < 0)
    }

    /// The distance in words, whatever the direction: `a major sixth`, `an octave`,
    /// `an octave and a major third`, `a major ninth`.
    pub fn name(self) -> String {
        let up = if self.is_down() { self.reversed() } else { self };
        let (octaves, within) = (up.steps.div_euclid(7), up.steps.rem_euclid(7));
        let natural = octaves
            .saturating_mul(12)
            .saturating_add(NATURAL.get(within as usize).copied().unwrap_or(0));
        let Some(quality) = quality(within, up.semitones.saturating_sub(natural)) else {
            return format!("{} semitones", up.semitones);
        };
        let part = |ordinal: &str| {
            let article = if quality.starts_with('a') { "an" } else { "a" };
            format!("{article} {quality} {ordinal}")
        };
        match (octaves, within, quality) {
            (_, 0, "perfect") if octaves > 0 => octaves_in_words(octaves),
            (1, 1, _) => part("ninth"),
            (0, _, _) => part(ORDINALS.get(within as usize).copied().unwrap_or("unison")),
            // An octave stretched or shrunk has no "octave and" form.
            (1, 0, _) => part("octave"),
            _ => format!(
                "{} and {}",
                octaves_in_words(octaves),
                part(ORDINALS.get(within as usize).copied().unwrap_or("unison"))
            ),
        }
    }

    /// How an instrument with this interval sounds: `a major sixth lower`, `as written`.
    pub fn sounds(self) -> String {
        if self == Self::UNISON {
            return "as written".to_owned();
        }
        let way = if self.is_down() { "lower" } else { "higher" };
        format!("{} {way}", self.name())
    }

    /// Reads what [`Interval::sounds`] writes and its relatives: `a major sixth lower`,
    /// `an octave lower`, `two octaves higher`, `2 octaves and a major second lower`,
    /// `down a perfect fifth`, `a whole step higher`, `as written`, `as is`, `in C`.
    ///
    /// A fourth, fifth or octave needs no quality; a second, third, sixth or seventh does,
    /// because major and minor are both common. Without a direction it leads up.
    pub fn read(text: &str) -> Option<Interval> {
        let text = words::tidy(text);
        if matches!(
            text.as_str(),
            "as written" | "as is" | "in c" | "unison" | "a unison" | "at pitch" | "concert"
        ) {
            return Some(Self::UNISON);
        }
        let mut down = false;
        let mut rest: Vec<&str> = text.split(' ').collect();
        if let Some(first) = rest.first() {
            if matches!(*first, "up" | "down") {
                down = *first == "down";
                rest.remove(0);
            } else if let Some(last) = rest.last() {
                if matches!(*last, "lower" | "down" | "below") {
                    down = true;
                    rest.pop();
                } else if matches!(*last, "higher" | "up" | "above") {
                    rest.pop();
                }
            }
        }
        let mut sum = Self::UNISON;
        if rest.is_empty() {
            return None;
        }
        for part in rest.split(|w| matches!(*w, "and" | "plus")) {
            sum = sum.plus(read_part(part)?);
        }
        if sum == Self::UNISON {
            return None;
        }
        Some(if down { sum.reversed() } else { sum })
    }
}

impl fmt::Display for Interval {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sounds())
    }
}

/// Reads a size without quality and answers letters crossed: `an octave and a third` is 9, as is
/// `a tenth` and `a 10th`; `two octaves` is 14. A quality word is allowed and does not matter.
pub fn read_size(text: &str) -> Option<i32> {
    let text = words::tidy(text);
    let all: Vec<&str> = text.split(' ').collect();
    let mut sum = 0_i32;
    for part in all.split(|w| matches!(*w, "and" | "plus")) {
        let (count, rest) = leading_count(part);
        let steps = match rest {
            [noun] | [_, noun] if quality_shift(rest.first().copied()).is_some() || rest.len() == 1 => {
                noun_steps(noun)?
            }
            _ => return None,
        };
        if count > 1 && steps != 7 {
            return None;
        }
        sum = sum.checked_add(steps.checked_mul(count)?)?;
    }
    (sum > 0).then_some(sum)
}

/// A size in words from its letters crossed: 9 is `an octave and a third`, 14 `two octaves`.
pub fn size_in_words(steps: i32) -> String {
    let steps = steps.saturating_abs();
    let (octaves, within) = (steps / 7, steps % 7);
    let part = ORDINALS.get(within as usize).copied().unwrap_or("unison");
    match (octaves, within) {
        (0, _) => format!("a {part}"),
        (_, 0) => octaves_in_words(octaves),
        _ => format!("{} and a {part}", octaves_in_words(octaves)),
    }
}

fn octaves_in_words(octaves: i32) -> String {
    match octaves {
        1 => "an octave".to_owned(),
        n => format!("{} octaves", words::count_in_words(n.unsigned_abs())),
    }
}

fn is_perfect_kind(within: i32) -> bool {
    matches!(within, 0 | 3 | 4)
}

fn quality(within: i32, away: i32) -> Option<&'static str> {
    let name = match (is_perfect_kind(within), away) {
        (true, 0) => "perfect",
        (false, 0) => "major",
        (false, -1) => "minor",
        (_, 1) => "augmented",
        (true, -1) | (false, -2) => "diminished",
        _ => return None,
    };
    Some(name)
}

fn quality_shift(word: Option<&str>) -> Option<&'static str> {
    Some(match word? {
        "major" | "maj" | "maj." => "major",
        "minor" | "min" | "min." => "minor",
        "perfect" => "perfect",
        "augmented" => "augmented",
        "diminished" => "diminished",
        _ => return None,
    })
}

fn noun_steps(noun: &str) -> Option<i32> {
    let steps = match noun {
        "unison" => 0,
        "second" | "2nd" => 1,
        "third" | "3rd" => 2,
        "fourth" | "4th" => 3,
        "fifth" | "5th" => 4,
        "sixth" | "6th" => 5,
        "seventh" | "7th" => 6,
        "octave" | "octaves" | "eighth" | "8th" => 7,
        "ninth" | "9th" => 8,
        "tenth" | "10th" => 9,
        "eleventh" | "11th" => 10,
        "twelfth" | "12th" => 11,
        "thirteenth" | "13th" => 12,
        "fourteenth" | "14th" => 13,
        "fifteenth" | "15th" => 14,
        _ => return None,
    };
    Some(steps)
}

fn leading_count<'a, 'b>(part: &'a [&'b str]) -> (i32, &'a [&'b str]) {
    match part.split_first() {
        Some((first, rest)) => match words::count(first) {
            Some(n) => (i32::try_from(n.min(1000)).unwrap_or(1000), rest),
            None => (1, part),
        },
        None => (1, part),
    }
}

fn read_part(part: &[&str]) -> Option<Interval> {
    let (count, rest) = leading_count(part);
    if let ["half", "step" | "tone"] | ["semitone"] | ["half-step"] = rest {
        return (count == 1).then_some(Interval::new(1, 1));
    }
    if let ["whole", "step" | "tone"] | ["step"] | ["tone"] | ["whole-step"] = rest {
        return (count == 1).then_some(Interval::new(1, 2));
    }
    let (quality, noun) = match rest {
        [noun] => (None, *noun),
        [word, noun] => (Some(quality_shift(Some(word))?), *noun),
        _ => return None,
    };
    let steps = noun_steps(noun)?;
    if count != 1 && steps != 7 {
        return None;
    }
    let within = steps % 7;
    let natural = (steps / 7) * 12 + NATURAL.get(within as usize).copied().unwrap_or(0);
    let perfect = is_perfect_kind(within);
    let shift = match (quality, perfect) {
        (None, true) | (Some("perfect"), true) | (Some("major"), false) => 0,
        (Some("minor"), false) => -1,
        (Some("augmented"), _) => 1,
        (Some("diminished"), true) => -1,
        (Some("diminished"), false) => -2,
        _ => return None,
    };
    Some(Interval::new(
        steps.checked_mul(count)?,
        natural.checked_add(shift)?.checked_mul(count)?,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Names of intervals: standard theory; the transpositions behind them: W3C MusicXML 4.0,
    /// transpose element.
    #[test]
    fn words_both_ways() {
        let table = [
            ("as written", 0, 0),
            ("a major second lower", -1, -2),
            ("a minor third higher", 2, 3),
            ("a perfect fifth lower", -4, -7),
            ("a major sixth lower", -5, -9),
            ("an octave lower", -7, -12),
            ("a major ninth lower", -8, -14),
            ("an octave and a major sixth lower", -12, -21),
            ("two octaves higher", 14, 24),
            ("two octaves and a major second lower", -15, -26),
            ("a minor ninth higher", 8, 13),
            ("an augmented fourth higher", 3, 6),
            ("a diminished fifth higher", 4, 6),
        ];
        for (words, steps, semitones) in table {
            let interval = Interval::new(steps, semitones);
            assert_eq!(interval.sounds(), words);
            assert_eq!(Interval::read(words), Some(interval), "{words}");
        }
    }

    #[test]
    fn read_leniently() {
        let table = [
            ("An octave and a  major second lower", Some((-8, -14))),
            ("down a fifth", Some((-4, -7))),
            ("major thirteenth lower", Some((-12, -21))),
            ("2 octaves up", Some((14, 24))),
            ("a whole step lower", Some((-1, -2))),
            ("a sixth lower", None),
            ("a perfect sixth lower", None),
            ("lower", None),
            ("", None),
            ("three thirds lower", None),
        ];
        for (words, wanted) in table {
            let got = Interval::read(words).map(|i| (i.steps, i.semitones));
            assert_eq!(got, wanted, "{words}");
        }
    }

    #[test]
    fn sizes() {
        let table = [
            ("an octave and a third", Some(9)),
            ("a tenth", Some(9)),
            ("an octave and a major third", Some(9)),
            ("two octaves", Some(14)),
            ("an octave", Some(7)),
            ("a 5th", Some(4)),
            ("an octave and", None),
            ("wide", None),
        ];
        for (words, steps) in table {
            assert_eq!(read_size(words), steps, "{words}");
        }
        assert_eq!(size_in_words(9), "an octave and a third");
        assert_eq!(size_in_words(14), "two octaves");
        assert_eq!(size_in_words(4), "a fifth");
    }

    proptest! {
        #[test]
        fn there_and_back(midi in 21_i32..100, steps in -15_i32..15) {
            let from = Pitch::new(Step::from_index(midi), 0, (midi / 12) as i8 - 1);
            let interval = Interval::new(steps, steps * 12 / 7);
            if let Some(to) = interval.transpose(from) {
                prop_assert_eq!(Interval::between(from, to), interval);
                prop_assert_eq!(interval.reversed().transpose(to), Some(from));
            }
        }

        #[test]
        fn any_numbers_and_any_words(a in any::<i32>(), b in any::<i32>(), text in "\\PC{0,30}") {
            let interval = Interval::new(a, b);
            let _ = interval.name();
            let _ = interval.transpose(Pitch::new(Step::C, 0, 4));
            let _ = size_in_words(a);
            let _ = Interval::read(&text);
            let _ = read_size(&text);
        }
    }
}
