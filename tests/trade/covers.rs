//! What a substitute reads: semitones to add to the written note of the missing part.

use levare::music::substitutes::{covers, rewrite};

/// Worked out from the transpositions; horn to alto sax as S. Seebeck (2019) has it.
#[test]
fn deltas() {
    for (from, to, semitones) in [
        ("oboe", "clarinet", 2),
        ("flute", "trumpet", 2),
        ("flute", "alto sax", 9),
        ("bassoon", "tenor sax", 14),
        ("bassoon", "bass clarinet", 14),
        ("trombone", "euphonium T.C.", 14),
        ("tuba", "baritone sax", 21),
        ("tuba", "contra-alto clarinet", 21),
        ("flute", "horn", 7),
        ("tuba", "contrabass clarinet", 26),
        ("horn", "alto sax", 2),
        ("horn", "tenor sax", 7),
        ("trumpet", "clarinet", 0),
        ("trumpet", "tenor sax", 12),
        ("tenor sax", "bass clarinet", 0),
        ("bass clarinet", "euphonium T.C.", 0),
        ("alto sax", "baritone sax", 12),
        ("trumpet", "alto sax", 7),
        ("trombone", "tenor sax", 14),
        ("trombone", "euphonium", 0),
    ] {
        let here = rewrite(from, to).map(|interval| interval.semitones);
        assert_eq!(here, Some(semitones), "{from} {to}");
        let back = rewrite(to, from).map(|interval| interval.semitones);
        assert_eq!(back, Some(-semitones), "{to} {from}");
    }
}

/// Usual covers, each with where it is said.
#[test]
fn usual_covers() {
    for (missing, cover, said_by) in [
        ("oboe", "flute", "Musikkreis Donnersberg"),
        ("oboe", "clarinet", "G. Yefchak"),
        ("horn", "alto sax", "Musikkreis Donnersberg"),
        ("horn", "tenor sax", "Florida"),
        ("trumpet", "alto sax", "Missouri"),
        ("trombone", "tenor sax", "Missouri"),
        ("trombone", "euphonium", "Missouri"),
        ("tuba", "baritone sax", "Missouri"),
        ("tuba", "bass clarinet", "Musikkreis Donnersberg"),
        ("bassoon", "bass clarinet", "Florida"),
        ("crash cymbals", "suspended cymbal", "S. Hoffman"),
    ] {
        let all = covers(missing);
        let found = all.iter().find(|known| known.substitute.cover == cover);
        let source = found.map(|known| known.substitute.source).unwrap_or_default();
        assert!(source.contains(said_by), "{missing} {cover}: {source:?}");
    }
}
