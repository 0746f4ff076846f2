//! Steps of the roadmap: repeats, endings, cuts, signs and jumps.

use std::fmt;

use super::place::{Place, Point, Stretch};
use super::road_words;

/// A sign of which there may be several, told apart by their number; the first is 1.
pub type Nth = u32;

/// One step of the roadmap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RoadStep {
    /// Measures played again; `times` counts all passes.
    Repeat {
        /// The measures between the repeat signs.
        stretch: Stretch,
        /// How often they are played in all.
        times: u32,
    },
    /// Measures played again as often as the conductor likes.
    Open(Stretch),
    /// The same at a mark, whose last measure is not said.
    OpenAt(Point),
    /// The same, and not said where.
    OpenSomewhere,
    /// An ending played only in the passes named.
    Ending {
        /// The passes it belongs to.
        passes: Vec<u32>,
        /// Its measures.
        stretch: Stretch,
        /// The first of the measures it leads into, when several endings share what follows them and the
        /// repeat sign stands after that.
        into: Option<u32>,
    },
    /// Measures that sound only in the passes named.
    Only {
        /// The passes.
        passes: Vec<u32>,
        /// The measures.
        stretch: Stretch,
    },
    /// Measures that are left out.
    Cut(Stretch),
    /// One of these whose measures are told by marks or by the end of the piece.
    Marked {
        /// Which.
        what: Marked,
        /// Where it starts.
        from: Point,
        /// Its last measure; none where only the name of the section is said.
        to: Option<Point>,
    },
    /// A segno.
    Segno(Nth, Point),
    /// The place where the player leaves for the coda, after that measure.
    ToCoda(Nth, Point),
    /// The measure where a coda starts.
    Coda(Nth, Point),
    /// The end, when it is not the last measure.
    Fine(Point),
    /// A jump, after the measure named or after the last one.
    Jump {
        /// To a segno (its number) rather than the beginning.
        segno: Option<Nth>,
        /// Where it ends.
        until: Until,
        /// The measure it stands at the end of.
        at: Option<Point>,
    },
    /// Repeats are taken again after a jump.
    RepeatsAgain,
    /// No repeats at all: straight through.
    Straight,
    /// A repeat that is printed and not taken; all of them where none is named.
    Skip(Option<Point>),
    /// Neither D.C. nor D.S.
    NoJump,
    /// Something that occurs, and it is not said where.
    Somewhere(Somewhere),
    /// Steps told in one breath, as directors write them: `D.S. at 76 to 17`, `1st and 2nd endings 20 and 21`,
    /// `repeat 9-16 and 17-24`. The signs of a jump stand before it.
    Several(Vec<RoadStep>),
}

/// What a roadmap names without a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Somewhere {
    /// Repeats.
    Repeats,
    /// Endings, with the passes they belong to.
    Endings(Vec<u32>),
    /// A segno.
    Segno,
    /// A coda.
    Coda,
}

/// What a step with marks for its measures is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Marked {
    /// [`RoadStep::Repeat`], played so often in all.
    Repeat(u32),
    /// [`RoadStep::Open`].
    Open,
    /// [`RoadStep::Ending`], with its passes and what it leads into.
    Ending(Vec<u32>, Option<u32>),
    /// [`RoadStep::Only`], with its passes.
    Only(Vec<u32>),
    /// [`RoadStep::Cut`].
    Cut,
}

/// What ends the way after a jump.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// The last measure.
    End,
    /// The Fine.
    Fine,
    /// The coda with that number.
    Coda(Nth),
}

impl Marked {
    /// The step with its measures.
    pub fn on(self, stretch: Stretch) -> RoadStep {
        match self {
            Marked::Repeat(times) => RoadStep::Repeat { stretch, times },
            Marked::Open => RoadStep::Open(stretch),
            Marked::Ending(passes, into) => RoadStep::Ending {
                passes,
                stretch,
                into,
            },
            Marked::Only(passes) => RoadStep::Only { passes, stretch },
            Marked::Cut => RoadStep::Cut(stretch),
        }
    }
}

impl RoadStep {
    /// The measures between which the step holds, where it has such.
    pub fn stretch(&self) -> Option<Stretch> {
        match self {
            RoadStep::Repeat { stretch, .. }
            | RoadStep::Open(stretch)
            | RoadStep::Ending { stretch, .. }
            | RoadStep::Only { stretch, .. }
            | RoadStep::Cut(stretch) => Some(*stretch),
            _ => None,
        }
    }

    /// The steps one by one, where several are told in one breath.
    pub fn each(self) -> Vec<RoadStep> {
        match self {
            RoadStep::Several(steps) => steps,
            step => vec![step],
        }
    }

    /// The points it names that are no measure numbers between two signs.
    pub fn points(&self) -> Vec<&Point> {
        match self {
            RoadStep::OpenAt(at)
            | RoadStep::Segno(_, at)
            | RoadStep::ToCoda(_, at)
            | RoadStep::Coda(_, at)
            | RoadStep::Fine(at) => vec![at],
            RoadStep::Jump { at, .. } | RoadStep::Skip(at) => at.iter().collect(),
            RoadStep::Marked { from, to, .. } => std::iter::once(from).chain(to).collect(),
            RoadStep::Several(steps) => steps.iter().flat_map(RoadStep::points).collect(),
            _ => Vec::new(),
        }
    }

    /// Reads one step, such as `repeat 33-40`, `2nd ending 41-42`, `cut 17-32`, `D.S. al Coda at 80`.
    pub fn read(text: &str) -> Option<RoadStep> {
        road_words::step(text.trim())
    }

    /// The step with measure numbers for its marks, where all of them are known.
    pub fn resolved(&self, measure_of: impl Fn(&Point) -> Option<u32>) -> RoadStep {
        let RoadStep::Marked {
            what,
            from,
            to: Some(to),
        } = self
        else {
            return self.clone();
        };
        match (measure_of(from), measure_of(to)) {
            (Some(first), Some(last)) => what.clone().on(Stretch { first, last }),
            _ => self.clone(),
        }
    }
}

impl fmt::Display for RoadStep {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let nth = |n: &Nth| match n {
            1 => String::new(),
            n => format!("{} ", ordinal(*n)),
        };
        match self {
            RoadStep::Repeat { stretch, times } => stretched(f, &Marked::Repeat(*times), stretch),
            RoadStep::Open(stretch) => stretched(f, &Marked::Open, stretch),
            RoadStep::OpenAt(at) => write!(f, "open repeat at {at}"),
            RoadStep::OpenSomewhere => f.write_str("open repeat"),
            RoadStep::Ending {
                passes,
                stretch,
                into,
            } => stretched(f, &Marked::Ending(passes.clone(), *into), stretch),
            RoadStep::Only { passes, stretch } => stretched(f, &Marked::Only(passes.clone()), stretch),
            RoadStep::Cut(stretch) => stretched(f, &Marked::Cut, stretch),
            RoadStep::Marked { what, from, to } => {
                let place = match to {
                    Some(to) => Place::Between(from.clone(), to.clone()).to_string(),
                    None => from.to_string(),
                };
                stretched(f, what, place.strip_prefix("at ").unwrap_or(&place))
            }
            RoadStep::Segno(n, at) => write!(f, "{}segno at {at}", nth(n)),
            RoadStep::ToCoda(n, at) => write!(f, "{}to coda at {at}", nth(n)),
            RoadStep::Coda(n, at) => write!(f, "{}coda at {at}", nth(n)),
            RoadStep::Fine(at) => write!(f, "Fine at {at}"),
            RoadStep::Jump { segno, until, at } => {
                match segno {
                    None => f.write_str("D.C.")?,
                    Some(1) => f.write_str("D.S.")?,
                    Some(n) => write!(f, "D.S. {n}")?,
                }
                match until {
                    Until::End => {}
                    Until::Fine => f.write_str(" al Fine")?,
                    Until::Coda(1) => f.write_str(" al Coda")?,
                    Until::Coda(n) => write!(f, " al Coda {n}")?,
                }
                match at {
                    Some(at) => write!(f, " at {at}"),
                    None => Ok(()),
                }
            }
            RoadStep::RepeatsAgain => f.write_str("with repeats"),
            RoadStep::Straight => f.write_str("straight through"),
            RoadStep::Skip(None) => f.write_str("skip the repeats"),
            RoadStep::Skip(Some(at)) => write!(f, "skip the repeat at {at}"),
            RoadStep::NoJump => f.write_str("no D.C. or D.S."),
            RoadStep::Somewhere(Somewhere::Repeats) => f.write_str("repeats"),
            RoadStep::Somewhere(Somewhere::Endings(passes)) => {
                let many = if passes.len() == 1 { "" } else { "s" };
                write!(f, "{} ending{many}", joined(passes))
            }
            RoadStep::Somewhere(Somewhere::Segno) => f.write_str("segno"),
            RoadStep::Somewhere(Somewhere::Coda) => f.write_str("coda"),
            RoadStep::Several(steps) => several(f, steps),
        }
    }
}

/// Steps told in one breath.
fn several(f: &mut fmt::Formatter<'_>, steps: &[RoadStep]) -> fmt::Result {
    match steps {
        [RoadStep::Segno(_, sign), jump] => write!(f, "{jump} to {sign}"),
        [first, ..] => {
            let passes: Vec<u32> = steps.iter().flat_map(RoadStep::passes).collect();
            match passes.is_empty() {
                false => write!(f, "{} endings", joined(&passes))?,
                true => f.write_str(first.verb())?,
            }
            for (at, step) in steps.iter().enumerate() {
                let joint = if at == 0 { " " } else { " and " };
                write!(f, "{joint}{}", step.where_it_holds())?;
            }
            match first {
                RoadStep::Repeat { times, .. }
                | RoadStep::Marked {
                    what: Marked::Repeat(times),
                    ..
                } if *times > 2 => write!(f, " {times} times"),
                _ => Ok(()),
            }
        }
        [] => Ok(()),
    }
}

impl RoadStep {
    /// The passes of an ending.
    fn passes(&self) -> Vec<u32> {
        match self {
            RoadStep::Ending { passes, .. }
            | RoadStep::Marked {
                what: Marked::Ending(passes, _),
                ..
            } => passes.clone(),
            _ => Vec::new(),
        }
    }

    /// The word that leads a step with measures.
    fn verb(&self) -> &'static str {
        match self {
            RoadStep::Cut(_)
            | RoadStep::Marked {
                what: Marked::Cut, ..
            } => "cut",
            _ => "repeat",
        }
    }

    /// The measures or marks of a step, without its words.
    fn where_it_holds(&self) -> String {
        match self {
            RoadStep::Marked {
                from, to: Some(to), ..
            } => {
                let place = Place::Between(from.clone(), to.clone()).to_string();
                place.strip_prefix("at ").unwrap_or(&place).to_owned()
            }
            RoadStep::Marked { from, .. } => from.to_string(),
            step => step
                .stretch()
                .map_or(String::new(), |stretch| stretch.to_string()),
        }
    }
}

/// A step with its measures behind or inside its words.
fn stretched(f: &mut fmt::Formatter<'_>, what: &Marked, place: impl fmt::Display) -> fmt::Result {
    match what {
        Marked::Repeat(2) => write!(f, "repeat {place}"),
        Marked::Repeat(times) => write!(f, "repeat {place} {times} times"),
        Marked::Open => write!(f, "open repeat {place}"),
        Marked::Ending(passes, into) => {
            write!(f, "{} ending {place}", joined(passes))?;
            into.map_or(Ok(()), |measure| write!(f, " into {measure}"))
        }
        Marked::Only(passes) => write!(f, "{} time only {place}", joined(passes)),
        Marked::Cut => write!(f, "cut {place}"),
    }
}

fn joined(passes: &[u32]) -> String {
    passes
        .iter()
        .map(|pass| ordinal(*pass))
        .collect::<Vec<_>>()
        .join(" and ")
}

/// `1st`, `2nd`, `3rd`, `11th`.
pub fn ordinal(n: u32) -> String {
    let ending = match (n % 10, n % 100) {
        (1, hundred) if hundred != 11 => "st",
        (2, hundred) if hundred != 12 => "nd",
        (3, hundred) if hundred != 13 => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("repeat 33-40", Some("repeat 33-40")),
            ("33-40", Some("repeat 33-40")),
            ("repeat mm. 33–40 3x", Some("repeat 33-40 3 times")),
            ("repeat 5 to 12 twice", Some("repeat 5-12")),
            ("vamp 5-8", Some("open repeat 5-8")),
            ("open repeat at G on cue", Some("open repeat at G")),
            ("repeat 5-8 open", Some("open repeat 5-8")),
            ("first ending 39-40", Some("1st ending 39-40")),
            ("1st and 2nd endings 39-40", Some("1st and 2nd ending 39-40")),
            ("ending 3 at 41", Some("3rd ending 41")),
            (
                "2nd ending 41-42 leads into m. 45",
                Some("2nd ending 41-42 into 45"),
            ),
            ("2nd ending 41-42 into", None),
            ("2nd time only 33-36", Some("2nd time only 33-36")),
            ("33-36 second time only", Some("2nd time only 33-36")),
            ("segno at 9", Some("segno at 9")),
            ("segno at B", Some("segno at B")),
            ("second segno at 20", Some("2nd segno at 20")),
            ("to coda at 32", Some("to coda at 32")),
            ("coda at 81", Some("coda at 81")),
            ("Coda 81", Some("coda at 81")),
            ("Fine at 40", Some("Fine at 40")),
            ("fine after 40", Some("Fine at 40")),
            ("D.S. al Coda at 80", Some("D.S. al Coda at 80")),
            ("DS al coda 80", Some("D.S. al Coda at 80")),
            ("D.C. al Fine", Some("D.C. al Fine")),
            ("da capo al fine at m. 64", Some("D.C. al Fine at 64")),
            ("dal segno", Some("D.S.")),
            ("D.S. 2 al Coda 2 at 80", Some("D.S. 2 al Coda 2 at 80")),
            ("D.C. al Fine at end", Some("D.C. al Fine at the end")),
            ("D.S. without repeats at 40", Some("D.S. at 40")),
            ("repeat A-B", Some("repeat A to B")),
            ("repeat A to B 3x", Some("repeat A to B 3 times")),
            ("repeat the trio", Some("repeat trio")),
            ("repeat 33 to the end", Some("repeat 33 to the end")),
            ("9-16 repeated", Some("repeat 9-16")),
            ("play 1 thru 24 twice", Some("repeat 1-24")),
            ("repeat from 45 to 60", Some("repeat 45-60")),
            ("to coda before 21", Some("to coda at 20")),
            ("to coda before B", Some("to coda at 1 before B")),
            ("coda at the end", Some("coda at the end")),
            ("coda = 81", Some("coda at 81")),
            ("1st time bar 59", Some("1st ending 59")),
            ("1st end 20", Some("1st ending 20")),
            ("2nd ending at trio", Some("2nd ending trio")),
            ("cut 17-32", Some("cut 17-32")),
            ("cut from 17 to 32", Some("cut 17-32")),
            ("skip 17-32", Some("cut 17-32")),
            ("omit B to C", Some("cut B to C")),
            ("skip the repeat", Some("skip the repeats")),
            ("no repeat at trio", Some("skip the repeat at trio")),
            ("no repeats", Some("straight through")),
            ("no D.C.", Some("no D.C. or D.S.")),
            ("no ds", Some("no D.C. or D.S.")),
            ("open repeats", Some("open repeat")),
            ("open repeat at 33", Some("open repeat at 33")),
            ("33-36 on the repeat", Some("2nd time only 33-36")),
            ("segno at storm", Some("segno at \"storm\"")),
            ("segno at zqxv 9", None),
            ("repeat 1-8 0 times", None),
            ("repeat 1-8 1 time", None),
            (
                "repeat both strains",
                Some("repeat first strain and second strain"),
            ),
            (
                "both strains repeated",
                Some("repeat first strain and second strain"),
            ),
            ("repeat 9-16 and 17-24", Some("repeat 9-16 and 17-24")),
            ("repeat A-B & C-D 3x", Some("repeat A to B and C to D 3 times")),
            ("cut 9-12 and 17-20", Some("cut 9-12 and 17-20")),
            ("1st/2nd end 20 21", Some("1st and 2nd endings 20 and 21")),
            (
                "1st & 2nd endings at 20 and 21",
                Some("1st and 2nd endings 20 and 21"),
            ),
            (
                "first and second endings 20-21 and 22-23",
                Some("1st and 2nd endings 20-21 and 22-23"),
            ),
            ("1st/2nd ending 39-40", Some("1st and 2nd ending 39-40")),
            ("1st/2nd end 20 21 22", None),
            ("D.S. at 76 to 17", Some("D.S. at 76 to 17")),
            ("D.S. at 76 to the sign at 17", Some("D.S. at 76 to 17")),
            ("DS to B", Some("D.S. to B")),
            ("D.S. al Coda at 80 to 9", Some("D.S. al Coda at 80 to 9")),
            ("at 76 D.S. to 17", Some("D.S. at 76 to 17")),
            ("D.C. at 76 to 17", None),
            ("D.C. al fine no repeats on the way back", Some("D.C. al Fine")),
            ("repeat 9-16 and zqxv", None),
            ("repeats at 9 and 25", None),
            ("vamp at 33 till ready", Some("open repeat at 33")),
            ("straight thru", Some("straight through")),
            ("D.S. at 76 to zqxv 17", None),
            ("33", None),
            ("D.C. al Fine zqxv", None),
            ("repeats", Some("repeats")),
            ("first and second endings", Some("1st and 2nd endings")),
            ("1st ending", Some("1st ending")),
            ("coda", Some("coda")),
            ("as often as wanted", Some("open repeat")),
            ("with repeats", Some("with repeats")),
            ("straight through", Some("straight through")),
            ("go back somewhere", None),
            ("repeat", None),
            ("", None),
        ] {
            let read = RoadStep::read(written);
            assert_eq!(
                read.as_ref().map(ToString::to_string).as_deref(),
                one_form,
                "{written}"
            );
            if let Some(step) = read {
                assert_eq!(
                    RoadStep::read(&step.to_string()).as_ref(),
                    Some(&step),
                    "{written} again"
                );
            }
        }
    }
}
