//! Places in a piece: a measure, a mark, a stretch from one to another.

use std::fmt;

use nom::Parser;
use nom::branch::alt;
use nom::character::complete::char;
use nom::combinator::{opt, value};
use nom::sequence::preceded;

use super::passages::passages;
use super::{conventional, point};
use crate::notation::scan::{self, Read, blanks, blanks1, dash, number, phrase, word};

/// One point of a piece.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Point {
    /// A printed measure number.
    Measure(u32),
    /// A rehearsal mark or a conventional place such as `trio`, as written.
    Mark(String),
    /// So many measures after a mark, or before it where the number is negative: `4 before B`.
    Beside(String, i32),
    /// The pickup into a measure, which sounds in the measure before.
    Pickup(u32),
    /// So many measures before the last one; 0 is the last measure itself.
    FromEnd(u32),
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

impl Place {
    /// The measures it names, where it names both ends by number and they run forward.
    pub fn measures(&self) -> Option<Stretch> {
        match self {
            Place::Between(Point::Measure(first), Point::Measure(last)) if first <= last => Some(Stretch {
                first: *first,
                last: *last,
            }),
            _ => None,
        }
    }
}

impl Point {
    /// The last measure, whatever its number.
    pub const END: Point = Point::FromEnd(0);

    /// The mark it names, where it names one.
    pub fn mark(&self) -> Option<&str> {
        match self {
            Point::Mark(name) | Point::Beside(name, _) => Some(name),
            _ => None,
        }
    }

    /// Reads a point that is all of `text`: `33`, `m. 33`, `letter B`, `the trio`, `4 before C`, `the end`,
    /// `"big tune"`.
    pub fn read(text: &str) -> Option<Point> {
        let text = text.trim();
        let (point, used) = point::at(text, true)?;
        (used == text.len()).then_some(point)
    }
}

impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Point::Measure(measure) => write!(f, "{measure}"),
            Point::Mark(name) => show_mark(f, name),
            Point::Beside(name, away) => {
                let side = if *away < 0 { "before" } else { "after" };
                write!(f, "{} {side} ", away.unsigned_abs())?;
                show_mark(f, name)
            }
            Point::Pickup(measure) => write!(f, "pickup to {measure}"),
            Point::FromEnd(0) => f.write_str("the end"),
            Point::FromEnd(away) => write!(f, "{away} before the end"),
        }
    }
}

/// A mark's name, in quotation marks where it would not be read as one without.
fn show_mark(f: &mut fmt::Formatter<'_>, name: &str) -> fmt::Result {
    // A small letter reads as a mark only behind `at` and its like, so it is shown in quotation marks.
    let small = name.chars().count() <= 2 && !name.starts_with(|c: char| c.is_ascii_uppercase());
    match conventional::is_plain(name) && !small {
        true => f.write_str(name),
        false => write!(f, "\"{name}\""),
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            // One word of the director's own needs no quotation marks right behind `at`.
            Place::At(Point::Mark(name)) if conventional::own_word(name) || conventional::is_plain(name) => {
                write!(f, "at {name}")
            }
            Place::At(point) => write!(f, "at {point}"),
            Place::Between(Point::Measure(first), Point::Measure(last)) => write!(f, "at {first}-{last}"),
            Place::Between(Point::FromEnd(0), Point::FromEnd(0)) => f.write_str("at the last measure"),
            Place::Between(Point::FromEnd(away), Point::FromEnd(0)) => {
                write!(f, "at last {} measures", away.saturating_add(1))
            }
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
    if !input.starts_with(['m', 'M', 'b', 'B']) {
        return Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Tag,
        )));
    }
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

/// Measures that are all of `text`, with nothing but figures and a dash: `5-20`, `16`.
pub fn bare_stretch(text: &str) -> Option<Place> {
    if !text.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let (first, last) = text.split_once(['-', '–']).unwrap_or((text, text));
    let measure = |figures: &str| {
        let plain = (1..10).contains(&figures.len()) && figures.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| figures.parse().ok().map(Point::Measure)).flatten()
    };
    Some(Place::Between(measure(first)?, measure(last)?))
}

/// A place after its `at`: `33`, `20-21`, `A`, `trio`, `B to C`, `the trio`, `rehearsal B`, or one word that is
/// the director's own mark. A point holds from there on; a stretch, even of one measure (`37-37`), only there.
pub fn after_at(text: &str) -> Option<Place> {
    let text = text.trim();
    if let Some(number) = movement(text) {
        return Some(Place::Movement(number));
    }
    // `from the double bar at 45`: the measure says it all.
    let text = ["the double bar at ", "double bar at ", "the double bar, "]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))
        .unwrap_or(text);
    if let Some(point) = Point::read(text) {
        // Words that name the last measure itself hold for that one alone.
        return Some(
            match point == Point::END && !text.to_lowercase().contains("end") {
                true => Place::Between(Point::END, Point::END),
                false => Place::At(point),
            },
        );
    }
    if let Some((places, used)) = passages(text)
        && used == text.len()
        && let [place] = places.as_slice()
    {
        return Some(place.clone());
    }
    if let Some(point) = point::own(text) {
        return Some(Place::At(point));
    }
    let (from, to) = text.split_once(" to ")?;
    Some(Place::Between(point(from)?, point(to)?))
}

/// `movement 3`, `mvt. 3`.
fn movement(text: &str) -> Option<u32> {
    let lead = alt((word("movement"), word("mvt"), word("mov"), numbered));
    let (rest, (.., number)) = (lead, opt(char('.')), blanks, number).parse(text).ok()?;
    rest.trim().is_empty().then_some(number)
}

/// `no.` before the number of a movement.
fn numbered(input: &str) -> Read<'_, &str> {
    nom::sequence::terminated(
        nom::bytes::complete::tag_no_case("no"),
        nom::combinator::peek(char('.')),
    )
    .parse(input)
}

/// A point that is all of `words`; one other word is the director's own mark.
pub fn point(words: &str) -> Option<Point> {
    Point::read(words).or_else(|| point::own(words))
}

/// The words that lead to a place: `at`, `from`, `in`, `@`.
pub fn at_word(input: &str) -> Read<'_, ()> {
    value(
        (),
        alt((
            (word("at"), blanks1).map(|_| ()),
            (phrase("starting at"), blanks1).map(|_| ()),
            (phrase("beginning at"), blanks1).map(|_| ()),
            (word("from"), blanks1).map(|_| ()),
            (
                word("in"),
                blanks1,
                nom::combinator::peek(alt((word("movement"), word("mvt"), word("mov"), numbered))),
            )
                .map(|_| ()),
            (char('@'), blanks).map(|_| ()),
        )),
    )
    .parse(input)
}

/// The length of words that say all of a piece, at the start of a text: `throughout`, `all the way`.
pub fn throughout(text: &str) -> Option<usize> {
    let (places, taken) = passages(text)?;
    let ends = text
        .get(taken..)
        .is_none_or(|rest| !rest.starts_with(|c: char| c.is_alphanumeric()));
    (ends && places == [Place::Throughout] && taken > 3).then_some(taken)
}

/// Splits `value at place` into the value's text and the place, at the last `at` after which a place can be read.
///
/// Gives the whole text and no place where there is none.
pub fn split_place(text: &str) -> (&str, Option<Place>) {
    let mut found = None;
    let mut at = 0;
    while let Some(next) = text.get(at..).and_then(|rest| rest.find([' ', '\t', '@'])) {
        let gap = at + next;
        at = gap + 1;
        let Some(rest) = text.get(gap..) else { break };
        let trimmed = rest.trim_start();
        // `@ 120` at the very start is a tempo.
        if gap == 0 {
            continue;
        }
        if let Ok((tail, ())) = at_word(trimmed) {
            if let Some(place) = after_at(tail) {
                found = Some((gap, place));
            }
        } else if found.is_none() {
            found = match says_place(trimmed) {
                true => after_at(trimmed),
                false => inside(trimmed),
            }
            .map(|place| (gap, place));
        }
    }
    match found {
        Some((gap, place)) => (text.get(..gap).unwrap_or("").trim_end(), Some(place)),
        None => (text, None),
    }
}

/// `in the last four bars`, `for the trio`, `over the last 8`, `just before the coda`: words that lead to a place
/// where a figure alone would be none (`in 2`).
fn inside(text: &str) -> Option<Place> {
    let leads = ["in", "for", "over", "during", "throughout", "through"];
    let led = leads.iter().find_map(|lead| {
        let rest = scan::after_phrase(text, lead)?;
        rest.starts_with(scan::is_blank).then(|| scan::skip_blanks(rest))
    });
    if let Some(rest) = led {
        let place = after_at(rest)?;
        // One word that nobody knows is no place here, and a figure says in how many.
        let own = matches!(&place, Place::At(Point::Mark(name)) if !conventional::is_plain(name));
        let figure = rest.starts_with(|c: char| c.is_ascii_digit());
        return (!own && !figure && place != Place::Throughout).then_some(place);
    }
    // `none after 40`: from the next measure on.
    if let Some(rest) = scan::after_phrase(text, "after")
        && let Some(Point::Measure(last)) = Point::read(rest)
    {
        return Some(Place::At(Point::Measure(last.checked_add(1)?)));
    }
    let rest = ["just before", "right before", "immediately before"]
        .iter()
        .find_map(|lead| scan::after_phrase(text, lead));
    let rest = match rest {
        Some(rest) => rest,
        None => scan::after_phrase(text, "before")?,
    };
    let point = Point::read(&format!("1 before {}", rest.trim()))?;
    Some(Place::At(point))
}

/// Whether words say where without an `at`: `m. 33`, `throughout`, `last 4 bars`, `letter B`, `pickup to 9`.
fn says_place(text: &str) -> bool {
    let lead = alt((
        word("throughout"),
        phrase("whole time"),
        phrase("all the way"),
        phrase("the whole"),
        phrase("start to finish"),
        word("letter"),
        word("rehearsal"),
        word("pickup"),
        word("last"),
        word("first"),
        word("final"),
    ));
    // `rit. 61-66`, `61 to the end`: a stretch of measures, where nothing else has two figures.
    let stretch = text.starts_with(|c: char| c.is_ascii_digit())
        && passages(text).is_some_and(|(places, taken)| {
            taken == text.len() && matches!(places.as_slice(), [Place::Between(first, last)] if first != last)
        });
    stretch || measure_word(text).is_ok() || (lead, blanks).parse(text).is_ok()
}

#[cfg(test)]
#[path = "place_tests.rs"]
mod tests;
