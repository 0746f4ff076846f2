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
    /// A meter conducted in another number of beats than it shows: `3/4 in one`, `6/8 in 6`.
    Beaten {
        /// The meter as printed.
        meter: Box<Meter>,
        /// The beats in a measure.
        beats: u8,
    },
    /// These meters occur, and it is not said where.
    Several(Vec<Meter>),
    /// The meter changes, and it is not said to what.
    Mixed,
    /// The meter before, conducted in so many beats.
    In(u8),
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
        let text = text.strip_prefix("back to ").unwrap_or(&text);
        let bar = ["in a bar", "in the bar", "to the bar", "in a measure"];
        if let Some(count) = bar.iter().find_map(|bar| text.strip_suffix(bar)) {
            return in_so_many(count.trim_end()).map(Meter::In);
        }
        if let Some((head, count)) = text.rsplit_once(" in ") {
            // `slow 6/8 in 6`: the beats say already how it feels.
            let head = head
                .strip_prefix("slow ")
                .or_else(|| head.strip_prefix("fast "))
                .unwrap_or(head);
            return Self::plain(head)?.in_beats(in_so_many(count)?);
        }
        if let Some(count) = text.strip_prefix("in ") {
            return in_so_many(count).map(Meter::In);
        }
        if text.contains(" and ") || text.contains(" & ") {
            let text = text.replace(" & ", " and ");
            let all: Option<Vec<Meter>> = text.split(" and ").map(Self::plain).collect();
            return all.filter(|all| all.len() <= 8).map(Meter::Several);
        }
        match text {
            "mixed" | "mixed meter" | "mixed meters" | "changing" | "changing meters" | "various" => {
                Some(Meter::Mixed)
            }
            _ => Self::plain(text),
        }
    }

    /// A meter alone, in tidy words.
    fn plain(text: &str) -> Option<Meter> {
        match text {
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
        // `7/8 2+2+3`, `5/8 (3+2)`: the groups stand behind.
        if let Some((lower, groups)) = lower.trim().split_once([' ', '(']) {
            let groups = groups.trim_matches([' ', '(', ')']).replace('-', "+");
            let meter = Self::plain(&format!("{groups}/{lower}"))?;
            let whole = Self::plain(&format!("{upper}/{lower}"))?;
            let fits = matches!(meter, Meter::Additive { .. }) && meter.numbers() == whole.numbers();
            return fits.then_some(meter);
        }
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
            Meter::Beaten { meter, .. } => meter.numbers(),
            Meter::Free | Meter::Several(_) | Meter::Mixed | Meter::In(_) => None,
        }
    }

    /// The meter as printed, whatever it is conducted in.
    pub fn printed(&self) -> &Meter {
        match self {
            Meter::Beaten { meter, .. } => meter,
            other => other,
        }
    }

    /// The meter conducted in so many beats; none where a measure does not divide so.
    pub fn in_beats(self, beats: u8) -> Option<Meter> {
        let printed = self.printed().clone();
        let (upper, _) = printed.numbers()?;
        if beats == 0 || u32::from(beats) > upper.saturating_mul(2) {
            return None;
        }
        let unequal = printed.kind() == MeterKind::Unequal || matches!(upper, 5 | 7);
        let beaten = Meter::Beaten {
            meter: Box::new(printed),
            beats,
        };
        (unequal || beaten.beat().is_some()).then_some(beaten)
    }

    /// What it comes to behind `before`: `in 1` is that meter in one beat.
    pub fn behind(self, before: Option<&Meter>) -> Meter {
        match self {
            Meter::In(beats) => before
                .and_then(|before| before.clone().in_beats(beats))
                .unwrap_or(Meter::Mixed),
            other => other,
        }
    }

    /// The note that a bare metronome figure counts, where that is beyond doubt: in 5/8 and 7/8 it may be the
    /// eighth or a whole group.
    pub fn figure_beat(&self) -> Option<BeatUnit> {
        match self.kind() {
            MeterKind::Unequal => None,
            _ => self.beat(),
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
        if let Meter::Beaten { meter, .. } = self {
            return meter.kind();
        }
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
        if let Meter::Beaten { beats, .. } = self {
            let measure = self.measure()?;
            let one = Fraction::new(
                measure.numerator(),
                measure.denominator().checked_mul(u32::from(*beats))?,
            )?;
            return BeatUnit::of_length(one);
        }
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
        if let Meter::Beaten { beats, .. } = self {
            return Some(u32::from(*beats));
        }
        Some(match self.kind() {
            MeterKind::Compound => upper / 3,
            _ => upper,
        })
    }
}

/// `2`, `two`, `two beats`.
fn in_so_many(text: &str) -> Option<u8> {
    let text = text
        .strip_suffix(" beats")
        .or_else(|| text.strip_suffix(" beat"))
        .unwrap_or(text);
    let count = words::count(text).filter(|count| (1..=16).contains(count) && text != "a" && text != "an")?;
    u8::try_from(count).ok()
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
            Meter::Beaten { meter, beats } => write!(f, "{meter} in {beats}"),
            Meter::Several(all) => {
                let all: Vec<String> = all.iter().map(ToString::to_string).collect();
                f.write_str(&all.join(" and "))
            }
            Meter::Mixed => f.write_str("mixed"),
            Meter::In(beats) => write!(f, "in {beats}"),
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

    #[test]
    fn beats_and_groups_as_directors_write_them() {
        for (given, copied, beat) in [
            ("3/4 in one", Some("3/4 in 1"), Some("dotted half")),
            ("6/8 in 2", Some("6/8 in 2"), Some("dotted quarter")),
            ("6/8 in two", Some("6/8 in 2"), Some("dotted quarter")),
            ("slow 6/8 in 6", Some("6/8 in 6"), Some("eighth")),
            ("4/4 in 2", Some("4/4 in 2"), Some("half")),
            ("7/8 in 3", Some("7/8 in 3"), None),
            ("4/4 and 3/4", Some("4/4 and 3/4"), None),
            ("mixed", Some("mixed"), None),
            ("in 1", Some("in 1"), None),
            ("5/8 (3+2)", Some("3+2/8"), Some("eighth")),
            ("7/8 2+2+3", Some("2+2+3/8"), Some("eighth")),
            ("back to 4/4", Some("4/4"), Some("quarter")),
            ("7/8 2+2+2", None, None),
            ("4/4 in 3", None, None),
            ("4/4 in 0", None, None),
            ("4/4 in zqxv", None, None),
            ("4/4 and zqxv", None, None),
            ("zqxv 4/4", None, None),
            ("slow 6/8", None, None),
        ] {
            let meter = Meter::read(given);
            assert_eq!(
                meter.as_ref().map(ToString::to_string).as_deref(),
                copied,
                "{given}"
            );
            let unit = meter.as_ref().and_then(Meter::beat).map(|unit| unit.to_string());
            assert_eq!(unit.as_deref(), beat, "{given}");
        }
        assert_eq!(Meter::read("7/8").and_then(|meter| meter.figure_beat()), None);
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
