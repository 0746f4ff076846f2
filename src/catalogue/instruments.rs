//! The catalogue's instruments: the standard table with the instruments of its own cards.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::{Arc, OnceLock};

use crate::music::{Clef, Family, Instrument, Instruments, Lookup, Transposition};
use crate::notation::{Kind, names};

pub use crate::music::family_names::family_named;

use super::model::{Facts, InstrumentCard};
use super::snapshot::Snapshot;

/// The standard instruments, shared.
pub fn standard() -> Arc<Instruments> {
    static STANDARD: OnceLock<Arc<Instruments>> = OnceLock::new();
    Arc::clone(STANDARD.get_or_init(|| Arc::new(Instruments::standard().clone())))
}

/// The instruments of a catalogue.
pub fn of(snapshot: &Snapshot) -> Arc<Instruments> {
    let own: Vec<(&str, &InstrumentCard)> = snapshot
        .entries()
        .filter(|(_, entry)| entry.kind == Some(Kind::Instrument))
        .filter_map(|(_, entry)| match entry.facts() {
            Facts::Instrument(card) => Some((entry.name.as_str(), card)),
            _ => None,
        })
        .collect();
    if own.is_empty() {
        return standard();
    }
    let mut all = standard().all().to_vec();
    // The first of each name is the one that a card changes.
    let mut places: HashMap<String, usize> = HashMap::new();
    for (at, known) in all.iter().enumerate() {
        places.entry(known.name.to_ascii_lowercase()).or_insert(at);
    }
    for (name, card) in own {
        let place = *places.entry(name.to_ascii_lowercase()).or_insert(all.len());
        add(&mut all, place, name, card);
    }
    Arc::new(Instruments::new(all))
}

/// Adds an instrument, or changes the standard one of that name where the card says something.
fn add(all: &mut Vec<Instrument>, place: usize, name: &str, card: &InstrumentCard) {
    let mut instrument = all.get(place).cloned().unwrap_or_else(|| Instrument {
        name: Cow::Owned(name.to_owned()),
        aliases: Vec::new(),
        abbreviations: Vec::new(),
        // An instrument that says nothing of pitch is taken for one more thing to strike or shake.
        family: if card.range.is_some() || card.sounds.is_some() {
            Family::Voice
        } else {
            Family::Accessories
        },
        clef: Clef::Treble,
        transposition: Transposition::NONE,
        full_range: None,
        is_pitched: card.range.is_some(),
        sticks: None,
        order: u16::try_from(all.len()).unwrap_or(u16::MAX),
    });
    instrument
        .aliases
        .extend(card.also.iter().map(|also| Cow::Owned(also.value.clone())));
    if let Some(family) = card.family.as_ref().map(|said| said.value) {
        instrument.family = family;
    }
    if let Some(part) = card
        .sounds
        .as_ref()
        .and_then(|said| Transposition::from_interval(said.value))
    {
        instrument.transposition = part;
    }
    if let Some(range) = &card.range {
        instrument.full_range = Some(range.value);
        instrument.is_pitched = true;
    }
    if let Some(clef) = card.reads.as_ref().map(|said| said.value) {
        instrument.clef = clef;
    }
    if let Some(sticks) = card.sticks.first() {
        instrument.sticks = Some(Cow::Owned(sticks.value.clone()));
    }
    match all.get_mut(place) {
        Some(known) => *known = instrument,
        None => all.push(instrument),
    }
}

/// The one instrument of a name, or of the name's longest end that is one (`advanced snare` is a snare).
/// The name of a grouping (`low voices`) is nobody's.
pub fn instrument_named<'i>(instruments: &'i Instruments, name: &str) -> Option<&'i Instrument> {
    let mut rest = name.trim();
    // A name is a few words; anything longer is prose.
    for _ in 0..8 {
        if names::is_group(rest) {
            return None;
        }
        match instruments.find(rest) {
            Lookup::Exact(instrument) => return Some(instrument),
            Lookup::Ambiguous(_) => return None,
            Lookup::None => rest = rest.split_once(' ')?.1.trim_start(),
        }
    }
    None
}
