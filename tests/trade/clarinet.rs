//! The clarinet's registers and its break, all in written notes.

use levare::music::instruments::{BELOW_THE_BREAK, OVER_THE_BREAK, crosses_the_break, is_over_the_break};

use super::{instrument, pitch};

/// Chalumeau with throat tones E3-Bb4, clarion B4-C6, altissimo from C#6 to C7 ("The guidelines",
/// clarinetlist.com); the break is the step from Bb4 to B4, two fingers to nine (Halftime Magazine,
/// woodwind column, 2011).
#[test]
fn registers() {
    for (low, high, over) in [
        ("E3", "Bb4", false),
        ("G4", "Bb4", false),
        ("B4", "C6", true),
        ("C#6", "C7", true),
    ] {
        for note in [low, high] {
            assert_eq!(is_over_the_break(pitch(note)), over, "{note}");
        }
    }
    assert_eq!((BELOW_THE_BREAK, OVER_THE_BREAK), (pitch("Bb4"), pitch("B4")));
    assert_eq!((BELOW_THE_BREAK.midi(), OVER_THE_BREAK.midi()), (70, 71));
    let range = instrument("clarinet").full_range.expect("a range");
    assert_eq!(range.to_string(), "E3-C7");
}

/// Spelling does not matter: A-sharp is under the break, C-flat over it.
#[test]
fn spelled_otherwise() {
    assert!(!is_over_the_break(pitch("A#4")));
    assert!(is_over_the_break(pitch("Cb5")));
}

/// The commonest hard step leads from a throat tone to B4 or C5 (J. Maclay, "Complete guide to crossing
/// the break", 2021); to stay on one side is no crossing.
#[test]
fn crossing() {
    for (from, to, crosses) in [
        ("Bb4", "B4", true),
        ("A4", "C5", true),
        ("C5", "G#4", true),
        ("A4", "Bb4", false),
        ("B4", "C6", false),
        ("E3", "Bb4", false),
    ] {
        assert_eq!(crosses_the_break(pitch(from), pitch(to)), crosses, "{from} {to}");
    }
}

/// What the audience hears there: Bb4 sounds Ab4 and B4 sounds A4 on the B-flat clarinet (worked out).
#[test]
fn in_concert_pitch() {
    let part = instrument("clarinet").transposition;
    assert_eq!(part.sounding(BELOW_THE_BREAK), Some(pitch("Ab4")));
    assert_eq!(part.sounding(OVER_THE_BREAK), Some(pitch("A4")));
}
