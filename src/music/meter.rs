//! Meters: how a measure is counted.

use super::fraction::Fraction;
use super::tempo::{BeatUnit, NoteValue};
use super::words;
use std::fmt;

/// A meter as printed.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Meter {
    /// Two numbers, `6/8`.
    Time {
        /// The upper number, 1 to 64.
        beats: u8,
        /// The lower number: 1, 2, 4, 8, 16, 32 or 64.
        unit: u8,
    },
    /// Two half notes, printed as a C with a stroke.
    Cut,
    /// Four quarters, printed as a C.
    Common,
    /// Unequal groups, `3+2/8`.
    Additive {
        /// The groups in order, two or more.
        groups: Vec<u8>,
        /// The lower number.
        unit: u8,
    },
    /// No meter at all.
    Free,
}

/// How the beats of a meter divide.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MeterKind {
    /// Beats divide in two: 2/4, 3/4, 4/4, cut; also 3/8.
    Simple,
    /// Beats divide in three: 6/8, 9/8, 12/8, 6/4.
    Compound,
    /// Beats of unequal length: 5/8, 7/8, 3+2/8.
    Unequal,
    /// No beats.
    Free,
}

impl Meter {
    /// Reads `4/4`, `6 / 8`, `cut`, `cut time`, `alla breve`, `C`, `common time`, `¢`, `3+2/8`,
    /// `none`, `no meter`, `free`, `unmetered`. The fraction slash `4⁄4` works too.
    pub fn read(text: &str) -> Option<Meter> {
        let text = words::tidy(text).replace('\u{2044}', "/");
        match text.as_str() {
            "cut" | "cut time" | "cut c" | "alla breve" | "¢" | "c|" | "𝄵" => {
                return Some(Meter::Cut);
            }
            "c" | "common" | "common time" | "𝄴" => return Some(Meter::Common),
            "none" | "no meter" | "free" | "unmetered" | "free time" | "senza misura" => {
                return Some(Meter::Free);
            }
            _ => {}
        }
        let (upper, lower) = text.split_once('/')?;
        let unit = small(lower.trim())?;
        if !unit.is_power_of_two() {
            return None;
        }
        let upper = upper.trim().trim_start_matches('(').trim_end_matches(')');
        let groups: Option<Vec<u8>> = upper.split('+').map(|g| small(g.trim())).collect();
        let groups = groups?;
        let total: u32 = groups.iter().map(|g| u32::from(*g)).sum();
        match groups.as_slice() {
            [beats] => Some(Meter::Time { beats: *beats, unit }),
            _ if total <= 64 => Some(Meter::Additive { groups, unit }),
            _ => None,
        }
    }

    /// The upper and lower number as counted: cut is 2 over 2. `None` for no meter.
    pub fn numbers(&self) -> Option<(u32, u32)> {
        match self {
            Meter::Time { beats, unit } => Some((u32::from(*beats), u32::from(*unit))),
            Meter::Cut => Some((2, 2)),
            Meter::Common => Some((4, 4)),
            Meter::Additive { groups, unit } => {
                Some((groups.iter().map(|g| u32::from(*g)).sum(), u32::from(*unit)))
            }
            Meter::Free => None,
        }
    }

    /// The length of a measure as a part of a whole note.
    pub fn measure(&self) -> Option<Fraction> {
        let (upper, lower) = self.numbers()?;
        Fraction::new(upper, lower)
    }

    /// Simple, compound, unequal or free. Upper numbers 6, 9, 12, 15 ... count in dotted beats;
    /// 5 and 7 over 8 or 16 are unequal, over 4 they are simply many quarters.
    pub fn kind(&self) -> MeterKind {
        let Some((upper, lower)) = self.numbers() else {
            return MeterKind::Free;
        };
        if let Meter::Additive { groups, .. } = self {
            return match groups.as_slice() {
                [first, rest @ ..] if rest.iter().all(|g| g == first) => match first {
                    3 => MeterKind::Compound,
                    _ => MeterKind::Simple,
                },
                _ => MeterKind::Unequal,
            };
        }
        if upper > 3 && upper % 3 == 0 {
            MeterKind::Compound
        } else if upper > 4 && lower >= 8 {
            MeterKind::Unequal
        } else {
            MeterKind::Simple
        }
    }

    /// The note that a bare metronome figure counts: the dotted quarter in 6/8, the half in cut,
    /// the eighth in unequal meters and in 3/8.
    pub fn beat(&self) -> Option<BeatUnit> {
        let (_, lower) = self.numbers()?;
        let value = NoteValue::from_lower(lower)?;
        match self.kind() {
            MeterKind::Compound => Some(BeatUnit {
                value: value.twice()?,
                dotted: true,
            }),
            _ => Some(BeatUnit { value, dotted: false }),
        }
    }

    /// How many of those beats fill a measure: 2 in 6/8.
    pub fn beats(&self) -> Option<u32> {
        let (upper, _) = self.numbers()?;
        Some(match self.kind() {
            MeterKind::Compound => upper / 3,
            _ => upper,
        })
    }
}

fn small(figures: &str) -> Option<u8> {
    let n = words::digits(figures)?;
    (1..=64).contains(&n).then(|| u8::try_from(n).ok()).flatten()
}

impl fmt::Display for Meter {
    /// The one form: `4/4`, `3+2/8`, `cut`, `common`, `none`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Meter::Time { beats, unit } => write!(f, "{beats}/{unit}"),
            Meter::Cut => f.write_str("cut"),
            Meter::Common => f.write_str("common"),
            Meter::Additive { groups, unit } => {
                let groups: Vec<String> = groups.iter().map(u8::to_string).collect();
                write!(f, "{}/{unit}", groups.join("+"))
            }
            Meter::Free => f.write_str("none"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Beats in compound meter (top number by three, dotted beat): teoria.com, compound meter;
    /// Old Dominion University, module 13.
    #[test]
    fn counted() {
        let table = [
            ("4/4", "4/4", MeterKind::Simple, 4, "quarter"),
            ("2/4", "2/4", MeterKind::Simple, 2, "quarter"),
            ("5/4", "5/4", MeterKind::Simple, 5, "quarter"),
            ("3/8", "3/8", MeterKind::Simple, 3, "eighth"),
            ("6/8", "6/8", MeterKind::Compound, 2, "dotted quarter"),
            (" 9 / 8", "9/8", MeterKind::Compound, 3, "dotted quarter"),
            ("12/8", "12/8", MeterKind::Compound, 4, "dotted quarter"),
            ("6/4", "6/4", MeterKind::Compound, 2, "dotted half"),
            ("7/8", "7/8", MeterKind::Unequal, 7, "eighth"),
            ("3+2/8", "3+2/8", MeterKind::Unequal, 5, "eighth"),
            ("3+3+2 / 8", "3+3+2/8", MeterKind::Unequal, 8, "eighth"),
            ("Cut time", "cut", MeterKind::Simple, 2, "half"),
            ("C", "common", MeterKind::Simple, 4, "quarter"),
        ];
        for (given, copied, kind, beats, beat) in table {
            let meter = Meter::read(given);
            let meter = meter.as_ref();
            assert_eq!(meter.map(|m| m.to_string()).as_deref(), Some(copied));
            assert_eq!(meter.map(Meter::kind), Some(kind), "{given}");
            assert_eq!(meter.and_then(Meter::beats), Some(beats), "{given}");
            let unit = meter.and_then(Meter::beat).map(|b| b.to_string());
            assert_eq!(unit.as_deref(), Some(beat), "{given}");
        }
        assert_eq!(Meter::read("none"), Some(Meter::Free));
        for given in [
            "", "4", "4/3", "0/4", "4/0", "3+/8", "65/4", "a/b", "4/4/4", "60+60/8",
        ] {
            assert_eq!(Meter::read(given), None, "{given}");
        }
    }

    proptest! {
        #[test]
        fn any_text(text in "\\PC{0,12}") {
            if let Some(meter) = Meter::read(&text) {
                prop_assert_eq!(Meter::read(&meter.to_string()), Some(meter.clone()));
                let _ = (meter.beat(), meter.beats(), meter.measure());
            }
        }
    }
}
