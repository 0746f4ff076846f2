//! Timpani: sizes and their notes, sounding as written.

use levare::music::PitchRange;
use levare::music::timpani::{DRUMS, Drum, Reach, drums_for, tune};

use super::pitch;

/// The US rule of thumb, from memory (each drum about a fifth: "Orchestration skills - Timpani"), and the
/// outer notes of Vienna Symphonic Library by diameter: 75-80, 65-70, 60-65, 50-60 and 45-50 cm.
#[test]
fn five_sizes() {
    for (inches, thumb, widest) in [
        (32, "D2-A2", "C2-C3"),
        (29, "F2-C3", "E2-E3"),
        (26, "Bb2-F3", "Ab2-Ab3"),
        (23, "D3-A3", "C3-C#4"),
        (20, "F3-C4", "F3-C4"),
    ] {
        let drum = Drum::of(inches).expect("a known size");
        assert_eq!(drum.usual_range(), PitchRange::read(thumb), "{inches}");
        assert_eq!(drum.widest_range(), PitchRange::read(widest), "{inches}");
        let fifth = drum.usual_range().map(|range| range.span().semitones);
        assert_eq!(fifth, Some(7), "{inches}");
    }
    assert_eq!(DRUMS.len(), 5);
}

/// A drum is sold under two sizes: 30 or 32, 28 or 29, 25 or 26 inches (J. Papastefan, "Timpani sizes and
/// ranges", for the pairs 29 with 26 and 28 with 25).
#[test]
fn sizes_sold() {
    for (one, other) in [(30, 32), (28, 29), (25, 26)] {
        assert_eq!(Drum::of(one), Drum::of(other), "{one} {other}");
    }
    assert_ne!(Drum::of(26), Drum::of(28));
    assert_eq!(Drum::of(40), None);
}

/// A pair covers F2 to F3 and the 20 inch drum extends it to C4 (Papastefan); four drums cover D2 to A3
/// ("Orchestration skills - Timpani"); a set of five C2 to C4 (TR Percussion), the low C only on some.
#[test]
fn sets() {
    let covered = |drums: &[u8], low: &str, high: &str, reach| {
        let (low, high) = (pitch(low), pitch(high));
        let all = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"];
        let notes = (2..5).flat_map(|octave| all.map(|name| pitch(&format!("{name}{octave}"))));
        notes
            .filter(|note| (low.midi()..=high.midi()).contains(&note.midi()))
            .all(|note| !drums_for(note, drums, reach).is_empty())
    };
    assert!(covered(&[29, 26], "F2", "F3", Reach::Usual));
    assert!(covered(&[28, 25], "F2", "F3", Reach::Usual));
    assert!(!covered(&[29, 26], "E2", "F3", Reach::Usual));
    assert!(!covered(&[29, 26], "F2", "Gb3", Reach::Usual));
    assert!(covered(&[32, 29, 26, 23], "D2", "A3", Reach::Usual));
    assert!(!covered(&[32, 29, 26, 23], "C2", "A3", Reach::Usual));
    assert!(covered(&[32, 29, 26, 23, 20], "C2", "C4", Reach::Widest));
}

/// Two fixed notes are all that the easiest class asks (Florida, sight-reading content limits, class MD):
/// tonic and fifth of the usual keys on a pair.
#[test]
fn two_notes_on_a_pair() {
    for (notes, drums) in [
        (["Bb2", "F3"], Some(vec![0, 1])),
        (["F2", "Bb2"], Some(vec![0, 1])),
        (["Bb2", "Eb3"], Some(vec![0, 1])),
        (["F2", "C3"], Some(vec![0, 1])),
        (["Eb2", "Bb2"], None),
    ] {
        let wanted = notes.map(pitch);
        assert_eq!(tune(&wanted, &[29, 26], Reach::Usual), drums, "{notes:?}");
    }
}
