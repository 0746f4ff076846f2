//! The roadmap of a card in the terms of the trade's arithmetic.

use crate::catalogue::model::Piece;
use crate::music::roadmap::{self, Ending, Jump, JumpTo, Repeat, RoadProblem, Roadmap, Until};
use crate::notation::values::{Point, RoadStep, road};

/// The most printed measures whose order is worked out; no piece has so many.
pub const MOST_PRINTED: u32 = 10_000;

/// A jump of the card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JumpSaid {
    /// Its index among the steps of the card.
    pub index: usize,
    /// The measure at whose end it is taken, where that is known.
    pub at: Option<u32>,
}

/// A piece's road.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Road {
    /// The steps that have a measure.
    pub map: Roadmap,
    /// Whether every step was understood, is certain, and has a measure.
    pub known: bool,
    /// Whether some repeat is played as often as the conductor likes.
    pub open: bool,
    /// The endings that belong to no repeat, by their index among the steps of the card.
    pub strays: Vec<usize>,
    /// The jumps.
    pub jumps: Vec<JumpSaid>,
}

impl Road {
    /// Takes the road of a piece or movement. Marks called segno, coda or fine stand for those signs.
    pub fn of(piece: &Piece) -> Road {
        let mut road = Road {
            map: Roadmap::default(),
            known: !piece.road_in_words && piece.road.len() <= roadmap::MOST_STEPS,
            open: false,
            strays: Vec::new(),
            jumps: Vec::new(),
        };
        let steps: Vec<&RoadStep> = piece.road.iter().map(|said| &said.value).collect();
        road.known &= piece.road.iter().all(|said| said.is_certain());
        let steps = steps
            .get(..steps.len().min(roadmap::MOST_STEPS))
            .unwrap_or_default();
        road.add_repeats(piece, steps);
        road.add_signs(piece, steps);
        road.add_jumps(piece, steps);
        road.add_cuts(steps);
        road
    }

    /// The order in which measures 1 to `total` sound.
    ///
    /// # Errors
    /// The first sign that is missing or astray; a piece of more than [`MOST_PRINTED`] measures is too long.
    pub fn order(&self, total: u32) -> Result<Vec<u32>, RoadProblem> {
        if total > MOST_PRINTED {
            return Err(RoadProblem::TooLong);
        }
        self.map.unroll(total)
    }

    fn add_repeats(&mut self, piece: &Piece, steps: &[&RoadStep]) {
        let mut repeats: Vec<Repeat> = Vec::new();
        let mut endings: Vec<(usize, Ending)> = Vec::new();
        for (index, step) in steps.iter().enumerate() {
            match step {
                RoadStep::Repeat { stretch, times } => {
                    repeats.push(Repeat::times(stretch.first, stretch.last, small(*times).max(1)))
                }
                RoadStep::OpenAt(_) | RoadStep::OpenSomewhere => self.open = true,
                // Its measures are not known, so neither is the way.
                RoadStep::Marked { .. } | RoadStep::Somewhere(_) => self.known = false,
                RoadStep::Open(stretch) => {
                    self.open = true;
                    let mut repeat = Repeat::twice(stretch.first, stretch.last);
                    repeat.open = true;
                    repeats.push(repeat);
                }
                RoadStep::Ending {
                    passes,
                    stretch,
                    into,
                } => {
                    let passes = passes.iter().copied().map(small).collect();
                    let mut ending = Ending::new(passes, stretch.first, stretch.last);
                    ending.into = *into;
                    endings.push((index, ending));
                }
                RoadStep::Only { passes, stretch } => self.map.steps.push(roadmap::RoadStep::Only {
                    first: stretch.first,
                    last: stretch.last,
                    passes: passes.iter().copied().map(small).collect(),
                }),
                _ => {}
            }
        }
        let skipped = Skipped::of(piece, steps);
        self.known &= skipped.known;
        endings.sort_by_key(|(_, ending)| ending.first);
        let signs: Vec<u32> = repeats.iter().map(|repeat| repeat.last).collect();
        for (index, ending) in endings {
            // An ending stands inside its repeat or right behind it or behind the ending before.
            let home = repeats
                .iter_mut()
                .zip(&signs)
                .filter(|(repeat, _)| repeat.first <= ending.first)
                .filter(|(repeat, _)| ending.first <= repeat.reach().saturating_add(1))
                .max_by_key(|(repeat, _)| repeat.first);
            match home {
                Some((repeat, sign)) => add_ending(repeat, *sign, ending),
                None => self.strays.push(index),
            }
        }
        self.known &= self.strays.is_empty();
        for mut repeat in repeats {
            if !skipped.holds(&repeat) {
                self.map.steps.push(roadmap::RoadStep::Repeat(repeat));
                continue;
            }
            // Only the last ending of a repeat that is not taken is played.
            repeat.endings.pop();
            let endings = repeat.endings.into_iter();
            self.map
                .steps
                .extend(endings.map(|ending| roadmap::RoadStep::Cut {
                    first: ending.first,
                    last: ending.last,
                }));
        }
    }

    /// The cuts that leave the road sure: each between repeats, around whole ones, or within one.
    fn add_cuts(&mut self, steps: &[&RoadStep]) {
        for step in steps {
            let RoadStep::Cut(stretch) = step else { continue };
            let cut = |measure: u32| (stretch.first..=stretch.last).contains(&measure);
            let torn = self.map.steps.iter().any(|step| match step {
                roadmap::RoadStep::Repeat(repeat) => {
                    let ends = std::iter::once((repeat.first, repeat.last))
                        .chain(repeat.endings.iter().map(|ending| (ending.first, ending.last)));
                    ends.into_iter().any(|(first, last)| cut(first) != cut(last))
                }
                roadmap::RoadStep::Segno { at, .. }
                | roadmap::RoadStep::ToCoda { at, .. }
                | roadmap::RoadStep::Coda { at, .. }
                | roadmap::RoadStep::Fine { at } => cut(*at),
                roadmap::RoadStep::Jump(jump) => cut(jump.at),
                roadmap::RoadStep::Only { .. } | roadmap::RoadStep::Cut { .. } => false,
            });
            self.known &= !torn;
            self.map.steps.push(roadmap::RoadStep::Cut {
                first: stretch.first,
                last: stretch.last,
            });
        }
    }

    fn add_signs(&mut self, piece: &Piece, steps: &[&RoadStep]) {
        let mut said = [false; 3];
        for step in steps {
            let point = match step {
                RoadStep::Segno(_, point)
                | RoadStep::ToCoda(_, point)
                | RoadStep::Coda(_, point)
                | RoadStep::Fine(point) => point,
                _ => continue,
            };
            // `coda at the end` says that it comes last, not that it is one measure long.
            let last = matches!(step, RoadStep::Coda(_, Point::FromEnd(0)));
            if last {
                self.known &= piece.mark("coda").is_some();
                continue;
            }
            match step {
                RoadStep::Segno(..) => said[0] = true,
                RoadStep::Coda(..) => said[1] = true,
                RoadStep::Fine(..) => said[2] = true,
                _ => {}
            }
            let Some(at) = piece.measure_of(point) else {
                self.known = false;
                continue;
            };
            self.map.steps.extend(match step {
                RoadStep::Segno(n, _) => Some(roadmap::RoadStep::Segno {
                    number: number(*n, steps),
                    at,
                }),
                RoadStep::ToCoda(n, _) => Some(roadmap::RoadStep::ToCoda {
                    number: exit_number(*n, steps),
                    at,
                }),
                RoadStep::Coda(n, _) => Some(roadmap::RoadStep::Coda {
                    number: number(*n, steps),
                    at,
                }),
                RoadStep::Fine(_) => Some(roadmap::RoadStep::Fine { at }),
                _ => None,
            });
        }
        let mark = |name: &str| piece.mark(name);
        if let (false, Some(at)) = (said[0], mark("segno")) {
            self.map.steps.push(roadmap::RoadStep::Segno { number: None, at });
        }
        if let (false, Some(at)) = (said[1], mark("coda")) {
            self.map.steps.push(roadmap::RoadStep::Coda { number: None, at });
        }
        if let (false, Some(at)) = (said[2], mark("fine")) {
            self.map.steps.push(roadmap::RoadStep::Fine { at });
        }
    }

    fn add_jumps(&mut self, piece: &Piece, steps: &[&RoadStep]) {
        let total = piece.measures.as_ref().map(|measures| measures.value);
        let with_repeats = steps.iter().any(|step| matches!(step, RoadStep::RepeatsAgain));
        for (index, step) in steps.iter().enumerate() {
            let RoadStep::Jump { segno, until, at } = step else {
                continue;
            };
            let until = match until {
                road::Until::End => Until::End,
                road::Until::Fine => Until::Fine,
                road::Until::Coda(n) => Until::Coda(number(*n, steps)),
            };
            let at = match (at, until) {
                (Some(point), _) => piece.measure_of(point),
                // Where nothing is said, a jump to the coda stands right before it.
                (None, Until::Coda(_)) => self.coda().and_then(|at| at.checked_sub(1)).or(total),
                (None, _) => total,
            };
            self.jumps.push(JumpSaid { index, at });
            match at {
                Some(at) => self.map.steps.push(roadmap::RoadStep::Jump(Jump {
                    at,
                    to: segno.map_or(JumpTo::Start, |n| JumpTo::Segno(number(n, steps))),
                    until,
                    with_repeats,
                })),
                None => self.known = false,
            }
        }
    }

    /// The first measure of the only coda.
    fn coda(&self) -> Option<u32> {
        let mut codas = self.map.steps.iter().filter_map(|step| match step {
            roadmap::RoadStep::Coda { at, .. } => Some(*at),
            _ => None,
        });
        match (codas.next(), codas.next()) {
            (Some(at), None) => Some(at),
            _ => None,
        }
    }
}

/// The repeats that are printed and not taken.
struct Skipped {
    all: bool,
    at: Vec<u32>,
    known: bool,
}

impl Skipped {
    fn of(piece: &Piece, steps: &[&RoadStep]) -> Skipped {
        let mut skipped = Skipped {
            all: false,
            at: Vec::new(),
            known: true,
        };
        for step in steps {
            match step {
                RoadStep::Skip(None) => skipped.all = true,
                RoadStep::Skip(Some(point)) => match piece.measure_of(point) {
                    Some(at) => skipped.at.push(at),
                    None => skipped.known = false,
                },
                _ => {}
            }
        }
        skipped
    }

    fn holds(&self, repeat: &Repeat) -> bool {
        self.all
            || self
                .at
                .iter()
                .any(|at| (repeat.first..=repeat.reach()).contains(at))
    }
}

/// Adds an ending to its repeat, whose sign was said to stand at the end of measure `sign`.
fn add_ending(repeat: &mut Repeat, sign: u32, ending: Ending) {
    let passes = &ending.passes;
    repeat.times = repeat.times.max(passes.iter().copied().max().unwrap_or(1));
    if let Some(into) = ending.into {
        repeat.last = sign.max(into);
    } else if passes.contains(&1) && repeat.endings.is_empty() {
        // The repeat turns back where its first ending ends, wherever the sign was said to stand.
        repeat.last = ending.last;
    }
    repeat.endings.push(ending);
}

/// The number of a sign, where the road has more than one of any kind; else signs need none.
fn number(n: u32, steps: &[&RoadStep]) -> Option<u8> {
    let numbered = steps.iter().any(|step| match step {
        RoadStep::Segno(n, _) | RoadStep::ToCoda(n, _) | RoadStep::Coda(n, _) => *n > 1,
        RoadStep::Jump { segno, until, .. } => {
            segno.is_some_and(|n| n > 1) || matches!(until, road::Until::Coda(n) if *n > 1)
        }
        _ => false,
    });
    numbered.then(|| u8::try_from(n).unwrap_or(u8::MAX))
}

/// The number of a `to coda`. The only one serves every coda, for the jump says which is meant.
fn exit_number(n: u32, steps: &[&RoadStep]) -> Option<u8> {
    let exits = steps.iter().filter(|step| matches!(step, RoadStep::ToCoda(..)));
    (n > 1 || exits.count() > 1).then(|| number(n, steps)).flatten()
}

fn small(n: u32) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}

/// Whether a step says a place, so that the road is meant to be followed and not only named.
pub fn has_place(step: &RoadStep) -> bool {
    match step {
        RoadStep::Segno(..) | RoadStep::ToCoda(..) | RoadStep::Coda(..) | RoadStep::Fine(_) => true,
        RoadStep::Jump { at, .. } => at.is_some(),
        _ => false,
    }
}
