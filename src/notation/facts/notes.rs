//! Notes without their octave: how high a part goes, what the timpani are tuned to.

use std::fmt;

use nom::Parser;
use nom::branch::alt;

use super::pitched::longest;
use super::{at_place, places_behind};
use crate::music::{Pitch, Tonic};
use crate::notation::row::Fact;
use crate::notation::scan::{self, blanks1, phrase, word};
use crate::notation::values::{Place, Point};

/// A note as directors name one, with what they say of its octave.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Note {
    /// Its letter and accidental.
    pub name: Tonic,
    /// A word for its octave, such as `low`.
    pub height: Option<&'static str>,
    /// Its octave, where that is said.
    pub octave: Option<i8>,
}

/// Words behind a note that say where it lies on the staff, each with its one form.
const LIES: [(&str, &str); 6] = [
    ("above the staff", "above the staff"),
    ("above the stave", "above the staff"),
    ("below the staff", "below the staff"),
    ("below the stave", "below the staff"),
    ("on top of the staff", "on top of the staff"),
    ("on top of the stave", "on top of the staff"),
];

/// Words for an octave, each with its one form; which octave it is hangs on the instrument.
const HEIGHTS: [(&str, &str); 13] = [
    ("throat", "throat"),
    ("top-line", "top-line"),
    ("top line", "top-line"),
    ("bottom-line", "bottom-line"),
    ("bottom line", "bottom-line"),
    ("low", "low"),
    ("bottom", "low"),
    ("middle", "middle"),
    ("staff", "staff"),
    ("stave", "staff"),
    ("high", "high"),
    ("top", "top"),
    ("written", ""),
];

impl Note {
    /// Reads `D`, `bb`, `high C`, `staff D`, `B flat`, `D5` that is all of `text`.
    pub fn read(text: &str) -> Option<Note> {
        let text = text.trim();
        if let Some(pitch) = Pitch::read(text) {
            return Some(Note::of(pitch));
        }
        let behind = LIES.iter().find_map(|(said, lies)| {
            let head = text.strip_suffix(said)?;
            head.ends_with(scan::is_blank).then_some((*lies, head.trim()))
        });
        if let Some((lies, name)) = behind {
            return Some(Note {
                name: Tonic::read(name)?,
                height: Some(lies),
                octave: None,
            });
        }
        let (height, name) = HEIGHTS
            .iter()
            .find_map(|(said, height)| {
                let rest = scan::after_phrase(text, said)?;
                rest.starts_with(scan::is_blank).then_some((*height, rest.trim()))
            })
            .unwrap_or(("", text));
        Some(Note {
            name: Tonic::read(name)?,
            height: (!height.is_empty()).then_some(height),
            octave: None,
        })
    }

    fn of(pitch: Pitch) -> Note {
        Note {
            name: Tonic::new(pitch.step, pitch.alter),
            height: None,
            octave: Some(pitch.octave),
        }
    }

    /// Whether a note at the start of a text may have a word for how high it is.
    fn may_have_a_height(text: &str) -> bool {
        let said = |(said, _): &(&str, &str)| scan::after_phrase(text, said).is_some();
        HEIGHTS.iter().any(said) || text.contains("the sta")
    }

    /// The pitch, where the octave is said.
    pub fn pitch(self) -> Option<Pitch> {
        Some(Pitch::new(self.name.step, self.name.alter, self.octave?))
    }
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lies = self.height.filter(|height| height.contains(' '));
        if let Some(height) = self.height.filter(|_| lies.is_none()) {
            write!(f, "{height} ")?;
        }
        self.name.fmt(f)?;
        if let Some(lies) = lies {
            write!(f, " {lies}")?;
        }
        self.octave.map_or(Ok(()), |octave| write!(f, "{octave}"))
    }
}

const UP: &[&str] = &[
    "goes only up to",
    "goes up to",
    "go up to",
    "only goes up to",
    "only up to",
    "only to",
    "up to",
    "as high as",
    "tops out at",
    "top note is",
    "top note",
    "highest note is",
    "highest note",
    "highest is",
    "highest",
    "never goes above",
    "never goes over",
    "never above",
    "nothing above",
    "nothing over",
    "nothing higher than",
    "no higher than",
    "doesn't go above",
    "reaches",
    "top is",
    "tops is",
    "high point is",
    "peaks at",
    "top",
];

const DOWN: [&str; 15] = [
    "goes only down to",
    "goes down to",
    "go down to",
    "only down to",
    "down to",
    "as low as",
    "lowest note is",
    "lowest note",
    "lowest is",
    "lowest",
    "never goes below",
    "never below",
    "nothing below",
    "nothing lower than",
    "no lower than",
];

/// How high or low a part goes: `up to d`, `never goes above G`, `lowest note is a low F`, `staff D to top F`.
pub fn bounds(text: &str) -> Option<(Vec<Fact>, usize)> {
    let bound = |up: bool, leads: &[&str]| {
        let rest = leads.iter().find_map(|lead| scan::after_phrase(text, lead))?;
        let (rest, _) = blanks1(rest).ok()?;
        let note = ["a ", "an ", "the "]
            .iter()
            .find_map(|article| {
                let tail = rest.strip_prefix(article)?;
                longest(tail, 6, Note::read).map(|found| (tail, found))
            })
            .or_else(|| longest(rest, 6, Note::read).map(|found| (rest, found)));
        let (tail, (note, taken)) = note?;
        let used = text.len() - tail.len() + taken;
        let (place, more) = where_it_is(text.get(used..)?);
        stands_alone(text.get(used + more..)?).then(|| (vec![Fact::Bound { up, note, place }], used + more))
    };
    bound(true, UP)
        .or_else(|| bound(false, &DOWN))
        .or_else(|| span(text))
        .or_else(|| said_behind(text))
        .or_else(|| lone(text))
}

/// Where a note is: ` at 33`, ` but only m. 70`, ` once in 14`.
fn where_it_is(text: &str) -> (Option<Place>, usize) {
    let trimmed = text.trim_start_matches(scan::is_blank);
    let led = ["but only", "but just", "only", "just", "once"]
        .iter()
        .find_map(|lead| {
            let rest = scan::after_phrase(trimmed, lead)?;
            rest.starts_with(scan::is_blank).then_some(rest)
        });
    let rest = led.unwrap_or(text);
    let bare = rest.trim_start_matches(scan::is_blank);
    let inside = scan::after_phrase(bare, "in").map(|tail| tail.trim_start_matches(scan::is_blank));
    let (mut found, mut used) = (None, 0);
    if let Some(tail) = inside.filter(|_| bare.len() < rest.len())
        && let Some((place, taken)) = longest(tail, 4, crate::notation::values::place::after_at)
    {
        (found, used) = (Some(place), text.len() - tail.len() + taken);
    }
    if found.is_none() {
        let (place, more) = at_place(rest);
        (found, used) = (place, text.len() - rest.len() + more);
    }
    // A measure that a note is in is that one alone.
    let found = found.map(|place| match (place, led.is_some() || inside.is_some()) {
        (Place::At(Point::Measure(one)), true) => Place::Between(Point::Measure(one), Point::Measure(one)),
        (place, _) => place,
    });
    // Behind one measure and a joint stands another, which is none that the part plays.
    let behind = text.get(used..).unwrap_or("").trim_start_matches(scan::is_blank);
    let more = ["and ", "& ", "+ "].iter().any(|joint| behind.starts_with(joint));
    match found {
        Some(place) if !more => (Some(place), used),
        _ => (None, 0),
    }
}

/// `E5 tops`, `C4 bottom`: which end it is stands behind the note.
pub(super) fn said_behind(text: &str) -> Option<(Vec<Fact>, usize)> {
    let end = text.find(scan::is_blank)?;
    // Only a pitch says its octave, and it does so with a figure.
    let word = text.get(..end)?.trim();
    let figure = word.ends_with(|c: char| c.is_ascii_digit());
    let note = Note::of(figure.then(|| Pitch::read(word)).flatten()?);
    let tail = text.get(end..)?.trim_start_matches(scan::is_blank);
    let ends = |words: &[&str]| words.iter().find_map(|word| scan::after_phrase(tail, word));
    let (up, rest) = match ends(&["at the top", "on top", "tops", "top", "highest", "max"]) {
        Some(rest) => (true, rest),
        None => (
            false,
            ends(&["at the bottom", "on the bottom", "bottom", "lowest"])?,
        ),
    };
    let place = None;
    Some((vec![Fact::Bound { up, note, place }], text.len() - rest.len()))
}

/// `low C in bar 9`, `high F at 96`, `G above the stave`: a note far out, where a word says on which side.
fn lone(text: &str) -> Option<(Vec<Fact>, usize)> {
    let whole = text;
    let text = ["just one ", "only one ", "one ", "a ", "1 ", "the "]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))
        .unwrap_or(text);
    let led = whole.len() - text.len();
    Note::may_have_a_height(text.trim_start()).then_some(())?;
    let (note, taken) = longest(text, 5, Note::read)?;
    let up = match note.height? {
        "high" | "top" | "above the staff" | "on top of the staff" => true,
        "low" | "below the staff" => false,
        _ => return None,
    };
    let (places, more) = where_they_are(text.get(taken..)?);
    let bound = |place| Fact::Bound { up, note, place };
    stands_alone(text.get(taken + more..)?)
        .then(|| (places.into_iter().map(bound).collect(), led + taken + more))
}

/// Where a note is: one place or none as [`where_it_is`] has it, or several measures: ` in mm. 3 and 101 only`.
fn where_they_are(text: &str) -> (Vec<Option<Place>>, usize) {
    let (place, used) = where_it_is(text);
    let trimmed = text.trim_start_matches(scan::is_blank);
    let led = ["only in", "just in", "in", "at", "only at"]
        .iter()
        .find_map(|lead| {
            let rest = scan::after_phrase(trimmed, lead)?;
            rest.starts_with(scan::is_blank)
                .then(|| rest.trim_start_matches(scan::is_blank))
        });
    let several = led.and_then(|rest| {
        // `only` behind the last measure would hide it.
        let rest = rest.trim_end();
        let rest = rest.strip_suffix(" only").unwrap_or(rest);
        let start = text.len() - trimmed.len();
        let from = text.get(start..)?.find(rest).map(|at| start + at)?;
        let (places, taken) = crate::notation::values::passages(rest)?;
        let measures = places.len() > 1 && places.iter().all(|place| place.measures().is_some());
        let used = from + taken;
        let behind = text.get(used..)?;
        let only = scan::after_phrase(behind.trim_start_matches(scan::is_blank), "only");
        let used = only
            .filter(|rest| rest.trim().is_empty())
            .map_or(used, |rest| text.len() - rest.len());
        measures.then_some((places, used))
    });
    match several.filter(|(_, more)| *more > used && trimmed.len() < text.len()) {
        Some((places, used)) => (places.into_iter().map(Some).collect(), used),
        None => (vec![place], used),
    }
}

/// Whether no place is left behind a note that nobody took: ` in mm. 3 and 101`. Its measures would be taken for those
/// that the part plays.
fn stands_alone(rest: &str) -> bool {
    let rest = rest.trim_start_matches(scan::is_blank);
    ["in ", "at ", "but ", "only ", "once "]
        .iter()
        .all(|lead| !rest.starts_with(lead))
}

/// `staff D to top F`: both ends, where a word tells that they are notes and no rehearsal marks.
fn span(text: &str) -> Option<(Vec<Fact>, usize)> {
    text.contains(" to ").then_some(())?;
    let first = text.split(scan::is_blank).next()?;
    let height = HEIGHTS.iter().any(|(said, _)| first.eq_ignore_ascii_case(said));
    (height || first.starts_with(|c: char| c.is_ascii_uppercase()) && first.len() <= 6).then_some(())?;
    let (facts, taken) = longest(text, 7, |words| {
        let (low, high) = words.split_once(" up to ").or_else(|| words.split_once(" to "))?;
        let (low, high) = (Note::read(low)?, Note::read(high)?);
        (low.height.is_some() || high.height.is_some()).then_some([(false, low), (true, high)])
    })?;
    let facts = facts.map(|(up, note)| Fact::Bound {
        up,
        note,
        place: None,
    });
    Some((facts.to_vec(), taken))
}

/// Words before a letter that make a rehearsal mark of it.
const MARK_LEADS: [&str; 14] = [
    "at",
    "letter",
    "to",
    "from",
    "by",
    "before",
    "after",
    "until",
    "till",
    "til",
    "mark",
    "rehearsal",
    "and",
    "through",
];

/// Whether the word before a letter makes a rehearsal mark of it.
pub fn leads_to_a_mark(before: &str) -> bool {
    let last = before.trim_end().rsplit(scan::is_blank).next().unwrap_or("");
    MARK_LEADS.iter().any(|lead| last.eq_ignore_ascii_case(lead))
}

/// Notes of timpani without octaves: `F and C`, `F, B-flat`, `tuned g c`; a single one where others stand beside it.
pub fn tuned(text: &str, beside_others: bool) -> Option<(Fact, usize)> {
    let lead = alt((
        phrase("tuned to"),
        phrase("tuned"),
        phrase("tune to"),
        phrase("notes"),
        phrase("in"),
    ));
    let (rest, led) = match (lead, blanks1).parse(text) {
        Ok((rest, _)) => (rest, true),
        Err(_) => (text, false),
    };
    let mut notes = Vec::new();
    let mut taken = 0;
    loop {
        let tail = rest.get(taken..)?;
        let gap = tail.len() - tail.trim_start_matches(scan::is_blank).len();
        let tail = tail.trim_start_matches(scan::is_blank);
        let joint = ["and ", "& ", "+ "]
            .iter()
            .find_map(|joint| tail.strip_prefix(joint));
        let after = if notes.is_empty() {
            tail
        } else {
            joint.unwrap_or(tail)
        };
        let after = after.trim_start_matches(scan::is_blank);
        let Some((note, used)) = longest(after, 2, Note::read) else {
            break;
        };
        if !notes.is_empty() && gap == 0 {
            break;
        }
        notes.push(note);
        taken = rest.len() - after.len() + used;
    }
    let enough = led || beside_others || notes.len() > 1;
    // Notes with their octaves are pitches.
    let pitched = notes.iter().any(|note| note.octave.is_some());
    (!notes.is_empty() && enough && !pitched).then_some(())?;
    let used = text.len() - rest.len() + taken;
    // `C to D` is a change, or from one mark to another.
    let behind = text.get(used..)?.trim_start();
    if scan::after_phrase(behind, "to").is_some() {
        return None;
    }
    let (place, more) = at_place(text.get(used..)?);
    Some((Fact::Notes(notes, place), used + more))
}

/// A drum that is tuned anew: `C to D at letter C`, `change C to D`; behind another change also `back by E`.
pub fn changed(text: &str, last: Option<(Note, Note)>) -> Option<(Fact, usize)> {
    if let Some((from, to)) = last
        && let Ok((rest, _)) = word("back").parse(text)
    {
        let rest = rest.trim_start_matches(scan::is_blank);
        let again = longest(rest, 3, |words| {
            let named = words.strip_prefix("to ").and_then(Note::read)?;
            (named.name == from.name).then_some(())
        });
        let rest = again.map_or(rest, |((), taken)| rest.get(taken..).unwrap_or("").trim_start());
        let by = ["by ", "at ", "before ", "for "]
            .iter()
            .find_map(|lead| rest.strip_prefix(lead));
        let (place, taken) = match by {
            Some(point) => {
                let (place, taken) = longest(point, 4, |words| Point::read(words).map(Place::At))?;
                (Some(place), text.len() - point.len() + taken)
            }
            None => (None, text.len() - rest.len()),
        };
        return Some((Fact::Change(to, from, place), taken));
    }
    let lead = alt((word("retunes"), word("retune"), word("changes"), word("change")));
    let (rest, led) = match (lead, blanks1).parse(text) {
        Ok((rest, _)) => (rest, true),
        Err(_) => (text, false),
    };
    // `the F goes down to E-flat`: which drum it is stands first.
    let (rest, the) = match rest.strip_prefix("the ") {
        Some(rest) => (rest, true),
        None => (rest, false),
    };
    let goes = [
        " goes down to ",
        " goes up to ",
        " goes to ",
        " drops to ",
        " moves to ",
        " changes to ",
    ];
    let went = longest(rest, 7, |words| {
        let (from, to) = goes.iter().find_map(|joint| words.split_once(joint))?;
        Some((Note::read(from)?, Note::read(to)?))
    });
    if the && went.is_none() {
        return None;
    }
    let led = led || went.is_some();
    let ((from, to), taken) = went
        .or_else(|| {
            longest(rest, 5, |words| {
                let (from, to) = words.split_once(" to ").or_else(|| words.split_once("->"))?;
                Some((Note::read(from)?, Note::read(to)?))
            })
        })
        .filter(|((from, to), _)| from.octave.is_none() || to.octave.is_none())?;
    let mut used = text.len() - rest.len() + taken;
    // `during the rest at 52-56`: that it rests there is said by its measures.
    let behind = text.get(used..)?;
    if let Some(rest) = [
        "during the rest",
        "during the rests",
        "in the rest",
        "in the rests",
    ]
    .iter()
    .find_map(|words| scan::after_phrase(behind.trim_start_matches(scan::is_blank), words))
    {
        used = text.len() - rest.len();
    }
    let (places, more) = places_behind(text.get(used..)?);
    let place: Option<Place> = places.into_iter().next();
    // Without a place `C to D` may as well go from one mark to another.
    (led || place.is_some()).then_some((Fact::Change(from, to, place), used + more))
}

/// Positions of a trombone: `1st thru 4th position only`, `nothing past 4th position`.
pub fn positions(text: &str) -> Option<(Fact, usize)> {
    let ordinal = |words: &str| match words {
        "1st" | "first" | "1" => Some(1),
        "2nd" | "second" | "2" => Some(2),
        "3rd" | "third" | "3" => Some(3),
        "4th" | "fourth" | "4" => Some(4),
        "5th" | "fifth" | "5" => Some(5),
        "6th" | "sixth" | "6" => Some(6),
        "7th" | "seventh" | "7" => Some(7),
        _ => None,
    };
    let leads = [
        "nothing past",
        "nothing beyond",
        "never past",
        "never beyond",
        "not past",
        "no further than",
        "no farther than",
        "only to",
        "up to",
        "out to",
        "stays inside",
        "stays in the first",
        "stays in first",
    ];
    let past = leads.iter().find_map(|lead| scan::after_phrase(text, lead));
    let only = scan::after_phrase(text, "only").map_or(text, str::trim_start);
    let from_first = ["1st", "first", "1", "positions", "position"]
        .iter()
        .any(|first| only.starts_with(first));
    let said = |three: &[u8]| three.eq_ignore_ascii_case(b"pos");
    if past.is_none() && !(from_first && text.as_bytes().windows(3).any(said)) {
        return None;
    }
    let (last, taken) = longest(past.map_or(only, str::trim_start), 5, |words| {
        let words = words.strip_suffix(" only").unwrap_or(words);
        let lower = words.to_lowercase();
        let (words, said) = match lower
            .strip_suffix(" positions")
            .or_else(|| lower.strip_suffix(" position"))
            .or_else(|| lower.strip_suffix(" pos."))
            .or_else(|| lower.strip_suffix(" pos"))
            .or_else(|| lower.strip_prefix("positions "))
        {
            Some(words) => (words, true),
            None => (lower.as_str(), false),
        };
        if past.is_some() {
            let figure = words.chars().all(|c| c.is_ascii_digit());
            return ordinal(words)
                .filter(|_| said || !figure)
                .filter(|last| *last > 1);
        }
        let (first, last) = ["thru", "through", "to", "-"].iter().find_map(|joint| {
            let (first, last) = words.split_once(joint)?;
            Some((ordinal(first.trim())?, ordinal(last.trim())?))
        })?;
        (said && first == 1 && last > 1).then_some(last)
    })?;
    let used = text.len() - past.map_or(only, str::trim_start).len() + taken;
    Some((Fact::Positions(last), used))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(read: Option<(Vec<Fact>, usize)>) -> Option<(String, usize)> {
        read.map(|(facts, taken)| {
            let facts: Vec<String> = facts.iter().map(Fact::to_string).collect();
            (facts.join(", "), taken)
        })
    }

    #[test]
    fn a_part_goes_so_high_and_so_low() {
        for (text, form) in [
            ("up to d", Some("up to D")),
            ("only to bb", Some("up to Bb")),
            ("never goes above G", Some("up to G")),
            ("highest note is a D", Some("up to D")),
            ("up to high C at 33", Some("up to high C at 33")),
            ("up to G5", Some("up to G5")),
            ("lowest note is low F", Some("down to low F")),
            ("down to B flat", Some("down to Bb")),
            ("stave D to top F", Some("down to staff D, up to top F")),
            ("up to Bb above the staff", Some("up to Bb above the staff")),
            ("up to zqxv", None),
            ("D to F", None),
            ("never goes above the break", None),
        ] {
            let read = shown(bounds(text));
            let wanted = form.map(|form| (form.to_owned(), text.len()));
            assert_eq!(read, wanted, "{text}");
        }
    }

    #[test]
    fn timpani_are_tuned() {
        for (text, form) in [
            ("F and C", Some("notes F C")),
            ("F and B-flat", Some("notes F Bb")),
            ("F Bb C", Some("notes F Bb C")),
            ("tuned g c", Some("notes G C")),
            ("C", None),
            ("notes F2 C3", None),
            ("C to D at 33", None),
            ("zqxv", None),
        ] {
            let read = tuned(text, false).map(|(fact, taken)| (fact.to_string(), taken));
            assert_eq!(read, form.map(|form| (form.to_owned(), text.len())), "{text}");
        }
        assert!(tuned("c", true).is_some());
        let last = Note::read("C").zip(Note::read("D"));
        for (text, form) in [
            ("C to D at letter C", Some("change C to D at C")),
            ("change C to D", Some("change C to D")),
            ("back by E", Some("change D to C at E")),
            ("back to C at 61", Some("change D to C at 61")),
            ("C to D", None),
            ("C3 to D3 at 33", None),
            ("back by zqxv 7", None),
        ] {
            let read = changed(text, last).map(|(fact, taken)| (fact.to_string(), taken));
            assert_eq!(read, form.map(|form| (form.to_owned(), text.len())), "{text}");
        }
        assert!(changed("back by E", None).is_none());
    }

    #[test]
    fn positions_are_counted() {
        for (text, form) in [
            ("1st thru 4th position only", Some("positions 1-4")),
            ("positions 1-4", Some("positions 1-4")),
            ("nothing past 4th position", Some("positions 1-4")),
            ("nothing past 4th", Some("positions 1-4")),
            ("stays in first 4 positions", Some("positions 1-4")),
            ("up to 5", None),
            ("nothing past zqxv", None),
            ("2nd to 4th position", None),
        ] {
            let read = positions(text).map(|(fact, taken)| (fact.to_string(), taken));
            assert_eq!(read, form.map(|form| (form.to_owned(), text.len())), "{text}");
        }
    }
}
