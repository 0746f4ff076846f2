//! A meter with a bar or two of another in it: `4/4 with one 2/4 bar at 24`.

use std::collections::BTreeMap;

use super::of::Of;
use super::scan;
use super::values::{self, Place, Point, Value, place};
use crate::music::Meter;
use crate::text::Span;

/// Words between a meter and the bars that are otherwise.
const BUT: [&str; 9] = [
    "except for",
    "except",
    "apart from",
    "other than",
    "with",
    "w/",
    "w",
    "but",
    "plus",
];

/// The measures in parts of a value that name nothing else, behind a meter that says its measure: the `28 and 44` of
/// `5/4 at 12, 28 and 44`, by the number of the part.
pub(super) fn more_bars(masked: &str, parts: &[Span], of: Of) -> BTreeMap<usize, Vec<(Span, u32)>> {
    let mut found = BTreeMap::new();
    if of != Of::Meter {
        return found;
    }
    for (at, part) in parts.iter().enumerate().skip(1) {
        let before = parts.get(at - 1).map_or("", |before| before.slice(masked));
        let goes_on = found.contains_key(&(at - 1))
            || matches!(place::split_place(before).1, Some(Place::At(Point::Measure(_))));
        if let Some(bars) = bars(masked, *part).filter(|_| goes_on) {
            found.insert(at, bars);
        }
    }
    found
}

/// Measures with nothing but `and` between them: `28 and 44`, `12 28 44`.
fn bars(masked: &str, part: Span) -> Option<Vec<(Span, u32)>> {
    let mut found = Vec::new();
    for word in super::items::words_of(masked, part) {
        let text = word.slice(masked);
        if matches!(text, "and" | "&" | "+") {
            continue;
        }
        let plain = text.len() < 5 && text.bytes().all(|byte| byte.is_ascii_digit());
        found.push((word, plain.then(|| text.parse().ok()).flatten()?));
    }
    (!found.is_empty()).then_some(found)
}

/// The place of one bar alone.
pub(super) fn alone(place: Place) -> Place {
    match place {
        Place::At(point @ Point::Measure(_)) => Place::Between(point.clone(), point),
        place => place,
    }
}

/// `5/4 at 12 28 and 44`: where the first of several bars ends.
pub(super) fn first_of_bars(masked: &str, part: Span) -> Option<u32> {
    let words: Vec<Span> = super::items::words_of(masked, part).collect();
    let is_bar = |word: &Span| {
        let text = word.slice(masked);
        text.len() < 5 && text.bytes().all(|byte| byte.is_ascii_digit())
    };
    let first = words.iter().position(is_bar)?;
    let led = words.get(first.checked_sub(1)?)?.slice(masked);
    let rest = words.get(first + 1..)?;
    let behind = rest
        .first()
        .filter(|_| matches!(led, "at" | "@" | "in" | "mm." | "bars" | "measures"))?;
    let all = Span::new(behind.start, part.end);
    bars(masked, all)?;
    Some(words.get(first)?.end)
}

/// Where the first meter of `4/4 with one 2/4 bar at 24` ends.
pub(super) fn split(text: &str) -> Option<usize> {
    text.char_indices()
        .filter(|(_, c)| scan::is_blank(*c))
        .find_map(|(at, _)| {
            let head = text.get(..at)?.trim_end();
            let tail = text.get(at..)?.trim_start();
            let behind = behind_but(tail)?;
            let meter = |text: &str| Meter::read(text).is_some();
            let known = meter(head) || place::split_place(head).1.is_some();
            let placed = || {
                let (value, place) = place::split_place(behind);
                place.is_some() && meter(value)
            };
            (known && (read(behind).is_some() || placed())).then_some(head.len())
        })
}

/// What stands behind a word such as `with`.
pub(super) fn behind_but(text: &str) -> Option<&str> {
    BUT.iter().find_map(|but| {
        let rest = scan::after_phrase(text, but)?;
        rest.starts_with(scan::is_blank).then(|| rest.trim_start())
    })
}

/// A bar or more of a meter: `one 2/4 bar at 24`, `a bar of 2/4 at 24`, `2/4 for one bar at 24`, `24 in 2/4`; and
/// the place, none where it is not said.
pub(super) fn read(text: &str) -> Option<(Value, Option<Place>)> {
    let text = text.trim();
    if !["bar", "measure", " in ", " is "]
        .iter()
        .any(|said| text.contains(said))
    {
        return None;
    }
    let text = behind_but(text).unwrap_or(text);
    let (count, rest) = leading_count(text);
    let meter = |words: &str| values::read(Of::Meter, words.trim());
    let of_bars = |rest: &str| {
        // `bar of 2/4 at 24`, `bar 2/4 at 24` and `2/4 bar at 24`.
        let bars = bar_word(rest).filter(|_| count.is_some());
        if let Some(behind) = bars.map(str::trim_start) {
            let behind = scan::after_phrase(behind, "of").unwrap_or(behind);
            let (head, place) = place::split_place(behind.trim_start());
            return Some((meter(head)?, place));
        }
        let (head, place) = place::split_place(rest);
        let (head, bars) = match head.rsplit_once(scan::is_blank) {
            Some((head, last)) if bar_word(last) == Some("") => (head, true),
            _ => (head, false),
        };
        let value = meter(head)?;
        (bars || count.is_some() && place.is_some()).then_some((value, place))
    };
    if let Some((value, place)) = of_bars(rest) {
        return Some((value, only(place, count.unwrap_or(1))?));
    }
    // `2/4 for one bar at 24`.
    if let Some((head, tail)) = text.split_once(" for ") {
        let (count, rest) = leading_count(tail.trim());
        let behind = bar_word(rest)?;
        let place = match behind.trim().is_empty() {
            true => None,
            false => Some(place::split_place(&format!("x {}", behind.trim())).1?),
        };
        return Some((meter(head)?, only(place, count?)?));
    }
    // `24 in 2/4`, `bar 24 is 2/4`.
    let (head, tail) = [" is in ", " in ", " is "]
        .iter()
        .find_map(|joint| text.split_once(joint))?;
    let point = Point::read(head.trim())?;
    Some((meter(tail)?, only(Some(Place::At(point)), 1)?))
}

/// A place that holds for so many bars and no longer; none inside where no place is said.
fn only(place: Option<Place>, bars: u32) -> Option<Option<Place>> {
    let more = bars.checked_sub(1)?;
    Some(match place {
        None => None,
        Some(Place::At(Point::Measure(first))) => Some(Place::Between(
            Point::Measure(first),
            Point::Measure(first.checked_add(more)?),
        )),
        Some(Place::At(point)) if bars == 1 => Some(Place::Between(point.clone(), point)),
        Some(Place::At(Point::Mark(name))) => Some(Place::Between(
            Point::Mark(name.clone()),
            Point::Beside(name, i32::try_from(more).ok()?),
        )),
        Some(place @ Place::Between(..)) => Some(place),
        Some(_) => return None,
    })
}

/// `one`, `a`, `a single`, `two`, `3` at the start.
fn leading_count(text: &str) -> (Option<u32>, &str) {
    for one in [
        "a single",
        "the single",
        "the one",
        "the only",
        "a lone",
        "just one",
        "only one",
        "one",
        "a",
        "an",
    ] {
        if let Some(rest) = scan::after_phrase(text, one)
            && rest.starts_with(scan::is_blank)
        {
            return (Some(1), rest.trim_start());
        }
    }
    let (word, rest) = text.split_once(scan::is_blank).unwrap_or((text, ""));
    match super::facts::keywords::counted(word)
        .ok()
        .filter(|(rest, _)| rest.is_empty())
    {
        Some((_, count)) => (Some(count), rest.trim_start()),
        None => match scan::number(word) {
            Ok(("", count)) => (Some(count), rest.trim_start()),
            _ => (None, text),
        },
    }
}

/// What stands behind `bar`, `bars`, `measure` or `measures`.
fn bar_word(text: &str) -> Option<&str> {
    ["bars", "bar", "measures", "measure"]
        .into_iter()
        .find_map(|word| scan::after_phrase(text, word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_of_another_meter_is_read() {
        for (text, shown) in [
            ("one 2/4 bar at 24", Some("2/4 at 24-24")),
            ("a bar of 2/4 at 24", Some("2/4 at 24-24")),
            ("2 bars of 3/4 at 40", Some("3/4 at 40-41")),
            ("1 bar 3/4 @ 28", Some("3/4 at 28-28")),
            ("bar 3/4 at 28", None),
            ("two 3/4 bars at B", Some("3/4 at B to 1 after B")),
            ("2/4 for one bar at 24", Some("2/4 at 24-24")),
            ("24 in 2/4", Some("2/4 at 24-24")),
            ("bar 24 is 2/4", Some("2/4 at 24-24")),
            ("one 2/4 bar", Some("2/4")),
            ("2/4 at 24", None),
            ("one zqxv 2/4 bar at 24", None),
            ("one 2/4 zqxv at 24", None),
            ("zqxv in 2/4", None),
        ] {
            let found = read(text).map(|(value, place)| match place {
                Some(place) => format!("{value} {place}"),
                None => value.to_string(),
            });
            assert_eq!(found.as_deref(), shown, "{text}");
        }
        assert_eq!(split("4/4 w one 2/4 bar at 24"), Some(3));
        assert!(read("w one 2/4 bar at 24").is_some());
        assert_eq!(split("4/4 w zqxv bar at 24"), None);
    }
}
