//! Which keys a band has been taught.

use jiff::civil::Date;

use crate::catalogue::model::Ensemble;
use crate::music::{Key, Mode};
use crate::notation::values::Day;

use super::signature_not_taught::reads;

/// Whether a band plays in a key on a day; a band that lists none is taken to. A key that it is learning is taught
/// from the day by which it has it; where that day is not said, or nobody knows when the piece is played, it is taken
/// to be in time.
pub(super) fn is_taught(key: Key, band: &Ensemble, day: Option<Date>) -> bool {
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

/// Whether a band's card says nothing of the keys or signatures that its players read.
pub(super) fn lists_nothing(band: &Ensemble) -> bool {
    band.keys.is_empty() && band.signatures.is_none()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Entry;

    #[test]
    fn a_mode_is_taught_with_its_signature_and_a_key_only_by_name() {
        let entry = Entry::read("ensemble \"A\"\n  keys Bb major, D dorian\n".into());
        let band = entry.ensemble().expect("an ensemble");
        for (key, taught) in [
            ("Bb major", true),
            ("Bb ionian", true),
            ("G minor", false),
            ("C dorian", true),
            ("F mixolydian", true),
            ("D dorian", true),
            ("C major", false),
            ("D minor", false),
        ] {
            assert_eq!(
                is_taught(Key::read(key).expect("a key"), band, None),
                taught,
                "{key}"
            );
        }
        let limited =
            Entry::read("ensemble \"A\"\n  keys Bb major, G major, signatures up to 3 flats\n".into());
        let limited = limited.ensemble().expect("an ensemble");
        for (key, taught) in [
            ("C minor", true),
            ("F major", true),
            ("Ab major", false),
            ("G major", true),
            ("D major", false),
        ] {
            assert_eq!(
                is_taught(Key::read(key).expect("a key"), limited, None),
                taught,
                "{key}"
            );
        }
        assert!(is_taught(
            Key::read("F# major").expect("a key"),
            &Ensemble::default(),
            None
        ));
    }
}
