//! A tempo word beside a figure that is far from what the word means.

use crate::catalogue::course::{Course, is_certain};
use crate::catalogue::model::Stage;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::terms::{self, TempoTerm};
use crate::music::{BeatUnit, Tempo};
use crate::notation::values::TempoSaid;
use crate::rule;

rule! {
    /// A tempo word with a figure far outside what any of three published tables gives it: Allegro at 60, Largo
    /// at 132. A fourth below the slowest or a third above the fastest is still allowed (common practice, no
    /// source), and a figure is taken in beats of the meter or as it stands, whichever fits.
    ///
    /// # Why it matters
    ///
    /// The word and the figure stand side by side in every part. When they disagree, one of them was copied
    /// wrong, and the length is counted from the figure.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   meter           4/4
    ///   tempo           Allegro, quarter = 60
    ///                            ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   meter           4/4
    ///   tempo           Allegro, quarter = 112
    /// piece "Harbor Parade"
    ///   meter           cut
    ///   tempo           Allegro, half = 72
    /// piece "Slow River"
    ///   meter           6/8
    ///   tempo           Andante, eighth = 132
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for the figure, and for the note in front of it.
    TempoWordAgainstFigure: "tempo word against figure", Time, Information, reads Card, looks at Tempos
}

/// How far below the slowest published figure is still allowed.
const BELOW: f64 = 0.75;
/// How far above the fastest.
const ABOVE: f64 = 1.34;

/// The word and the figure.
pub struct Against {
    place: String,
    word: &'static str,
    figure: String,
    band: (Option<u16>, Option<u16>),
    slow: bool,
}

impl Notice for TempoWordAgainstFigure {
    type What = Against;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Against>> {
        let mut found = Vec::new();
        for course in card.courses() {
            let mut before: Option<&Stage<TempoSaid>> = None;
            for stage in course.piece.tempos.iter().take(300) {
                let word = word_of(stage, before);
                before = Some(stage);
                if let Some(what) = word.and_then(|term| against(course, stage, term)) {
                    found.push(Noticed::new(stage.said.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Against, _card: &Card<'_>) -> Saying {
        let band = match what.band {
            (Some(low), Some(high)) => format!("between {low} and {high}"),
            (Some(low), None) => format!("from {low} on"),
            (None, Some(high)) => format!("up to {high}"),
            (None, None) => "anything".to_owned(),
        };
        let pace = if what.slow { "slow" } else { "fast" };
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} is far too {pace} for {}: published tables put it {band}.",
                what.figure, what.word
            ),
            why: "The parts show both, so one of the two was copied wrong, and the length is counted from the figure."
                .to_owned(),
            todo: "Look in the score for the figure, and for the note in front of it.".to_owned(),
        }
    }
}

/// The tempo word that stands with a figure: in front of it, or as the stage before it at the same place.
fn word_of(stage: &Stage<TempoSaid>, before: Option<&Stage<TempoSaid>>) -> Option<&'static TempoTerm> {
    if !stage.said.value.before.is_empty() {
        return terms::of_phrase(&stage.said.value.before);
    }
    let before = before.filter(|before| before.place == stage.place && !before.then && !stage.then)?;
    match &before.said.value.tempo {
        Some(Tempo::Term(name)) if is_certain(before) => terms::of_phrase(name),
        _ => None,
    }
}

fn against(course: &Course<'_>, stage: &Stage<TempoSaid>, term: &'static TempoTerm) -> Option<Against> {
    let Some(tempo @ Tempo::Mark { unit, low, high }) = &stage.said.value.tempo else {
        return None;
    };
    if !is_certain(stage) {
        return None;
    }
    let leg = course
        .tempos
        .legs
        .iter()
        .find(|leg| std::ptr::eq(leg.stage, stage));
    let meter = leg.and_then(|leg| course.meters.at(leg.first));
    let beat = meter.and_then(|meter| meter.stage.said.value.beat());
    let band = term.envelope();
    let too_slow = |figure: f64| band.low.is_some_and(|low| figure < f64::from(low) * BELOW);
    let too_fast = |figure: f64| band.high.is_some_and(|high| figure > f64::from(high) * ABOVE);
    // A conductor's Allegro in two may be printed in halves or in quarters.
    let readings = |figure: u16| {
        let figure = f64::from(figure);
        let unit = unit.unwrap_or(beat.unwrap_or(BeatUnit::QUARTER));
        let quarters = unit.length().in_units_of(BeatUnit::QUARTER.length());
        let beats = beat.and_then(|beat| unit.length().in_units_of(beat.length()));
        [Some(1.0), quarters, beats]
            .into_iter()
            .flatten()
            .map(move |times| figure * times)
            .collect::<Vec<f64>>()
    };
    let slow = readings(*high).into_iter().all(too_slow);
    let fast = readings(*low).into_iter().all(too_fast);
    (slow || fast).then(|| Against {
        place: course.place("tempo"),
        word: term.name,
        figure: tempo.to_string(),
        band: (band.low, band.high),
        slow,
    })
}
