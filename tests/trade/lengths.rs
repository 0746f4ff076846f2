//! Lengths and counting, from the card to the seconds.

use std::sync::Arc;

use levare::catalogue::course::Course;
use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use levare::music::Meter;

fn seconds(lines: &str) -> f64 {
    let file = CardFile::read("length.levare", &format!("piece \"Length\"\n{lines}\n"));
    let piece = file.entries.first().and_then(|entry| entry.piece());
    let course = Course::of(piece.expect("a piece"));
    let length = course.lasting();
    let lasting = length
        .unwrap_or_else(|missing| panic!("{lines}: {missing:?}"))
        .lasting;
    assert_eq!(lasting.low, lasting.high, "{lines}");
    lasting.low
}

#[test]
fn worked_examples() {
    let table = [
        // "Num3rs" (scribd 907692497): 32 bars of 4/4 at 80 are 1:36.
        ("  measures 32\n  meter 4/4\n  tempo quarter = 80", 96.0),
        // Music Stack Exchange 109729: a bar of 4/4 at 120 is two seconds.
        ("  measures 1\n  meter 4/4\n  tempo quarter = 120", 2.0),
        // Worked out here from the compound beat of teoria.com: 48 x 2 x 60 / 96.
        ("  measures 48\n  meter 6/8\n  tempo dotted quarter = 96", 60.0),
        // Worked out here: 64 x 4 x 60 / 112, told as 2:17.
        (
            "  measures 64\n  meter 4/4\n  tempo quarter = 112",
            64.0 * 240.0 / 112.0,
        ),
        // Common practice, no source: repeats and jumps are counted before the seconds.
        (
            "  measures 8\n  meter 4/4\n  tempo 120\n  roadmap repeat 1-8",
            32.0,
        ),
        (
            "  measures 8\n  meter 4/4\n  tempo 120\n  roadmap Fine at 4, D.C. al Fine at 8",
            24.0,
        ),
    ];
    for (lines, wanted) in table {
        let got = seconds(lines);
        assert!((got - wanted).abs() < 1e-6, "{lines}: {got}, not {wanted}");
    }
}

/// A calculator of goingcalculator.com asks for six beats in 6/8 with the dotted quarter's figure: three
/// times too long. That reading must not come back.
#[test]
fn six_beats_are_the_trap() {
    let right = seconds("  measures 48\n  meter 6/8\n  tempo dotted quarter = 96");
    let trap = 48.0 * 6.0 * 60.0 / 96.0;
    assert_eq!(trap / right, 3.0);
}

/// Beats in compound meter: teoria.com, compound meter; Old Dominion University, module 13.
#[test]
fn compound_beats() {
    for (meter, beats, beat) in [
        ("6/8", 2, "dotted quarter"),
        ("9/8", 3, "dotted quarter"),
        ("12/8", 4, "dotted quarter"),
        ("6/4", 2, "dotted half"),
        ("9/4", 3, "dotted half"),
    ] {
        let read = Meter::read(meter).expect("a meter");
        assert_eq!(read.beats(), Some(beats), "{meter}");
        assert_eq!(
            read.beat().map(|b| b.to_string()).as_deref(),
            Some(beat),
            "{meter}"
        );
    }
}

/// A half of 30 minutes with pieces of 2:15 and gaps of 30 seconds holds ten to eleven pieces (Toot Suite
/// Brass, "Programming a concert"): eleven when the last needs no gap after it, never twelve.
#[test]
fn pieces_in_half_an_hour() {
    let over = |pieces: usize| {
        let titles: Vec<String> = (1..=pieces).map(|n| format!("Piece number {n}")).collect();
        let mut text = String::from(
            "handbook\n  notation  1\n\nensemble \"Evening Band\"\n  players\n    flute  4\n\n\
             concert \"First half\"\n  on      2027-03-01\n  for     \"Evening Band\"\n  \
             length  30 minutes, 0:30 between pieces\n  program\n",
        );
        for title in &titles {
            text.push_str(&format!("    \"{title}\"\n"));
        }
        for title in &titles {
            text.push_str(&format!("\npiece \"{title}\"\n  lasts  2:15\n"));
        }
        let files = vec![Arc::new(CardFile::read("handbook.levare", &text))];
        let snapshot = Snapshot::new(files, jiff::civil::date(2027, 1, 10));
        let (id, _) = snapshot
            .entries()
            .find(|(_, entry)| entry.name == "First half")
            .expect("the concert is there");
        let found = findings::of_card(&snapshot, id);
        found.iter().any(|finding| finding.phrase == "over length")
    };
    assert_eq!([10, 11, 12].map(over), [false, false, true]);
}
