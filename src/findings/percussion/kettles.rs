//! Timpani notes against the drums of the band.

use crate::music::Pitch;
use crate::music::timpani::{Drum, Reach, drums_for, tune};
use crate::notation::row::{Fact, RowItem};
use crate::text::Span;

/// What is wrong with a row's notes: where, and a sentence. `drums` are sizes in inches;
/// where one of them is no size of a drum, nothing is said. Notes are judged by whatever either published source allows a drum.
pub(super) fn wrong(row: &RowItem, drums: &[u8]) -> Option<(Span, String)> {
    if drums.is_empty() || drums.iter().any(|inches| Drum::of(*inches).is_none()) {
        return None;
    }
    row.facts
        .iter()
        .filter(|fact| fact.is_certain())
        .find_map(|fact| {
            let says = match &fact.what {
                Fact::Pitches(pitches, _) => off(pitches, drums).or_else(|| together(pitches, drums)),
                Fact::Retune(from, to, _) => off(&[*from, *to], drums),
                _ => None,
            };
            Some((fact.span, says?))
        })
}

/// A note that no drum takes.
fn off(pitches: &[Pitch], drums: &[u8]) -> Option<String> {
    let note = pitches
        .iter()
        .find(|pitch| drums_for(**pitch, drums, Reach::Widest).is_empty())?;
    Some(format!("No drum takes {note}: there are {}", inches(drums)))
}

/// Notes that cannot stand tuned together.
fn together(pitches: &[Pitch], drums: &[u8]) -> Option<String> {
    if tune(pitches, drums, Reach::Widest).is_some() {
        return None;
    }
    let notes: Vec<String> = pitches.iter().map(Pitch::to_string).collect();
    Some(format!(
        "{} cannot stand tuned at once: there are {}",
        notes.join(" "),
        inches(drums)
    ))
}

/// `drums of 29 and 26 inches`.
fn inches(drums: &[u8]) -> String {
    let sizes: Vec<String> = drums.iter().map(u8::to_string).collect();
    match sizes.as_slice() {
        [one] => format!("a drum of {one} inches only"),
        _ => format!("drums of {} inches", crate::text::sentences::joined(&sizes)),
    }
}
