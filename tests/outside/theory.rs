//! Pitches, intervals, signatures and keys.

use levare::music::interval::Interval;
use levare::music::{Instruments, Key, Pitch, Signature, Tonic};

use super::answers::{Row, agree, number, rows, word};

/// MIDI numbers, by both libraries.
pub fn pitches(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let midi = Pitch::read(word(row, "pitch")).map(|pitch| i64::from(pitch.midi()));
        for library in ["music21", "partitura"] {
            let said = row[library].as_i64();
            if said.is_some() && said != midi {
                found.push(format!("{library}: {row}, here {midi:?}"));
            }
        }
        if row["partitura"].is_null() {
            found.push(format!("nobody answers {row}"));
        }
    }
    found
}

/// `a minor third`, `an octave and a minor third` from music21's `minor` and 3 or 10.
fn in_words(quality: &str, number: i32) -> Option<String> {
    const NAMES: [&str; 7] = ["unison", "second", "third", "fourth", "fifth", "sixth", "seventh"];
    let steps = number - 1;
    let (octaves, within) = (steps / 7, usize::try_from(steps % 7).ok()?);
    let article = if quality.starts_with('a') { "an" } else { "a" };
    let all = match octaves {
        1 => "an octave".to_owned(),
        2 => "two octaves".to_owned(),
        3 => "three octaves".to_owned(),
        _ => String::new(),
    };
    Some(match (octaves, within, quality) {
        (0, _, _) => format!("{article} {quality} {}", NAMES.get(within)?),
        (_, 0, "perfect") => all,
        (1, 0, _) => format!("{article} {quality} octave"),
        (1, 1, _) => format!("{article} {quality} ninth"),
        _ => format!("{all} and {article} {quality} {}", NAMES.get(within)?),
    })
}

/// Semitones, letters and names of intervals, and the way back, by music21. Doubly and triply altered
/// intervals have no name here; their numbers are compared all the same.
pub fn intervals(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let (Some(from), Some(to)) = (Pitch::read(word(row, "from")), Pitch::read(word(row, "to"))) else {
            found.push(format!("not read: {row}"));
            continue;
        };
        let here = Interval::between(from, to);
        if here != Interval::new(number(row, "steps"), number(row, "semitones")) {
            found.push(format!("{row}, here {here:?}"));
        }
        if here.transpose(from) != Some(to) {
            found.push(format!("{row}, and back {:?}", here.transpose(from)));
        }
        // From C down to C-flat is an augmented unison downwards; music21 calls it a diminished one, which
        // would be smaller than no distance at all (common practice, no source).
        let quality = match (here.steps, word(row, "quality")) {
            (0, "diminished") => "augmented",
            (_, quality) => quality,
        };
        let plain = ["perfect", "major", "minor", "augmented", "diminished"].contains(&quality);
        let named = in_words(quality, number(row, "number"));
        if plain && named.as_deref() != Some(here.name().as_str()) {
            found.push(format!("{row}, here {}", here.name()));
        }
    }
    found
}

/// The signature of every tonic and mode, by music21; more than seven signs is none.
pub fn signatures(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let key = Key::read(&format!("{} {}", word(row, "tonic"), word(row, "mode")));
        let here = key.map(|key| key.signature());
        if here != Some(Signature::new(number(row, "fifths"))) {
            found.push(format!("{row}, here {here:?}"));
        }
    }
    found
}

/// The fifteen majors and minors, by partitura.
pub fn key_names(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let signature = Signature::new(number(row, "fifths"));
        let keys = signature.map(Signature::keys);
        let here = match word(row, "mode") {
            "major" => keys.map(|(major, _)| major),
            _ => keys.map(|(_, minor)| minor),
        };
        if here.is_none() || here != Key::read(word(row, "name")) {
            found.push(format!("{row}, here {here:?}"));
        }
    }
    found
}

/// Written keys, by music21. It goes beyond seven signs where a part is respelled here, so that the sound
/// must be the same, and within seven signs the spelling too.
pub fn written_keys(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let part = Instruments::standard().find(word(row, "part")).exact();
        let (Some(part), Some(concert)) = (part, Key::read(word(row, "concert"))) else {
            found.push(format!("not read: {row}"));
            continue;
        };
        let here = concert.written(part.transposition);
        let fifths = number(row, "fifths");
        let signs = here.signature().map(Signature::fifths);
        let right = match (-7..=7).contains(&fifths) {
            true => signs == Some(fifths) && Tonic::read(word(row, "tonic")) == Some(here.tonic),
            false => signs.is_some_and(|signs| (signs - fifths).rem_euclid(12) == 0),
        };
        if !right {
            found.push(format!("{row}, here {here}"));
        }
    }
    found
}

#[test]
fn midi_numbers() {
    agree(&pitches(&rows("pitches")));
}

#[test]
fn intervals_between_notes() {
    agree(&intervals(&rows("intervals")));
}

#[test]
fn key_signatures() {
    agree(&signatures(&rows("signatures")));
    agree(&key_names(&rows("key-names")));
}

#[test]
fn keys_in_the_parts() {
    agree(&written_keys(&rows("written-keys")));
}
