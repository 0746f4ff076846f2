//! The written ranges of a row, and the variants of an instrument that its part may be for.

pub(in crate::findings) use crate::catalogue::high_brass::ranges;
use crate::music::{Instrument, Instruments};

/// The instrument, and its variants in the other clef: a card may say only `euphonium` of a part in treble
/// clef.
pub(super) fn variants<'i>(
    instruments: &'i Instruments,
    instrument: &'i Instrument,
) -> impl Iterator<Item = &'i Instrument> {
    let others = ["T.C.", "B.C."].into_iter().filter_map(move |clef| {
        let name = format!("{} {clef}", instrument.name);
        instruments.find(&name).exact()
    });
    std::iter::once(instrument).chain(others)
}

/// Lowest notes below the full range of the table that some instruments of the kind have: a B foot, a low A
/// key, an attachment, a fourth valve, pedal notes (common practice, no source).
const LOWER: [(&str, &str); 20] = [
    ("piccolo", "C4"),
    ("flute", "B3"),
    ("alto clarinet", "Eb3"),
    ("bass clarinet", "C3"),
    ("contra-alto clarinet", "C3"),
    ("contrabass clarinet", "C3"),
    ("baritone sax", "A3"),
    ("horn", "C2"),
    ("Eb horn", "F#3"),
    ("trombone", "E1"),
    ("trombone T.C.", "F#2"),
    ("bass trombone", "C1"),
    ("baritone", "Bb1"),
    ("baritone T.C.", "C3"),
    ("euphonium", "E1"),
    ("euphonium T.C.", "F#2"),
    ("bass sax", "A3"),
    ("tuba", "A0"),
    ("string bass", "C2"),
    ("bass guitar", "B1"),
];

/// The lowest written note that any instrument of the kind has.
pub(super) fn lowest(instrument: &Instrument) -> Option<crate::music::Pitch> {
    let usual = instrument.full_range?.upright().low;
    let lower = LOWER
        .iter()
        .find(|(name, _)| *name == instrument.name)
        .and_then(|(_, note)| crate::music::Pitch::read(note));
    Some(lower.unwrap_or(usual))
}
