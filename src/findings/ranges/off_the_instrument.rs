//! A range that the instrument does not have.

use crate::catalogue::sections::part_rows;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::{Instrument, Pitch, PitchRange};
use crate::rule;
use crate::text::{Edit, Span};

use super::written::{lowest, ranges, variants};

/// How far above the full range a note must lie to be off the instrument, in semitones: tops are soft, and
/// handbooks differ by a tone or two (from memory).
const CLEARLY: i32 = 3;

/// The widest range that a part may have after its note is moved: two octaves, in semitones (common practice,
/// no source).
const WIDEST: i32 = 24;

rule! {
    /// A range with a note that the instrument does not have: below its lowest, or clearly above its
    /// highest, written pitch.
    ///
    /// # Why it matters
    ///
    /// The range was copied wrong, often by an octave, and everything that is judged by it is wrong too.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Where the Heron Stands"
    ///   parts
    ///     clarinet 2      D3-A4
    ///                     ^^^^^
    ///     tuba            Ab1-Bb4
    ///                     ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Highest notes are soft, some instruments go lower than most, and a concert range is not the written
    /// one.
    ///
    /// ```levare
    /// piece "Where the Heron Stands"
    ///   parts
    ///     clarinet 2      E3-A4
    ///     bass clarinet   D2-G4 concert
    ///     baritone sax    A3-D5
    ///     euphonium       C4-G5
    ///     tuba            F1-F#4
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the part. Fix the octave, or write `concert` after a range in concert pitch.
    OffTheInstrument: "off the instrument", Ranges, Warning, reads Catalogue, looks at Parts
}

/// A note that the instrument does not have.
pub struct Off {
    instrument: String,
    note: Pitch,
    limit: Pitch,
    low: bool,
    /// Whether it is brass, where pedal notes have no clear end.
    brass: bool,
    /// The same note in the octave that fits, where one does.
    octave: Option<Pitch>,
}

impl Notice for OffTheInstrument {
    type What = Off;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Off>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found: Vec<Noticed<Off>> = Vec::new();
        for row in part_rows(piece) {
            for name in &row.names {
                let Some(instrument) = card.instrument(&name.text) else {
                    continue;
                };
                for (span, _) in ranges(row, instrument) {
                    let told = found.iter().any(|noticed| noticed.span == span);
                    let off = off(card, row, instrument, span);
                    found.extend(off.filter(|_| !told).map(|off| Noticed::new(span, off)));
                }
            }
        }
        found
    }

    fn say(what: &Off, _card: &Card<'_>) -> Saying {
        let (way, end) = if what.low {
            ("below", "lowest")
        } else {
            ("above", "highest")
        };
        Saying {
            place: what.instrument.clone(),
            says: format!(
                "{} is {way} the {}: its {end} written note is {}{}.",
                what.note,
                what.instrument,
                if what.low { "" } else { "about " },
                what.limit
            ),
            why: match what.low && !what.brass {
                true => "Nobody can play that note, so the range was probably copied wrong, and the piece is judged by it.",
                false => "Hardly anybody in a school band plays that note, so the range was probably copied wrong, and the piece is judged by it.",
            }
            .to_owned(),
            todo: match what.octave {
                Some(octave) => format!("Look at the part: it is probably {octave}, or the range is in concert pitch."),
                None => "Look at the part: the range may be in concert pitch, or in another clef.".to_owned(),
            },
        }
    }

    fn repairs(noticed: &Noticed<Off>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let Some(octave) = what.octave else {
            return Vec::new();
        };
        let words = card.words(noticed.span);
        let written = what.note.to_string();
        let at = match what.low {
            true => words.find(&written),
            false => words.rfind(&written),
        };
        at.and_then(|at| u32::try_from(at).ok())
            .map(|at| {
                let start = noticed.span.start.saturating_add(at);
                let span = Span::long(start, u32::try_from(written.len()).unwrap_or(0));
                Repair::to_decide(
                    format!("Write {octave}"),
                    vec![Edit::replace(span, octave.to_string())],
                )
            })
            .into_iter()
            .collect()
    }
}

/// What is off in a range, unless a variant of the instrument has it.
pub(super) fn off(
    card: &Card<'_>,
    row: &crate::notation::row::RowItem,
    instrument: &Instrument,
    span: Span,
) -> Option<Off> {
    let mut first = None;
    for variant in variants(card.instruments(), instrument) {
        let (_, range) = ranges(row, variant).find(|(at, _)| *at == span)?;
        let found = off_one(variant, range)?;
        first.get_or_insert(found);
    }
    first
}

fn off_one(instrument: &Instrument, range: PitchRange) -> Option<Off> {
    let full = instrument.full_range?.upright();
    let lowest = lowest(instrument)?;
    let below = range.low.midi() < lowest.midi();
    let above = range.high.midi() >= full.high.midi().saturating_add(CLEARLY);
    if !below && !above {
        return None;
    }
    let (note, limit) = match below {
        true => (range.low, lowest),
        false => (range.high, full.high),
    };
    // An octave slips; two do not.
    let moved = || {
        let by = if below { 1 } else { -1 };
        Some(Pitch::new(note.step, note.alter, note.octave.checked_add(by)?))
    };
    let span = |moved: Pitch| match below {
        true => range.high.midi().saturating_sub(moved.midi()),
        false => moved.midi().saturating_sub(range.low.midi()),
    };
    let fits =
        |moved: &Pitch| (lowest.midi()..=full.high.midi()).contains(&moved.midi()) && span(*moved) >= 0;
    let octave = moved().filter(fits).filter(|moved| span(*moved) <= WIDEST);
    Some(Off {
        instrument: instrument.name.to_string(),
        note,
        limit,
        low: below,
        brass: instrument.family.is_brass(),
        octave,
    })
}
