//! One step of a roadmap in words, both ways.

use super::{Ending, Jump, JumpTo, Repeat, RoadStep, Until};
use crate::music::words;
use std::fmt;

impl RoadStep {
    /// Reads one step:
    ///
    /// - `repeat 33-40`, `repeat 33-40 3 times`, `open repeat 33-40`, `vamp 33-40`
    /// - `repeat 2-9 with endings 8-9 and 10-11`, which are played in that order;
    ///   `repeat 2-9 with endings 1 3 at 8-9 and 2 at 10`, and `leading on` after an ending whose
    ///   repeat sign stands in measures common to several
    /// - `segno at 9`, `segno 2 at 9`, `to coda at 32`, `coda at 81`, `Fine at 24`
    /// - `D.C. at 60`, `D.C. al Fine at 60`, `D.S. 2 al Coda 2 at 80 with repeats`
    /// - `2nd time only 33-36`
    ///
    /// `m.`, `mm.`, `measure` and `bars` before a number are welcome. `None` for anything else.
    pub fn read(text: &str) -> Option<RoadStep> {
        let tidy = words::tidy(text);
        let tidy = tidy.replace(" - ", "-").replace(" – ", "-");
        let kept = |w: &&str| {
            !matches!(
                *w,
                "m." | "mm." | "m" | "mm" | "measure" | "measures" | "bar" | "bars" | "the"
            )
        };
        let all: Vec<&str> = tidy.split(' ').filter(kept).collect();
        match all.as_slice() {
            ["repeat", rest @ ..] => read_repeat(rest, false),
            ["open", "repeat", rest @ ..] | ["vamp", rest @ ..] => read_repeat(rest, true),
            ["segno" | "sign", rest @ ..] => {
                let (number, at) = numbered(rest)?;
                Some(RoadStep::Segno { number, at })
            }
            ["to", "coda", rest @ ..] => {
                let (number, at) = numbered(rest)?;
                Some(RoadStep::ToCoda { number, at })
            }
            ["coda", rest @ ..] => {
                let (number, at) = numbered(rest)?;
                Some(RoadStep::Coda { number, at })
            }
            ["fine", "at", at] | ["fine", at] => Some(RoadStep::Fine {
                at: words::digits(at)?,
            }),
            [nth, "time" | "times", "only", range] => {
                let (first, last) = stretch(range)?;
                let passes = vec![ordinal(nth)?];
                Some(RoadStep::Only { first, last, passes })
            }
            _ => read_jump(&all).map(RoadStep::Jump),
        }
    }
}

fn stretch(range: &str) -> Option<(u32, u32)> {
    match words::split_range(range) {
        Some((a, b)) => Some((words::digits(a)?, words::digits(b)?)),
        None => words::digits(range).map(|n| (n, n)),
    }
}

fn ordinal(word: &str) -> Option<u16> {
    Some(match word {
        "first" | "1st" => 1,
        "second" | "2nd" => 2,
        "third" | "3rd" => 3,
        "fourth" | "4th" => 4,
        "last" => 2,
        _ => return None,
    })
}

fn small(word: &str) -> Option<u8> {
    u8::try_from(words::digits(word.trim_end_matches('.'))?).ok()
}

/// `[number] at measure`, or a lone measure.
fn numbered(rest: &[&str]) -> Option<(Option<u8>, u32)> {
    match rest {
        ["at", at] | [at] => Some((None, words::digits(at)?)),
        [number, "at", at] => Some((Some(small(number)?), words::digits(at)?)),
        _ => None,
    }
}

fn read_repeat(rest: &[&str], open: bool) -> Option<RoadStep> {
    let (range, rest) = rest.split_first()?;
    let (first, last) = stretch(range)?;
    let mut repeat = Repeat {
        open,
        ..Repeat::twice(first, last)
    };
    let mut rest = rest;
    let mut said = false;
    loop {
        rest = match rest {
            [] => break,
            ["twice", more @ ..] => {
                said = true;
                more
            }
            [count, "times", more @ ..] => {
                repeat.times = u16::try_from(words::count(count)?).ok()?;
                said = true;
                more
            }
            ["with", "ending" | "endings", more @ ..] => {
                let end = more.iter().position(|w| *w == "times");
                // "3 times" after the endings keeps its number.
                let cut = end.map_or(more.len(), |at| at.saturating_sub(1));
                let (mine, left) = (more.get(..cut)?, more.get(cut..)?);
                for (i, told) in mine.split(|w| *w == "and").enumerate() {
                    let nth = u16::try_from(i).ok()?.checked_add(1)?;
                    repeat.endings.push(read_ending(told, nth)?);
                }
                left
            }
            _ => return None,
        };
    }
    let passes = repeat.endings.iter().flat_map(|e| e.passes.iter().copied());
    if let (false, Some(most)) = (said, passes.max()) {
        repeat.times = most;
    }
    Some(RoadStep::Repeat(repeat))
}

fn read_ending(told: &[&str], nth: u16) -> Option<Ending> {
    let (told, turns_back) = match told {
        [told @ .., "leading", "on"] => (told, false),
        _ => (told, true),
    };
    let (passes, range) = match told {
        [range] => (vec![nth], range),
        [passes @ .., "at", range] => {
            let passes: Option<Vec<u16>> = passes.iter().map(|p| small(p).map(u16::from)).collect();
            (passes?, range)
        }
        _ => return None,
    };
    let (first, last) = stretch(range)?;
    Some(Ending {
        turns_back,
        ..Ending::new(passes, first, last)
    })
}

fn read_jump(all: &[&str]) -> Option<Jump> {
    let (kind, rest) = all.split_first()?;
    let mut rest = rest;
    let back = match (*kind, rest) {
        ("d.c." | "dc" | "d.c", _) => false,
        ("d.s." | "ds" | "d.s", _) => true,
        ("da", ["capo", more @ ..]) => {
            rest = more;
            false
        }
        ("dal", ["segno", more @ ..]) => {
            rest = more;
            true
        }
        _ => return None,
    };
    let mut to = if back { JumpTo::Segno(None) } else { JumpTo::Start };
    if let ([number, more @ ..], true) = (rest, back)
        && let Some(number) = small(number)
    {
        to = JumpTo::Segno(Some(number));
        rest = more;
    }
    let mut until = Until::End;
    if let ["al", goal, more @ ..] = rest {
        rest = more;
        until = match *goal {
            "fine" => Until::Fine,
            "coda" => Until::Coda(None),
            _ => return None,
        };
        if let (Until::Coda(_), [number, more @ ..]) = (until, rest)
            && let Some(number) = small(number)
        {
            until = Until::Coda(Some(number));
            rest = more;
        }
    }
    let (at, with_repeats) = match rest {
        ["at", at] => (at, false),
        ["at", at, "with", "repeats"] | ["with", "repeats", "at", at] => (at, true),
        ["at", at, "no", "repeats"] | ["no", "repeats", "at", at] => (at, false),
        _ => return None,
    };
    Some(Jump {
        at: words::digits(at)?,
        to,
        until,
        with_repeats,
    })
}

fn write_stretch(f: &mut fmt::Formatter<'_>, first: u32, last: u32) -> fmt::Result {
    match first == last {
        true => write!(f, "{first}"),
        false => write!(f, "{first}-{last}"),
    }
}

fn write_sign(f: &mut fmt::Formatter<'_>, name: &str, number: Option<u8>, at: u32) -> fmt::Result {
    match number {
        Some(number) => write!(f, "{name} {number} at {at}"),
        None => write!(f, "{name} at {at}"),
    }
}

impl fmt::Display for Repeat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.open { "open repeat " } else { "repeat " })?;
        write_stretch(f, self.first, self.last)?;
        for (i, ending) in self.endings.iter().enumerate() {
            f.write_str(if i == 0 { " with endings " } else { " and " })?;
            if ending.passes.as_slice() != [u16::try_from(i + 1).unwrap_or(0)] {
                for pass in &ending.passes {
                    write!(f, "{pass} ")?;
                }
                f.write_str("at ")?;
            }
            write_stretch(f, ending.first, ending.last)?;
            if !ending.turns_back {
                f.write_str(" leading on")?;
            }
        }
        let passes = self.endings.iter().flat_map(|e| e.passes.iter().copied());
        match passes.max().unwrap_or(2) == self.times {
            true => Ok(()),
            false => write!(f, " {} times", self.times),
        }
    }
}

impl fmt::Display for RoadStep {
    /// The one form, as [`RoadStep::read`] reads it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RoadStep::Repeat(repeat) => repeat.fmt(f),
            RoadStep::Segno { number, at } => write_sign(f, "segno", *number, *at),
            RoadStep::ToCoda { number, at } => write_sign(f, "to coda", *number, *at),
            RoadStep::Coda { number, at } => write_sign(f, "coda", *number, *at),
            RoadStep::Fine { at } => write!(f, "Fine at {at}"),
            RoadStep::Jump(jump) => {
                jump.fmt(f)?;
                write!(f, " at {}", jump.at)
            }
            RoadStep::Only { first, last, passes } => {
                let nth = match passes.as_slice() {
                    [1] => "1st",
                    [3] => "3rd",
                    [4] => "4th",
                    _ => "2nd",
                };
                write!(f, "{nth} time only ")?;
                write_stretch(f, *first, *last)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn told_both_ways() {
        let table = [
            ("repeat 33-40", "repeat 33-40"),
            ("Repeat mm. 33 - 40", "repeat 33-40"),
            ("repeat mm. 33-40 twice", "repeat 33-40"),
            ("repeat 33-40 three times", "repeat 33-40 3 times"),
            ("vamp 33-40", "open repeat 33-40"),
            (
                "repeat 2-9 with endings 8-9 and 10-11",
                "repeat 2-9 with endings 8-9 and 10-11",
            ),
            (
                "repeat 2-9 with endings 1. 3. at 8-9 and 2 at 10",
                "repeat 2-9 with endings 1 3 at 8-9 and 10",
            ),
            (
                "repeat 1-5 with endings 2 and 3 leading on and 4 leading on",
                "repeat 1-5 with endings 2 and 3 leading on and 4 leading on",
            ),
            (
                "repeat 1-2 with endings 2 and 3 3 times",
                "repeat 1-2 with endings 2 and 3 3 times",
            ),
            ("segno at 9", "segno at 9"),
            ("sign at m. 9", "segno at 9"),
            ("Segno 2 at 9", "segno 2 at 9"),
            ("to Coda at 32", "to coda at 32"),
            ("coda 81", "coda at 81"),
            ("Fine at 24", "Fine at 24"),
            ("D.C. al Fine at 60", "D.C. al Fine at 60"),
            ("DS al coda at 80", "D.S. al Coda at 80"),
            (
                "D.S. 2 al Coda 2 at 80 with repeats",
                "D.S. 2 al Coda 2 with repeats at 80",
            ),
            ("dal segno at 12", "D.S. at 12"),
            ("second time only 33-36", "2nd time only 33-36"),
            ("repeat", ""),
            ("repeat 33-", ""),
            ("D.C. al Dente at 3", ""),
            ("go home at 9", ""),
        ];
        for (given, told) in table {
            let step = RoadStep::read(given);
            let got = step.as_ref().map_or(String::new(), RoadStep::to_string);
            assert_eq!(got, told, "{given}");
            assert_eq!(RoadStep::read(told), step, "{given}");
        }
    }

    proptest! {
        #[test]
        fn any_words(text in "(repeat|D.S.|to coda|with|endings|and|at|times|only|2nd|[0-9]{1,2}(-[0-9]{1,2})?| )*") {
            if let Some(step) = RoadStep::read(&text) {
                prop_assert_eq!(RoadStep::read(&step.to_string()), Some(step));
            }
        }
    }
}
