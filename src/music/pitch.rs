//! Pitches in scientific pitch notation: C4 is middle C.
//!
//! A pitch keeps the spelling it was written with: D# and Eb stay two different pitches that
//! happen to sound alike.

use std::cmp::Ordering;
use std::fmt;

/// The seven letters, counted from C as the octave numbers are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Step {
    C,
    D,
    E,
    F,
    G,
    A,
    B,
}

impl Step {
    /// All letters, from C up.
    pub const ALL: [Step; 7] = [Step::C, Step::D, Step::E, Step::F, Step::G, Step::A, Step::B];

    /// 0 for C up to 6 for B.
    pub fn index(self) -> i32 {
        match self {
            Step::C => 0,
            Step::D => 1,
            Step::E => 2,
            Step::F => 3,
            Step::G => 4,
            Step::A => 5,
            Step::B => 6,
        }
    }

    /// The letter at `index`, counted around the octave for any number.
    pub fn from_index(index: i32) -> Step {
        match index.rem_euclid(7) {
            0 => Step::C,
            1 => Step::D,
            2 => Step::E,
            3 => Step::F,
            4 => Step::G,
            5 => Step::A,
            _ => Step::B,
        }
    }

    /// Semitones above C of the natural note.
    pub fn semitones(self) -> i32 {
        match self {
            Step::C => 0,
            Step::D => 2,
            Step::E => 4,
            Step::F => 5,
            Step::G => 7,
            Step::A => 9,
            Step::B => 11,
        }
    }

    /// The capital letter.
    pub fn letter(self) -> char {
        match self {
            Step::C => 'C',
            Step::D => 'D',
            Step::E => 'E',
            Step::F => 'F',
            Step::G => 'G',
            Step::A => 'A',
            Step::B => 'B',
        }
    }

    /// The letter for `c` in either case.
    pub fn read(c: char) -> Option<Step> {
        Step::ALL
            .into_iter()
            .find(|s| s.letter() == c.to_ascii_uppercase())
    }
}

/// A spelled pitch. `alter` counts semitones: -1 flat, +1 sharp, -2 double flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Pitch {
    /// The letter.
    pub step: Step,
    /// Semitones away from the natural note.
    pub alter: i8,
    /// The octave; octave 4 begins at middle C.
    pub octave: i8,
}

impl Pitch {
    /// A pitch from its three facts.
    pub const fn new(step: Step, alter: i8, octave: i8) -> Self {
        Self { step, alter, octave }
    }

    /// Reads `Bb3`, `B♭3`, `F#4`, `F♯4`, `Ebb4`, `F##4`, `Fx4`, with or without a space before
    /// the octave, in either case.
    ///
    /// The first letter is always the note, so `bb3` is B-flat 3 and `b3` is B-natural 3: there
    /// is only one way to read either. Octaves go from -1 to 10, the reach of MIDI and a little
    /// more.
    pub fn read(text: &str) -> Option<Pitch> {
        let text = text.trim();
        let mut chars = text.chars();
        let step = Step::read(chars.next()?)?;
        let (alter, rest) = read_accidentals(chars.as_str());
        let (alter, rest) = match alter? {
            0 => spelled_out(rest).unwrap_or((0, rest)),
            alter => (alter, rest),
        };
        let rest = rest.trim_start();
        let (sign, figures) = match rest.strip_prefix(['-', '\u{2212}']) {
            Some(figures) => (-1, figures),
            None => (1, rest),
        };
        let octave = sign * i32::try_from(super::words::digits(figures)?).ok()?;
        if !(-1..=10).contains(&octave) {
            return None;
        }
        Some(Pitch::new(step, alter, i8::try_from(octave).ok()?))
    }

    /// The MIDI number, 60 for C4. Numbers outside 0 to 127 are answered as they come.
    pub fn midi(self) -> i32 {
        (i32::from(self.octave) + 1) * 12 + self.step.semitones() + i32::from(self.alter)
    }

    /// Letters counted from C0: the height on a staff, whatever the accidental.
    pub fn position(self) -> i32 {
        i32::from(self.octave) * 7 + self.step.index()
    }

    /// Whether both sound the same, whatever their spelling.
    pub fn sounds_like(self, other: Pitch) -> bool {
        self.midi() == other.midi()
    }

    /// The letter and its accidental as printed in music: `B♭`, `F♯`, `E♭♭`.
    pub fn name(self) -> String {
        let mut name = String::from(self.step.letter());
        push_accidentals(&mut name, self.alter, '♭', '♯');
        name
    }
}

/// `-flat`, ` flat`, `-sharp` behind a letter, and what follows it.
fn spelled_out(text: &str) -> Option<(i8, &str)> {
    let rest = text.trim_start().trim_start_matches(['-', '\u{2011}']);
    let words = [("flat", -1), ("sharp", 1), ("natural", 0)];
    words.into_iter().find_map(|(word, alter)| {
        let (head, tail) = rest.split_at_checked(word.len())?;
        let fits = rest.len() < text.len() && head.eq_ignore_ascii_case(word) && tail.starts_with(' ');
        fits.then_some((alter, tail))
    })
}

/// Reads the accidentals at the front of `text`, at most three of one kind; answers the rest.
pub(crate) fn read_accidentals(text: &str) -> (Option<i8>, &str) {
    let mut alter: i8 = 0;
    let mut rest = text;
    let mut count = 0;
    while let Some(c) = rest.chars().next() {
        let by: i8 = match c {
            '#' | '♯' => 1,
            'b' | 'B' | '♭' => -1,
            'x' | 'X' | '𝄪' => 2,
            '𝄫' => -2,
            '♮' => 0,
            _ => break,
        };
        count += 1;
        let opposed = (by > 0 && alter < 0) || (by < 0 && alter > 0);
        if count > 3 || opposed {
            return (None, rest);
        }
        alter += by;
        rest = rest.get(c.len_utf8()..).unwrap_or("");
    }
    (Some(alter), rest)
}

/// Writes the accidentals of `alter`; a hostile figure is cut off after four signs.
pub(crate) fn push_accidentals(name: &mut String, alter: i8, flat: char, sharp: char) {
    let sign = if alter < 0 { flat } else { sharp };
    for _ in 0..alter.unsigned_abs().min(4) {
        name.push(sign);
    }
}

impl fmt::Display for Pitch {
    /// The one form, in plain letters: `Bb3`, `F#4`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut name = String::from(self.step.letter());
        push_accidentals(&mut name, self.alter, 'b', '#');
        write!(f, "{name}{}", self.octave)
    }
}

impl PartialOrd for Pitch {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Pitch {
    /// By sound first, then by height on the staff.
    fn cmp(&self, other: &Self) -> Ordering {
        (self.midi(), self.position()).cmp(&(other.midi(), other.position()))
    }
}

#[cfg(test)]
mod tests {
    use super::Pitch;
    use proptest::prelude::*;

    /// MIDI numbers: MIDI 1.0 with middle C (C4) at 60, as scientific pitch notation has it.
    #[test]
    fn read_and_recopied() {
        let table = [
            ("C4", "C4", 60),
            ("A4", "A4", 69),
            ("Bb3", "Bb3", 58),
            ("B♭3", "Bb3", 58),
            ("bb3", "Bb3", 58),
            ("b3", "B3", 59),
            ("EB4", "Eb4", 63),
            ("F#4", "F#4", 66),
            ("F♯4", "F#4", 66),
            ("Fx4", "F##4", 67),
            ("Ebb4", "Ebb4", 62),
            ("Cb4", "Cb4", 59),
            ("B#3", "B#3", 60),
            (" e 5 ", "E5", 76),
            ("C-1", "C-1", 0),
            ("B-flat 3", "Bb3", 58),
            ("e flat 5", "Eb5", 75),
            ("F-sharp 4", "F#4", 66),
        ];
        for (given, copied, midi) in table {
            let pitch = Pitch::read(given);
            assert_eq!(pitch.map(|p| p.to_string()).as_deref(), Some(copied), "{given}");
            assert_eq!(pitch.map(Pitch::midi), Some(midi), "{given}");
        }
    }

    #[test]
    fn not_pitches() {
        for given in [
            "", "H4", "C", "C44", "C-2", "Cb#4", "Cbbbb4", "4C", "C4x", "Bb 3 4",
        ] {
            assert_eq!(Pitch::read(given), None, "{given}");
        }
    }

    #[test]
    fn spelling_is_kept_and_sound_compared() {
        let (sharp, flat) = (Pitch::read("D#4"), Pitch::read("Eb4"));
        assert_ne!(sharp, flat);
        assert_eq!(sharp.map(Pitch::midi), flat.map(Pitch::midi));
    }

    proptest! {
        #[test]
        fn any_text_is_survived(text in "\\PC{0,12}") {
            if let Some(pitch) = Pitch::read(&text) {
                prop_assert_eq!(Pitch::read(&pitch.to_string()), Some(pitch));
            }
        }
    }
}
