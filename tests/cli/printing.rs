//! `assign --as door` and `--as counting`: pages to print.

use crate::bench::{Bench, Ended};

const CARDS: &str = "ensemble \"Band & Friends\"
  percussionists
    P1              mallets, timpani
    P2 P3           snare, bass drum, accessories

piece \"Rill <1>\"
  meter           4/4
  tempo           quarter = 120
  measures        40
  lasts           1:20
  rehearsal marks A 11
  roadmap         repeat 31-40
  percussion
    bells           1-10
    timpani         15-30
    snare           1-40
    triangle        5-8
  pages
    percussion 1    snare, triangle

piece \"Weir\"
  meter           4/4
  tempo           quarter = 120
  measures        40
  percussion
    bells           1-40
    timpani         15-30

concert \"Evening\"
  on              2026-12-10, 19:00
  length          20 minutes, 1:30 between pieces
  program
    \"Rill <1>\"
    \"Weir\"
    \"Lost\"
";

const BOOK: &str = "handbook
  notation        1
  change          5 s to a neighboring instrument, 7.5 s to the timpani
";

fn bench() -> Bench {
    Bench::bare(&[("cards.levare", CARDS), ("handbook.levare", BOOK)])
}

fn assign(bench: &Bench, more: &[&str]) -> Ended {
    let arguments: Vec<&str> = [&["assign", "--today", "2026-10-20"], more].concat();
    bench.run(&arguments)
}

/// The words on a page, in the order they are drawn.
fn words(page: &str) -> Vec<String> {
    let lines = page.lines().filter(|line| line.starts_with("<text"));
    lines
        .filter_map(|line| line.strip_suffix("</text>")?.split_once('>'))
        .map(|(_, words)| words.replace('\u{a0}', " "))
        .collect()
}

#[test]
fn the_page_for_the_door_says_who_does_what() {
    let bench = bench();
    let ended = assign(&bench, &["Evening", "--as", "door", "--to", "door.html"]);
    // The timpani of one piece are left out.
    assert_eq!(ended.status, 1, "{ended:?}");
    assert_eq!(
        ended.out,
        "1 sheet is in \"door.html\". Open it in a browser and print it.\n"
    );
    let page = bench.read("door.html");
    // A phrase may stand on two lines.
    let words = words(&page).join(" ");
    for wanted in [
        "Evening",
        "Thursday, December 10, 2026, 7:00 pm",
        "Band &amp; Friends",
        "P1",
        "P2",
        "P3",
        "Rill &lt;1&gt;",
        "Bells",
        "m. 1",
        "mm. 1-10",
        "to timpani: 4 measures",
        "after m. 10, 8 s",
        "Timpani",
        "m. 15",
        "m. 5",
        "mm. 5-8",
        "tacet",
        "perc. 1 page",
        "too few hands at measures 15-30",
        "Lost",
        "no card of this title",
        "not known",
        "The stations, and the pieces that need them",
    ] {
        assert!(words.contains(wanted), "{wanted:?} is not on the page: {words}");
    }
    // Nothing to fetch, nothing to run.
    for unwanted in ["<script", "href=", "src=", "@import", "url("] {
        assert!(!page.contains(unwanted), "{unwanted}");
    }
}

#[test]
fn the_page_counts_what_the_card_says() {
    let bench = bench();
    let ended = assign(&bench, &["Rill", "<1>", "--as", "counting"]);
    assert_eq!(ended.status, 0, "{ended:?}");
    let words = words(&ended.out);
    // P1: bells 1-10, then 4 measures, 8 seconds at quarter = 120, to the timpani at 15.
    for wanted in [
        "1  Bells",
        "play 10",
        "to timpani: 4 measures",
        "8 s, needs 7.5 s",
        "15  Timpani",
        "play 16",
        "A",
        "11",
        "quarter = 120",
        "P1",
    ] {
        assert!(
            words.iter().any(|words| words == wanted),
            "{wanted:?} is not on the page: {words:#?}"
        );
    }
}

#[test]
fn a_concert_is_counted_piece_by_piece() {
    let bench = bench();
    let ended = assign(
        &bench,
        &[
            "Evening",
            "--as",
            "counting",
            "--to",
            "rests.html",
            "--paper",
            "a4",
        ],
    );
    assert_eq!(
        ended.out,
        "2 sheets are in \"rests.html\". Open it in a browser and print it.\n"
    );
    assert!(bench.read("rests.html").contains("size: 297mm 210mm"));
}

#[test]
fn one_piece_has_a_page_for_the_door_too() {
    let bench = bench();
    let ended = assign(&bench, &["Weir", "--as", "door", "--without", "P3"]);
    let words = words(&ended.out);
    for wanted in ["Weir", "Bells", "away", "tacet"] {
        assert!(
            words.iter().any(|words| words == wanted),
            "{wanted:?}: {words:#?}"
        );
    }
}

#[test]
fn cards_are_not_written_over_and_what_cannot_be_written_is_told() {
    let bench = bench();
    for (file, told) in [
        (
            "cards.levare",
            "A page is written to a file whose name ends in .html",
        ),
        ("page", "A page is written to a file whose name ends in .html"),
        ("nowhere/door.html", "door.html"),
    ] {
        let ended = assign(&bench, &["Evening", "--as", "door", "--to", file]);
        assert_eq!(ended.status, 2, "{file}: {ended:?}");
        assert!(
            ended.out.is_empty() && ended.err.contains(told),
            "{file}: {ended:?}"
        );
    }
    let ended = assign(&bench, &["Evening", "--to", "door.html"]);
    assert_eq!(ended.status, 2, "{ended:?}");
    assert!(ended.err.contains("--as door"), "{ended:?}");
    assert!(!bench.path("door.html").exists());
    assert_eq!(bench.read("cards.levare"), CARDS);
    assert!(!bench.path("page").exists());
}

#[test]
fn without_percussionists_the_page_says_so() {
    let cards = CARDS.replace("  percussionists\n    P1              mallets, timpani\n    P2 P3           snare, bass drum, accessories\n", "");
    let bench = Bench::bare(&[("cards.levare", &cards), ("handbook.levare", BOOK)]);
    let ended = assign(&bench, &["Evening", "--as", "door"]);
    let told = words(&ended.out).join(" ");
    assert!(told.contains("names no percussionists"), "{told}");
    let ended = assign(&bench, &["Weir", "--as", "counting"]);
    let told = words(&ended.out).join(" ");
    assert!(told.contains("There is nothing to count yet"), "{told}");
}

#[test]
fn a_sparse_card_is_not_called_certain() {
    let cards = CARDS.replace(
        "    bells           1-40\n    timpani         15-30\n",
        "    bells\n    timpani\n",
    );
    let bench = Bench::bare(&[("cards.levare", &cards), ("handbook.levare", BOOK)]);
    let ended = assign(&bench, &["Evening", "--as", "door"]);
    let told = words(&ended.out).join(" ");
    assert!(told.contains("measures not known"), "{told}");
}
