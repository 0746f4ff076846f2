//! Keys in the parts, signatures and modes.

use levare::music::{Key, Mode, Signature};

use super::instrument;

fn key(name: &str) -> Key {
    Key::read(name).unwrap_or_else(|| panic!("{name} is no key"))
}

/// Each row: the key of one part, the instrument that reads it, the instrument that is to play the same
/// sound, and the key it reads. "concert" is the sound itself.
#[test]
fn worked_examples() {
    let table = [
        // conductit.eu, transposition lesson.
        ("C minor", "concert", "clarinet", "D minor"),
        // G. Yefchak, transposition tutorial (South Bay Philharmonic).
        ("G major", "oboe", "clarinet", "A major"),
        // S. Seebeck (2019): a whole step up, not down.
        ("A major", "horn", "alto sax", "B major"),
        // Concert-key table of a music-theory primer, ch. 18 (issuhub 6011).
        ("C major", "concert", "trumpet", "D major"),
        ("C major", "concert", "alto sax", "A major"),
        ("C major", "concert", "horn", "G major"),
    ];
    for (said, reads, plays, wanted) in table {
        let concert = match reads {
            "concert" => key(said),
            name => {
                let part = instrument(name).transposition;
                let signature = key(said).signature().expect("a signature");
                signature.concert(part).key(key(said).mode)
            }
        };
        let written = concert.written(instrument(plays).transposition);
        assert_eq!(written, key(wanted), "{said} {reads} {plays}");
    }
}

/// B-flat adds two sharps, E-flat three, F one ("Summary of common instruments by clef", scribd 472626901);
/// A, G and the rest worked out by the circle of fifths.
#[test]
fn sharps_added() {
    for (names, sharps) in [
        (
            "clarinet, trumpet, cornet, flugelhorn, tenor sax, soprano sax, bass clarinet, baritone T.C.",
            2,
        ),
        (
            "Eb clarinet, alto sax, baritone sax, alto clarinet, contra-alto clarinet, Eb horn",
            3,
        ),
        ("horn, English horn, mellophone", 1),
        ("A clarinet", -3),
        ("alto flute", -1),
        (
            "flute, oboe, bassoon, trombone, euphonium, tuba, string bass, piccolo, bells, xylophone",
            0,
        ),
    ] {
        for name in names.split(", ") {
            assert_eq!(instrument(name).transposition.sharps_added(), sharps, "{name}");
        }
    }
}

/// Concert majors and what instruments in B-flat, E-flat and F read: the primer of issuhub 6011 for the row
/// of C, the others by the rule above. Beyond seven signs the respelling is compulsory, for the other cannot
/// be printed; concert E stays in sharps here, where the primer prints both spellings.
#[test]
fn the_whole_table() {
    let table = [
        ("Cb", "Db", "Ab", "Gb"),
        ("Gb", "Ab", "Eb", "Db"),
        ("Db", "Eb", "Bb", "Ab"),
        ("Ab", "Bb", "F", "Eb"),
        ("Eb", "F", "C", "Bb"),
        ("Bb", "C", "G", "F"),
        ("F", "G", "D", "C"),
        ("C", "D", "A", "G"),
        ("G", "A", "E", "D"),
        ("D", "E", "B", "A"),
        ("A", "B", "F#", "E"),
        ("E", "F#", "C#", "B"),
        ("B", "C#", "Ab", "F#"),
        ("F#", "Ab", "Eb", "C#"),
        ("C#", "Eb", "Bb", "Ab"),
    ];
    for (concert, in_b_flat, in_e_flat, in_f) in table {
        for (name, wanted) in [
            ("clarinet", in_b_flat),
            ("tenor sax", in_b_flat),
            ("alto sax", in_e_flat),
            ("baritone sax", in_e_flat),
            ("horn", in_f),
        ] {
            let part = instrument(name).transposition;
            let written = key(&format!("{concert} major")).written(part);
            assert_eq!(written.to_string(), format!("{wanted} major"), "{concert} {name}");
            // Minor keys move as their relative majors do.
            let minor = key(&format!("{concert} major")).relative().expect("a relative");
            assert_eq!(Some(minor.written(part)), written.relative(), "{concert} {name}");
        }
    }
}

/// Tonics of the modes under each signature, from seven flats to seven sharps: dorian on the second degree,
/// phrygian 3, lydian 4, mixolydian 5, aeolian 6, locrian 7 (Aaron Shearer Foundation, supplement on modes).
#[test]
fn modes_under_every_signature() {
    const MODES: [Mode; 7] = [
        Mode::Ionian,
        Mode::Dorian,
        Mode::Phrygian,
        Mode::Lydian,
        Mode::Mixolydian,
        Mode::Aeolian,
        Mode::Locrian,
    ];
    let table = [
        "Cb Db Eb Fb Gb Ab Bb",
        "Gb Ab Bb Cb Db Eb F",
        "Db Eb F Gb Ab Bb C",
        "Ab Bb C Db Eb F G",
        "Eb F G Ab Bb C D",
        "Bb C D Eb F G A",
        "F G A Bb C D E",
        "C D E F G A B",
        "G A B C D E F#",
        "D E F# G A B C#",
        "A B C# D E F# G#",
        "E F# G# A B C# D#",
        "B C# D# E F# G# A#",
        "F# G# A# B C# D# E#",
        "C# D# E# F# G# A# B#",
    ];
    for (fifths, row) in (-7..).zip(table) {
        let signature = Signature::new(fifths).expect("within seven");
        for (mode, tonic) in MODES.into_iter().zip(row.split(' ')) {
            assert_eq!(signature.key(mode).tonic.to_string(), tonic, "{fifths} {mode:?}");
            assert!(
                key(&format!("{tonic} {}", mode.name())).fits(signature),
                "{tonic}"
            );
        }
    }
}

/// Two flats may be B-flat major, G minor, C dorian or D phrygian ("Composing for Band", key signatures).
#[test]
fn two_flats_are_four_keys() {
    let signature = Signature::new(-2).expect("two flats");
    for name in ["Bb major", "G minor", "C dorian", "D phrygian"] {
        assert!(key(name).fits(signature), "{name}");
    }
    assert!(!key("D minor").fits(signature));
}
