//! Key signatures: a number of flats or sharps.

use super::key::{Key, Mode, Tonic};
use super::transposition::Transposition;
use super::words;
use std::fmt;

/// A signature as a place on the line of fifths: -7 (seven flats) to 7 (seven sharps), the
/// `fifths` of W3C MusicXML 4.0, key element.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Signature(i8);

/// Flats in the order they are written; sharps are the same list backwards.
const FLATS: [char; 7] = ['b', 'e', 'a', 'd', 'g', 'c', 'f'];

impl Signature {
    /// No flats and no sharps.
    pub const NONE: Signature = Signature(0);

    /// Sharps counted up, flats down; `None` beyond seven.
    pub fn new(fifths: i32) -> Option<Signature> {
        let fifths = i8::try_from(fifths).ok()?;
        (-7..=7).contains(&fifths).then_some(Signature(fifths))
    }

    /// Sharps as a positive number, flats as a negative one.
    pub fn fifths(self) -> i32 {
        i32::from(self.0)
    }

    /// How many flats, 0 for a signature of sharps.
    pub fn flats(self) -> u32 {
        self.fifths().min(0).unsigned_abs()
    }

    /// How many sharps, 0 for a signature of flats.
    pub fn sharps(self) -> u32 {
        self.fifths().max(0).unsigned_abs()
    }

    /// Reads `2 flats`, `one sharp`, `none`, `no flats`, `no sharps or flats`, `0`, `2♭`, `3b`,
    /// `4#`, the accidentals themselves in their order (`Bb Eb`, `F# C#`), and a key that stands for its
    /// signature: `Bb` is two flats.
    pub fn read(text: &str) -> Option<Signature> {
        let written = text.trim();
        let text = words::tidy(text).replace('♭', "b").replace('♯', "#");
        if matches!(
            text.as_str(),
            "none"
                | "0"
                | "no flats or sharps"
                | "no sharps or flats"
                | "no accidentals"
                | "natural"
                | "naturals"
                | "all natural"
                | "all naturals"
                | "cancelled"
                | "canceled"
        ) {
            return Some(Signature::NONE);
        }
        if let Some(listed) = read_listed(&text) {
            return Some(listed);
        }
        // A key stands for its signature. A small letter is none: `f#` may be three sharps or six.
        if let Some(key) = Key::read(written) {
            return key.signature();
        }
        let split = text.find(|c: char| !c.is_ascii_digit());
        let (number, noun) = match split {
            Some(at) if at > 0 => (text.get(..at)?, text.get(at..)?.trim()),
            _ => text.split_once(' ')?,
        };
        let count = i32::try_from(words::count(number)?).ok()?;
        let sign = match noun {
            "flat" | "flats" | "fl" | "b" | "bs" => -1,
            "sharp" | "sharps" | "sh" | "#" | "#s" => 1,
            _ => return None,
        };
        Signature::new(sign * count.min(100))
    }

    /// The tonic that makes this signature in `mode`.
    pub fn key(self, mode: Mode) -> Key {
        Key {
            tonic: Tonic::from_fifths(self.fifths() - mode.fifths()),
            mode,
        }
    }

    /// The major key and the minor key of this signature.
    pub fn keys(self) -> (Key, Key) {
        (self.key(Mode::Major), self.key(Mode::Minor))
    }

    /// The signature in the part of a transposing instrument. Beyond seven it is respelled, for
    /// it cannot be printed: concert 5 sharps is 4 flats for alto sax.
    pub fn written(self, part: Transposition) -> Signature {
        Signature(respelled(self.fifths().saturating_add(part.sharps_added())).0)
    }

    /// The concert signature of a part that shows this one, respelled beyond seven.
    pub fn concert(self, part: Transposition) -> Signature {
        Signature(respelled(self.fifths().saturating_sub(part.sharps_added())).0)
    }
}

/// Brings `fifths` within seven by whole circles of twelve, so that sharps beyond seven become
/// flats and the reverse; answers also what was added.
pub(crate) fn respelled(fifths: i32) -> (i8, i32) {
    let from = i64::from(fifths);
    let within = match fifths {
        f if f > 7 => (from + 4).rem_euclid(12) - 4,
        f if f < -7 => 4 - (4 - from).rem_euclid(12),
        _ => from,
    };
    let moved = i32::try_from(within - from).unwrap_or(0);
    (i8::try_from(within).unwrap_or(0), moved)
}

fn read_listed(text: &str) -> Option<Signature> {
    let mut count = 0_i32;
    let mut sign = 0_i32;
    for name in text.split([' ', ',']).filter(|w| !w.is_empty()) {
        let mut chars = name.chars();
        let (letter, mark) = (chars.next()?, chars.next()?);
        let this = match mark {
            'b' => -1,
            '#' => 1,
            _ => return None,
        };
        let at = usize::try_from(count).ok()?;
        let wanted = match this {
            -1 => FLATS.get(at),
            _ => FLATS.get(6_usize.checked_sub(at)?),
        };
        if chars.next().is_some() || (sign != 0 && sign != this) || wanted != Some(&letter) {
            return None;
        }
        sign = this;
        count += 1;
    }
    // One name alone is that key: `Bb` is B-flat's two flats.
    (count > 1).then(|| Signature::new(sign * count)).flatten()
}

impl fmt::Display for Signature {
    /// The one form: `2 flats`, `1 sharp`, `none`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.fifths() {
            0 => f.write_str("none"),
            -1 => f.write_str("1 flat"),
            1 => f.write_str("1 sharp"),
            n if n < 0 => write!(f, "{} flats", -n),
            n => write!(f, "{n} sharps"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn read_and_recopied() {
        let table = [
            ("2 flats", "2 flats"),
            ("One  flat", "1 flat"),
            ("none", "none"),
            ("no flats", "none"),
            ("no sharps", "none"),
            ("0", "none"),
            ("2♭", "2 flats"),
            ("3b", "3 flats"),
            ("4#", "4 sharps"),
            ("7 ♯", "7 sharps"),
            ("Bb Eb", "2 flats"),
            ("F#, C#, G#", "3 sharps"),
        ];
        for (given, copied) in table {
            let got = Signature::read(given).map(|s| s.to_string());
            assert_eq!(got.as_deref(), Some(copied), "{given}");
        }
        for given in ["8 flats", "2", "Eb Bb", "Bb F#", "flats", "many sharps", "", "-2"] {
            assert_eq!(Signature::read(given), None, "{given}");
        }
    }

    /// All fifteen signatures: standard theory (circle of fifths).
    #[test]
    fn major_and_minor() {
        let table = [
            (-7, "Cb", "Ab"),
            (-6, "Gb", "Eb"),
            (-5, "Db", "Bb"),
            (-4, "Ab", "F"),
            (-3, "Eb", "C"),
            (-2, "Bb", "G"),
            (-1, "F", "D"),
            (0, "C", "A"),
            (1, "G", "E"),
            (2, "D", "B"),
            (3, "A", "F#"),
            (4, "E", "C#"),
            (5, "B", "G#"),
            (6, "F#", "D#"),
            (7, "C#", "A#"),
        ];
        for (fifths, major, minor) in table {
            let keys = Signature::new(fifths).map(|s| s.keys());
            let keys = keys.map(|(a, b)| (a.to_string(), b.to_string()));
            let wanted = (format!("{major} major"), format!("{minor} minor"));
            assert_eq!(keys, Some(wanted), "{fifths}");
        }
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,20}") {
            if let Some(signature) = Signature::read(&text) {
                prop_assert_eq!(Signature::read(&signature.to_string()), Some(signature));
            }
        }
    }
}
