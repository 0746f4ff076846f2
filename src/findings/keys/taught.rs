//! Which keys a band has been taught.

use crate::catalogue::model::Ensemble;
use crate::music::{Key, Mode};

/// Whether a band plays in a key; a band that lists none is taken to.
pub(super) fn is_taught(key: Key, band: &Ensemble) -> bool {
    let is_mode = !matches!(key.mode, Mode::Major | Mode::Ionian | Mode::Minor | Mode::Aeolian);
    band.keys.is_empty()
        || band.keys.iter().any(|listed| {
            listed.value.same_as(key) || (is_mode && listed.value.signature() == key.signature())
        })
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
            assert_eq!(is_taught(Key::read(key).expect("a key"), band), taught, "{key}");
        }
        assert!(is_taught(
            Key::read("F# major").expect("a key"),
            &Ensemble::default()
        ));
    }
}
