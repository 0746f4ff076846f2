//! A tempo that counts a note which is not the beat of the meter.

use crate::catalogue::course::{Course, is_certain};
use crate::catalogue::model::Stage;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::meter::MeterKind;
use crate::music::{BeatUnit, Meter, Tempo};
use crate::notation::values::TempoSaid;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A metronome mark that counts a note which does not divide the measure, or cuts across its beats: a
    /// dotted quarter in 4/4, a quarter in 6/8. Only the meter where the tempo begins is compared.
    ///
    /// # Why it matters
    ///
    /// The metronome would click across the beat, and the length of the piece would be worked out wrong.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "A Cradle Song for Winter"
    ///   meter           4/4
    ///   tempo           dotted quarter = 60
    ///                   ^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "The Rope Ferry"
    ///   meter           4/4, 6/8 at 33
    ///   tempo           quarter = 96, quarter = 96 at 33
    ///                                 ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A measure may be counted in larger or smaller beats than usual, a meter of unequal beats in any of
    /// them, and a mark printed before a change keeps its meaning after it.
    ///
    /// ```levare
    /// piece "In One"
    ///   meter           3/4
    ///   tempo           dotted half = 60
    ///
    /// piece "In Two or Four"
    ///   meter           cut
    ///   tempo           quarter = 160
    ///
    /// piece "In Six"
    ///   meter           6/8
    ///   tempo           eighth = 120
    ///
    /// piece "Uneven Stones"
    ///   meter           7/8
    ///   tempo           dotted quarter = 60
    ///
    /// piece "The Rope Ferry"
    ///   meter           4/4, 6/8 at 33
    ///   tempo           quarter = 96
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the mark in the score: mend the note, the figure or the meter.
    BeatAgainstMeter: "beat against meter", Time, Warning, reads Card
}

/// A beat that a meter does not have.
pub struct Against {
    place: String,
    unit: BeatUnit,
    figures: (u16, u16),
    meter: Meter,
    meter_span: Span,
}

impl Notice for BeatAgainstMeter {
    type What = Against;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Against>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for course in Course::all(piece) {
            for stage in course.piece.tempos.iter().filter(|stage| is_certain(stage)) {
                let Some(Tempo::Mark {
                    unit: Some(unit),
                    low,
                    high,
                }) = stage.said.value.tempo
                else {
                    continue;
                };
                let Some(meter) = meter_of(&course, stage) else {
                    continue;
                };
                if is_certain(meter) && !counts(&meter.said.value, unit) {
                    let what = Against {
                        place: course.place("tempo"),
                        unit,
                        figures: (low, high),
                        meter: meter.said.value.clone(),
                        meter_span: meter.said.span,
                    };
                    found.push(Noticed::new(stage.said.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Against, _card: &Card<'_>) -> Saying {
        let beat = what
            .meter
            .beat()
            .map_or_else(|| "another note".to_owned(), |beat| format!("the {beat}"));
        Saying {
            place: what.place.clone(),
            says: format!(
                "The tempo counts the {}, but the card's meter is {}, whose beat is {beat}.",
                what.unit, what.meter
            ),
            why: "A metronome set to it would click across the beat, and the length worked out from it would be wrong.".to_owned(),
            todo: "Look at the mark in the score, and mend the note, the figure or the meter.".to_owned(),
        }
    }

    fn related(what: &Against, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.meter_span, "the meter there")]
    }

    fn repairs(noticed: &Noticed<Against>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let Some(beat) = what.meter.beat() else {
            return Vec::new();
        };
        let (low, high) = what.figures;
        let mark = Tempo::Mark {
            unit: Some(beat),
            low,
            high,
        };
        vec![Repair::to_decide(
            format!("Keep the figure and count the beat of {}: {mark}", what.meter),
            vec![Edit::replace(noticed.span, mark.to_string())],
        )]
    }
}

/// The meter where a tempo begins: at its measure, or at the same mark where that has no measure.
fn meter_of<'p>(course: &Course<'p>, tempo: &Stage<TempoSaid>) -> Option<&'p Stage<Meter>> {
    let same = |stage: &Stage<TempoSaid>| std::ptr::eq(stage, tempo);
    if let Some(leg) = course.tempos.legs.iter().find(|leg| same(leg.stage)) {
        let meter = course.meters.at(leg.first)?;
        return (leg.placed && meter.placed).then_some(meter.stage);
    }
    // A place that the card does not measure proves something only with the meter of the same place,
    // or where one meter holds throughout.
    tempo.place.as_ref()?;
    let unplaced = course.meters.unplaced.iter();
    let there = unplaced.copied().find(|meter| meter.place == tempo.place);
    there.or_else(|| course.meters.only())
}

/// Whether a meter can be counted in a note (common practice, no source): it fills the measure a whole
/// number of times, and its beats hold it or it holds them a whole number of times.
fn counts(meter: &Meter, unit: BeatUnit) -> bool {
    let (Some(measure), Some(beat)) = (meter.measure(), meter.beat()) else {
        return true;
    };
    let whole = |of: crate::music::fraction::Fraction, by: crate::music::fraction::Fraction| {
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
        MeterKind::Compound => whole(measure, note) && (whole(beat, note) || whole(note, beat)),
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
