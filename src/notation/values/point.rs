//! Reading one point of a piece.

use super::conventional;
use super::place::Point;
use super::steps::Steps;
use crate::notation::scan;

const END: &[&str] = &[
    "the very end",
    "the end of the piece",
    "the end",
    "end",
    "the last measure",
    "last measure",
    "the last bar",
    "last bar",
    "the final measure",
    "final measure",
    "the final bar",
    "the last note",
    "last note",
    "the final note",
    "final note",
    "final bar",
];
const START: &[&str] = &[
    "the beginning",
    "beginning",
    "the start",
    "start",
    "the top",
    "top",
];
const PICKUP: &[&str] = &[
    "the pickup",
    "pickup",
    "pickups",
    "the pickups",
    "the upbeat",
    "upbeat",
];
const LEADS: &[&str] = &[
    "rehearsal mark",
    "rehearsal letter",
    "rehearsal figure",
    "rehearsal",
    "figure",
    "fig.",
    "fig",
    "letter",
    "mark",
];

/// Reads a point at the start of `text` and says how many bytes it used. Where `led` (by `at`, `to` ...), a small
/// letter is a mark too.
pub(super) fn at(text: &str, led: bool) -> Option<(Point, usize)> {
    let mut cursor = Steps::new(text);
    let point = read(&mut cursor, led)?;
    Some((point, text.len() - cursor.rest.len()))
}

pub(super) fn read(cursor: &mut Steps<'_>, led: bool) -> Option<Point> {
    if !cursor.at_figure() {
        if let Some(nth) = time_bar(cursor) {
            return Some(Point::Mark(format!("{nth} ending")));
        }
        let mut ahead = *cursor;
        if ahead.any(&[
            "the end of",
            "the very end of",
            "the start of",
            "the beginning of",
            "the middle of",
        ]) {
            ahead.measure_word();
            if let Some(measure) = ahead.number() {
                *cursor = ahead;
                return Some(Point::Measure(measure));
            }
        }
        if cursor.any(END) {
            return Some(Point::END);
        }
        if cursor.any(START) {
            return Some(Point::Measure(1));
        }
        let mut ahead = *cursor;
        if ahead.any(PICKUP) && ahead.any(&["to", "into", "before"]) {
            ahead.measure_word();
            let measure = ahead.number()?;
            *cursor = ahead;
            return Some(Point::Pickup(measure));
        }
    }
    if let Some(point) = beside(cursor) {
        return Some(point);
    }
    let mut ahead = *cursor;
    ahead.measure_word();
    if let Some(measure) = ahead.number() {
        *cursor = ahead;
        return Some(Point::Measure(measure));
    }
    mark(cursor, led, true).map(Point::Mark)
}

/// `the second-time bar`, `2nd time bar`: an ending (British use).
fn time_bar(cursor: &mut Steps<'_>) -> Option<&'static str> {
    let mut ahead = *cursor;
    ahead.eat("the");
    ahead.blanks();
    let found = [
        ("first-time bar", "first"),
        ("1st-time bar", "first"),
        ("first time bar", "first"),
        ("1st time bar", "first"),
        ("second-time bar", "second"),
        ("2nd-time bar", "second"),
        ("second time bar", "second"),
        ("2nd time bar", "second"),
    ]
    .iter()
    .find_map(|(words, nth)| Some((*nth, scan::after_phrase(ahead.rest, words)?)))?;
    cursor.rest = found.1;
    Some(found.0)
}

/// `4 before B`, `8 measures after trio`, `2 before the end`, `before C`.
fn beside(cursor: &mut Steps<'_>) -> Option<Point> {
    let mut ahead = *cursor;
    let count = match ahead.count() {
        Some(count) => {
            ahead.measures();
            count
        }
        // Only `before` names one measure without saying how many: `to coda before B`.
        None if ahead.any(&["the measure", "the bar"]) => 1,
        None => 0,
    };
    let before = match (ahead.eat("before"), count) {
        (true, _) => true,
        (false, 0) => return None,
        (false, _) if ahead.eat("after") => false,
        (false, _) => return None,
    };
    let count = i32::try_from(count.max(1)).ok()?;
    let base = read(&mut ahead, true)?;
    let away = if before { -count } else { count };
    let point = match base {
        Point::Measure(measure) => Point::Measure(measure.checked_add_signed(away)?),
        Point::Mark(name) => Point::Beside(name, away),
        Point::FromEnd(0) if before => Point::FromEnd(count.unsigned_abs()),
        _ => return None,
    };
    *cursor = ahead;
    Some(point)
}

/// A mark's name: quoted, conventional (with its number where `numbered`), a letter, or a number behind
/// `rehearsal` and its like.
pub(super) fn mark(cursor: &mut Steps<'_>, led: bool, numbered: bool) -> Option<String> {
    let mut ahead = *cursor;
    ahead.blanks();
    if ahead.rest.is_empty() {
        return None;
    }
    let named = ahead.any(LEADS);
    ahead.blanks();
    if let Ok((rest, name)) = scan::quoted(ahead.rest) {
        let closed = ahead.rest.len() - rest.len() > name.len() + 1;
        ahead.rest = rest;
        *cursor = ahead;
        return (closed && !name.is_empty() && name.chars().count() <= 40).then(|| tidy(name));
    }
    if named && let Some(number) = ahead.number() {
        *cursor = ahead;
        return Some(number.to_string());
    }
    let the = !named && ahead.eat("the");
    ahead.blanks();
    let used = match the {
        true => conventional::place(ahead.rest, numbered)?,
        false => conventional::place(ahead.rest, numbered)
            .filter(|_| !named)
            .or_else(|| conventional::letter(ahead.rest, led || named))?,
    };
    let (name, rest) = ahead.rest.split_at_checked(used)?;
    ahead.rest = rest;
    *cursor = ahead;
    Some(tidy(name))
}

/// One other word that is all of `text`: a mark that the director named.
pub(super) fn own(text: &str) -> Option<Point> {
    let mut cursor = Steps::new(text);
    cursor.eat("the");
    let word = cursor.rest.trim();
    conventional::own_word(word).then(|| Point::Mark(word.to_owned()))
}

fn tidy(name: &str) -> String {
    let name = scan::single(name);
    // A bit or a part of the piece is a section.
    let lower = name.to_lowercase();
    match ["middle", "slow", "fast"].iter().find(|which| {
        lower
            .strip_prefix(**which)
            .is_some_and(|rest| matches!(rest, " bit" | " part"))
    }) {
        Some(which) => format!("{which} section"),
        None => name,
    }
}
