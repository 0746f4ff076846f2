//! What the sections of a band read when the band sounds in a concert key or signature.

use crate::catalogue::model::Ensemble;
use crate::findings::card::Card;
use crate::music::{Signature, Transposition};

/// The instruments of a band that read other notes than they sound, by how many sharps their parts
/// add, the fewest first. Instruments that nobody knows are left out.
pub(super) fn transposing(card: &Card<'_>, band: &Ensemble) -> Vec<(Transposition, Vec<String>)> {
    let mut groups: Vec<(Transposition, Vec<String>)> = Vec::new();
    for row in &band.players {
        let Some(instrument) = card.instrument(&row.name) else {
            continue;
        };
        if !instrument.is_pitched || instrument.transposition.sharps_added() == 0 {
            continue;
        }
        let added = instrument.transposition.sharps_added();
        let name = instrument.name.to_string();
        match groups.iter_mut().find(|(group, _)| group.sharps_added() == added) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => groups.push((instrument.transposition, vec![name])),
        }
    }
    groups.sort_by_key(|(group, _)| group.sharps_added());
    groups
}

/// A signature in a sentence: `2 flats`, `no sharps or flats`.
pub(super) fn signed(signature: Signature) -> String {
    match signature {
        Signature::NONE => "no sharps or flats".to_owned(),
        _ => signature.to_string(),
    }
}
