//! Keys: a tonic and a mode, and what they mean for each section.

use super::pitch::{Step, push_accidentals, read_accidentals};
use super::signature::{Signature, respelled};
use super::transposition::Transposition;
use super::words;
use std::fmt;

/// A tonic: a letter and its accidental, without octave.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Tonic {
    /// The letter.
    pub step: Step,
    /// Semitones away from the natural note.
    pub alter: i8,
}

/// The seven modes, with major and minor under their everyday names as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Mode {
    Major,
    Minor,
    Ionian,
    Dorian,
    Phrygian,
    Lydian,
    Mixolydian,
    Aeolian,
    Locrian,
}

/// A key: where the music is at home.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Key {
    /// The home note.
    pub tonic: Tonic,
    /// The scale on it.
    pub mode: Mode,
}

impl Tonic {
    /// A tonic from its two facts.
    pub const fn new(step: Step, alter: i8) -> Self {
        Self { step, alter }
    }

    /// The place on the line of fifths: C is 0, F -1, G 1, B-flat -2.
    pub fn fifths(self) -> i32 {
        let natural = match self.step {
            Step::F => -1,
            Step::C => 0,
            Step::G => 1,
            Step::D => 2,
            Step::A => 3,
            Step::E => 4,
            Step::B => 5,
        };
        natural + 7 * i32::from(self.alter)
    }

    /// The tonic at a place on the line of fifths, held within what can be written.
    pub fn from_fifths(fifths: i32) -> Self {
        const LINE: [Step; 7] = [Step::F, Step::C, Step::G, Step::D, Step::A, Step::E, Step::B];
        let from_f = fifths.clamp(-800, 800) + 1;
        let step = LINE.get(from_f.rem_euclid(7) as usize).copied();
        Self {
            step: step.unwrap_or(Step::C),
            alter: i8::try_from(from_f.div_euclid(7)).unwrap_or(0),
        }
    }

    /// Reads `Bb`, `F#`, `B♭`, `B flat`, `F-sharp`, `C natural`, in either case.
    pub fn read(text: &str) -> Option<Tonic> {
        let text = text.trim();
        let step = Step::read(text.chars().next()?)?;
        let rest = text.get(1..)?;
        let word = words::tidy(&rest.replace(['-', '\u{2011}'], " "));
        let alter = match word.as_str() {
            "flat" => -1,
            "sharp" => 1,
            "natural" => 0,
            "double flat" => -2,
            "double sharp" => 2,
            _ => match read_accidentals(rest) {
                (Some(alter), "") => alter,
                _ => return None,
            },
        };
        Some(Tonic::new(step, alter))
    }
}

impl fmt::Display for Tonic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut name = String::from(self.step.letter());
        push_accidentals(&mut name, self.alter, 'b', '#');
        f.write_str(&name)
    }
}

impl Mode {
    /// The seven modes by the names directors use, from the most sharps to the fewest.
    pub const SEVEN: [Mode; 7] = [
        Mode::Lydian,
        Mode::Major,
        Mode::Mixolydian,
        Mode::Dorian,
        Mode::Minor,
        Mode::Phrygian,
        Mode::Locrian,
    ];

    /// What the mode adds to the signature of its tonic's major: minor takes three sharps away.
    pub fn fifths(self) -> i32 {
        match self {
            Mode::Lydian => 1,
            Mode::Major | Mode::Ionian => 0,
            Mode::Mixolydian => -1,
            Mode::Dorian => -2,
            Mode::Minor | Mode::Aeolian => -3,
            Mode::Phrygian => -4,
            Mode::Locrian => -5,
        }
    }

    /// The name in lower case.
    pub fn name(self) -> &'static str {
        match self {
            Mode::Major => "major",
            Mode::Minor => "minor",
            Mode::Ionian => "ionian",
            Mode::Dorian => "dorian",
            Mode::Phrygian => "phrygian",
            Mode::Lydian => "lydian",
            Mode::Mixolydian => "mixolydian",
            Mode::Aeolian => "aeolian",
            Mode::Locrian => "locrian",
        }
    }

    /// Reads a name; `maj`, `min` and `natural minor` too.
    pub fn read(text: &str) -> Option<Mode> {
        Some(match words::tidy(text).trim_end_matches('.') {
            "major" | "maj" => Mode::Major,
            "minor" | "min" | "natural minor" | "harmonic minor" | "melodic minor" => Mode::Minor,
            "ionian" => Mode::Ionian,
            "dorian" => Mode::Dorian,
            "phrygian" => Mode::Phrygian,
            "lydian" => Mode::Lydian,
            "mixolydian" => Mode::Mixolydian,
            "aeolian" => Mode::Aeolian,
            "locrian" => Mode::Locrian,
            _ => return None,
        })
    }

    /// Whether the third above the tonic is a major one.
    pub fn is_bright(self) -> bool {
        self.fifths() >= -1
    }
}

impl Key {
    /// Reads `G minor`, `D dorian`, `Bb major`, `B flat major`, `F-sharp minor`, `Gm`, and a bare
    /// capital `Bb`, which is major.
    ///
    /// A bare small letter is not read: some write `g` for G minor, others for G. `bb`, `eb`, `ab` and `db` are
    /// major: as minor keys they have five flats and more, which no young band is given (common practice, no
    /// source).
    pub fn read(text: &str) -> Option<Key> {
        let text = text.trim();
        if let Some((tonic, mode)) = split_mode(text) {
            return Some(Key {
                tonic: Tonic::read(tonic)?,
                mode,
            });
        }
        let flat = matches!(text, "bb" | "eb" | "ab" | "db");
        if !flat && !text.starts_with(|c: char| c.is_ascii_uppercase()) {
            return None;
        }
        if let Some(tonic) = text.strip_suffix('m').and_then(Tonic::read) {
            return Some(Key {
                tonic,
                mode: Mode::Minor,
            });
        }
        Some(Key {
            tonic: Tonic::read(text)?,
            mode: Mode::Major,
        })
    }

    /// The signature this key calls for; `None` when it would take more than seven signs.
    pub fn signature(self) -> Option<Signature> {
        Signature::new(self.tonic.fifths() + self.mode.fifths())
    }

    /// Whether the printed signature is the one this key calls for.
    pub fn fits(self, signature: Signature) -> bool {
        self.signature() == Some(signature)
    }

    /// The key in the part of a transposing instrument, respelled where the signature would take
    /// more than seven signs: concert B major is A-flat major for alto sax.
    pub fn written(self, part: Transposition) -> Key {
        let fifths = self.tonic.fifths().saturating_add(part.sharps_added());
        let (_, moved) = respelled(fifths.saturating_add(self.mode.fifths()));
        Key {
            tonic: Tonic::from_fifths(fifths.saturating_add(moved)),
            mode: self.mode,
        }
    }

    /// The major or minor key that shares the signature, where this is minor or major.
    pub fn relative(self) -> Option<Key> {
        let signature = self.signature()?;
        match self.mode {
            Mode::Major | Mode::Ionian => Some(signature.key(Mode::Minor)),
            Mode::Minor | Mode::Aeolian => Some(signature.key(Mode::Major)),
            _ => None,
        }
    }

    /// Whether both are the same scale on the same note: ionian is major, aeolian is minor.
    pub fn same_as(self, other: Key) -> bool {
        self.tonic == other.tonic && self.mode.fifths() == other.mode.fifths()
    }
}

/// The mode in which `tonic` is at home under `signature`: two flats and D make phrygian.
/// `None` when the note is no degree of that scale.
pub fn mode_under(tonic: Tonic, signature: Signature) -> Option<Mode> {
    let away = signature.fifths() - tonic.fifths();
    Mode::SEVEN.into_iter().find(|m| m.fifths() == away)
}

/// Every key in which the signature can be meant, major and minor first.
pub fn keys_under(signature: Signature) -> Vec<Key> {
    let order = [
        Mode::Major,
        Mode::Minor,
        Mode::Dorian,
        Mode::Mixolydian,
        Mode::Phrygian,
        Mode::Lydian,
        Mode::Locrian,
    ];
    order.into_iter().map(|m| signature.key(m)).collect()
}

fn split_mode(text: &str) -> Option<(&str, Mode)> {
    // The mode is the last word, except for "natural minor" and its kin.
    let (before, last) = text.rsplit_once(char::is_whitespace)?;
    let mode = Mode::read(last)?;
    let lower = before.to_ascii_lowercase();
    for word in ["harmonic", "melodic"] {
        if lower.ends_with(word) && mode == Mode::Minor {
            return Some((before.get(..before.len() - word.len())?, mode));
        }
    }
    Some((before, mode))
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.tonic, self.mode.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn read_and_recopied() {
        let table = [
            ("G minor", "G minor"),
            ("g  MINOR", "G minor"),
            ("D dorian", "D dorian"),
            ("Bb", "Bb major"),
            ("eb", "Eb major"),
            ("B♭ major", "Bb major"),
            ("B flat major", "Bb major"),
            ("F-sharp minor", "F# minor"),
            ("bb minor", "Bb minor"),
            ("a min.", "A minor"),
            ("Gm", "G minor"),
            ("C harmonic minor", "C minor"),
        ];
        for (given, copied) in table {
            let got = Key::read(given).map(|k| k.to_string());
            assert_eq!(got.as_deref(), Some(copied), "{given}");
        }
        for given in [
            "",
            "g",
            "H minor",
            "minor",
            "Bb flat",
            "G minorish",
            "G major minor",
        ] {
            assert_eq!(Key::read(given), None, "{given}");
        }
    }

    /// Tonics of the seven modes under one signature: Aaron Shearer Foundation, "Dorian tune"
    /// supplement (dorian on degree 2, phrygian 3, lydian 4, mixolydian 5, aeolian 6, locrian 7).
    #[test]
    fn modes_under_a_signature() {
        let table = [
            (
                -2,
                "Bb major, G minor, C dorian, F mixolydian, D phrygian, Eb lydian, A locrian",
            ),
            (
                0,
                "C major, A minor, D dorian, G mixolydian, E phrygian, F lydian, B locrian",
            ),
            (
                4,
                "E major, C# minor, F# dorian, B mixolydian, G# phrygian, A lydian, D# locrian",
            ),
        ];
        for (fifths, wanted) in table {
            let signature = Signature::new(fifths).unwrap_or(Signature::NONE);
            let keys = keys_under(signature);
            let names: Vec<String> = keys.iter().map(Key::to_string).collect();
            assert_eq!(names.join(", "), wanted);
            for key in keys {
                assert!(key.fits(signature), "{key}");
                assert_eq!(mode_under(key.tonic, signature), Some(key.mode));
            }
        }
        assert_eq!(Key::read("G# major").and_then(Key::signature), None);
    }

    /// Concert to written: a music-theory primer's table (issuhub 6011, ch. 18), and the rule
    /// "B-flat adds two sharps, E-flat three, F one" (scribd 472626901).
    #[test]
    fn concert_to_written() {
        let b_flat = Transposition::new(-1, -2, 0);
        let e_flat = Transposition::new(-5, -9, 0);
        let horn = Transposition::new(-4, -7, 0);
        let table = [
            ("C major", "D major", "A major", "G major"),
            ("Bb major", "C major", "G major", "F major"),
            ("C minor", "D minor", "A minor", "G minor"),
            ("B major", "C# major", "Ab major", "F# major"),
            ("F# major", "Ab major", "Eb major", "C# major"),
            ("C# major", "Eb major", "Bb major", "Ab major"),
            ("Cb major", "Db major", "Ab major", "Gb major"),
            ("D dorian", "E dorian", "B dorian", "A dorian"),
        ];
        for (concert, b, e, f) in table {
            let key = Key::read(concert);
            let written = |t| key.map(|k: Key| k.written(t).to_string());
            assert_eq!(written(b_flat).as_deref(), Some(b), "{concert}");
            assert_eq!(written(e_flat).as_deref(), Some(e), "{concert}");
            assert_eq!(written(horn).as_deref(), Some(f), "{concert}");
        }
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,20}") {
            if let Some(key) = Key::read(&text) {
                prop_assert_eq!(Key::read(&key.to_string()), Some(key));
            }
        }

        #[test]
        fn written_and_back(fifths in -7_i32..=7, which in 0_usize..7, d in -8_i8..8, c in -14_i8..14) {
            let part = Transposition::new(d, c, 0);
            if let Some(signature) = Signature::new(fifths) {
                let key = signature.key(Mode::SEVEN[which]);
                prop_assert_eq!(key.written(part).signature(), Some(signature.written(part)));
            }
        }
    }
}
