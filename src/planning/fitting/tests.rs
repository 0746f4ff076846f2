//! Whether bands can play a piece, asked of small bands and pieces.

use std::sync::Arc;

use super::*;
use crate::catalogue::CardFile;
use crate::catalogue::conditions::read;

const BAND: &str = "\
ensemble \"Band\"
  players
    flute  4
    clarinet  6
  percussionists  2
  taught slurs
ensemble \"Big Band\"
  players
    flute  4
    oboe  1
    clarinet  6
  percussionists  3
  taught slurs, ties
handbook
  for \"Band\"
";

/// Snare and bass drum sound at once, the triangle comes in a minute later.
const PIECE: &str = "\
piece \"Lamp\"
  meter 4/4
  tempo quarter = 60
  measures 40
  asks slurs, ties
  parts
    flute  D5-C6
    oboe  D4-A5
    clarinet  A3-C5
  percussion
    snare  1-20
    bass drum  1-20
    triangle  30-40
";

fn answer(cards: &str, condition: &str, bands: &[&str]) -> Truth {
    let file = Arc::new(CardFile::read("a.levare", &format!("{BAND}{cards}")));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let bands: Vec<EntryId> = bands
        .iter()
        .map(|name| snapshot.ensemble_named(name).expect("it is there"))
        .collect();
    let id = snapshot.pieces_titled("Lamp", None)[0];
    let subject = Subject::of(id, snapshot.entry(id).expect("it is there")).expect("a piece");
    let conditions = read(&snapshot, condition);
    let asked = asking_for(&snapshot, &bands);
    Truth::all(conditions.iter().map(|one| asked.piece(one, &subject)))
}

#[test]
fn the_percussionists_are_counted_by_sharing_out() {
    // Three parts, but nobody needs a third player: the triangle enters when the others rest.
    assert!(answer(PIECE, "2 percussionists", &[]).is_yes());
    assert!(answer(PIECE, "at least 3 percussionists", &[]).is_no());
    let together = PIECE.replace("30-40", "10-20");
    assert!(answer(&together, "3 percussionists", &[]).is_yes());
    // What the director says goes first.
    let said = PIECE.replace("  percussion\n", "  needs 3 percussionists\n  percussion\n");
    assert!(answer(&said, "3 percussionists", &[]).is_yes());
    // Without tempos nobody knows whether there is time.
    let sparse = PIECE.replace("  tempo quarter = 60\n", "");
    assert!(matches!(
        answer(&sparse, "exactly 2 percussionists", &[]),
        Truth::Unknown(_)
    ));
}

#[test]
fn the_band_covers_its_parts_or_not() {
    assert!(answer(PIECE, "percussion covered", &[]).is_yes());
    let together = PIECE.replace("30-40", "10-20");
    let no = answer(&together, "percussion covered", &[]);
    assert!(
        no.is_no() && no.words().contains("no percussionist is free for"),
        "{no:?}"
    );
    assert!(answer(&together, "percussion covered", &["Big Band"]).is_yes());
    let no = answer(PIECE, "winds covered", &[]);
    assert!(no.is_no() && no.words().contains("oboe"), "{no:?}");
    assert!(answer(PIECE, "covered", &[]).is_no());
    assert!(answer(PIECE, "covered", &["Big Band"]).is_yes());
    let winds = "piece \"Lamp\"\n  percussion\n    snare  1-20\n";
    assert!(matches!(answer(winds, "covered", &[]), Truth::Unknown(_)));
}

#[test]
fn new_skills_are_those_of_the_band_that_is_asked_about() {
    assert!(answer(PIECE, "exactly 1 new skill", &[]).is_yes());
    assert!(answer(PIECE, "asks nothing new", &[]).is_no());
    assert!(answer(PIECE, "asks nothing new", &["Big Band"]).is_yes());
    let unsure = PIECE.replace("ties\n", "ties?\n");
    assert!(matches!(
        answer(&unsure, "at most 0 new skills", &[]),
        Truth::Unknown(_)
    ));
    assert!(answer(&unsure, "at most 1 new skill", &[]).is_yes());
}
