//! One fault draws one finding, and each fault that a director may type draws one.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::{self, Finding, Severity};

fn found(text: &str) -> Vec<Finding> {
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    snapshot
        .entries()
        .flat_map(|(id, _)| findings::of_card(&snapshot, id))
        .collect()
}

/// The findings of a piece's lines: `phrase`, with ` | hint` where it is one.
fn drawn(lines: &str) -> Vec<String> {
    let body: String = lines.lines().map(|line| format!("  {line}\n")).collect();
    phrases(&found(&format!("piece \"A\"\n{body}")))
}

fn phrases(found: &[Finding]) -> Vec<String> {
    let hint = |finding: &Finding| match finding.severity {
        Severity::Hint => " | hint",
        _ => "",
    };
    found
        .iter()
        .map(|finding| format!("{}{}", finding.phrase, hint(finding)))
        .collect()
}

/// The lines of a piece, and what alone is drawn.
const PIECES: &[(&str, &[&str])] = &[
    // Roads of repeats only.
    (
        "measures  92\nroadmap  repeat 5-20, 1st ending 19-20, 2nd ending 20-21",
        &["roadmap breaks off"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, 1st ending 20, 2nd ending 23",
        &["endings do not meet"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, repeat 21-36, 1st ending 20, 2nd ending 22",
        &["endings do not meet"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, 1st ending 20, 2nd ending 21",
        &[],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, 1st ending 20",
        &["ending alone | hint"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, 1st ending 20?",
        &["open question | hint"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, 2nd ending 21",
        &["ending alone"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, repeat 15-30",
        &["repeats cross"],
    ),
    ("measures  92\nroadmap  repeat 5-20, repeat 9-12", &[]),
    (
        "measures  92\nroadmap  repeat 5-20 2 times, 1st ending 20, 2nd ending 21, 3rd ending 22",
        &["times against endings"],
    ),
    (
        "measures  92\nroadmap  repeat 5-20, 1st ending 20, 2nd ending 21, 3rd ending 22",
        &[],
    ),
    // Signs and jumps.
    ("measures  92\nroadmap  segno at 9", &["sign without a jump"]),
    ("measures  92\nroadmap  coda at 80", &["sign without a jump"]),
    ("measures  92\nroadmap  Fine at 24", &["sign without a jump"]),
    (
        "measures  92\nroadmap  Fine at 24, segno at 9, D.C. al Fine at 92",
        &["sign without a jump"],
    ),
    (
        "measures  92\nroadmap  Fine at 60, D.C. al Fine at 48",
        &["sign on the wrong side"],
    ),
    (
        "measures  92\nroadmap  segno at 60, D.S. at 48",
        &["sign on the wrong side"],
    ),
    (
        "measures  92\nroadmap  segno at 9, to coda at 5, D.S. al Coda at 80, coda at 81",
        &["sign on the wrong side"],
    ),
    (
        "measures  92\nroadmap  segno at 9, to coda at 20, D.S. al Coda at 80, coda at 41",
        &["sign on the wrong side"],
    ),
    (
        "measures  92\nroadmap  segno at 9, to coda at 20, D.S. al Coda at 70, coda at 81",
        &["measure never reached"],
    ),
    (
        "measures  92\nroadmap  segno at 9, to coda at 20, D.S. al Coda, coda at 81",
        &[],
    ),
    ("roadmap  D.S. al Coda, repeat 5-8", &[]),
    // Marks, forms, counts.
    (
        "measures  96\nrehearsal marks A 9, B 25, B 41, C 33",
        &["one mark in two places"],
    ),
    (
        "measures  96\nrehearsal marks A 9, B 41, B 25",
        &["one mark in two places"],
    ),
    (
        "measures  96\nrehearsal marks A 9, B 41, C 25",
        &["marks out of order"],
    ),
    (
        "tempo  quarter = 96, quarter = 80 at F to trio\nform  two strains\nrehearsal marks A 5, B 21",
        &["mark not found"],
    ),
    (
        "measures  27\nmeter  4/4\ntempo  quarter = 120\nlasts  2:24\nrehearsal marks A 9, B 25, C 41, D 57\npercussion\n  snare  1-24, 57-72",
        &["measure past the end"],
    ),
    (
        "measures  64\nrehearsal marks A 9, B 25\npercussion\n  snare  1-24, 57-72",
        &["measure past the end"],
    ),
    (
        "movements\n  1 \"G\"\n  3 \"F\"\n  3 \"H\"",
        &["movement numbers out of order"],
    ),
    // Time.
    (
        "meter  4/4\ntempo  quarter = 120\nmeasures  60\nlasts  2:13",
        &["length against measures | hint"],
    ),
    ("meter  4/4\ntempo  quarter = 120\nmeasures  60\nlasts  2:08", &[]),
    (
        "meter  4/4\ntempo  Andante, quarter = 160",
        &["tempo word against figure"],
    ),
    (
        "meter  4/4\ntempo  Allegro con brio quarter = 60",
        &["tempo word against figure"],
    ),
    ("meter  4/4\ntempo  Allegro, quarter = 90", &[]),
    ("meter  cut\ntempo  Presto, half = 90", &[]),
    (
        "key signature  2 flats, 3 flats at 34\nmeter  4/4, 3/4 at 33\nrehearsal marks A 9, B 33\nmeasures  80",
        &["change beside the others"],
    ),
    (
        "key signature  2 flats, 3 flats at 33\nmeter  4/4, 3/4 at 34\nmeasures  80",
        &[],
    ),
    ("meter  3/4, 4/4 at 41\nmeasures  80", &[]),
    // Registers.
    ("parts\n  tuba  Bb2-Bb3", &["part off its register"]),
    ("parts\n  horn  C5-C6", &["part off its register"]),
    ("parts\n  trombone  F2-F5", &["off the instrument"]),
    ("parts\n  trombone  C4-D5", &["part off its register"]),
    ("parts\n  euphonium  C4-G5", &[]),
    (
        "parts\n  euphonium  Bb3-Bb4\n  euphonium T.C.  C4-C5",
        &["part off its register"],
    ),
    (
        "measures  96\nrehearsal marks A 9, B 41, C 25, D 17",
        &["marks out of order"],
    ),
    (
        "parts\n  alto clarinet  Eb3-C5\n  Eb horn  F#3-D5\n  horn  F2-C5\n  euphonium  F1-D4",
        &[],
    ),
    (
        "grade  0.5 publisher\nparts\n  clarinet  E4-D6",
        &["beyond the publisher's grade"],
    ),
    (
        "parts\n  clarinet 1  G3-C5\n  clarinet 2  G3-G5",
        &["second part above the first"],
    ),
    ("percussion\n  triangle  1-8, 4", &["entrances overlap"]),
];

#[test]
fn each_fault_is_told_once() {
    let mut wrong = String::new();
    for (lines, wanted) in PIECES {
        let drawn = drawn(lines);
        if drawn != *wanted {
            wrong.push_str(&format!("{lines}\n  drew {drawn:?}\n  wanted {wanted:?}\n"));
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// A band, a piece on its program, and what alone is drawn.
const PLAYED: &[(&str, &str, &[&str])] = &[
    (
        "percussionists  2",
        "percussion\n  snare  1-16\n  bass drum  1-16\n  triangle  9-16\nneeds  2 percussionists",
        &["short of percussionists"],
    ),
    (
        "percussionists  3",
        "percussion\n  snare  1-16\n  bass drum  1-16\n  triangle  9-16\nneeds  2 percussionists",
        &["needs fewer than it takes"],
    ),
    (
        "owns  timpani 29 and 26",
        "percussion\n  timpani  1-8, notes F2 G3",
        &["not in the closet | hint"],
    ),
    (
        "owns  timpani 29 and 26",
        "percussion\n  timpani  1-8, notes F2 Bb3",
        &["not in the closet"],
    ),
    (
        "owns  timpani 29 and 26",
        "percussion\n  timpani  1-8, notes F2 F3",
        &[],
    ),
    (
        "owns  triangle, suspended cymbal",
        "percussion\n  triangle 1  1-8\n  triangle 2  5-12",
        &["one instrument for two"],
    ),
    (
        "owns  triangle, suspended cymbal",
        "percussion\n  suspended cymbal 1  1-8\n  suspended cymbal 2  5-12",
        &["one instrument for two"],
    ),
    (
        "players  flute 4, horn 2",
        "parts\n  horn  A3-C5, cued in tuba",
        &["cue nobody has"],
    ),
    (
        "players  flute 4, horn 2",
        "parts\n  horn  A3-C5, cued in horn",
        &["cue nobody has"],
    ),
    (
        "players  flute 4, horn 2",
        "parts\n  horn 1  A3-C5, cued in horn 2\n  horn 2  A3-C5",
        &[],
    ),
];

#[test]
fn each_fault_of_a_program_is_told_once() {
    let mut wrong = String::new();
    for (band, piece, wanted) in PLAYED {
        let deeper = |text: &str| text.lines().map(|line| format!("  {line}\n")).collect::<String>();
        let text = format!(
            "ensemble \"B\"\n{}piece \"A\"\n{}concert \"C\"\n  on  2027-05-01\n  program  \"A\"\n",
            deeper(band),
            deeper(piece)
        );
        let drawn = phrases(&found(&text));
        if drawn != *wanted {
            wrong.push_str(&format!(
                "{band}\n{piece}\n  drew {drawn:?}\n  wanted {wanted:?}\n"
            ));
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// What one band lacks and another of the school owns is no news about a piece on the shelf.
#[test]
fn the_other_bands_closet() {
    let text = |owns: &str| {
        format!(
            "handbook\n  for  \"B\"\nensemble \"B\"\n  owns  snare\nensemble \"J\"\n  owns  {owns}\nconcert \"C\"\n  on  2027-05-01\n  for  \"J\"\npiece \"A\"\n  percussion\n    cowbell  1-8\n"
        )
    };
    let closet = |text: &str| {
        phrases(&found(text))
            .into_iter()
            .filter(|phrase| phrase.starts_with("not in"))
            .collect::<Vec<_>>()
    };
    assert_eq!(closet(&text("cowbell")), Vec::<String>::new());
    assert_eq!(closet(&text("drum set")), ["not in the closet"]);
}

/// What is said of notes that are high or low, and of lines that only tell of the music.
#[test]
fn how_it_is_said() {
    for (row, says) in [
        ("euphonium  F2-Db5", "Hardly anybody"),
        ("trombone  F2-F5", "Hardly anybody"),
        ("clarinet  D3-A4", "Nobody can play"),
    ] {
        let found = found(&format!("piece \"A\"\n  parts\n    {row}\n"));
        let whole = found
            .first()
            .map(|finding| finding.saying.whole())
            .unwrap_or_default();
        assert!(whole.contains(says), "{row}: {whole}");
    }
    for (line, severity) in [
        ("tempo  quater = 76", Severity::Warning),
        ("meter  4/5", Severity::Warning),
        ("measures  4x", Severity::Error),
    ] {
        let found = found(&format!("piece \"A\"\n  {line}\n"));
        let strong: Vec<(&str, Severity)> = found.iter().map(|one| (one.phrase, one.severity)).collect();
        assert_eq!(strong, [("not understood", severity)], "{line}");
    }
}
