//! Walking a roadmap, one measure at a time.

use super::{Ending, Jump, JumpTo, MOST_MEASURES, MOST_STEPS, Repeat, RoadProblem, RoadStep, Roadmap, Until};

/// The state of a walk. Each turn of its loop writes one measure or moves forward over endings,
/// so it ends.
pub(super) struct Walk<'a> {
    first: u32,
    total: u32,
    repeats: Vec<&'a Repeat>,
    jumps: Vec<&'a Jump>,
    segnos: Vec<(Option<u8>, u32)>,
    to_codas: Vec<(Option<u8>, u32)>,
    codas: Vec<(Option<u8>, u32)>,
    fines: Vec<u32>,
    /// The time through, for each repeat; 0 while it is not begun.
    times: Vec<u16>,
    taken: Vec<bool>,
    active: Option<&'a Jump>,
    landed: bool,
}

impl<'a> Walk<'a> {
    pub(super) fn new(map: &'a Roadmap, first: u32, total: u32) -> Result<Self, RoadProblem> {
        if map.steps.iter().map(weight).fold(0, usize::saturating_add) > MOST_STEPS {
            return Err(RoadProblem::TooLong);
        }
        let mut walk = Self {
            first,
            total,
            repeats: Vec::new(),
            jumps: Vec::new(),
            segnos: Vec::new(),
            to_codas: Vec::new(),
            codas: Vec::new(),
            fines: Vec::new(),
            times: Vec::new(),
            taken: Vec::new(),
            active: None,
            landed: false,
        };
        for step in &map.steps {
            match step {
                RoadStep::Repeat(repeat) => {
                    walk.check_stretch(repeat.first, repeat.last)?;
                    walk.check_endings(repeat)?;
                    walk.repeats.push(repeat);
                }
                RoadStep::Segno { number, at } => {
                    walk.check_place(*at)?;
                    walk.segnos.push((*number, *at));
                }
                RoadStep::ToCoda { number, at } => {
                    walk.check_place(*at)?;
                    walk.to_codas.push((*number, *at));
                }
                RoadStep::Coda { number, at } => {
                    walk.check_place(*at)?;
                    walk.codas.push((*number, *at));
                }
                RoadStep::Fine { at } => {
                    walk.check_place(*at)?;
                    walk.fines.push(*at);
                }
                RoadStep::Jump(jump) => {
                    walk.check_place(jump.at)?;
                    walk.jumps.push(jump);
                }
                RoadStep::Only { first, last, .. } | RoadStep::Cut { first, last } => {
                    walk.check_stretch(*first, *last)?
                }
            }
        }
        walk.times = vec![0; walk.repeats.len()];
        walk.taken = vec![false; walk.jumps.len()];
        for jump in &walk.jumps {
            walk.landing(jump)?;
            match jump.until {
                Until::Coda(number) => {
                    walk.coda(jump)?;
                    if !walk.to_codas.iter().any(|(n, _)| serves(*n, number)) {
                        return Err(no_to_coda(jump));
                    }
                }
                Until::Fine if walk.fines.is_empty() => {
                    return Err(RoadProblem::NoFine { jump: jump.at });
                }
                _ => {}
            }
        }
        Ok(walk)
    }

    pub(super) fn order(mut self) -> Result<Vec<u32>, RoadProblem> {
        let mut order = Vec::new();
        let mut measure = self.first;
        while measure <= self.total {
            self.begin(measure);
            let landed = std::mem::take(&mut self.landed);
            if !landed && let Some(next) = self.over_endings(measure) {
                measure = next;
                continue;
            }
            if order.len() >= MOST_MEASURES {
                return Err(RoadProblem::TooLong);
            }
            order.push(measure);
            match self.leave(measure)? {
                Some(next) => measure = next,
                None => return self.finished(order),
            }
        }
        if let Some(jump) = self.active {
            match jump.until {
                Until::Coda(_) => return Err(no_to_coda(jump)),
                Until::Fine => return Err(RoadProblem::NoFine { jump: jump.at }),
                Until::End => {}
            }
        }
        self.finished(order)
    }

    fn finished(&self, order: Vec<u32>) -> Result<Vec<u32>, RoadProblem> {
        let missed = self.jumps.iter().zip(&self.taken).find(|(_, t)| !**t);
        match missed {
            Some((jump, _)) => Err(RoadProblem::NeverReached { jump: jump.at }),
            None => Ok(order),
        }
    }

    /// Begins the repeats that hold this measure. A jump into an ending joins the time through on
    /// which that ending is played.
    fn begin(&mut self, measure: u32) {
        for (repeat, time) in self.repeats.iter().zip(&mut self.times) {
            if !repeat.holds(measure) {
                continue;
            }
            *time = (*time).max(1);
            let ending = repeat.endings.iter().find(|e| e.holds(measure));
            if let (true, Some(ending)) = (self.landed, ending)
                && !ending.passes.contains(time)
            {
                *time = ending.passes.iter().copied().max().unwrap_or(*time);
            }
        }
    }

    /// Where to go instead when an ending begins here that is not played this time.
    fn over_endings(&self, measure: u32) -> Option<u32> {
        for (repeat, time) in self.repeats.iter().zip(&self.times) {
            let here = repeat.endings.iter().find(|e| e.first == measure);
            let Some(ending) = here else { continue };
            if ending.passes.contains(time) {
                continue;
            }
            let later = repeat.endings.iter().filter(|e| e.first > measure);
            let mine = later.filter(|e| e.passes.contains(time)).map(|e| e.first);
            return Some(mine.min().unwrap_or_else(|| after_endings(repeat)));
        }
        None
    }

    /// The measure to play after this one; `None` for the end.
    fn leave(&mut self, measure: u32) -> Result<Option<u32>, RoadProblem> {
        let last_time = self.is_last_time(measure);
        if let (Some(jump), true) = (self.active, last_time) {
            match jump.until {
                Until::Coda(number) => {
                    let leaves = |(n, at): &(Option<u8>, u32)| *at == measure && serves(*n, number);
                    if self.to_codas.iter().any(leaves) {
                        let coda = self.coda(jump)?;
                        self.active = None;
                        self.landed = true;
                        return Ok(Some(coda));
                    }
                }
                Until::Fine if self.fines.contains(&measure) => return Ok(None),
                _ => {}
            }
        }
        // On the last time only an ending that is not the final one still turns back, and a jump
        // that stands in it is written there to be taken instead ("1. D.S.").
        if last_time && let Some(to) = self.jump(measure)? {
            return Ok(Some(to));
        }
        if let Some(back) = self.turn_back(measure) {
            return Ok(Some(back));
        }
        Ok(Some(self.onward(measure)))
    }

    /// Whether every repeat that holds this measure is on the last time it plays it.
    fn is_last_time(&self, measure: u32) -> bool {
        self.repeats.iter().zip(&self.times).all(|(repeat, time)| {
            if !repeat.holds(measure) {
                return true;
            }
            let ending = repeat.endings.iter().find(|e| e.holds(measure));
            let last = match ending {
                Some(e) => {
                    let passes = e.passes.iter().copied().filter(|p| *p <= repeat.times);
                    passes.max().unwrap_or(repeat.times)
                }
                None => repeat.times,
            };
            *time >= last
        })
    }

    /// The innermost repeat that turns back here, moved to its next time.
    fn turn_back(&mut self, measure: u32) -> Option<u32> {
        let mut best: Option<usize> = None;
        for (i, repeat) in self.repeats.iter().enumerate() {
            let time = self.times.get(i).copied().unwrap_or(0);
            let ending = ending_that_ends(repeat, measure, time);
            let turns = match ending {
                Some(ending) => ending.into.is_none(),
                None => measure == repeat.last && !in_ending(repeat, measure),
            };
            if !turns || time >= repeat.times {
                continue;
            }
            let inner = best
                .and_then(|b| self.repeats.get(b))
                .is_none_or(|b| repeat.first > b.first);
            if inner {
                best = Some(i);
            }
        }
        let at = best?;
        let repeat = self.repeats.get(at).copied()?;
        if let Some(time) = self.times.get_mut(at) {
            *time += 1;
        }
        for (other, time) in self.repeats.iter().zip(&mut self.times) {
            if other.first > repeat.first && other.reach() <= repeat.reach() {
                *time = 0;
            }
        }
        Some(repeat.first)
    }

    fn jump(&mut self, measure: u32) -> Result<Option<u32>, RoadProblem> {
        if self.active.is_some_and(|j| j.until != Until::End) {
            return Ok(None);
        }
        let free = |(i, jump): &(usize, &&'a Jump)| {
            jump.at == measure && !self.taken.get(*i).copied().unwrap_or(true)
        };
        let Some((i, jump)) = self.jumps.iter().enumerate().find(free) else {
            return Ok(None);
        };
        let jump = *jump;
        let to = self.landing(jump)?;
        if let Some(taken) = self.taken.get_mut(i) {
            *taken = true;
        }
        for (repeat, time) in self.repeats.iter().zip(&mut self.times) {
            *time = match (*time, jump.with_repeats) {
                (_, true) => 0,
                (0, false) => 0,
                (_, false) => repeat.times,
            };
        }
        self.active = Some(jump);
        self.landed = true;
        Ok(Some(to))
    }

    /// The next measure, past the other endings when one has just ended.
    fn onward(&self, measure: u32) -> u32 {
        for (repeat, time) in self.repeats.iter().zip(&self.times) {
            if let Some(ending) = ending_that_ends(repeat, measure, *time) {
                return ending.into.unwrap_or_else(|| after_endings(repeat));
            }
        }
        measure.saturating_add(1)
    }

    fn landing(&self, jump: &Jump) -> Result<u32, RoadProblem> {
        match jump.to {
            JumpTo::Start => Ok(self.first),
            JumpTo::Segno(number) => {
                nearest(&self.segnos, number, jump.at, false).ok_or(RoadProblem::NoSegno {
                    jump: jump.at,
                    number,
                })
            }
        }
    }

    fn coda(&self, jump: &Jump) -> Result<u32, RoadProblem> {
        let Until::Coda(number) = jump.until else {
            return Ok(jump.at);
        };
        nearest(&self.codas, number, jump.at, true).ok_or(RoadProblem::NoCoda {
            jump: jump.at,
            number,
        })
    }

    fn check_place(&self, at: u32) -> Result<(), RoadProblem> {
        match (self.first..=self.total).contains(&at) {
            true => Ok(()),
            false => Err(RoadProblem::Outside {
                at,
                total: self.total,
            }),
        }
    }

    fn check_stretch(&self, first: u32, last: u32) -> Result<(), RoadProblem> {
        if last < first {
            return Err(RoadProblem::UpsideDown { first, last });
        }
        self.check_place(first)?;
        self.check_place(last)
    }

    fn check_endings(&self, repeat: &Repeat) -> Result<(), RoadProblem> {
        for (i, ending) in repeat.endings.iter().enumerate() {
            self.check_stretch(ending.first, ending.last)?;
            let before = repeat.endings.get(..i).unwrap_or_default();
            let overlaps = before.iter().any(|e| e.last >= ending.first);
            let dumb = ending.passes.is_empty() || ending.passes.contains(&0);
            let leads_back = ending.into.is_some_and(|into| into <= ending.last);
            if overlaps || dumb || leads_back || ending.first < repeat.first {
                return Err(RoadProblem::EndingAstray {
                    repeat: repeat.first,
                    ending: ending.first,
                });
            }
        }
        Ok(())
    }
}

/// How much a step adds to the work of every measure.
fn weight(step: &RoadStep) -> usize {
    match step {
        RoadStep::Repeat(repeat) => {
            let endings = repeat.endings.iter().map(|e| e.passes.len().saturating_add(1));
            endings.fold(1, usize::saturating_add)
        }
        RoadStep::Only { passes, .. } => passes.len().saturating_add(1),
        _ => 1,
    }
}

fn after_endings(repeat: &Repeat) -> u32 {
    let last = repeat.endings.iter().map(|e| e.last).max();
    last.unwrap_or(repeat.last).saturating_add(1)
}

fn in_ending(repeat: &Repeat, measure: u32) -> bool {
    repeat.endings.iter().any(|e| e.holds(measure))
}

fn ending_that_ends(repeat: &Repeat, measure: u32, time: u16) -> Option<&Ending> {
    let ends = |e: &&Ending| e.last == measure && e.passes.contains(&time);
    repeat.endings.iter().find(ends)
}

fn serves(sign: Option<u8>, wanted: Option<u8>) -> bool {
    sign == wanted || sign.is_none() || wanted.is_none()
}

/// The sign of that number; with no number on either side, the nearest one behind the jump (a
/// sign to go back to) or ahead of it (a coda), else the first of all.
fn nearest(signs: &[(Option<u8>, u32)], number: Option<u8>, jump: u32, ahead: bool) -> Option<u32> {
    if let Some((_, at)) = signs.iter().find(|(n, _)| number.is_some() && *n == number) {
        return Some(*at);
    }
    let fitting = || {
        signs
            .iter()
            .filter(|(n, _)| serves(*n, number))
            .map(|(_, at)| *at)
    };
    let near = match ahead {
        true => fitting().filter(|at| *at >= jump).min(),
        false => fitting().filter(|at| *at <= jump).max(),
    };
    near.or_else(|| fitting().min())
}

fn no_to_coda(jump: &Jump) -> RoadProblem {
    let number = match jump.until {
        Until::Coda(number) => number,
        _ => None,
    };
    RoadProblem::NoToCoda {
        jump: jump.at,
        number,
    }
}
