//! The measures that a part plays, as directors write them, and on which times through.

use super::place::{Place, Point};
use super::point;
use super::steps::Steps;

const ALL: &[&str] = &[
    "throughout",
    "all the way through",
    "all the way",
    "all through",
    "the whole time",
    "whole time",
    "the whole way through",
    "the whole way thru",
    "the whole way",
    "whole way through",
    "whole way thru",
    "whole way",
    "all thru",
    "from start to finish",
    "start to finish",
    "from beginning to end",
    "all measures",
    "the whole piece",
    "whole piece",
    "the whole thing",
    "whole thing",
    "the entire piece",
    "entire piece",
    "everywhere",
];

/// Nouns that a bare number counts, so that it is no measure: `4 players`.
const COUNTED: &[&str] = &[
    "players",
    "player",
    "plyrs",
    "plyr",
    "pts",
    "percussionists",
    "percussionist",
    "parts",
    "part",
    "drums",
    "drum",
    "bars",
    "bar",
    "measures",
    "measure",
    "times",
    "beats",
    "beat",
    "copies",
    "people",
    "kids",
    "students",
];

/// Reads as many passages as stand at the start of `text`, joined by `and`, `&`, `+`, or a blank between two
/// stretches, and says how many bytes they use. A comma is not crossed.
pub fn passages(text: &str) -> Option<(Vec<Place>, usize)> {
    if let Some(place) = super::place::bare_stretch(text) {
        return Some((vec![place], text.len()));
    }
    let mut cursor = Steps::new(text);
    let mut found = vec![passage(&mut cursor, false)?];
    loop {
        let mut ahead = cursor;
        let joined = ahead.eat("and") || ahead.sign(&['&', '+']);
        let Some(next) = passage(&mut ahead, true) else {
            break;
        };
        let stretches = found.last().is_some_and(is_stretch) && is_stretch(&next);
        if !joined && !stretches {
            break;
        }
        cursor = ahead;
        found.push(next);
    }
    Some((found, text.len() - cursor.rest.len()))
}

/// Whether it goes from one measure number to another.
fn is_stretch(place: &Place) -> bool {
    matches!(place, Place::Between(Point::Measure(first), Point::Measure(last)) if first != last)
}

/// Reads one passage. Behind a joining word (`again`) a bare number counts only where nothing but another
/// passage follows: `1-40 and 2 triangles` names no measure 2.
pub(super) fn passage(cursor: &mut Steps<'_>, again: bool) -> Option<Place> {
    ended(cursor, |ahead| any(ahead, again, false))
}

/// Reads one passage of a roadmap, where no pitch can stand, so that `A1` is a mark without an `at` before it.
pub(super) fn passage_of_a_road(cursor: &mut Steps<'_>) -> Option<Place> {
    ended(cursor, |ahead| any(ahead, false, true))
}

fn ended(cursor: &mut Steps<'_>, read: impl Fn(&mut Steps<'_>) -> Option<Place>) -> Option<Place> {
    let mut ahead = *cursor;
    let place = read(&mut ahead)?;
    let rest = ahead.rest;
    let ends = rest.chars().next().is_none_or(|c| {
        c.is_whitespace() || c == '\u{a0}' || matches!(c, ',' | ';' | ')' | '?' | '&' | '+' | '(' | '.')
    });
    ends.then(|| {
        *cursor = ahead;
        place
    })
}

fn any(cursor: &mut Steps<'_>, again: bool, marks: bool) -> Option<Place> {
    if !cursor.at_figure() {
        let before = *cursor;
        if cursor.any(ALL) {
            return Some(Place::Throughout);
        }
        // `all` before other words counts those: `all in at 17`.
        if cursor.eat("all") && is_alone(*cursor) {
            return Some(Place::Throughout);
        }
        *cursor = before;
    }
    if let Some(place) = counted(cursor) {
        return Some(place);
    }
    let from = cursor.any(&["starting at", "beginning at", "starting in", "from"]);
    let at = !from && (cursor.eat("at") || cursor.sign(&['@']));
    let led = from || at || marks && lettered_mark(*cursor);
    let measures = cursor.measure_word();
    let start = point::read(cursor, led)?;
    if let Some(last) = goes_to(cursor) {
        return Some(Place::Between(start, last));
    }
    if onward(cursor) || from {
        return Some(Place::Between(start, Point::END));
    }
    match start {
        Point::Mark(_) if !measures => Some(lasting(cursor, start)),
        Point::Mark(_) => None,
        Point::Measure(_) if !measures && !at && counts(*cursor, again) => None,
        start => Some(lasting(cursor, start)),
    }
}

/// Whether a mark such as `A1` stands here; a small letter alone is one only behind `at` and its like.
fn lettered_mark(mut cursor: Steps<'_>) -> bool {
    cursor.blanks();
    cursor.rest.starts_with(|c: char| c.is_ascii_uppercase())
}

/// The other end of a stretch.
fn goes_to(cursor: &mut Steps<'_>) -> Option<Point> {
    let mut ahead = *cursor;
    if !(ahead.dash() || ahead.any(&["to", "through", "thru", "till"])) {
        return None;
    }
    let last = point::read(&mut ahead, true)?;
    *cursor = ahead;
    Some(last)
}

/// `on`, `onward`, where nothing but another passage follows: `33 on cue` is no stretch.
fn onward(cursor: &mut Steps<'_>) -> bool {
    let mut ahead = *cursor;
    let said = ahead.any(&["onward", "onwards", "and on", "forward"])
        || ahead.eat("on") && is_alone(ahead)
        // `33+`: from there on, where no other measure follows the sign.
        || ahead.rest.starts_with('+') && ahead.sign(&['+']) && ahead.is_done();
    if said {
        *cursor = ahead;
    }
    said
}

/// A point alone, or with how long it lasts: `A for 8 bars`.
fn lasting(cursor: &mut Steps<'_>, start: Point) -> Place {
    let mut ahead = *cursor;
    if ahead.eat("for")
        && let Some(count) = ahead.count()
        && ahead.measures()
        && let Some(last) = after(&start, count)
    {
        *cursor = ahead;
        return Place::Between(start, last);
    }
    match start {
        Point::Mark(_) => Place::At(start),
        start => Place::Between(start.clone(), start),
    }
}

/// `4 bars at 33`, `first 8`, `last 4 measures`.
fn counted(cursor: &mut Steps<'_>) -> Option<Place> {
    let mut ahead = *cursor;
    ahead.eat("at");
    ahead.eat("the");
    let first = ahead.eat("first");
    if first || ahead.any(&["last", "final"]) {
        let count = ahead.count().filter(|count| *count > 0)?;
        let said = ahead.measures();
        if !said && !is_alone(ahead) {
            return None;
        }
        *cursor = ahead;
        return Some(match first {
            true => Place::Between(Point::Measure(1), Point::Measure(count)),
            false => Place::Between(Point::FromEnd(count - 1), Point::END),
        });
    }
    let mut ahead = *cursor;
    ahead.eat("for");
    let count = ahead.count().filter(|count| *count > 0)?;
    if !(ahead.measures() && ahead.any(&["starting at", "beginning at", "at", "from"])) {
        return None;
    }
    let start = point::read(&mut ahead, true)?;
    let last = after(&start, count)?;
    *cursor = ahead;
    Some(Place::Between(start, last))
}

/// The last of `count` measures from a point on.
fn after(start: &Point, count: u32) -> Option<Point> {
    let more = count.checked_sub(1)?;
    match start {
        Point::Measure(first) => Some(Point::Measure(first.checked_add(more)?)),
        Point::Mark(name) if more == 0 => Some(Point::Mark(name.clone())),
        Point::Mark(name) => Some(Point::Beside(name.clone(), i32::try_from(more).ok()?)),
        _ => None,
    }
}

/// Whether a bare number here counts what is named behind it.
fn counts(cursor: Steps<'_>, again: bool) -> bool {
    let mut ahead = cursor;
    ahead.any(COUNTED) || again && !is_alone(cursor)
}

/// Whether nothing follows in this passage: the end, a comma, or a word that joins.
fn is_alone(cursor: Steps<'_>) -> bool {
    let mut ahead = cursor;
    ahead.is_done() || ahead.eat("and") || ahead.sign(&['&', '+', ',', ';', ')', '?', '('])
}

/// Reads the words at the start of `text` that say on which times through a stretch is played, and how many
/// bytes they use: `second time only`, `2nd time`, `on the repeat`, `both times`.
pub fn pass_words(text: &str) -> Option<(Vec<u32>, usize)> {
    let mut cursor = Steps::new(text);
    let passes = passes(&mut cursor)?;
    cursor.eat("only");
    Some((passes, text.len() - cursor.rest.len()))
}

pub(super) fn passes(cursor: &mut Steps<'_>) -> Option<Vec<u32>> {
    if cursor.is_done() {
        return None;
    }
    cursor.eat("only");
    let mut ahead = *cursor;
    if ahead.any(&["on the repeat", "on repeat", "the repeat only", "on the way back"]) {
        *cursor = ahead;
        return Some(vec![2]);
    }
    if ahead.any(&["both times", "each time"]) {
        *cursor = ahead;
        return Some(vec![1, 2]);
    }
    ahead.eat("on");
    ahead.eat("the");
    let mut found = vec![ordinal(&mut ahead)?];
    loop {
        let mut next = ahead;
        if !(next.eat("and") || next.sign(&['&', '+'])) {
            break;
        }
        next.eat("the");
        let Some(more) = ordinal(&mut next) else { break };
        ahead = next;
        found.push(more);
    }
    if !ahead.any(&[
        "time through",
        "times through",
        "time",
        "times",
        "x",
        "pass",
        "passes",
    ]) {
        return None;
    }
    *cursor = ahead;
    found.sort_unstable();
    found.dedup();
    Some(found)
}

pub(super) fn ordinal(cursor: &mut Steps<'_>) -> Option<u32> {
    const WORDS: [&[&str]; 6] = [
        &["first", "1st"],
        &["second", "2nd"],
        &["third", "3rd"],
        &["fourth", "4th"],
        &["fifth", "5th"],
        &["sixth", "6th"],
    ];
    let found = WORDS.iter().position(|words| cursor.any(words))?;
    u32::try_from(found + 1).ok()
}
