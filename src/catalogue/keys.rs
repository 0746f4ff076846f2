//! Which keys and signatures a band has been taught.

use jiff::civil::Date;

use crate::music::{Key, Mode, Signature};
use crate::notation::values::{Day, Signatures};

use super::model::Ensemble;

/// Whether a band plays in a key on a day; a band that lists none is taken to. A key that it is learning is taught
/// from the day by which it has it; where that day is not said, or nobody knows when the piece is played, it is taken
/// to be in time.
pub fn is_taught(key: Key, band: &Ensemble, day: Option<Date>) -> bool {
    let soon = band.keys_soon.iter().any(|said| {
        let in_time = day
            .zip(said.value.by.and_then(Day::last))
            .is_none_or(|(day, by)| by <= day);
        in_time && said.value.key.key().is_some_and(|learned| learned.same_as(key))
    });
    let is_mode = !matches!(key.mode, Mode::Major | Mode::Ionian | Mode::Minor | Mode::Aeolian);
    let within = band.signatures.as_ref().is_some_and(|said| {
        key.signature().is_some_and(|signature| {
            let limit = said.value;
            let is_said = (signature.flats() == 0 || limit.flats.is_some())
                && (signature.sharps() == 0 || limit.sharps.is_some());
            is_said && reads(limit, signature)
        })
    });
    band.keys.is_empty()
        || within
        || soon
        || band.keys.iter().any(|listed| {
            listed.value.same_as(key) || (is_mode && listed.value.signature() == key.signature())
        })
}

/// Whether a signature is within a limit; a side of which nothing is said holds everything.
pub fn reads(limit: Signatures, signature: Signature) -> bool {
    let within = |number: u32, most: Option<u32>| most.is_none_or(|most| number <= most);
    within(signature.flats(), limit.flats) && within(signature.sharps(), limit.sharps)
}
