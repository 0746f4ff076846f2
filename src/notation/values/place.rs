//! Places in a piece: a measure, a mark, a stretch from one to another.

use std::fmt;

use nom::Parser;
use nom::branch::alt;
use nom::character::complete::char;
use nom::combinator::{opt, value};
use nom::sequence::preceded;

use crate::notation::scan::{self, Read, blanks, blanks1, dash, number, phrase, word};

/// One point of a piece.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Point {
    /// A printed measure number.
    Measure(u32),
    /// A rehearsal mark or a conventional place such as `trio`, as written.
    Mark(String),
}

/// Where a value holds or something happens.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Place {
    /// From a point on.
    At(Point),
    /// Only between two points, both included.
    Between(Point, Point),
    /// From the first measure to the last.
    Throughout,
    /// In one movement, from its beginning to its end.
    Movement(u32),
}

/// Measures from one to another, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Stretch {
    /// The first measure.
    pub first: u32,
    /// The last measure; the same as the first for a single one.
    pub last: u32,
}

impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Point::Measure(measure) => write!(f, "{measure}"),
            Point::Mark(name) => f.write_str(name),
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::At(point) => write!(f, "at {point}"),
            Place::Between(Point::Measure(first), Point::Measure(last)) => write!(f, "at {first}-{last}"),
            Place::Between(first, last) => write!(f, "at {first} to {last}"),
            Place::Throughout => f.write_str("throughout"),
            Place::Movement(number) => write!(f, "in movement {number}"),
        }
    }
}

impl fmt::Display for Stretch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.first == self.last {
            write!(f, "{}", self.first)
        } else {
            write!(f, "{}-{}", self.first, self.last)
        }
    }
}

/// The words people put before a measure number: `m.`, `mm.`, `measures`, `bar`.
pub fn measure_word(input: &str) -> Read<'_, ()> {
    let (rest, _) = alt((
        word("measures"),
        word("measure"),
        word("meas"),
        word("bars"),
        word("bar"),
        word("mm"),
        word("mss"),
        word("ms"),
        nom::sequence::terminated(
            nom::bytes::complete::tag_no_case("m"),
            nom::combinator::peek(alt((
                nom::combinator::recognize(char('.')),
                blanks1,
                nom::character::complete::digit1,
            ))),
        ),
    ))
    .parse(input)?;
    value((), (opt(char('.')), blanks)).parse(rest)
}

/// Measures: `5-20`, `mm. 5–20`, `5 to 20`, `16`.
pub fn stretch(input: &str) -> Read<'_, Stretch> {
    let (rest, first) = preceded(opt(measure_word), number).parse(input)?;
    let (rest, last) = opt(preceded(
        (
            blanks,
            alt((
                value((), dash),
                value((), (word("to"), blanks1)),
                value((), (word("through"), blanks1)),
            )),
            blanks,
        ),
        number,
    ))
    .parse(rest)?;
    let (rest, _) = scan::word_end(rest)?;
    Ok((
        rest,
        Stretch {
            first,
            last: last.unwrap_or(first),
        },
    ))
}

/// A place after its `at`: `33`, `20-21`, `A`, `trio`, `B to C`, `the trio`, `rehearsal B`.
pub fn after_at(text: &str) -> Option<Place> {
    let text = text.trim();
    if text.eq_ignore_ascii_case("throughout") {
        return Some(Place::Throughout);
    }
    if let Some(number) = movement(text) {
        return Some(Place::Movement(number));
    }
    if let Ok((rest, stretch)) = stretch(text)
        && rest.trim().is_empty()
    {
        return Some(match stretch.first == stretch.last {
            true => Place::At(Point::Measure(stretch.first)),
            false => Place::Between(Point::Measure(stretch.first), Point::Measure(stretch.last)),
        });
    }
    let mark = |words: &str| Some(point(words)).filter(|_| is_mark_like(words));
    if let Some((from, to)) = text.split_once(" to ") {
        return Some(Place::Between(mark(from)?, mark(to)?));
    }
    mark(text).map(Place::At)
}

/// `movement 3`, `mvt. 3`.
fn movement(text: &str) -> Option<u32> {
    let lead = alt((word("movement"), word("mvt"), word("mov")));
    let (rest, (.., number)) = (lead, opt(char('.')), blanks, number).parse(text).ok()?;
    rest.trim().is_empty().then_some(number)
}

/// Whether words are short enough to be the name of a place.
fn is_mark_like(words: &str) -> bool {
    let words = words.trim();
    !words.is_empty() && words.split_whitespace().count() <= 4 && !words.contains(scan::is_quote)
}

/// A point as written: a number is a measure, anything else a mark without the words that lead to it.
pub fn point(words: &str) -> Point {
    let words = words.trim();
    if let Ok((rest, measure)) = preceded(opt(measure_word), number).parse(words)
        && rest.trim().is_empty()
    {
        return Point::Measure(measure);
    }
    let mut name = words;
    for lead in [
        "the ",
        "rehearsal mark ",
        "rehearsal letter ",
        "rehearsal ",
        "letter ",
        "mark ",
    ] {
        if let Some(rest) = name.get(lead.len()..).filter(|_| {
            name.get(..lead.len())
                .is_some_and(|head| head.eq_ignore_ascii_case(lead))
        }) {
            name = rest.trim_start();
        }
    }
    Point::Mark(name.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The words that lead to a place: `at`, `from`, `in`, `@`.
pub fn at_word(input: &str) -> Read<'_, ()> {
    value(
        (),
        alt((
            (word("at"), blanks1).map(|_| ()),
            (phrase("starting at"), blanks1).map(|_| ()),
            (word("from"), blanks1).map(|_| ()),
            (
                word("in"),
                blanks1,
                nom::combinator::peek(alt((word("movement"), word("mvt"), word("mov")))),
            )
                .map(|_| ()),
            (char('@'), blanks).map(|_| ()),
        )),
    )
    .parse(input)
}

/// Splits `value at place` into the value's text and the place, at the last `at` after which a place can be read.
///
/// Gives the whole text and no place where there is none, so `mood at dawn` keeps its words only when
/// the caller asks for a mark's name and none fits.
pub fn split_place(text: &str) -> (&str, Option<Place>) {
    let mut found = None;
    let mut at = 0;
    while let Some(next) = text.get(at..).and_then(|rest| rest.find([' ', '\t', '@'])) {
        let gap = at + next;
        at = gap + 1;
        let Some(rest) = text.get(gap..) else { break };
        let trimmed = rest.trim_start();
        if trimmed.eq_ignore_ascii_case("throughout") {
            return (text.get(..gap).unwrap_or("").trim_end(), Some(Place::Throughout));
        }
        if let Ok((tail, ())) = at_word(trimmed) {
            if let Some(place) = after_at(tail) {
                found = Some((gap, place));
            }
        } else if let Ok((tail, stretch)) = preceded(measure_word, stretch).parse(trimmed) {
            // `3/4 m. 33` says where without saying "at".
            if tail.trim().is_empty() && gap > 0 {
                let place = match stretch.first == stretch.last {
                    true => Place::At(Point::Measure(stretch.first)),
                    false => Place::Between(Point::Measure(stretch.first), Point::Measure(stretch.last)),
                };
                found.get_or_insert((gap, place));
            }
        }
    }
    match found {
        Some((gap, place)) => (text.get(..gap).unwrap_or("").trim_end(), Some(place)),
        None => (text, None),
    }
}

/// Stretches that a part plays at the start of a text, and how many bytes they take.
pub fn passages(text: &str) -> Option<(Vec<Place>, usize)> {
    let mut places = Vec::new();
    let lead = opt(nom::sequence::terminated(word("at"), blanks1));
    let (mut rest, _): (&str, _) = { lead }.parse(text).ok()?;
    loop {
        let (after, span) = stretch(rest).ok()?;
        places.push(Place::Between(
            Point::Measure(span.first),
            Point::Measure(span.last),
        ));
        let joint = alt((
            value((), (blanks1, word("and"), blanks1)),
            value((), (blanks, char('&'), blanks)),
        ));
        match nom::sequence::terminated(joint, nom::combinator::peek(stretch)).parse(after) {
            Ok((next, ())) => rest = next,
            Err(_) => return Some((places, text.len() - after.len())),
        }
    }
}

/// Words for the passes of a repeat at the start of a text, and how many bytes they take.
pub fn pass_words(text: &str) -> Option<(Vec<u32>, usize)> {
    let (rest, pass) = alt((
        value(1, alt((phrase("first time only"), phrase("1st time only")))),
        value(2, alt((phrase("second time only"), phrase("2nd time only")))),
    ))
    .parse(text)
    .ok()?;
    Some((vec![pass], text.len() - rest.len()))
}
