//! Where parts of an instrument usually lie, and a range that lies an octave or a clef beside that.

use crate::catalogue::sections::part_rows;
use crate::findings::card::Card;
use crate::music::charts::{self, Chart};
use crate::music::{Instrument, PitchRange};
use crate::notation::row::{RowItem, RowName};
use crate::text::Span;

use super::off_the_instrument::off;
use super::written::{ranges, variants};

/// How far, in half steps doubled, the middle of a range must lie from the middle of the usual one: nearly an
/// octave (common practice, no source).
const FAR: i32 = 20;
/// How near an octave or another clef must bring it.
const NEAR: i32 = 12;
/// How many half steps a range must reach outside the usual one.
const OUTSIDE: i32 = 4;

/// A range beside the usual register.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Beside {
    /// The usual range.
    pub usual: PitchRange,
    /// The same range an octave away, where that fits.
    pub octave: Option<PitchRange>,
    /// The same instrument with its part in treble clef, where that fits.
    pub treble: Option<String>,
    /// Whether it lies too high.
    pub high: bool,
}

/// What is beside the register in one range of a row. A note that the instrument does not have is another
/// finding.
pub(super) fn beside(
    card: &Card<'_>,
    row: &RowItem,
    name: &RowName,
    instrument: &Instrument,
    span: Span,
    range: PitchRange,
) -> Option<Beside> {
    if off(card, row, instrument, span).is_some() {
        return None;
    }
    let part = name.numbers.and_then(|(first, _)| u8::try_from(first).ok());
    let usual = usual(&instrument.name, part)?;
    let range = range.upright();
    let away = middle(range).saturating_sub(middle(usual));
    let above = range.high.midi().saturating_sub(usual.high.midi());
    let below = usual.low.midi().saturating_sub(range.low.midi());
    if away.saturating_abs() < FAR || above.max(below) < OUTSIDE {
        return None;
    }
    let octave = octave(range, if away > 0 { -1 } else { 1 })
        .filter(|moved| middle(*moved).saturating_sub(middle(usual)).saturating_abs() <= NEAR);
    let treble = variants(card.instruments(), instrument)
        .skip(1)
        .filter(|variant| variant.name.ends_with("T.C."))
        .find(|variant| {
            let sounds = |pitch| variant.transposition.sounding(pitch);
            let read = sounds(range.low).zip(sounds(range.high));
            read.is_some_and(|(low, high)| {
                let sounding = PitchRange::new(low, high);
                middle(sounding).saturating_sub(middle(usual)).saturating_abs() <= NEAR
            })
        })
        .map(|variant| variant.name.to_string());
    // A card may say only `euphonium` of a part in treble clef, unless it has that part in a row of its own.
    let treble = match matches!(instrument.name.as_ref(), "euphonium" | "baritone") {
        true if treble.is_some() && !has_treble_row(card) => return None,
        true => None,
        false => treble,
    };
    (octave.is_some() || treble.is_some()).then_some(Beside {
        usual,
        octave,
        treble,
        high: away > 0,
    })
}

/// Whether any range at this place of a row lies beside the register.
pub(super) fn is_beside(
    card: &Card<'_>,
    row: &RowItem,
    name: &RowName,
    instrument: &Instrument,
    span: Span,
) -> bool {
    ranges(row, instrument)
        .filter(|(at, _)| *at == span)
        .any(|(at, range)| beside(card, row, name, instrument, at, range).is_some())
}

/// Whether a row of the card is for a euphonium or baritone in treble clef.
fn has_treble_row(card: &Card<'_>) -> bool {
    card.piece().is_some_and(|piece| {
        part_rows(piece).flat_map(|row| &row.names).any(|name| {
            card.instrument(&name.text)
                .is_some_and(|found| matches!(found.name.as_ref(), "euphonium T.C." | "baritone T.C."))
        })
    })
}

/// Where parts of grade 3 lie: from memory, the widest that the charts have for school bands.
fn usual(instrument: &str, part: Option<u8>) -> Option<PitchRange> {
    let of = |part| charts::by_chart(Chart::FromMemory, instrument, part, 30);
    of(part).or_else(|| of(Some(1)))?.range()
}

/// The middle of a range in half steps, doubled.
fn middle(range: PitchRange) -> i32 {
    range.low.midi().saturating_add(range.high.midi())
}

fn octave(range: PitchRange, by: i8) -> Option<PitchRange> {
    let moved = |pitch: crate::music::Pitch| {
        Some(crate::music::Pitch::new(
            pitch.step,
            pitch.alter,
            pitch.octave.checked_add(by)?,
        ))
    };
    Some(PitchRange::new(moved(range.low)?, moved(range.high)?))
}
