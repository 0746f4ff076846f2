//! A key signature as a card says it: signs, or what is told where the signs are not.

use super::leap::Leap;
use super::signature::Signature;
use super::words;
use std::fmt;

/// A key signature as a card says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SignatureSaid {
    /// So many flats or sharps, or none.
    Signs(Signature),
    /// A part printed without any signature, its accidentals written one by one. It says nothing of the key,
    /// so it is never compared as C major.
    Open,
    /// It changes, and it is not said to what.
    Changes,
    /// The one before.
    Same,
    /// So many more of one kind than before; fewer where the number is negative.
    More {
        /// How many.
        count: i8,
        /// Sharps rather than flats.
        sharps: bool,
    },
    /// The key moves so far from the one before.
    Up(Leap),
}

impl SignatureSaid {
    /// Reads a signature, `open key`, `changes`, `several`, `one more flat`, `adds a flat`, `up a fourth`, `same`.
    pub fn read(text: &str) -> Option<SignatureSaid> {
        let tidy = words::tidy(text);
        match tidy.as_str() {
            "open" | "open key" | "open key signature" | "no key signature" | "no signature" => {
                return Some(SignatureSaid::Open);
            }
            "changes" | "several" | "various" | "changing" | "many changes" => {
                return Some(SignatureSaid::Changes);
            }
            "same" | "the same" | "unchanged" => return Some(SignatureSaid::Same),
            _ => {}
        }
        if let Some(leap) = Leap::read(&tidy) {
            return Some(SignatureSaid::Up(leap));
        }
        if let Some(more) = more(&tidy) {
            return Some(more);
        }
        Signature::read(super::center::plain(text)).map(SignatureSaid::Signs)
    }

    /// The signs, where they are known.
    pub fn signs(self) -> Option<Signature> {
        match self {
            SignatureSaid::Signs(signature) => Some(signature),
            _ => None,
        }
    }

    /// What it comes to behind `before`; [`SignatureSaid::Changes`] where that does not tell it.
    pub fn behind(self, before: Option<SignatureSaid>) -> SignatureSaid {
        let signs = before.and_then(SignatureSaid::signs).map(Signature::fifths);
        let fifths = match self {
            SignatureSaid::Same => return before.unwrap_or(SignatureSaid::Changes),
            // A flat more than two sharps may be one sharp or a slip, so it is not worked out.
            SignatureSaid::More { count, sharps } => signs.and_then(|before| {
                let side = if sharps { 1 } else { -1 };
                let after = before * side + i32::from(count);
                (before * side >= 0 && after >= 0).then_some(after * side)
            }),
            SignatureSaid::Up(leap) => signs.map(|before| match before + leap.fifths() {
                f if f > 7 => f - 12,
                f if f < -7 => f + 12,
                f => f,
            }),
            other => return other,
        };
        match fifths.and_then(Signature::new) {
            Some(signature) => SignatureSaid::Signs(signature),
            None => SignatureSaid::Changes,
        }
    }
}

/// `one more flat`, `adds a flat`, `2 fewer sharps`, `loses a flat`.
fn more(tidy: &str) -> Option<SignatureSaid> {
    let all: Vec<&str> = tidy.split(' ').collect();
    let (count, sign, fewer) = match all.as_slice() {
        [count, "more", sign] => (count, sign, false),
        [count, "fewer" | "less", sign] => (count, sign, true),
        ["adds" | "add" | "plus" | "gains", count, sign] => (count, sign, false),
        ["loses" | "drops" | "drop" | "minus", count, sign] => (count, sign, true),
        _ => return None,
    };
    let count = i8::try_from(words::count(count)?)
        .ok()
        .filter(|count| (1..=7).contains(count))?;
    let sharps = match *sign {
        "flat" | "flats" => false,
        "sharp" | "sharps" => true,
        _ => return None,
    };
    Some(SignatureSaid::More {
        count: if fewer { -count } else { count },
        sharps,
    })
}

impl fmt::Display for SignatureSaid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SignatureSaid::Signs(signature) => signature.fmt(f),
            SignatureSaid::Open => f.write_str("open key"),
            SignatureSaid::Changes => f.write_str("changes"),
            SignatureSaid::Same => f.write_str("same"),
            SignatureSaid::More { count, sharps } => {
                let word = if *count < 0 { "fewer" } else { "more" };
                let sign = if *sharps { "sharp" } else { "flat" };
                let many = if count.unsigned_abs() == 1 { "" } else { "s" };
                write!(f, "{} {word} {sign}{many}", count.unsigned_abs())
            }
            SignatureSaid::Up(leap) => leap.fmt(f),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signatures_as_directors_write_them() {
        for (given, copied) in [
            ("Bb", Some("2 flats")),
            ("B-flat", Some("2 flats")),
            ("concert Eb", Some("3 flats")),
            ("F#", Some("6 sharps")),
            ("C", Some("none")),
            ("G", Some("1 sharp")),
            ("G minor", Some("2 flats")),
            ("1b", Some("1 flat")),
            ("3b", Some("3 flats")),
            ("2#", Some("2 sharps")),
            // Two flat signs and B-flat come to the same.
            ("bb", Some("2 flats")),
            ("three flats", Some("3 flats")),
            ("no sharps or flats", Some("none")),
            ("natural", Some("none")),
            ("Bb Eb Ab", Some("3 flats")),
            ("open key", Some("open key")),
            ("open", Some("open key")),
            ("changes", Some("changes")),
            ("several", Some("changes")),
            ("one more flat", Some("1 more flat")),
            ("adds a flat", Some("1 more flat")),
            ("loses two sharps", Some("2 fewer sharps")),
            ("up a fourth", Some("up a fourth")),
            ("same", Some("same")),
            // One sharp, or six: nobody can tell.
            ("f#", None),
            ("b", None),
            ("#", None),
            ("g", None),
            ("2 zqxv flats", None),
            ("zqxv 2 flats", None),
            ("2 flats zqxv", None),
        ] {
            let read = SignatureSaid::read(given);
            assert_eq!(read.map(|s| s.to_string()).as_deref(), copied, "{given}");
            if let Some(said) = read {
                assert_eq!(SignatureSaid::read(&said.to_string()), read, "{given} again");
            }
        }
    }

    #[test]
    fn told_from_the_one_before() {
        for (before, given, found) in [
            ("2 flats", "one more flat", "3 flats"),
            ("none", "adds a flat", "1 flat"),
            ("1 flat", "loses a flat", "none"),
            ("1 sharp", "one more flat", "changes"),
            ("none", "loses a flat", "changes"),
            ("1 flat", "up a fourth", "2 flats"),
            ("open key", "up a fourth", "changes"),
            ("2 flats", "same", "2 flats"),
        ] {
            let said = SignatureSaid::read(given).map(|said| said.behind(SignatureSaid::read(before)));
            assert_eq!(
                said.map(|s| s.to_string()).as_deref(),
                Some(found),
                "{before}, {given}"
            );
        }
    }
}
