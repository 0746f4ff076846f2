//! Where a written note stands on its staff, in words.

use super::pitch::{Pitch, Step};

/// The clefs that band parts are printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Clef {
    /// G on the second line.
    Treble,
    /// C on the third line.
    Alto,
    /// C on the fourth line.
    Tenor,
    /// F on the fourth line.
    Bass,
    /// Two staves, treble and bass.
    Grand,
    /// No pitch: the place means an instrument.
    Percussion,
}

impl Clef {
    /// Reads `treble`, `treble clef`, `T.C.`, `B.C.`, `tenor clef` ...
    pub fn read(text: &str) -> Option<Clef> {
        let text = super::words::tidy(text).replace('.', "");
        let word = text.strip_suffix(" clef").unwrap_or(&text);
        Some(match word {
            "treble" | "tc" | "g" => Clef::Treble,
            "alto" => Clef::Alto,
            "tenor" => Clef::Tenor,
            "bass" | "bc" | "f" => Clef::Bass,
            "grand staff" | "grand" => Clef::Grand,
            "percussion" | "neutral" => Clef::Percussion,
            _ => return None,
        })
    }

    /// `treble clef`, `grand staff` ...
    pub fn name(self) -> &'static str {
        match self {
            Clef::Treble => "treble clef",
            Clef::Alto => "alto clef",
            Clef::Tenor => "tenor clef",
            Clef::Bass => "bass clef",
            Clef::Grand => "grand staff",
            Clef::Percussion => "percussion clef",
        }
    }

    /// The note on the bottom line. A grand staff is read in its nearer clef, so `pitch` decides.
    pub(crate) fn bottom_line(self, pitch: Pitch) -> Pitch {
        match self {
            Clef::Alto => Pitch::new(Step::F, 0, 3),
            Clef::Tenor => Pitch::new(Step::D, 0, 3),
            Clef::Bass => Pitch::new(Step::G, 0, 2),
            Clef::Grand if pitch.position() < 28 => Pitch::new(Step::G, 0, 2),
            Clef::Treble | Clef::Grand | Clef::Percussion => Pitch::new(Step::E, 0, 4),
        }
    }
}

/// The note with its place: `third-line B♭`, `second-space A`, `D just below the staff`,
/// `C on the first ledger line below the staff`, `D just above the second ledger line above
/// the staff`. Lines and spaces are counted from the bottom.
pub fn place(pitch: Pitch, clef: Clef) -> String {
    let name = pitch.name();
    let height = pitch.position() - clef.bottom_line(pitch).position();
    let nth = |n: i32| match n {
        1 => "first".to_owned(),
        2 => "second".to_owned(),
        3 => "third".to_owned(),
        4 => "fourth".to_owned(),
        5 => "fifth".to_owned(),
        6 => "sixth".to_owned(),
        n if n % 10 == 1 && n != 11 => format!("{n}st"),
        n if n % 10 == 2 && n != 12 => format!("{n}nd"),
        n if n % 10 == 3 && n != 13 => format!("{n}rd"),
        n => format!("{n}th"),
    };
    if (0..=8).contains(&height) {
        let what = if height % 2 == 0 { "line" } else { "space" };
        return format!("{}-{what} {name}", nth(height / 2 + 1));
    }
    let (away, side) = if height < 0 {
        (-height, "below")
    } else {
        (height - 8, "above")
    };
    match (away / 2, away % 2) {
        (0, _) => format!("{name} just {side} the staff"),
        (n, 0) => format!("{name} on the {} ledger line {side} the staff", nth(n)),
        (n, _) => format!("{name} just {side} the {} ledger line {side} the staff", nth(n)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Clefs as in W3C MusicXML 4.0, clef element: G2, C3, C4 and F4.
    #[test]
    fn places() {
        let table = [
            ("Bb4", Clef::Treble, "third-line B♭"),
            ("G4", Clef::Treble, "second-line G"),
            ("F5", Clef::Treble, "fifth-line F"),
            ("A4", Clef::Treble, "second-space A"),
            ("D4", Clef::Treble, "D just below the staff"),
            ("G5", Clef::Treble, "G just above the staff"),
            ("C4", Clef::Treble, "C on the first ledger line below the staff"),
            ("C6", Clef::Treble, "C on the second ledger line above the staff"),
            (
                "D6",
                Clef::Treble,
                "D just above the second ledger line above the staff",
            ),
            ("F#3", Clef::Treble, "F♯ on the third ledger line below the staff"),
            ("F3", Clef::Bass, "fourth-line F"),
            ("C4", Clef::Alto, "third-line C"),
            ("C4", Clef::Tenor, "fourth-line C"),
            ("C3", Clef::Grand, "second-space C"),
        ];
        for (pitch, clef, words) in table {
            let got = Pitch::read(pitch).map(|p| place(p, clef));
            assert_eq!(got.as_deref(), Some(words), "{pitch} {clef:?}");
        }
    }

    #[test]
    fn hostile_heights() {
        let _ = place(Pitch::new(Step::B, 127, 127), Clef::Bass);
        let _ = place(Pitch::new(Step::C, -128, -128), Clef::Treble);
    }
}
