//! Tempos: metronome marks, tempo words, and changes told in words.

use super::fraction::Fraction;
use super::{terms, words};
use std::fmt;

/// A plain note value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum NoteValue {
    Whole,
    Half,
    Quarter,
    Eighth,
    Sixteenth,
}

impl NoteValue {
    /// Longest first.
    pub const ALL: [NoteValue; 5] = [
        NoteValue::Whole,
        NoteValue::Half,
        NoteValue::Quarter,
        NoteValue::Eighth,
        NoteValue::Sixteenth,
    ];

    /// How many fill a whole note.
    pub fn in_a_whole(self) -> u32 {
        match self {
            NoteValue::Whole => 1,
            NoteValue::Half => 2,
            NoteValue::Quarter => 4,
            NoteValue::Eighth => 8,
            NoteValue::Sixteenth => 16,
        }
    }

    /// The value that the lower number of a meter means; `None` for 32 and beyond.
    pub fn from_lower(lower: u32) -> Option<NoteValue> {
        Self::ALL.into_iter().find(|v| v.in_a_whole() == lower)
    }

    /// The value twice as long.
    pub fn twice(self) -> Option<NoteValue> {
        Self::from_lower(self.in_a_whole() / 2)
    }

    /// The US name.
    pub fn name(self) -> &'static str {
        match self {
            NoteValue::Whole => "whole",
            NoteValue::Half => "half",
            NoteValue::Quarter => "quarter",
            NoteValue::Eighth => "eighth",
            NoteValue::Sixteenth => "sixteenth",
        }
    }
}

/// The note a metronome figure counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct BeatUnit {
    /// The value without its dot.
    pub value: NoteValue,
    /// Whether a dot makes it half as long again.
    pub dotted: bool,
}

impl BeatUnit {
    /// The quarter note.
    pub const QUARTER: BeatUnit = BeatUnit {
        value: NoteValue::Quarter,
        dotted: false,
    };

    /// Its length as a part of a whole note: a dotted quarter is 3/8.
    pub fn length(self) -> Fraction {
        let whole = self.value.in_a_whole();
        match self.dotted {
            true => Fraction::of(3, whole.saturating_mul(2)),
            false => Fraction::of(1, whole),
        }
    }

    /// The unit that is so long.
    pub fn of_length(length: Fraction) -> Option<BeatUnit> {
        let units = NoteValue::ALL
            .into_iter()
            .flat_map(|value| [false, true].map(|dotted| BeatUnit { value, dotted }));
        units.into_iter().find(|unit| unit.length() == length)
    }

    /// Reads `quarter`, `q`, `q.`, `dotted quarter`, `quarter note`, `♩`, `♩.`, `h`, `e`, `crotchet`.
    pub fn read(text: &str) -> Option<BeatUnit> {
        let mut text = words::tidy(text);
        let mut dotted = false;
        if let Some(rest) = text.strip_prefix("dotted").or_else(|| text.strip_prefix("dot ")) {
            dotted = true;
            text = rest.trim_start_matches(['-', ' ']).to_owned();
        }
        for dot in ['.', '·', '𝅭'] {
            if let Some(rest) = text.strip_suffix(dot) {
                if dotted {
                    return None;
                }
                dotted = true;
                text = rest.trim_end().to_owned();
            }
        }
        let name = text
            .strip_suffix(" notes")
            .or_else(|| text.strip_suffix(" note"))
            .unwrap_or(&text);
        let value = match name {
            "whole" | "w" | "semibreve" | "𝅝" => NoteValue::Whole,
            "half" | "h" | "minim" | "𝅗𝅥" | "𝅗" | "1/2" => NoteValue::Half,
            "quarter" | "qtr" | "qtr." | "q" | "crotchet" | "♩" | "𝅘𝅥" | "1/4" => NoteValue::Quarter,
            "eighth" | "8th" | "e" | "quaver" | "♪" | "𝅘𝅥𝅮" | "1/8" => NoteValue::Eighth,
            "sixteenth" | "16th" | "s" | "semiquaver" | "𝅘𝅥𝅯" | "1/16" => NoteValue::Sixteenth,
            _ => return None,
        };
        Some(BeatUnit { value, dotted })
    }
}

impl fmt::Display for BeatUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let dot = if self.dotted { "dotted " } else { "" };
        write!(f, "{dot}{}", self.value.name())
    }
}

/// The slowest figure that is conducted.
const SLOWEST: u16 = 20;
/// The fastest for a quarter or a longer note.
const FASTEST: u16 = 240;
/// The fastest for an eighth or a shorter note.
const FASTEST_SHORT: u16 = 480;

/// A tempo as a card gives it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Tempo {
    /// A metronome mark in beats a minute, 0 to 9999: absurd figures are read, so that they can be told.
    Mark {
        /// The note counted; `None` for a bare figure, which counts the beat of the meter.
        unit: Option<BeatUnit>,
        /// The slower end.
        low: u16,
        /// The faster end, equal to `low` for a single figure.
        high: u16,
    },
    /// A phrase that begins with a known tempo word, `Allegro con brio`.
    Term(String),
    /// Slower than before, no figure.
    Slower,
    /// Faster than before, no figure.
    Faster,
    /// Swung eighths, no figure.
    Swing,
    /// Straight eighths again, no figure.
    Straight,
    /// Getting faster.
    Accelerando,
    /// Getting slower.
    Ritardando,
    /// Back to the tempo before the change.
    ATempo,
    /// Back to the first tempo.
    TempoPrimo,
    /// Twice as fast.
    DoubleTime,
    /// Half as fast.
    HalfTime,
    /// Out of strict time.
    Rubato,
    /// The tempo before goes on.
    Same,
    /// A fermata: it holds, and changes nothing after it.
    Hold,
    /// A note of the music before lasts as long as a note of the music from here on: `quarter = dotted quarter`.
    Equal {
        /// The note before.
        before: BeatUnit,
        /// The note from here on.
        after: BeatUnit,
    },
}

const WORDS: [(Tempo, &str, &[&str]); 13] = [
    (
        Tempo::Slower,
        "slower",
        &["meno mosso", "more slowly", "slower tempo"],
    ),
    (
        Tempo::Faster,
        "faster",
        &["piu mosso", "più mosso", "more quickly", "faster tempo"],
    ),
    (
        Tempo::Swing,
        "swing",
        &[
            "swung",
            "with swing",
            "swing eighths",
            "swung eighths",
            "swing feel",
            "swing style",
        ],
    ),
    (
        Tempo::Straight,
        "straight",
        &["straight eighths", "straight 8ths", "even eighths"],
    ),
    (
        Tempo::Accelerando,
        "accelerando",
        &[
            "accel.",
            "accel",
            "stringendo",
            "string.",
            "speeding up",
            "speed up",
            "speeds up",
            "gets faster",
            "getting faster",
        ],
    ),
    (
        Tempo::Ritardando,
        "ritardando",
        &[
            "rit.",
            "rit",
            "rall.",
            "rall",
            "rallentando",
            "ritard",
            "ritard.",
            "ritenuto",
            "riten.",
            "allargando",
            "allarg.",
            "slowing",
            "slowing down",
            "slow down",
            "slows down",
            "slows up",
            "slows",
            "gets slower",
            "getting slower",
        ],
    ),
    (Tempo::ATempo, "a tempo", &["at tempo"]),
    (
        Tempo::TempoPrimo,
        "tempo primo",
        &["tempo i", "tempo 1", "tempo 1o"],
    ),
    (
        Tempo::DoubleTime,
        "double time",
        &["double-time", "doppio movimento"],
    ),
    (Tempo::HalfTime, "half time", &["half-time"]),
    (
        Tempo::Rubato,
        "rubato",
        &["freely", "tempo rubato", "free", "out of time"],
    ),
    (
        Tempo::Same,
        "same tempo",
        &[
            "the same tempo",
            "same",
            "l'istesso tempo",
            "l’istesso tempo",
            "lo stesso tempo",
        ],
    ),
    (Tempo::Hold, "fermata", &["fermatas", "hold"]),
];

impl Tempo {
    /// Whether nobody conducts at such a figure: slower than 20, or faster than 240, or than 480 where shorter
    /// notes than quarters are counted (common practice, no source).
    pub fn is_out_of_reach(&self) -> bool {
        let Tempo::Mark { unit, low, high } = self else {
            return false;
        };
        let short = unit.is_some_and(|unit| matches!(unit.value, NoteValue::Eighth | NoteValue::Sixteenth));
        let fastest = if short { FASTEST_SHORT } else { FASTEST };
        *low < SLOWEST || *high > fastest
    }

    /// Reads `quarter = 76`, `q = 76`, `♩=76`, `dotted quarter = 60-66`, `M.M. quarter = 76`,
    /// `half note 88`, `96 to the quarter`, a bare `152` or `152-160`, a tempo word, or one of the words for a
    /// change.
    pub fn read(text: &str) -> Option<Tempo> {
        let tidy = words::tidy(text);
        let plain = ["m.m.", "mm.", "mm", "@"]
            .iter()
            .find_map(|lead| tidy.strip_prefix(lead))
            .map_or(tidy.as_str(), str::trim_start);
        if let Some((unit, figures)) = plain.split_once('=') {
            let figures = figures.trim();
            let figures = figures.strip_suffix("bpm").map_or(figures, str::trim_end);
            if unit.is_empty() && plain.len() < tidy.len() {
                return mark(None, figures);
            }
            let unit = BeatUnit::read(unit)?;
            return mark(Some(unit), figures).or_else(|| {
                Some(Tempo::Equal {
                    before: unit,
                    after: BeatUnit::read(figures)?,
                })
            });
        }
        let bare = plain.strip_suffix("bpm").map_or(plain, str::trim_end);
        if let Some(found) = mark(None, bare).or_else(|| spoken(bare)) {
            return Some(found);
        }
        for (tempo, name, others) in &WORDS {
            if tidy == *name || others.contains(&tidy.as_str()) {
                return Some(tempo.clone());
            }
        }
        terms::read(&tidy).map(Tempo::Term)
    }

    /// The figures of a mark, or of a lone tempo word by the widest of its published bands.
    /// A word with an open end has only its low figure.
    pub fn figures(&self) -> Option<(u16, Option<u16>)> {
        match self {
            Tempo::Mark { low, high, .. } => Some((*low, Some(*high))),
            Tempo::Term(name) => {
                let band = terms::find(name)?.envelope();
                Some((band.low?, band.high))
            }
            _ => None,
        }
    }
}

/// A mark as it is said aloud: `half note 88`, `quarter note at 120`, `quarter equals 96`, `96 to the quarter`.
fn spoken(text: &str) -> Option<Tempo> {
    if let Some((figures, unit)) = text.split_once(" to the ").or_else(|| text.split_once(" to a ")) {
        return mark(Some(BeatUnit::read(unit)?), figures);
    }
    let (unit, figures) = text.rsplit_once(' ')?;
    // `half at 33` may as well say where; with the word `note` it is a mark.
    let joints = [" equals", " equal", " is", " note at", " note @", " notes at"];
    let unit = joints
        .iter()
        .find_map(|joint| unit.strip_suffix(joint))
        .unwrap_or(unit);
    mark(Some(BeatUnit::read(unit)?), figures)
}

fn mark(unit: Option<BeatUnit>, figures: &str) -> Option<Tempo> {
    let figure = |text: &str| {
        let n = words::digits(text.trim())?;
        (n <= 9999).then(|| u16::try_from(n).ok()).flatten()
    };
    let (low, high) = match words::split_range(figures) {
        Some((a, b)) => (figure(a)?, figure(b)?),
        None => (figure(figures)?, figure(figures)?),
    };
    Some(Tempo::Mark {
        unit,
        low: low.min(high),
        high: low.max(high),
    })
}

impl fmt::Display for Tempo {
    /// The one form: `dotted quarter = 60-66`, `152`, `Allegro`, `slower`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Tempo::Mark { unit, low, high } => {
                if let Some(unit) = unit {
                    write!(f, "{unit} = ")?;
                }
                match low == high {
                    true => write!(f, "{low}"),
                    false => write!(f, "{low}-{high}"),
                }
            }
            Tempo::Term(name) => f.write_str(name),
            Tempo::Equal { before, after } => write!(f, "{before} = {after}"),
            other => {
                let found = WORDS.iter().find(|(tempo, _, _)| tempo == other);
                f.write_str(found.map_or("", |(_, name, _)| name))
            }
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
            ("quarter = 76", "quarter = 76"),
            ("q = 76", "quarter = 76"),
            ("q=76", "quarter = 76"),
            ("♩=76", "quarter = 76"),
            ("♩. = 60", "dotted quarter = 60"),
            ("q. = 60", "dotted quarter = 60"),
            ("Quarter note = 76", "quarter = 76"),
            ("dotted quarter = 60-66", "dotted quarter = 60-66"),
            ("dotted-half = 66 – 60", "dotted half = 60-66"),
            ("h = 80", "half = 80"),
            ("half note 88", "half = 88"),
            ("quarter note at 120", "quarter = 120"),
            ("quarter equals 96", "quarter = 96"),
            ("96 to the quarter", "quarter = 96"),
            ("dotted quarter 60-66", "dotted quarter = 60-66"),
            ("M.M. q = 100", "quarter = 100"),
            ("152", "152"),
            ("152 to 160", "152-160"),
            ("120 bpm", "120"),
            ("q = 120 bpm", "quarter = 120"),
            ("MM 120", "120"),
            ("M.M. = 120", "120"),
            ("MM = 120", "120"),
            ("@120", "120"),
            ("crotchet = 72", "quarter = 72"),
            ("minim = 60", "half = 60"),
            ("dotted crotchet = 60", "dotted quarter = 60"),
            ("quarter = dotted quarter", "quarter = dotted quarter"),
            ("eighth = eighth", "eighth = eighth"),
            ("quarter = 1108", "quarter = 1108"),
            ("quarter = 0", "quarter = 0"),
            ("same tempo", "same tempo"),
            ("swing eighths", "swing"),
            ("fermata", "fermata"),
            ("Allegro con brio", "Allegro con brio"),
            ("allegro", "Allegro"),
            ("Slower", "slower"),
            ("accel.", "accelerando"),
            ("Tempo I", "tempo primo"),
            ("a tempo", "a tempo"),
            ("swing", "swing"),
        ];
        for (given, copied) in table {
            let got = Tempo::read(given).map(|t| t.to_string());
            assert_eq!(got.as_deref(), Some(copied), "{given}");
        }
        for given in [
            "",
            "10000",
            "z = 60",
            "q = fast",
            "q = ",
            "= 60",
            "q = 60-",
            "brisk",
            "zqxv 120",
            "120 zqxv",
            "q = zqxv 120",
            "q zqxv = 120",
            "Allegro zqxv",
        ] {
            assert_eq!(Tempo::read(given), None, "{given}");
        }
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,20}") {
            if let Some(tempo) = Tempo::read(&text) {
                prop_assert_eq!(Tempo::read(&tempo.to_string()), Some(tempo));
            }
        }
    }
}
