//! A tempo that counts a note which is not the beat of the meter.

use crate::catalogue::course::{Course, is_certain};
use crate::catalogue::model::Stage;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::{BeatUnit, Meter, Tempo};
use crate::notation::values::TempoSaid;
use crate::rule;
use crate::text::{Edit, Span};

use super::counted::counts;

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
    /// Look at the mark in the score: fix the note, the figure or the meter.
    BeatAgainstMeter: "beat against meter", Time, Warning, reads Card, looks at Tempos
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
        let mut found = Vec::new();
        for course in card.courses() {
            for stage in course.piece.tempos.iter().filter(|stage| is_certain(stage)) {
                let Some(Tempo::Mark {
                    unit: Some(unit),
                    low,
                    high,
                }) = stage.said.value.tempo
                else {
                    continue;
                };
                let Some(meter) = meter_of(course, stage) else {
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
            todo: "Look at the mark in the score, and fix the note, the figure or the meter.".to_owned(),
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
