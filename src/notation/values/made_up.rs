//! A word that nobody knows, put at every gap of what directors write: no reader may swallow it.

use crate::notation::Of;
use crate::notation::values::place::{after_at, point, split_place};
use crate::notation::values::{Mark, RoadStep, TempoSaid, pass_words, passages, read};

const WORD: &str = "zqxv";

const KEYS: &[&str] = &[
    "Bb",
    "concert Bb",
    "Bb concert",
    "C min",
    "F blues",
    "G pentatonic",
    "atonal",
    "modal",
    "none",
    "unclear",
    "moves",
    "about F",
    "F-ish major",
    "up a fourth",
    "same",
    "relative minor",
    "parallel minor",
    "back to G minor",
    "key of F",
    "C harmonic minor",
];
const SIGNATURES: &[&str] = &[
    "Bb",
    "F#",
    "3 flats",
    "three flats",
    "3b",
    "no sharps or flats",
    "none",
    "natural",
    "open key",
    "one more flat",
    "adds a flat",
    "up a fourth",
    "changes",
    "Bb Eb",
    "G minor",
    "same",
];
const METERS: &[&str] = &[
    "4/4",
    "C",
    "common time",
    "cut",
    "cut time",
    "alla breve",
    "3/4 in one",
    "in 1",
    "6/8 in two",
    "slow 6/8 in 6",
    "4/4 and 3/4",
    "mixed",
    "free",
    "none",
    "5/8 (3+2)",
    "7/8 2+2+3",
    "3+2/8",
];
const TEMPOS: &[&str] = &[
    "ca. 120",
    "120ish",
    "about 120",
    "120 bpm",
    "M.M. = 120",
    "MM 120",
    "@120",
    "120-126",
    "q=120",
    "quarter = 120",
    "dotted crotchet = 72",
    "in 2 half = 80",
    "144 swing",
    "swing 144",
    "swing eighths",
    "quarter = dotted quarter",
    "eighth = eighth",
    "same tempo",
    "tempo I",
    "a tempo",
    "slower",
    "rit.",
    "molto rit.",
    "accel. poco a poco",
    "fermata",
    "rubato",
    "ballad",
    "march tempo",
    "bright march",
    "Allegro con brio",
    "Allegro q = 138",
    "a little slower",
    "March tempo (q = 120)",
    "Slowly, with expression",
];
const ROADS: &[&str] = &[
    "repeat 33-40",
    "33-40",
    "repeat mm. 5-20 3x",
    "open repeat at G on cue",
    "vamp 5-8",
    "first ending 39-40",
    "1st and 2nd endings 39-40",
    "ending 3 at 41",
    "2nd ending 41-42 leads into m. 45",
    "2nd time only 33-36",
    "33-36 on the repeat",
    "segno at 9",
    "second segno at 20",
    "to coda at 32",
    "to coda before B",
    "coda at the end",
    "Fine at 40",
    "D.S. al Coda at 80",
    "D.C. al Fine",
    "D.S. 2 al Coda 2 at 80",
    "with repeats",
    "straight through",
    "repeat A to B",
    "repeat the trio",
    "cut 17-32",
    "cut from 17 to 32",
    "skip the repeat",
    "no repeat at trio",
    "no D.C.",
    "1st time bar 59",
    "play 1 thru 24 twice",
];
const MARKS: &[&str] = &[
    "A 9",
    "B at m. 33",
    "coda = 81",
    "letter A 9",
    "\"tune\" 41",
    "17",
    "m. 17",
    "the trio 41",
    "2nd strain 17",
];
const PLACES: &[&str] = &[
    "33",
    "m. 33",
    "20-21",
    "20 to 21",
    "letter B",
    "A to C",
    "the trio",
    "trio to the end",
    "last 4 measures",
    "33 to the end",
    "4 before B",
    "pickup to 9",
    "movement 2",
    "throughout",
    "2nd strain",
    "rehearsal mark AA",
];
const PLAYED: &[&str] = &[
    "5-20",
    "mm. 5-20",
    "bars 5 to 20",
    "1-20 and 30-40",
    "1-20 30-40",
    "from 1 to 40",
    "1-end",
    "33 on",
    "letter A to letter C",
    "at trio",
    "4 bars at 33",
    "at A for 8 bars",
    "last 4 measures",
    "the whole piece",
    "pickup to 9 to 16",
];
const TIMES: &[&str] = &[
    "second time only",
    "on the repeat",
    "1st and 3rd times",
    "both times",
];

/// The text with the word in front, in each gap and behind.
fn planted(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(' ').collect();
    (0..=words.len())
        .map(|at| {
            let mut words = words.clone();
            words.insert(at, WORD);
            words.join(" ")
        })
        .collect()
}

fn swallows(texts: &[&str], reads: impl Fn(&str) -> bool) {
    for text in texts {
        assert!(reads(text), "{text} is read");
        for planted in planted(text) {
            assert!(!reads(&planted), "{planted} is not read");
        }
    }
}

#[test]
fn no_value_swallows_a_made_up_word() {
    let of = |of: Of| move |text: &str| read(of, text).is_some();
    swallows(KEYS, of(Of::Key));
    swallows(SIGNATURES, of(Of::Signature));
    swallows(METERS, of(Of::Meter));
    swallows(TEMPOS, of(Of::Tempo));
    swallows(ROADS, of(Of::Road));
    swallows(MARKS, of(Of::Mark));
    swallows(PLACES, |text| after_at(text).is_some());
    swallows(&["33", "letter B", "the trio", "4 before B"], |text| {
        point(text).is_some()
    });
    // A reader that says how much it used leaves the word and all behind it.
    let whole = |used: Option<usize>, text: &str| used == Some(text.len());
    swallows(PLAYED, |text| whole(passages(text).map(|(_, used)| used), text));
    swallows(TIMES, |text| whole(pass_words(text).map(|(_, used)| used), text));
    for text in PLAYED.iter().flat_map(|text| planted(text)) {
        let used = passages(&text).map_or(0, |(_, used)| used);
        assert!(!text[..used].contains(WORD), "{text}");
    }
}

#[test]
fn no_place_swallows_a_made_up_word() {
    for place in PLACES {
        let text = format!("2 flats at {place}");
        for planted in planted(&text) {
            let (value, found) = split_place(&planted);
            let shown = found.map_or(String::new(), |place| place.to_string());
            let kept = value.contains(WORD) || shown.contains(WORD);
            assert!(kept, "{planted}: {value}, {shown}");
        }
    }
}

#[test]
fn what_is_shown_is_read_again() {
    let tables = [
        (Of::Key, KEYS),
        (Of::Signature, SIGNATURES),
        (Of::Meter, METERS),
        (Of::Tempo, TEMPOS),
        (Of::Road, ROADS),
        (Of::Mark, MARKS),
    ];
    for (of, texts) in tables {
        for text in texts {
            let value = read(of, text);
            let shown = value.as_ref().map(ToString::to_string).unwrap_or_default();
            assert_eq!(read(of, &shown), value, "{text}: {shown}");
        }
    }
}

proptest::proptest! {
    /// Any words at all: what is read is shown so that it is read again, and nothing panics.
    #[test]
    fn any_words(text in "(repeat |cut |at |A|B|the |trio|33|1-8| to |end|last |4 |bars |D\\.S\\. |al |coda|q = |120|in |2|ish|swing|slow|up a |fourth|flat|one more | |\"x\"|and |second |time |only){0,7}") {
        for of in [Of::Key, Of::Signature, Of::Meter, Of::Tempo, Of::Road, Of::Mark] {
            if let Some(value) = read(of, &text) {
                let shown = value.to_string();
                proptest::prop_assert_eq!(read(of, &shown), Some(value), "{} / {}", text, shown);
            }
        }
        if let Some(place) = after_at(&text) {
            let shown = place.to_string();
            let bare = shown.strip_prefix("at ").unwrap_or(&shown);
            let bare = bare.strip_prefix("in ").unwrap_or(bare);
            proptest::prop_assert_eq!(after_at(bare), Some(place), "{} / {}", text, shown);
        }
        let _ = (Mark::read(&text), RoadStep::read(&text), TempoSaid::read(&text));
        if let Some((_, used)) = passages(&text) {
            proptest::prop_assert!(text.is_char_boundary(used));
        }
    }
}
