//! Steps of the roadmap as they are written: repeats, endings, signs and jumps.

use std::fmt;

use nom::Parser;
use nom::branch::alt;
use nom::character::complete::char;
use nom::combinator::{all_consuming, map, opt, value};
use nom::sequence::preceded;

use super::place::{Point, Stretch, point, stretch};
use crate::notation::scan::{Read, blanks, blanks1, number, phrase, word};

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

impl RoadStep {
    /// The measures between which the step holds, where it has such.
    pub fn stretch(&self) -> Option<Stretch> {
        match self {
            RoadStep::Repeat { stretch, .. }
            | RoadStep::Open(stretch)
            | RoadStep::Ending { stretch, .. }
            | RoadStep::Only { stretch, .. } => Some(*stretch),
            _ => None,
        }
    }

    /// Reads one step, such as `repeat 33-40`, `2nd ending 41-42`, `D.S. al Coda at 80`.
    pub fn read(text: &str) -> Option<RoadStep> {
        let text = text.trim();
        all_consuming((step, blanks))
            .parse(text)
            .ok()
            .map(|(_, (step, _))| step)
    }
}

fn step(input: &str) -> Read<'_, RoadStep> {
    alt((open_at, repeats_again, straight, only, ending, jump, sign, repeat)).parse(input)
}

/// `open repeat at G on cue`, `vamp at 33`.
fn open_at(input: &str) -> Read<'_, RoadStep> {
    let (rest, _) = alt((phrase("open repeat"), phrase("vamp"))).parse(input)?;
    let (words, _) = (blanks1, word("at"), blanks1).parse(rest)?;
    let point_words = ["on cue", "until cue", "ad lib", "as often as wanted"]
        .iter()
        .find_map(|tail| words.trim_end().strip_suffix(tail))
        .unwrap_or(words);
    let (_, at) = at_point(point_words)?;
    Ok((words.get(words.len()..).unwrap_or(""), RoadStep::OpenAt(at)))
}

fn repeats_again(input: &str) -> Read<'_, RoadStep> {
    value(
        RoadStep::RepeatsAgain,
        alt((
            phrase("with repeats"),
            phrase("repeats again"),
            phrase("repeats taken again"),
            phrase("take repeats after the jump"),
        )),
    )
    .parse(input)
}

fn straight(input: &str) -> Read<'_, RoadStep> {
    value(
        RoadStep::Straight,
        alt((
            phrase("straight through"),
            phrase("no repeats"),
            phrase("none"),
            phrase("through-composed"),
        )),
    )
    .parse(input)
}

/// `1st`, `first`, `2`, `1 and 2`, `1st & 2nd`.
fn passes(input: &str) -> Read<'_, Vec<u32>> {
    nom::multi::separated_list1(
        alt((
            (blanks, word("and"), blanks1).map(|_| ()),
            (blanks, char('&'), blanks).map(|_| ()),
            (blanks, char('+'), blanks).map(|_| ()),
        )),
        pass,
    )
    .parse(input)
}

fn pass(input: &str) -> Read<'_, u32> {
    alt((
        value(1, word("first")),
        value(2, word("second")),
        value(3, word("third")),
        value(4, word("fourth")),
        nom::sequence::terminated(number, opt(alt((word("st"), word("nd"), word("rd"), word("th"))))),
    ))
    .parse(input)
}

fn ending(input: &str) -> Read<'_, RoadStep> {
    let named = alt((
        map(
            (
                passes,
                blanks1,
                alt((word("endings"), word("ending"), word("volta"), word("time bar"))),
            ),
            |(passes, ..)| passes,
        ),
        map(
            (alt((word("ending"), word("volta"))), blanks1, passes),
            |(.., passes)| passes,
        ),
    ));
    let into = preceded(
        (blanks1, alt((phrase("leads into"), word("into"))), blanks1),
        stretch,
    );
    map(
        (named, blanks, opt((word("at"), blanks1)), stretch, opt(into)),
        |(passes, _, _, stretch, into)| RoadStep::Ending {
            passes,
            stretch,
            into: into.map(|common| common.first),
        },
    )
    .parse(input)
}

fn only(input: &str) -> Read<'_, RoadStep> {
    let time = |input| {
        (
            passes,
            blanks1,
            alt((word("times"), word("time"))),
            blanks1,
            word("only"),
        )
            .parse(input)
    };
    alt((
        map(
            (time, blanks1, opt((word("at"), blanks1)), stretch),
            |((passes, ..), _, _, stretch)| RoadStep::Only { passes, stretch },
        ),
        map((stretch, blanks1, time), |(stretch, _, (passes, ..))| {
            RoadStep::Only { passes, stretch }
        }),
    ))
    .parse(input)
}

fn at_point(input: &str) -> Read<'_, Point> {
    let (rest, _) = (
        blanks,
        opt((
            alt((phrase("at the end of"), phrase("after"), phrase("at"))),
            blanks1,
        )),
    )
        .parse(input)?;
    let words = rest.trim();
    if words.is_empty() || words.len() > 40 {
        return Err(nom::Err::Error(nom::error::Error::new(
            rest,
            nom::error::ErrorKind::Eof,
        )));
    }
    match point(words) {
        // A mark's name starts with a letter or digit; anything else is a slip.
        Point::Mark(name) if !name.starts_with(char::is_alphanumeric) => Err(nom::Err::Error(
            nom::error::Error::new(rest, nom::error::ErrorKind::Alpha),
        )),
        point => Ok((rest.get(rest.len()..).unwrap_or(""), point)),
    }
}

/// `segno`, `second segno`, `segno 2` (only before an `at`).
fn sign(input: &str) -> Read<'_, RoadStep> {
    let nth = |name: &'static str| {
        move |input| {
            let (rest, before) = opt(nom::sequence::terminated(pass, blanks1)).parse(input)?;
            let (rest, _) = phrase(name)(rest)?;
            let (rest, after) = opt(nom::sequence::delimited(
                blanks1,
                pass,
                nom::combinator::peek((blanks1, alt((word("at"), word("after"))))),
            ))
            .parse(rest)?;
            Ok((rest, before.or(after).unwrap_or(1)))
        }
    };
    let coda_exit = |input| alt((nth("to coda"), nth("to the coda"), nth("al coda sign"))).parse(input);
    alt((
        map((coda_exit, at_point), |(n, at)| RoadStep::ToCoda(n, at)),
        map((nth("segno"), at_point), |(n, at)| RoadStep::Segno(n, at)),
        map((nth("sign"), at_point), |(n, at)| RoadStep::Segno(n, at)),
        map((nth("coda"), at_point), |(n, at)| RoadStep::Coda(n, at)),
        map(preceded(word("fine"), at_point), RoadStep::Fine),
    ))
    .parse(input)
}

fn jump(input: &str) -> Read<'_, RoadStep> {
    let dc = |input| value(None, alt((letters('d', 'c'), map(phrase("da capo"), |_| ())))).parse(input);
    let ds = |input| {
        map(
            (
                alt((letters('d', 's'), map(phrase("dal segno"), |_| ()))),
                opt(preceded(
                    blanks,
                    nom::sequence::terminated(number, nom::combinator::peek(blanks1)),
                )),
            ),
            |(_, n)| Some(n.unwrap_or(1)),
        )
        .parse(input)
    };
    let al = |name: &'static str| {
        move |input| {
            preceded(
                (
                    blanks,
                    opt(char('.')),
                    blanks,
                    alt((word("al"), word("to"), word("till"))),
                    blanks1,
                    opt((word("the"), blanks1)),
                ),
                phrase(name),
            )
            .parse(input)
        }
    };
    let (rest, segno) = alt((dc, ds)).parse(input)?;
    let (rest, until) = alt((
        value(Until::Fine, al("fine")),
        map((al("coda"), opt(preceded(blanks1, coda_number))), |(_, n)| {
            Until::Coda(n.unwrap_or(1))
        }),
        value(Until::End, opt(al("end"))),
    ))
    .parse(rest)?;
    let (rest, at) = opt(at_point).parse(rest)?;
    Ok((rest, RoadStep::Jump { segno, until, at }))
}

/// The number of a coda: before an `at`, or a small number at the end. A larger one is the jump's measure.
fn coda_number(input: &str) -> Read<'_, u32> {
    let led = nom::combinator::recognize((blanks1, alt((word("at"), word("after")))));
    nom::combinator::verify(
        (number, nom::combinator::peek(alt((led, nom::combinator::eof)))),
        |(number, after): &(u32, &str)| !after.is_empty() || *number < 10,
    )
    .parse(input)
    .map(|(rest, (number, _))| (rest, number))
}

/// `D.C.`, `DC`, `d. c.`
fn letters<'a>(
    first: char,
    second: char,
) -> impl Parser<&'a str, Output = (), Error = nom::error::Error<&'a str>> {
    let letter = |c: char| nom::character::complete::satisfy(move |found| found.eq_ignore_ascii_case(&c));
    value(
        (),
        (
            letter(first),
            opt(char('.')),
            blanks,
            letter(second),
            opt(char('.')),
            crate::notation::scan::word_end,
        ),
    )
}

fn repeat(input: &str) -> Read<'_, RoadStep> {
    let (rest, open) = opt(alt((
        value(true, alt((phrase("open repeat"), phrase("vamp")))),
        value(false, alt((phrase("repeats"), phrase("repeat")))),
    )))
    .parse(input)?;
    let (rest, _) = match open {
        Some(_) => (blanks1, opt((alt((word("from"), word("of"))), blanks1)))
            .parse(rest)
            .map(|(rest, _)| (rest, ()))?,
        None => (rest, ()),
    };
    let (rest, stretch) = stretch(rest)?;
    let (rest, times) = opt(preceded(blanks, times)).parse(rest)?;
    let step = match (open, times) {
        (Some(true), _) => RoadStep::Open(stretch),
        (_, Some(None)) => RoadStep::Open(stretch),
        (_, times) => RoadStep::Repeat {
            stretch,
            times: times.flatten().unwrap_or(2),
        },
    };
    Ok((rest, step))
}

/// How often in all: `3 times`, `x3`, `3x`, `twice`; none for an open repeat.
fn times(input: &str) -> Read<'_, Option<u32>> {
    alt((
        value(Some(2), word("twice")),
        value(
            None,
            alt((
                word("open"),
                phrase("until cue"),
                phrase("on cue"),
                phrase("ad lib"),
            )),
        ),
        map(
            (
                opt((word("played"), blanks1)),
                number,
                blanks,
                alt((word("times"), word("x"), word("×"))),
            ),
            |(_, n, ..)| Some(n),
        ),
        map((alt((char('x'), char('×'))), blanks, number), |(.., n)| Some(n)),
    ))
    .parse(input)
}

impl fmt::Display for RoadStep {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let nth = |n: &Nth| match n {
            1 => String::new(),
            n => format!("{} ", ordinal(*n)),
        };
        match self {
            RoadStep::Repeat { stretch, times: 2 } => write!(f, "repeat {stretch}"),
            RoadStep::Repeat { stretch, times } => write!(f, "repeat {stretch} {times} times"),
            RoadStep::Open(stretch) => write!(f, "open repeat {stretch}"),
            RoadStep::OpenAt(at) => write!(f, "open repeat at {at}"),
            RoadStep::Ending {
                passes,
                stretch,
                into,
            } => {
                write!(f, "{} ending {stretch}", joined(passes))?;
                into.map_or(Ok(()), |measure| write!(f, " into {measure}"))
            }
            RoadStep::Only { passes, stretch } => write!(f, "{} time only {stretch}", joined(passes)),
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
        }
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
