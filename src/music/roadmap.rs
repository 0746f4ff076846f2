//! Roadmaps: repeats, endings, signs and jumps, and the order in which measures sound.
//!
//! The rules, where the trade leaves room:
//! - A repeat already played is not taken again after a jump, and its last ending is played,
//!   unless the jump says "with repeats". A repeat first met after the jump is played in full.
//! - A jump, `to coda` and `Fine` inside a repeat count on its last time only.
//! - `to coda` and `Fine` count only after the jump that names them, and stand at the end of
//!   their measure. A jump is taken once, after the repeat that ends with it.
//! - A repeat that lies inside another and begins later than it is played again each time; one
//!   that begins together with the outer repeat is not.

mod unroll;

use std::fmt;

/// The structure of one movement.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Roadmap {
    /// The steps, in any order.
    pub steps: Vec<RoadStep>,
}

/// One sign or structure. Measures are printed measure numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RoadStep {
    /// A stretch that is repeated, with or without endings.
    Repeat(Repeat),
    /// The sign that D.S. goes back to, at the start of its measure.
    Segno {
        /// Which one, where there are several; `None` for the only one.
        number: Option<u8>,
        /// Its measure.
        at: u32,
    },
    /// The end of this measure is where one leaves for the coda.
    ToCoda {
        /// The coda it belongs to; `None` serves any.
        number: Option<u8>,
        /// Its measure.
        at: u32,
    },
    /// The first measure of a coda.
    Coda {
        /// Which one; `None` for the only one.
        number: Option<u8>,
        /// Its measure.
        at: u32,
    },
    /// The end of this measure is the end of the piece, once a jump says so.
    Fine {
        /// Its measure.
        at: u32,
    },
    /// D.C. or D.S.
    Jump(Jump),
    /// Measures that are played only on some times through, as "2nd time only". They do not
    /// change the order; [`Roadmap::is_silent`] says when they are silent.
    Only {
        /// First measure.
        first: u32,
        /// Last measure.
        last: u32,
        /// The times on which they sound, counted from 1.
        passes: Vec<u16>,
    },
    /// Measures that are left out. The way is walked as printed and these do not sound.
    Cut {
        /// First measure.
        first: u32,
        /// Last measure.
        last: u32,
    },
}

/// A repeated stretch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// First measure.
    pub first: u32,
    /// The last measure before turning back (of the first ending, where there are endings and
    /// nothing common follows them).
    pub last: u32,
    /// How many times it is played in all, 2 as a rule. With endings, a time that no ending names
    /// leaves them all out.
    pub times: u16,
    /// The endings in printed order.
    pub endings: Vec<Ending>,
    /// An open repeat or vamp: `times` is then only what is assumed.
    pub open: bool,
}

/// One ending (volta).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ending {
    /// The times on which it is played, counted from 1.
    pub passes: Vec<u16>,
    /// First measure.
    pub first: u32,
    /// Last measure.
    pub last: u32,
    /// The first of the measures it leads into, where several endings share what follows them and
    /// the repeat sign stands after that; `None` for an ending that turns back (the usual case).
    pub into: Option<u32>,
}

/// D.C. or D.S., taken at the end of its measure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Jump {
    /// Its measure.
    pub at: u32,
    /// Where it goes.
    pub to: JumpTo,
    /// How far one plays after it.
    pub until: Until,
    /// Whether repeats are taken again after it.
    pub with_repeats: bool,
}

/// Where a jump goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JumpTo {
    /// D.C., from the beginning.
    Start,
    /// D.S., from a sign; the number where there are several.
    Segno(Option<u8>),
}

/// How far one plays after a jump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Until {
    /// To the end.
    End,
    /// Al Fine.
    Fine,
    /// Al Coda; the number where there are several.
    Coda(Option<u8>),
}

/// One measure as it sounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sounding {
    /// Its printed number.
    pub measure: u32,
    /// 1 when it sounds for the first time, 2 for the second ...
    pub time: u32,
}

/// Why a roadmap cannot be followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RoadProblem {
    /// A D.S. with no sign to go back to.
    NoSegno {
        /// The measure of the jump.
        jump: u32,
        /// The sign's number, where the jump names one.
        number: Option<u8>,
    },
    /// An al Coda with no `to coda`, or none between the place jumped to and the end.
    NoToCoda {
        /// The measure of the jump.
        jump: u32,
        /// The coda's number, where the jump names one.
        number: Option<u8>,
    },
    /// An al Coda with no coda.
    NoCoda {
        /// The measure of the jump.
        jump: u32,
        /// The coda's number, where the jump names one.
        number: Option<u8>,
    },
    /// An al Fine with no Fine, or none between the place jumped to and the end.
    NoFine {
        /// The measure of the jump.
        jump: u32,
    },
    /// A jump that playing never reaches.
    NeverReached {
        /// The measure of the jump.
        jump: u32,
    },
    /// A sign or stretch outside the piece.
    Outside {
        /// The measure named.
        at: u32,
        /// The last measure of the piece.
        total: u32,
    },
    /// A stretch that ends before it begins.
    UpsideDown {
        /// The measure named first.
        first: u32,
        /// The measure named second.
        last: u32,
    },
    /// An ending that stands before its repeat begins, overlaps another, names no time, or leads back.
    EndingAstray {
        /// The first measure of the repeat.
        repeat: u32,
        /// The first measure of the ending.
        ending: u32,
    },
    /// More than [`MOST_MEASURES`] would sound, or the roadmap holds more than [`MOST_STEPS`].
    /// Together they bound the work of one walk to a fraction of a second.
    TooLong,
}

/// The most measures an order may hold.
pub const MOST_MEASURES: usize = 20_000;
/// The most steps, endings and named times a roadmap may hold in all.
pub const MOST_STEPS: usize = 500;

impl Repeat {
    /// A plain repeat, played twice.
    pub fn twice(first: u32, last: u32) -> Self {
        Self::times(first, last, 2)
    }

    /// A plain repeat, played `times` times.
    pub fn times(first: u32, last: u32, times: u16) -> Self {
        Self {
            first,
            last,
            times,
            endings: Vec::new(),
            open: false,
        }
    }

    /// A repeat with endings, played as often as they say. It turns back at the end of the first
    /// ending printed.
    pub fn with_endings(first: u32, endings: Vec<Ending>) -> Self {
        let last_of_first = endings.first().map_or(first, |e| e.last);
        let passes = endings.iter().flat_map(|e| e.passes.iter().copied());
        Self {
            first,
            last: last_of_first,
            times: passes.max().unwrap_or(2),
            endings,
            open: false,
        }
    }

    /// The last measure that belongs to it, endings included.
    pub fn reach(&self) -> u32 {
        let endings = self.endings.iter().map(|e| e.last).max();
        self.last.max(endings.unwrap_or(0))
    }

    fn holds(&self, measure: u32) -> bool {
        (self.first..=self.reach()).contains(&measure)
    }
}

impl Ending {
    /// An ending that turns back (or, on the last time, goes on).
    pub fn new(passes: Vec<u16>, first: u32, last: u32) -> Self {
        Self {
            passes,
            first,
            last,
            into: None,
        }
    }

    fn holds(&self, measure: u32) -> bool {
        (self.first..=self.last).contains(&measure)
    }
}

impl Roadmap {
    /// A roadmap from its steps.
    pub fn new(steps: Vec<RoadStep>) -> Self {
        Self { steps }
    }

    /// Whether some repeat is open, so that the order is only the assumed one.
    pub fn is_open(&self) -> bool {
        self.repeats().any(|r| r.open)
    }

    /// The repeats, in the order given.
    pub fn repeats(&self) -> impl Iterator<Item = &Repeat> {
        self.steps.iter().filter_map(|step| match step {
            RoadStep::Repeat(repeat) => Some(repeat),
            _ => None,
        })
    }

    /// Whether this measure is left out on this time through ("2nd time only").
    pub fn is_silent(&self, sounding: Sounding) -> bool {
        self.steps.iter().any(|step| match step {
            RoadStep::Only { first, last, passes } => {
                (*first..=*last).contains(&sounding.measure)
                    && !passes.iter().any(|p| u32::from(*p) == sounding.time)
            }
            _ => false,
        })
    }

    /// The printed numbers of measures 1 to `total` in the order they sound.
    ///
    /// # Errors
    /// A [`RoadProblem`] at the first sign that is missing or astray.
    pub fn unroll(&self, total: u32) -> Result<Vec<u32>, RoadProblem> {
        self.unroll_from(1, total)
    }

    /// As [`Roadmap::unroll`], from another first measure: 0 for a pickup that is numbered 0.
    ///
    /// # Errors
    /// A [`RoadProblem`] at the first sign that is missing or astray.
    pub fn unroll_from(&self, first: u32, total: u32) -> Result<Vec<u32>, RoadProblem> {
        let mut order = unroll::Walk::new(self, first, total)?.order()?;
        for step in &self.steps {
            if let RoadStep::Cut { first, last } = step {
                order.retain(|measure| !(*first..=*last).contains(measure));
            }
        }
        Ok(order)
    }

    /// The order with the count of each measure's soundings.
    ///
    /// # Errors
    /// A [`RoadProblem`] at the first sign that is missing or astray.
    pub fn soundings(&self, total: u32) -> Result<Vec<Sounding>, RoadProblem> {
        let mut times = std::collections::HashMap::new();
        let order = self.unroll(total)?;
        let counted = order.into_iter().map(|measure| {
            let time = times.entry(measure).or_insert(0_u32);
            *time += 1;
            Sounding { measure, time: *time }
        });
        Ok(counted.collect())
    }
}

impl fmt::Display for Jump {
    /// `D.S. 2 al Coda 2`, `D.C. al Fine`, with `with repeats` where it says so.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.to {
            JumpTo::Start => f.write_str("D.C.")?,
            JumpTo::Segno(None) => f.write_str("D.S.")?,
            JumpTo::Segno(Some(n)) => write!(f, "D.S. {n}")?,
        }
        match self.until {
            Until::End => {}
            Until::Fine => f.write_str(" al Fine")?,
            Until::Coda(None) => f.write_str(" al Coda")?,
            Until::Coda(Some(n)) => write!(f, " al Coda {n}")?,
        }
        match self.with_repeats {
            true => f.write_str(" with repeats"),
            false => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests;
