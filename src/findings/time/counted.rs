//! Which notes a meter is counted in.

use crate::music::fraction::Fraction;
use crate::music::meter::MeterKind;
use crate::music::{BeatUnit, Meter};

/// Whether a meter can be counted in a note (common practice, no source): the note divides the beat into
/// whole parts, or holds whole beats; a dotted note also fills the measure a whole number of times.
pub(super) fn counts(meter: &Meter, unit: BeatUnit) -> bool {
    let (Some(measure), Some(beat)) = (meter.measure(), meter.beat()) else {
        return true;
    };
    let whole = |of: Fraction, by: Fraction| {
        of.in_units_of(by)
            .is_some_and(|times| times >= 1.0 && (times - times.round()).abs() < 1e-9)
    };
    let (note, beat) = (unit.length(), beat.length());
    match meter.kind() {
        MeterKind::Free => true,
        // Beats of two lengths: the eighth, the quarter, the dotted quarter and the measure itself all occur.
        MeterKind::Unequal => note <= measure,
        // 2/4, 4/4 and cut are printed for one another, so the half and the quarter are at home in all of them.
        MeterKind::Simple if !unit.dotted => whole(beat, note) || whole(note, beat),
        MeterKind::Simple => whole(measure, note) && whole(note, beat),
        // 3/4 and 6/8 share their measure, but a quarter cuts across the beats of 6/8.
        MeterKind::Compound if unit.dotted => whole(measure, note) && whole(note, beat),
        MeterKind::Compound => whole(beat, note),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Common practice, no source, but for the beat of compound meter (teoria.com, compound meter).
    #[test]
    fn meters_are_counted_in_the_notes_that_conductors_beat() {
        for (meter, fine, wrong) in [
            (
                "4/4",
                "whole, half, quarter, eighth, sixteenth",
                "dotted quarter, dotted half, dotted eighth",
            ),
            ("2/4", "half, quarter, eighth", "dotted quarter"),
            ("3/4", "quarter, dotted half, eighth", "dotted quarter"),
            ("5/4", "quarter, half, eighth", "dotted quarter, dotted half"),
            ("cut", "half, quarter, whole", "dotted quarter, dotted half"),
            (
                "6/8",
                "dotted quarter, eighth, dotted half, sixteenth",
                "quarter, half",
            ),
            ("9/8", "dotted quarter, eighth", "quarter, dotted half"),
            ("12/8", "dotted quarter, eighth, dotted half", "quarter"),
            ("6/4", "dotted half, quarter", "half, dotted quarter"),
            ("3/8", "eighth, dotted quarter", "dotted eighth"),
            ("7/8", "eighth, quarter, dotted quarter", "dotted whole"),
            ("3+2/8", "eighth, quarter, dotted quarter", "whole"),
            ("none", "dotted quarter, whole", ""),
        ] {
            let read = Meter::read(meter).expect("a meter");
            for (units, expected) in [(fine, true), (wrong, false)] {
                for unit in units.split(", ").filter(|unit| !unit.is_empty()) {
                    let note = BeatUnit::read(unit).expect("a note");
                    assert_eq!(counts(&read, note), expected, "{unit} in {meter}");
                }
            }
        }
    }
}
