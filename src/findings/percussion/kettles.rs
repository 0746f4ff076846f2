//! Timpani notes against the drums of the band.

use crate::music::Pitch;
use crate::music::timpani::{Drum, Reach, drums_for, tune};
use crate::notation::row::{Fact, Note, RowItem};
use crate::text::Span;

/// Notes that the drums of a band do not take.
pub(super) struct Wrong {
    /// Where they stand.
    pub span: Span,
    /// What is wrong, without a full stop.
    pub says: String,
    /// Whether no published source lets a drum have them. Else they only lie beyond the fifth that a drum
    /// sounds well in.
    pub certain: bool,
}

/// What is wrong with a row's notes. `drums` are sizes in inches; where one of them is no size of a drum,
/// nothing is said. `has` begins the half sentence about them: `the Seventh Grade Band has`.
pub(super) fn wrong(row: &RowItem, drums: &[u8], has: &str) -> Option<Wrong> {
    if drums.is_empty() || drums.iter().any(|inches| Drum::of(*inches).is_none()) {
        return None;
    }
    let by = |reach: Reach| {
        row.facts
            .iter()
            .filter(|fact| fact.is_certain())
            .find_map(|fact| {
                let says = match &fact.what {
                    Fact::Pitches(pitches, _) => {
                        off(pitches, drums, reach, has).or_else(|| together(pitches, drums, reach, has))
                    }
                    Fact::Notes(notes, _) => too_many(notes, drums, has),
                    Fact::Retune(from, to, _) => off(&[*from, *to], drums, reach, has),
                    _ => None,
                };
                Some((fact.span, says?))
            })
    };
    let of = |certain| move |(span, says)| Wrong { span, says, certain };
    by(Reach::Widest)
        .map(of(true))
        .or_else(|| by(Reach::Usual).map(of(false)))
}

/// A note that no drum takes.
fn off(pitches: &[Pitch], drums: &[u8], reach: Reach, has: &str) -> Option<String> {
    let note = pitches
        .iter()
        .find(|pitch| drums_for(**pitch, drums, reach).is_empty())?;
    Some(match reach {
        Reach::Widest => format!("No drum reaches {note}: {has} {}", inches(drums)),
        Reach::Usual => format!(
            "{note} lies beyond the fifth in which a drum sounds good: {has} {}",
            inches(drums)
        ),
    })
}

/// More different notes tuned at once than there are drums, whatever their octaves.
fn too_many(notes: &[Note], drums: &[u8], has: &str) -> Option<String> {
    let mut names: Vec<String> = Vec::new();
    for note in notes {
        let name = note.to_string();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    (names.len() > drums.len()).then(|| {
        format!(
            "{} cannot be tuned at the same time: {has} {}",
            names.join(" "),
            inches(drums)
        )
    })
}

/// Notes that cannot stand tuned together.
fn together(pitches: &[Pitch], drums: &[u8], reach: Reach, has: &str) -> Option<String> {
    if tune(pitches, drums, reach).is_some() {
        return None;
    }
    let notes: Vec<String> = pitches.iter().map(Pitch::to_string).collect();
    let notes = notes.join(" ");
    Some(match reach {
        Reach::Widest => format!(
            "{notes} cannot be tuned at the same time: {has} {}",
            inches(drums)
        ),
        Reach::Usual => format!(
            "{notes} can be tuned at the same time only with a drum beyond the fifth in which it sounds good: {has} {}",
            inches(drums)
        ),
    })
}

/// `drums of 29 and 26 inches`.
fn inches(drums: &[u8]) -> String {
    let sizes: Vec<String> = drums.iter().map(u8::to_string).collect();
    match sizes.as_slice() {
        [one] => format!("one drum of {one} inches"),
        _ => format!("drums of {} inches", crate::text::sentences::joined(&sizes)),
    }
}
