//! One value of a piece that changes on the way, laid out over its measures.

use crate::catalogue::model::{Piece, Stage};
use crate::notation::values::Place;

/// The most stages that are laid out. No piece has so many; a longer list is taken as not known.
const MOST_STAGES: usize = 300;

/// A stretch of measures with the stage in force there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg<'p, T> {
    /// The first measure.
    pub first: u32,
    /// The last measure; `u32::MAX` where the last measure of the piece is not known.
    pub last: u32,
    /// The stage in force.
    pub stage: &'p Stage<T>,
    /// Whether this stage surely holds here. A change at a place without a known measure makes all
    /// measures after the change before it unsure.
    pub placed: bool,
    /// Whether the value comes back here after a change that held only for a stretch.
    pub returns: bool,
}

impl<T> Leg<'_, T> {
    /// Whether both the place and the value are certain.
    pub fn is_certain(&self) -> bool {
        self.placed && is_certain(self.stage)
    }

    /// The first measure that both legs hold, where they meet.
    pub fn meets<U>(&self, other: &Leg<'_, U>) -> Option<u32> {
        let from = self.first.max(other.first);
        (from <= self.last.min(other.last)).then_some(from)
    }
}

/// Whether a stage's value is certain, wherever it holds.
pub fn is_certain<T>(stage: &Stage<T>) -> bool {
    stage.said.is_certain() && !stage.some
}

/// A value over the measures of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Line<'p, T> {
    /// The legs in the order of their measures; they do not overlap.
    pub legs: Vec<Leg<'p, T>>,
    /// Stages whose place has no known measure: `then`, or a mark that the card does not place.
    pub unplaced: Vec<&'p Stage<T>>,
    /// Whether the card says that there are changes and not where (`some 3/4`), so that no leg is sure.
    pub hazy: bool,
}

impl<'p, T> Line<'p, T> {
    /// Lays out the stages of a piece up to the measure `end`. `adds` tells of a stage without a place
    /// whether it only describes the one beside it, as `swing` beside a figure.
    pub fn of(piece: &Piece, stages: &'p [Stage<T>], end: u32, adds: impl Fn(&T) -> bool) -> Line<'p, T> {
        let mut line = Line {
            legs: Vec::new(),
            unplaced: Vec::new(),
            hazy: stages.len() > MOST_STAGES || stages.iter().any(|stage| stage.some),
        };
        let mut points: Vec<Change<'p, T>> = Vec::new();
        let mut ranges: Vec<(u32, u32, &'p Stage<T>)> = Vec::new();
        let plain = |stage: &Stage<T>| stage.place.is_none() && !stage.then && !stage.some;
        let told = stages
            .iter()
            .any(|stage| plain(stage) && !adds(&stage.said.value));
        let mut begun = false;
        for stage in stages.iter().take(MOST_STAGES) {
            let describes = adds(&stage.said.value);
            let at = match &stage.place {
                None if plain(stage) && describes && (told || begun) => continue,
                None if plain(stage) && begun => {
                    line.hazy = true;
                    None
                }
                None if stage.then || stage.some => None,
                None | Some(Place::Throughout) => {
                    begun = true;
                    Some(1)
                }
                // A movement has no measures of the whole piece.
                Some(Place::Movement(_)) => None,
                Some(Place::At(point)) => piece.measure_of(point),
                Some(Place::Between(from, to)) => match (piece.measure_of(from), piece.measure_of(to)) {
                    (Some(first), Some(last)) if first <= last => {
                        ranges.push((first, last.min(end), stage));
                        continue;
                    }
                    _ => None,
                },
            };
            // A change past the last measure stands somewhere else, and nobody knows where.
            line.hazy |= at.is_some_and(|at| at > end);
            match at {
                Some(at) => points.push(Change {
                    at,
                    stage,
                    unsure_after: false,
                }),
                None => {
                    line.unplaced.push(stage);
                    if let Some(before) = points.last_mut() {
                        before.unsure_after = true;
                    }
                }
            }
        }
        line.legs = legs(points, end);
        for (first, last, stage) in ranges {
            line.lay_over(first, last, stage);
        }
        match line.hazy {
            true => line.unknown(),
            false => line,
        }
    }

    /// The same line when nobody knows where anything of it holds.
    #[must_use]
    pub fn unknown(mut self) -> Line<'p, T> {
        self.hazy = true;
        for leg in &mut self.legs {
            leg.placed = false;
        }
        self
    }

    /// The leg at a measure.
    pub fn at(&self, measure: u32) -> Option<&Leg<'p, T>> {
        let after = self.legs.partition_point(|leg| leg.first <= measure);
        let leg = self.legs.get(after.checked_sub(1)?)?;
        (measure <= leg.last).then_some(leg)
    }

    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.legs.is_empty() && self.unplaced.is_empty()
    }

    /// The one stage that surely holds from the first measure to the last, where there is only one.
    pub fn only(&self) -> Option<&'p Stage<T>> {
        match (self.legs.as_slice(), self.unplaced.is_empty()) {
            ([leg], true) if leg.first == 1 && leg.placed => Some(leg.stage),
            _ => None,
        }
    }

    fn lay_over(&mut self, first: u32, last: u32, stage: &'p Stage<T>) {
        if first > last {
            return;
        }
        let mut cut: Vec<Leg<'p, T>> = Vec::with_capacity(self.legs.len() + 2);
        for leg in self.legs.drain(..) {
            if leg.last < first || leg.first > last {
                cut.push(leg);
                continue;
            }
            if leg.first < first {
                cut.push(Leg {
                    last: first - 1,
                    ..leg
                });
            }
            if leg.last > last {
                cut.push(Leg {
                    first: last + 1,
                    returns: true,
                    ..leg
                });
            }
        }
        cut.push(Leg {
            first,
            last,
            stage,
            placed: true,
            returns: false,
        });
        cut.sort_by_key(|leg| leg.first);
        self.legs = cut;
    }
}

struct Change<'p, T> {
    at: u32,
    stage: &'p Stage<T>,
    unsure_after: bool,
}

/// The stretches between changes. Of two changes at one measure the later one written holds.
fn legs<T>(mut points: Vec<Change<'_, T>>, end: u32) -> Vec<Leg<'_, T>> {
    points.sort_by_key(|change| change.at);
    let mut legs = Vec::with_capacity(points.len());
    for (index, change) in points.iter().enumerate() {
        let last = points
            .get(index + 1)
            .map_or(end, |next| next.at.saturating_sub(1).min(end));
        if change.at > last {
            continue;
        }
        let leg = Leg {
            first: change.at,
            last,
            stage: change.stage,
            placed: true,
            returns: false,
        };
        if change.unsure_after && last > change.at {
            legs.push(Leg {
                last: change.at,
                ..leg
            });
            legs.push(Leg {
                first: change.at.saturating_add(1),
                placed: false,
                ..leg
            });
        } else {
            legs.push(leg);
        }
    }
    legs
}
