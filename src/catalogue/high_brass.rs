//! How far up a piece takes the brass of a band.

use crate::music::{Instrument, Pitch, PitchRange};
use crate::notation::names::cut_number;
use crate::notation::row::{Fact, RowItem};
use crate::notation::values::Ends;
use crate::text::Span;

use super::conditions::Subject;
use super::model::Ensemble;
use super::sections::{is_optional, part_rows};
use super::{Snapshot, instrument_named};

/// How many sections of brass must be tired at once. A good piece takes one or two of them to the top, so fewer
/// proves nothing. From memory, no source.
pub const SECTIONS: usize = 3;

/// The certain ranges of a row, in the written pitch of `instrument`, with their places. Which of the notes of a
/// range that stands backwards is meant, nobody knows; that is told by its own rule.
pub fn ranges<'r>(
    row: &'r RowItem,
    instrument: &'r Instrument,
) -> impl Iterator<Item = (Span, PitchRange)> + 'r {
    row.facts
        .iter()
        .filter(|fact| fact.is_certain())
        .filter_map(|fact| match &fact.what {
            Fact::Range { range, .. } if range.is_upside_down() => None,
            Fact::Range { range, concert, .. } => {
                let range = match concert {
                    false => *range,
                    true => PitchRange::new(
                        instrument.transposition.written(range.low)?,
                        instrument.transposition.written(range.high)?,
                    ),
                };
                Some((fact.span, range))
            }
            // A highest or lowest note is at least in the part.
            Fact::Bound { note, .. } => {
                let pitch = note.pitch()?;
                Some((fact.span, PitchRange::new(pitch, pitch)))
            }
            _ => None,
        })
}

/// The brass sections that a piece takes to the top of what the band's card says they have: all of those whose
/// range it gives, [`SECTIONS`] or more; none where one of them stays below.
pub fn all_at_the_top(snapshot: &Snapshot, subject: &Subject<'_>, band: &Ensemble) -> Option<Vec<String>> {
    let tops = tops(snapshot, band);
    let reaches = |section: &str, top: Pitch| {
        high(snapshot, subject, section).is_some_and(|note| note.midi() >= top.midi())
    };
    let all = tops.len() >= SECTIONS && tops.iter().all(|(section, top)| reaches(section, *top));
    all.then(|| tops.into_iter().map(|(section, _)| section).collect())
}

/// The brass sections of a band, each with the top of its range.
fn tops(snapshot: &Snapshot, band: &Ensemble) -> Vec<(String, Pitch)> {
    let mut tops: Vec<(String, Pitch)> = Vec::new();
    for said in band.ranges.iter().filter(|said| said.is_certain()) {
        if said.value.ends == Ends::Low {
            continue;
        }
        let name = cut_number(&said.value.name, true).words;
        let instrument = instrument_named(snapshot.instruments(), name);
        let Some(instrument) = instrument.filter(|found| found.family.is_brass()) else {
            continue;
        };
        let top = said.value.range.upright().high;
        match tops.iter_mut().find(|(name, _)| *name == instrument.name) {
            Some((_, known)) if known.midi() >= top.midi() => {}
            Some((_, known)) => *known = top,
            None => tops.push((instrument.name.to_string(), top)),
        }
    }
    tops
}

/// The highest certain note of a section in the parts of a piece that has to be played.
fn high(snapshot: &Snapshot, subject: &Subject<'_>, section: &str) -> Option<Pitch> {
    let mut high: Option<Pitch> = None;
    for row in part_rows(subject.piece).filter(|row| !is_optional(row)) {
        for name in &row.names {
            let found = instrument_named(snapshot.instruments(), &name.text);
            let Some(instrument) = found.filter(|found| found.name == section) else {
                continue;
            };
            for (_, range) in ranges(row, instrument) {
                if high.is_none_or(|known| known.midi() < range.high.midi()) {
                    high = Some(range.high);
                }
            }
        }
    }
    high
}
