//! Stages that lean on the one before: `then 1 sharp thereafter`, `three flats, four for the trio`.

use crate::music::{Signature, SignatureSaid};
use crate::text::Span;

use super::build::trim_span;
use super::heard::Ear;
use super::items::Item;
use super::of::Of;
use super::values::conventional::is_plain;
use super::values::{self, Place, Point, Value, number_in_words, place};

/// A stage without words at its end that say what it says without them: it stays so from there on. Where the stage
/// before says until when it holds, that is told once more.
pub fn without_tail(ear: &mut Ear, masked: &str, part: Span, after: bool) -> Span {
    const STAYS: [&str; 7] = [
        " n stays there",
        " and stays there",
        " & stays there",
        " and stays that way",
        " from there on",
        " from then on",
        " to stay",
    ];
    const AFTER: [&str; 7] = [
        " thereafter",
        " after that",
        " after",
        " from there",
        " afterward",
        " afterwards",
        " the rest of the way",
    ];
    let text = part.slice(masked);
    let known = AFTER.iter().filter(|_| after);
    let head = STAYS.iter().chain(known).find_map(|tail| text.strip_suffix(tail));
    match head {
        Some(head) => {
            let head = trim_span(masked, Span::long(part.start, head.len() as u32));
            ear.hear(Span::new(head.end, part.end));
            head
        }
        None => part,
    }
}

/// The flats and the sharps in the order in which they are added.
const FLATS: [&str; 7] = ["bb", "eb", "ab", "db", "gb", "cb", "fb"];
const SHARPS: [&str; 7] = ["f#", "c#", "g#", "d#", "a#", "e#", "b#"];

/// `four for the trio` behind three flats, `add Ab at 41-56` behind two: what it says with the stage before.
pub fn goes_on(text: &str, before: Option<&Item>) -> Option<(Value, Option<Place>)> {
    let Some(Value::Signature(SignatureSaid::Signs(signs))) = before.and_then(|item| item.value.as_ref())
    else {
        return None;
    };
    let fifths = signs.fifths();
    let side = fifths.signum();
    (side != 0).then_some(())?;
    let (said, place) = place::split_place(text);
    let said = said.trim().to_lowercase();
    let now = match said.strip_prefix("add ").or_else(|| said.strip_prefix("adds ")) {
        // The next one alone: any other is an accidental.
        Some(note) => {
            let order = if side < 0 { FLATS } else { SHARPS };
            let note = note
                .replace("-flat", "b")
                .replace(" flat", "b")
                .replace("-sharp", "#");
            let next = usize::try_from(fifths.abs()).ok()?;
            (order.get(next) == Some(&note.as_str())).then_some(fifths + side)?
        }
        None => {
            let count = i32::try_from(number_in_words(&said)?).ok()?;
            (1..=7).contains(&count).then_some(count * side)?
        }
    };
    // A number alone, without a place, may be anything.
    place.as_ref()?;
    Some((
        Value::Signature(SignatureSaid::Signs(Signature::new(now)?)),
        place,
    ))
}

/// `then straight through`, `then on to the end`: to go on behind a step is what everybody does anyway.
pub fn only_goes_on(text: &str) -> bool {
    let text = text.strip_prefix("and ").unwrap_or(text);
    let text = text.strip_prefix("then ").unwrap_or(text).trim();
    [
        "straight through",
        "straight thru",
        "straight on",
        "on",
        "on to the end",
        "straight to the end",
        "to the end",
        "same both times",
        "same each time",
        "the same both times",
        "the same each time",
        "no repeats on the D.S.",
        "no repeats on the DS",
        "no repeats on the D.C.",
        "no repeats on the DC",
        "no repeats on the da capo",
        "no repeats on the dal segno",
        "no repeats after the D.S.",
        "no repeats after the D.C.",
    ]
    .iter()
    .any(|said| text.eq_ignore_ascii_case(said))
}

/// `second 18` behind a first ending is the second ending.
pub fn another_ending(text: &str, before: Option<&Item>) -> Option<Value> {
    let Some(Value::Road(step)) = before.and_then(|item| item.value.as_ref()) else {
        return None;
    };
    step.to_string().contains("ending").then_some(())?;
    let (which, rest) = text.split_once(' ')?;
    let ordinal = ["second", "2nd", "third", "3rd", "fourth", "4th"]
        .iter()
        .find(|known| which.eq_ignore_ascii_case(known))?;
    let figure = rest
        .trim_start()
        .trim_start_matches("at ")
        .starts_with(|c: char| c.is_ascii_digit());
    figure.then(|| values::read(Of::Road, &format!("{ordinal} ending {rest}")))?
}

/// Places behind which a piece has no more.
const LAST: [&str; 14] = [
    "trio",
    "coda",
    "codetta",
    "tag",
    "outro",
    "stinger",
    "ending",
    "fine",
    "final strain",
    "final chorus",
    "last strain",
    "last chorus",
    "last verse",
    "grandioso",
];

/// Whether a stage is said to hold in a place that has an end, `in the middle section`, of which nobody says where
/// it ends.
pub fn ends_nowhere(text: &str, place: Option<&Place>) -> bool {
    let Some(Place::At(Point::Mark(name))) = place else {
        return false;
    };
    let lower = text.to_lowercase();
    let led = [" at ", "at ", "from ", " from ", "@"]
        .iter()
        .any(|lead| lower.contains(lead));
    let last = LAST.contains(&name.to_lowercase().as_str());
    !led && !last && is_plain(name) && name.chars().count() > 2
}

#[cfg(test)]
mod tests {
    use crate::notation::read;

    /// The items of a piece's line in the one form, and what is told.
    fn said(line: &str) -> (Vec<String>, Vec<String>) {
        let text = format!("piece \"Air\"\n  {line}\n");
        let reading = read(&text);
        let items = reading
            .fields
            .first()
            .map(|field| field.items().to_vec())
            .unwrap_or_default();
        let told = reading
            .unheard
            .iter()
            .map(|left| left.span.slice(&text).to_owned());
        (
            items.iter().filter_map(|item| item.one_form()).collect(),
            told.collect(),
        )
    }

    #[test]
    fn stages_lean_on_the_one_before() {
        for (line, items) in [
            (
                "key signature two flats through m. 56, three flats thereafter",
                &["2 flats", "3 flats at 57"][..],
            ),
            (
                "key signature three flats, four for the trio",
                &["3 flats", "4 flats at trio"],
            ),
            (
                "key signature 2 flats, add Ab 41-56",
                &["2 flats", "3 flats at 41-56"],
            ),
            (
                "key signature 3 flats all the way, no changes",
                &["3 flats throughout"],
            ),
            (
                "meter 3/4, goes 6/8 at 50 n stays there",
                &["3/4", "then 6/8 at 50"],
            ),
            (
                "meter cut time, 3/2 in the last four bars",
                &["cut", "3/2 at last 4 measures"],
            ),
            (
                "meter 6/8 in 2, one bar of 9/8 before the coda",
                &["6/8 in 2", "9/8 at 1 before coda to 1 before coda"],
            ),
            (
                "tempo quarter = 138ish, from 50 dotted quarter = 92",
                &["about quarter = 138", "dotted quarter = 92 at 50"],
            ),
        ] {
            assert_eq!(
                said(line),
                (items.iter().map(|item| (*item).to_owned()).collect(), Vec::new()),
                "{line}"
            );
        }
    }

    #[test]
    fn what_ends_nobody_knows_where_is_told() {
        for line in [
            "key signature two flats, one sharp in the middle bit",
            "key signature 2 flats, add F# 41-56",
            "key signature 2 flats, add Db 41-56",
            "key signature three flats, four",
            "key signature none, four for the trio",
            "tempo 104, slow part about 60",
        ] {
            assert!(!said(line).1.is_empty(), "{line}");
        }
    }
}
