//! The percussion that a band owns or borrows.

use crate::music::groups::Group;
use crate::music::instruments::key;
use crate::music::{Instrument, Instruments, Lookup};
use crate::notation::names::is_group;
use crate::notation::values::Equipment;

use super::instruments::instrument_named;
use super::model::{Concert, Ensemble, Handbook};

/// What a drum set holds besides its name (common practice, no source).
const IN_A_SET: [&str; 9] = [
    "snare",
    "bass drum",
    "tom-toms",
    "hi-hat",
    "ride cymbal",
    "splash cymbal",
    "China cymbal",
    "suspended cymbal",
    "crash cymbals",
];

/// Instruments that school bands take for one another without a thought (common practice, no source).
const ALIKE: [(&str, &str); 2] = [("tam-tam", "gong"), ("gong", "tam-tam")];

/// What there is to play on: what all bands of the school share, what these bands own and borrow, and what is
/// borrowed for a concert. None where no card says what is owned.
pub fn things<'s>(
    handbook: Option<&'s Handbook>,
    bands: &[&'s Ensemble],
    concert: Option<&'s Concert>,
) -> Option<Vec<&'s Equipment>> {
    let shared = handbook.map_or(&[][..], |handbook| &handbook.owns);
    if shared.is_empty() && bands.iter().all(|band| band.owns.is_empty()) {
        return None;
    }
    let own = bands
        .iter()
        .flat_map(|band| band.owns.iter().chain(&band.borrowed));
    let borrowed = concert.into_iter().flat_map(|concert| &concert.borrowed);
    Some(
        shared
            .iter()
            .chain(own)
            .chain(borrowed)
            .map(|said| &said.value)
            .collect(),
    )
}

/// Whether something owned or borrowed is, or holds, this instrument.
pub fn holds(equipment: &Equipment, wanted: &Instrument, instruments: &Instruments) -> bool {
    let name = equipment.name.as_str();
    if key(name) == key(&wanted.name) {
        return true;
    }
    if is_group(name) {
        return Group::read(name).is_some_and(|group| group.holds(wanted));
    }
    let alike = |own: &Instrument| {
        own.name == wanted.name
            || ALIKE.contains(&(own.name.as_ref(), wanted.name.as_ref()))
            || (own.name == "drum set" && IN_A_SET.contains(&wanted.name.as_ref()))
    };
    match instruments.find(name) {
        Lookup::Exact(own) => alike(own),
        // `cymbals` in the cupboard are whichever the piece asks for.
        Lookup::Ambiguous(several) => several.into_iter().any(alike),
        Lookup::None => {
            let perhaps = equipment
                .perhaps
                .as_deref()
                .and_then(|name| instruments.find(name).exact());
            instrument_named(instruments, name).or(perhaps).is_some_and(alike)
        }
    }
}

/// The instruments that a name may stand for: one, several, or none where it is a household object or a
/// grouping.
pub fn meant<'i>(instruments: &'i Instruments, name: &str) -> Vec<&'i Instrument> {
    if is_group(name) {
        return Vec::new();
    }
    match instruments.find(name) {
        Lookup::Exact(one) => vec![one],
        Lookup::Ambiguous(several) => several,
        Lookup::None => instrument_named(instruments, name).into_iter().collect(),
    }
}

/// The sizes of all timpani among the things, in inches; empty where no size is known.
pub fn timpani<'e>(things: impl Iterator<Item = &'e Equipment>, instruments: &Instruments) -> Vec<u8> {
    let Some(timpani) = instruments.find("timpani").exact() else {
        return Vec::new();
    };
    things
        .filter(|thing| holds(thing, timpani, instruments))
        .flat_map(|thing| &thing.sizes)
        .filter_map(|size| u8::try_from(*size).ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_in_it() {
        let table = [
            ("bells", "glockenspiel", true),
            ("bells", "chimes", false),
            ("cymbals", "crash cymbals", true),
            ("accessories", "triangle", true),
            ("accessories", "xylophone", false),
            ("mallets", "xylophone", true),
            ("drum set", "hi-hat", true),
            ("gong", "tam-tam", true),
            ("near bells", "glockenspiel", true),
            ("near bells", "chimes", false),
            ("timp. 29 and 26", "timpani", true),
            ("S.D.", "snare", true),
        ];
        let instruments = Instruments::standard();
        for (own, wanted, is) in table {
            let found = Equipment::read(own)
                .zip(instruments.find(wanted).exact())
                .map(|(own, wanted)| holds(&own, wanted, instruments));
            assert_eq!(found, Some(is), "{own}: {wanted}");
        }
    }
}
