//! Which keys a band has been taught.

pub(super) use crate::catalogue::keys::is_taught;
use crate::catalogue::model::Ensemble;

/// Whether a band's card says nothing of the keys or signatures that its players read.
pub(super) fn lists_nothing(band: &Ensemble) -> bool {
    band.keys.is_empty() && band.signatures.is_none()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Entry;
    use crate::music::Key;

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
