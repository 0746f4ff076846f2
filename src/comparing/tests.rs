//! What is told of changes, and of nothing else.

use std::sync::Arc;

use super::{Became, Compared, compare, sentences};
use crate::catalogue::{CardFile, Snapshot};

fn snapshot(files: &[(&str, &str)]) -> Snapshot {
    let files = files
        .iter()
        .map(|(path, text)| Arc::new(CardFile::read(path, text)));
    Snapshot::new(files.collect(), jiff::civil::date(2026, 10, 20))
}

fn compared(old: &str, new: &str) -> Compared {
    compare(
        &snapshot(&[("a.levare", old)]),
        &snapshot(&[("a.levare", new)]),
        &|_| true,
    )
}

/// The sentences for what changed on the only card.
fn told(old: &str, new: &str) -> Vec<String> {
    let compared = compared(&format!("piece \"Air\"\n{old}"), &format!("piece \"Air\"\n{new}"));
    compared
        .cards
        .iter()
        .flat_map(|card| sentences(&card.changes))
        .collect()
}

#[test]
fn facts_in_a_directors_words() {
    let table: &[(&str, &str, &[&str])] = &[
        ("  measures 88\n", "  bars 88\n", &[]),
        (
            "  measures 88\n",
            "  measures 90\n",
            &["Measures: from 88 to 90."],
        ),
        (
            "  measures 88\n",
            "  measures about 88\n",
            &["Measures: from 88 to about 88."],
        ),
        ("", "  lasts 3:10\n", &["Lasts: 3:10 added."]),
        (
            "  meter 4/4, 3/4 at 20\n",
            "  meter 4/4, 3/4 at 24\n",
            &["Meter: from 3/4 at 20 to 3/4 at 24."],
        ),
        (
            "  grade 1 publisher, 2 ours\n",
            "  grade 1 publisher, 3 ours\n",
            &["Grade: from 2 ours to 3 ours."],
        ),
        (
            "  style march, slow\n",
            "  style slow\n",
            &["Style: march taken out."],
        ),
        ("  percussion\n    snare 1-8\n", "  percussion snare 1-8\n", &[]),
        (
            "  percussion\n    snare 9-16\n",
            "  percussion\n    snare 11-18\n",
            &["Percussion: the entrance of the snare moved: 9-16 is now 11-18."],
        ),
        (
            "  percussion\n    snare 9-16\n",
            "  percussion\n    snare 9-16, 20\n",
            &["Percussion, snare: 20 added."],
        ),
        (
            "  parts\n    flute A4-C6\n",
            "  parts\n    flute A4-D6\n",
            &["Parts, flute: from A4-C6 to A4-D6."],
        ),
        (
            "  library\n    missing tuba\n",
            "  library\n    missing horn\n",
            &[
                "Library, missing: tuba taken out.",
                "Library, missing: horn added.",
            ],
        ),
        (
            "  measures 88 (counted)\n",
            "  measures 88\n",
            &["Remark taken out: (counted)."],
        ),
        (
            "  notes Soft (very).\n",
            "  notes Soft (quite).\n",
            &["Notes changed: it was \"Soft (very).\", and is now \"Soft (quite).\""],
        ),
        ("  colour red\n", "  colour  red\n", &[]),
        (
            "  measures soon\n",
            "  measures later\n",
            &["Measures: from soon to later."],
        ),
        (
            "  percussion\n    snare 1-8 zonk\n",
            "  percussion\n    snare 1-8\n",
            &["Percussion: zonk taken out."],
        ),
    ];
    for (old, new, wanted) in table {
        assert_eq!(told(old, new), *wanted, "{old}{new}");
    }
}

#[test]
fn cards_that_come_go_move_and_are_renamed() {
    let old = snapshot(&[
        (
            "a.levare",
            "piece \"Air\"\n  grade 1\n  style slow\n\npiece \"Rag\"\n  grade 2\n",
        ),
        ("b.levare", "piece \"Kettel Jig\"\n  grade 3\n"),
    ]);
    let new = snapshot(&[
        (
            "a.levare",
            "piece \"New Air\"\n  style slow\n  grade 1\n\npiece \"Kettle Jig\"\n  grade 3\n",
        ),
        ("b.levare", "piece \"Stomp\"\n  grade 2\n"),
    ]);
    let compared = compare(&old, &new, &|_| true);
    let cards: Vec<_> = compared
        .cards
        .iter()
        .map(|card| {
            (
                card.card.name.as_str(),
                card.became,
                card.old_name.as_deref(),
                card.old_file.as_deref(),
            )
        })
        .collect();
    // One line that both have is no sign that Rag became Stomp.
    assert_eq!(
        cards,
        [
            ("New Air", Became::Changed, Some("Air"), None),
            (
                "Kettle Jig",
                Became::Changed,
                Some("Kettel Jig"),
                Some("b.levare")
            ),
            ("Stomp", Became::Added, None, None),
            ("Rag", Became::TakenOut, None, None),
        ]
    );
}

#[test]
fn only_what_moved_in_a_program_is_told() {
    let program = |titles: &[&str]| {
        let rows: String = titles.iter().map(|title| format!("    \"{title}\"\n")).collect();
        format!("concert \"Winter\"\n  program\n{rows}")
    };
    let found = compared(&program(&["A", "B", "C", "D"]), &program(&["D", "A", "B", "C"]));
    let told: Vec<String> = found
        .cards
        .iter()
        .flat_map(|card| sentences(&card.changes))
        .collect();
    assert_eq!(told, ["Program: \"D\" moved from number 4 to number 1."]);
}

#[test]
fn line_endings_and_blank_lines_between_cards_say_nothing() {
    let old = "piece \"Air\"\n  grade 1\n\n\npiece \"Rag\"\n  grade 2\n";
    let found = compared(old, &old.replace("\n\n\n", "\n\n").replace('\n', "\r\n"));
    assert_eq!((found.cards.len(), found.layout.len(), found.same), (0, 0, 2));
}

#[test]
fn cards_at_another_place_of_their_file() {
    let card = |name: &str| format!("piece \"{name}\"\n  grade 1\n\n");
    let file = |names: &str| -> String { names.chars().map(|name| card(&name.to_string())).collect() };
    let found = compared(&file("ABCDE"), &file("AECDB"));
    assert!(found.is_empty() && found.layout.is_empty());
    let moved: Vec<&str> = found.moved.iter().map(|card| card.name.as_str()).collect();
    assert_eq!(moved, ["E", "B"]);
    assert_eq!(compared(&file("ABCDE"), &file("ACDE")).moved, []);
}
