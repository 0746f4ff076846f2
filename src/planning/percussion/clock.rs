//! When every sounding measure begins: movements one after another, repeats counted, in tenths of a second.

use std::borrow::Cow;

use crate::catalogue::course::{Course, MOST_PRINTED, Missing, is_certain};
use crate::planning::assign::Tenths;

/// Between movements that do not follow without a break there is time for any change.
const BETWEEN_MOVEMENTS: Tenths = 6_000;
/// How long a measure lasts where only measures can be counted.
const A_MEASURE: Tenths = 10;

/// Which end of a tempo such as `quarter = 60-66` is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// The fastest, which leaves the least time to change.
    Fastest,
    /// The slowest.
    Slowest,
}

/// One measure as it sounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sounding {
    /// The course it belongs to, by its place among those that are played.
    pub course: usize,
    /// Its number in print; the number of an event where `event`.
    pub measure: u32,
    /// Whether it is a cued event and no measure.
    pub event: bool,
    /// When it begins, in tenths of a second.
    pub start: Tenths,
    /// When it is over.
    pub end: Tenths,
}

/// The sounding measures of a piece.
#[derive(Debug, Clone, Default)]
pub struct Clock {
    /// In the order they sound.
    pub measures: Vec<Sounding>,
    /// What keeps seconds from being known, so that only measures are counted; none where they are known.
    pub coarse: Option<&'static str>,
    /// What was taken as near enough, in words.
    pub taken: Vec<&'static str>,
    now: Tenths,
    /// The courses that begin after a break.
    breaks: Vec<usize>,
    /// Whether what was added last goes on into the next movement.
    goes_on: bool,
}

impl Clock {
    /// Adds the measures of a course. `reach` is the last measure and the last event in which any part is
    /// known to play, for a card that does not say how many there are.
    pub fn add(&mut self, at: usize, course: &Course<'_>, reach: (u32, u32), pace: Pace) {
        if at > 0 && !self.goes_on {
            self.now = self.now.saturating_add(BETWEEN_MOVEMENTS);
            self.breaks.push(at);
        }
        self.goes_on = course.movement.is_some_and(|movement| movement.attacca);
        let seconds = self.add_measures(at, course, reach.0, pace);
        if let Some(missing) = seconds {
            self.coarse = self.coarse.or(Some(missing));
        }
        for event in 1..=reach.1.min(MOST_PRINTED) {
            self.coarse = self.coarse.or(Some("how long the cued events last"));
            self.push(at, event, true, A_MEASURE);
        }
    }

    fn add_measures(
        &mut self,
        at: usize,
        course: &Course<'_>,
        reach: u32,
        pace: Pace,
    ) -> Option<&'static str> {
        let said = course.total;
        let total = said.unwrap_or(reach).min(MOST_PRINTED);
        if total == 0 {
            return None;
        }
        if said.is_none() {
            self.take("the card does not say how many measures there are, so they are counted up to the last one that a part plays");
        }
        let cut;
        let whole = match said == Some(total) {
            true => course,
            false => {
                cut = course.of_measures(total);
                &cut
            }
        };
        let order: Cow<'_, [u32]> = match whole.order() {
            Ok(order) => Cow::Borrowed(order),
            Err(missing) => {
                self.take(match missing {
                    Missing::OpenRepeat => "an open repeat was counted as printed",
                    _ => "not all of the roadmap is known, so the measures are counted as printed, once through",
                });
                Cow::Owned((1..=total).collect())
            }
        };
        let missing = match course.lasting() {
            Ok(length) => {
                if length.about {
                    self.take("some tempos, meters or measures are only approximate");
                }
                None
            }
            // Known well enough to count, or handled above.
            Err(
                Missing::Figures
                | Missing::Measures
                | Missing::Road
                | Missing::OpenRepeat
                | Missing::Broken(_),
            ) => None,
            Err(Missing::Tempo) if course.tempos.is_empty() => Some("the tempo"),
            Err(Missing::Meter) if course.meters.is_empty() => Some("the meter"),
            Err(missing) => Some(missing.words()),
        };
        let hazy = !course
            .meters
            .legs
            .iter()
            .all(|leg| leg.placed && is_certain(leg.stage))
            || !course
                .tempos
                .legs
                .iter()
                .all(|leg| leg.placed && is_certain(leg.stage));
        if hazy && missing.is_none() {
            self.take("some tempos or meters are not certain");
        }
        let lasting = whole.timeline().each(&order);
        let unknown = lasting.iter().any(|measure| measure.unknown > 0);
        if lasting.iter().any(|measure| measure.vague > 0) {
            self.take("tempos in words were taken at their usual figures");
        }
        let missing = missing.or(match (unknown, course.meters.is_empty()) {
            (false, _) => None,
            (true, true) => Some(Missing::Meter.words()),
            (true, false) if course.tempos.is_empty() => Some(Missing::Tempo.words()),
            (true, false) => Some("the meter or the tempo of some measures"),
        });
        if missing.is_some() {
            for &measure in order.iter() {
                self.push(at, measure, false, A_MEASURE);
            }
            return missing;
        }
        // The sum is kept in seconds, so that rounding does not add up.
        let begin = self.now;
        let mut sum = 0.0_f64;
        for (&measure, lasts) in order.iter().zip(lasting) {
            sum += match pace {
                Pace::Fastest => lasts.low,
                Pace::Slowest => lasts.high,
            };
            // A cast from a floating number stops at the ends.
            let end = begin.saturating_add((sum * 10.0).round() as Tenths);
            let lasts = end.saturating_sub(self.now);
            self.push(at, measure, false, lasts);
        }
        None
    }

    fn push(&mut self, course: usize, measure: u32, event: bool, lasts: Tenths) {
        let start = self.now;
        self.now = self.now.saturating_add(lasts.max(0));
        self.measures.push(Sounding {
            course,
            measure,
            event,
            start,
            end: self.now,
        });
    }

    fn take(&mut self, words: &'static str) {
        if !self.taken.contains(&words) {
            self.taken.push(words);
        }
    }

    /// Whether there is a break between two movements somewhere between these.
    pub fn breaks_between(&self, early: Sounding, late: Sounding) -> bool {
        self.breaks
            .iter()
            .any(|at| early.course < *at && *at <= late.course)
    }

    /// Whether every second is as sure as the card can say it.
    pub fn is_certain(&self) -> bool {
        self.coarse.is_none() && self.taken.is_empty()
    }
}
