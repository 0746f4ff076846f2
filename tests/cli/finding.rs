//! `find`: the pieces that meet conditions.

use expect_test::expect;
use serde_json::Value;

use crate::bench::{Bench, Ended};

const CARDS: &str = "handbook
  for             \"Band\"

ensemble \"Band\"
  players
    flute           4
    clarinet        6
  percussionists  2

piece \"Copper Kettle\"
  by              Ida Quell
  style           march
  key signature   2 flats
  grade           2 ours
  lasts           3:10
  price           60 USD
  parts
    flute           D5-C6
    clarinet        A3-C5

piece \"Attic Waltz\"
  style           waltz
  key signature   1 flat

piece \"Bent Nail, a March\"
  style           march
  key signature   4 flats

piece \"Dusty Road\"
  key signature   1 flat
  performed       2021-05-01
";

fn find(more: &[&str]) -> Ended {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let arguments: Vec<&str> = [&["find", "--today", "2026-10-20"], more].concat();
    bench.run(&arguments)
}

#[test]
fn a_table_says_why_and_lists_apart_what_is_not_known() {
    let ended = find(&["up", "to", "3", "flats,", "a", "march"]);
    expect![[r#"
        1 of 4 pieces: up to 3 flats, a march.

        Copper Kettle  grade 2 ours, 3:10; has 2 flats in its key signature; is a march

        The cards of 1 more piece do not say enough to tell. Not known:

        Dusty Road     all its styles
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(ended.status, 0);
}

#[test]
fn each_condition_in_quotes_is_one_by_itself() {
    let together = find(&["up to 3 flats", "a march"]);
    assert_eq!(together.out, find(&["up to 3 flats, a march"]).out);
}

#[test]
fn nothing_found_is_told_by_the_status() {
    let ended = find(&["5 sharps"]);
    assert_eq!(ended.status, 1);
    assert!(
        ended.out.starts_with("None of 4 pieces for certain"),
        "{}",
        ended.out
    );
}

#[test]
fn a_word_that_is_not_understood_is_told() {
    let ended = find(&["a marsh"]);
    assert_eq!((ended.status, ended.out.as_str()), (2, ""));
    assert!(
        ended.err.contains("If you meant \"a march\", type it that"),
        "{}",
        ended.err
    );
}

#[test]
fn for_a_spreadsheet_and_for_programs() {
    let ended = find(&["a march", "--as", "csv", "--sorted", "grade"]);
    let lines: Vec<&str> = ended.out.split("\r\n").collect();
    assert_eq!(
        lines,
        [
            "piece,by,meets,why,not known,grade,style,lasts,price,performed",
            "Copper Kettle,Ida Quell,yes,is a march,,2 ours,march,3:10,60 USD,",
            "\"Bent Nail, a March\",,yes,is a march,,,march,,,",
            "Dusty Road,,not known,,all its styles,,,,,2021-05-01",
            ""
        ]
    );
    let ended = find(&["covered", "--as", "json"]);
    let lines: Vec<Value> = ended
        .out
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    // No card tells of percussion, so nobody can say of any piece.
    assert_eq!(lines.len(), 4);
    assert!(lines.iter().all(|line| line["meets"].is_null()));
    let ended = find(&["winds covered", "--as", "json"]);
    let first: Value = serde_json::from_str(ended.out.lines().next().unwrap_or("")).expect("JSON");
    assert_eq!(first["piece"], "Copper Kettle");
    assert_eq!(first["why"][0], "every wind part has a player");
}
