//! Transposing instruments against music21, with what it gets wrong.

use levare::music::interval::Interval;
use levare::music::{Instruments, Pitch, Transposition};

use super::answers::{Row, agree, number, rows, word};

/// Semitones that music21 10.5.1 answers and that are not taken, with the reason. Where it has no class of
/// that name it answers none.
///
/// Sources of what is taken instead, where a row does not say "from memory": woodwinds and brass, handout 6
/// by LaRue (Georgetown College), C. Schmidt-Jones, "Transposing Instruments" (OpenStax), and B. Pimentel's
/// woodwind table; mallets, TR Percussion, "Pitch ranges of tuned percussion and their notation".
const NOT_TAKEN: [(&str, Option<i32>, &str); 21] = [
    (
        "Db piccolo",
        Some(12),
        "it reads the piccolo in C; a minor ninth up (from memory)",
    ),
    (
        "alto flute",
        Some(0),
        "it has only the flute; in G, a fourth down (from memory)",
    ),
    ("contrabassoon", Some(0), "an octave down"),
    (
        "Eb clarinet",
        Some(-2),
        "it reads the clarinet in B-flat; a minor third up",
    ),
    (
        "alto clarinet",
        Some(-2),
        "it reads the clarinet in B-flat; a major sixth down",
    ),
    (
        "contra-alto clarinet",
        Some(-2),
        "it reads the clarinet in B-flat; two octaves less",
    ),
    ("contrabass clarinet", Some(-2), "it reads the clarinet in B-flat"),
    (
        "bass sax",
        Some(0),
        "it knows only a saxophone; two octaves and a major second down (from memory)",
    ),
    ("cornet", None, "a major second down"),
    ("flugelhorn", None, "a major second down"),
    ("Eb horn", Some(-7), "it reads the horn in F; a major sixth down"),
    ("mellophone", None, "a fifth down, as the horn (from memory)"),
    ("baritone", Some(0), "right, but its class is the singer's voice"),
    (
        "baritone T.C.",
        Some(0),
        "it reads a tenor voice; a major ninth down",
    ),
    ("euphonium", None, "as written in bass clef"),
    ("bass guitar", Some(0), "an octave down, as the string bass"),
    ("guitar", Some(0), "an octave down (from memory)"),
    ("celesta", Some(0), "an octave up (from memory)"),
    ("bells", Some(0), "two octaves up"),
    ("xylophone", Some(0), "an octave up"),
    ("crotales", None, "two octaves up (from memory)"),
];

fn here(name: &str) -> Option<Transposition> {
    let found = Instruments::standard().find(name).exact();
    found
        .filter(|instrument| instrument.name == name)
        .map(|instrument| instrument.transposition)
}

/// What music21 answers and the crate does not, apart from what is known; and what is known and no longer so.
pub fn transpositions(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let name = word(row, "name");
        let Some(here) = here(name).map(Transposition::interval) else {
            found.push(format!("{name} is no standard name"));
            continue;
        };
        let said = row["class"].as_str().map(|_| number(row, "semitones"));
        let same = said.is_some() && here == Interval::new(number(row, "steps"), number(row, "semitones"));
        match NOT_TAKEN.iter().find(|(known, ..)| *known == name) {
            Some((_, wrong, why)) if said != *wrong => {
                found.push(format!("music21 has changed its mind on {name} ({why}): {row}"));
            }
            None if !same => found.push(format!("{row}, here {here:?}")),
            _ => {}
        }
    }
    for (name, ..) in NOT_TAKEN {
        if !rows.iter().any(|row| word(row, "name") == name) {
            found.push(format!("{name} was not asked"));
        }
    }
    found
}

/// Lowest written notes that music21 10.5.1 answers and that are not taken, with the reason.
const OTHER_LOWEST: [(&str, &str, &str); 4] = [
    ("harp", "C1", "its lowest string can be flat (from memory)"),
    (
        "horn",
        "C2",
        "a pedal note; most ranges in print begin at F#2 (from memory)",
    ),
    (
        "bass guitar",
        "E1",
        "it names the sounding note, an octave below the written one",
    ),
    (
        "guitar",
        "E2",
        "it names the sounding note, an octave below the written one",
    ),
];

/// The lowest written note of each instrument's full range.
pub fn lowest(rows: &[Row]) -> Vec<String> {
    let standard = Instruments::standard();
    let mut found = Vec::new();
    for row in rows {
        let (name, said) = (word(row, "name"), word(row, "written"));
        let here = standard.find(name).exact().and_then(|one| one.full_range);
        let same = here.map(|range| range.low) == Pitch::read(said);
        match OTHER_LOWEST.iter().find(|(known, ..)| *known == name) {
            Some((_, wrong, why)) if same || said != *wrong => {
                found.push(format!("music21 has changed its mind on {name} ({why}): {row}"));
            }
            None if !same => found.push(format!("{row}, here {here:?}")),
            _ => {}
        }
    }
    found
}

/// Note by note, written to sounding and back.
pub fn sounding(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let part = here(word(row, "name"));
        let (written, heard) = (
            Pitch::read(word(row, "written")),
            Pitch::read(word(row, "sounding")),
        );
        let moved = part.zip(written).and_then(|(part, note)| part.sounding(note));
        let back = part.zip(heard).and_then(|(part, note)| part.written(note));
        if moved.is_none() || moved != heard || back != written {
            found.push(format!("{row}, here {moved:?} and back {back:?}"));
        }
    }
    found
}

#[test]
fn written_to_sounding() {
    agree(&transpositions(&rows("instruments")));
}

#[test]
fn lowest_notes() {
    agree(&lowest(&rows("lowest")));
}

#[test]
fn note_by_note() {
    agree(&sounding(&rows("sounding")));
}
