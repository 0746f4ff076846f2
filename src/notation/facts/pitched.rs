//! Facts made of pitches: ranges, the notes of the timpani, retunings.

use nom::Parser;
use nom::branch::alt;

use super::at_place;
use crate::music::{Pitch, PitchRange};
use crate::notation::row::Fact;
use crate::notation::scan::{self, blanks, blanks1, phrase, word};

/// The longest stretch of words at the start of a text that `read` accepts, and how many bytes it takes.
///
/// A question mark behind it belongs to the fact and not to the words.
pub fn longest<T>(text: &str, most: usize, read: impl Fn(&str) -> Option<T>) -> Option<(T, usize)> {
    // Nobody asks for more than twelve words.
    let mut ends = [0; 12];
    let mut count = 0;
    let mut at = 0;
    while count < most.min(ends.len()) && at < text.len() {
        let start = text.len() - scan::skip_blanks(text.get(at..)?).len();
        let rest = text.get(start..)?;
        at = start + rest.find(scan::is_blank).unwrap_or(rest.len());
        if at > start {
            *ends.get_mut(count)? = at;
            count += 1;
        }
    }
    ends.get(..count)?.iter().rev().find_map(|end| {
        let end = *end;
        let words = text.get(..end)?.trim_end_matches('?');
        (!words.is_empty()).then_some(())?;
        Some((read(words)?, words.len()))
    })
}

/// A range and what belongs to it: `A3-C5`, `written A3 to C5`, `D5-C6 concert at 33`.
pub fn range(text: &str) -> Option<(Fact, usize)> {
    let led = alt((
        phrase("range"),
        phrase("written"),
        phrase("from"),
        phrase("concert"),
    ));
    let (body, lead) = match (led, blanks1).parse(text) {
        Ok((rest, (lead, _))) => (rest, lead),
        Err(_) => (text, ""),
    };
    let (range, taken) = bare_range(body)?;
    let mut used = text.len() - body.len() + taken;
    let mut concert = lead.eq_ignore_ascii_case("concert");
    let sounding = alt((word("concert"), word("sounding")));
    if let Ok((rest, _)) = (blanks, sounding).parse(text.get(used..)?) {
        (concert, used) = (true, text.len() - rest.len());
    } else if let Ok((rest, _)) = (blanks, word("written")).parse(text.get(used..)?) {
        used = text.len() - rest.len();
    }
    let (place, more) = at_place(text.get(used..)?);
    Some((
        Fact::Range {
            range,
            concert,
            place,
        },
        used + more,
    ))
}

/// Two pitches and nothing else: `A3-C5`, `A3 – C5`, `A3 to C5`.
pub fn bare_range(text: &str) -> Option<(PitchRange, usize)> {
    starts_pitch(text).then_some(())?;
    longest(text, 7, |words| {
        PitchRange::read(&words.replace(" up to ", " to "))
    })
}

/// Whether a text begins with two note letters without their octaves: `F and C`, `C to D at 33`, `F, B-flat`.
pub fn are_bare_notes(text: &str) -> bool {
    let note = |word: &str| {
        let rest = word.get(1..).unwrap_or("");
        word.starts_with(|c: char| matches!(c, 'A'..='G'))
            && matches!(rest, "" | "b" | "#" | "♭" | "♯" | "-flat" | "-sharp" | " flat")
    };
    let mut words = text.split(|c: char| scan::is_blank(c) || c == ',');
    let first = words.next().is_some_and(note);
    let joint = words.next();
    first
        && match joint {
            None => true,
            Some("and" | "&" | "to") => words.next().is_some_and(note),
            Some(word) => note(word),
        }
}

/// Whether a text may start with a pitch, so that `bass` and `clarinet` need no closer look.
fn starts_pitch(text: &str) -> bool {
    let mut chars = text.chars();
    let letter = chars.next().map(|c| c.to_ascii_uppercase());
    matches!(letter, Some('A'..='G'))
        && chars
            .next()
            .is_none_or(|c| !c.is_alphabetic() || matches!(c, 'b' | 'B' | 'f' | 's' | 'S' | 'n'))
}

/// `retune F2 to C3 at 33`.
pub fn retune(text: &str) -> Option<(Fact, usize)> {
    let lead = alt((word("retunes"), word("retuned"), word("retune"), word("change")));
    let (rest, _) = (lead, blanks1).parse(text).ok()?;
    let ((from, to), taken) = longest(rest, 5, two_pitches)?;
    let used = text.len() - rest.len() + taken;
    let (place, more) = at_place(text.get(used..)?);
    Some((Fact::Retune(from, to, place), used + more))
}

fn two_pitches(text: &str) -> Option<(Pitch, Pitch)> {
    let (from, to) = text.split_once(" to ").or_else(|| text.split_once("->"))?;
    Some((Pitch::read(from.trim())?, Pitch::read(to.trim())?))
}

/// The most words among which pitches of timpani are looked for, blanks between them included.
const MOST_PITCHES: usize = 40;

/// Pitches of timpani: `F2 Bb2`, `notes F2 and Bb2`, `tuned F2 Bb2 at 33`.
pub fn pitches(text: &str) -> Option<(Fact, usize)> {
    let lead = alt((
        phrase("notes"),
        phrase("pitches"),
        phrase("tuned to"),
        phrase("tuned"),
        phrase("tune"),
        phrase("retune to"),
        phrase("retuned to"),
    ));
    let (rest, led) = match (lead, blanks1).parse(text) {
        Ok((rest, _)) => (rest, true),
        Err(_) => (text, false),
    };
    starts_pitch(rest).then_some(())?;
    let mut pitches = Vec::new();
    let mut taken = 0;
    for word in rest.split(scan::is_blank).take(MOST_PITCHES) {
        let bare = word.trim_end_matches('?');
        let Some(pitch) = Pitch::read(bare) else {
            match word {
                "" | "and" | "&" | "+" => continue,
                _ => break,
            }
        };
        // Without a word that leads to them, only pitches with their octaves are surely pitches.
        if !led && !bare.contains(|c: char| c.is_ascii_digit()) {
            break;
        }
        pitches.push(pitch);
        taken = word.as_ptr() as usize - rest.as_ptr() as usize + bare.len();
        if bare.len() < word.len() {
            break;
        }
    }
    (!pitches.is_empty()).then_some(())?;
    let used = text.len() - rest.len() + taken;
    let (place, more) = at_place(text.get(used..)?);
    Some((Fact::Pitches(pitches, place), used + more))
}

/// Two things like pitches with a dash between them that are no range: `D-B5`, `D5-H6`.
pub fn no_range(text: &str) -> Option<(Fact, usize)> {
    let end = text.find(scan::is_blank).unwrap_or(text.len());
    let piece = text.get(..end)?.trim_end_matches('?');
    let (low, high) = piece.split_once(['-', '–', '—'])?;
    let like_pitch = |word: &str| {
        let mut chars = word.chars();
        chars
            .next()
            .is_some_and(|c| matches!(c.to_ascii_uppercase(), 'A'..='H'))
            && chars.as_str().chars().count() <= 3
            && chars.all(|c| c.is_ascii_digit() || matches!(c, 'b' | '#' | '♭' | '♯'))
    };
    let octave = piece.contains(|c: char| c.is_ascii_digit());
    (octave && like_pitch(low) && like_pitch(high)).then(|| (Fact::NoRange(piece.to_owned()), piece.len()))
}

/// `complete with 1, 3 and 5`, `complete with parts 1 and 2`.
pub fn complete_with(text: &str) -> Option<Fact> {
    let (rest, _) = (phrase("complete with"), blanks1).parse(text).ok()?;
    let rest = rest
        .strip_prefix("parts")
        .or_else(|| rest.strip_prefix("part"))
        .unwrap_or(rest);
    let numbers: Option<Vec<u32>> = rest
        .split(|c: char| c == ',' || c == '&' || scan::is_blank(c))
        .filter(|word| !word.is_empty() && *word != "and")
        .map(|word| word.parse().ok())
        .collect();
    numbers
        .filter(|numbers| !numbers.is_empty())
        .map(Fact::CompleteWith)
}
