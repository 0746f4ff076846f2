//! Catalogues that nobody would write, of sizes at which a cost that grows with the square of the text would not come
//! back within an hour. No times are asserted: the test runner's patience is the limit.

use std::fmt::Write as _;
use std::sync::Arc;

use super::{Finding, Round};
use crate::catalogue::{CardFile, Snapshot};

fn found(text: &str) -> Vec<Finding> {
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let round = Round::of(&snapshot);
    let ids = snapshot.entries().map(|(id, _)| id);
    ids.flat_map(|id| round.of_card(id)).collect()
}

fn phrases(findings: &[Finding], phrase: &str) -> usize {
    findings.iter().filter(|one| one.phrase == phrase).count()
}

#[test]
fn a_long_chain_of_skills_and_a_long_circle() {
    let chain = |last: &str| {
        let mut text = String::new();
        for at in 1..2_000 {
            let _ = writeln!(text, "skill \"step {at}\"\n  after step {}", at + 1);
        }
        let _ = writeln!(text, "skill \"step 2000\"\n{last}");
        found(&text)
    };
    assert_eq!(phrases(&chain(""), "skills in a circle"), 0);
    let circle = chain("  after step 1");
    assert_eq!(phrases(&circle, "skills in a circle"), 1, "told once");
    let told = circle.iter().find(|one| one.phrase == "skills in a circle");
    let says = told.map(|told| told.saying.says.as_str()).unwrap_or_default();
    assert!(says.contains("one of 2000 skills"), "{says}");
}

#[test]
fn one_title_on_very_many_cards() {
    let mut text = String::new();
    for _ in 0..1_000 {
        text.push_str("piece \"Gravel Road March\"\n");
    }
    assert_eq!(phrases(&found(&text), "two cards for one piece"), 999);
    text.clear();
    for at in 0..1_000 {
        let _ = writeln!(
            text,
            "piece \"Gravel Road March\"\n  by Ann Writer{}",
            letters(at)
        );
    }
    let all = found(&text);
    assert!(phrases(&all, "two cards for one piece") < 1_000);
}

/// A number in letters, so that titles and names differ in no numeral.
fn letters(mut at: usize) -> String {
    let mut word = String::new();
    for _ in 0..4 {
        word.push(char::from(b'a' + (at % 26) as u8));
        at /= 26;
    }
    word
}

#[test]
fn very_many_titles_that_are_nearly_alike() {
    let mut text = String::new();
    for at in 0..1_000 {
        let _ = writeln!(text, "piece \"Gravel Road March {}\"", letters(at));
    }
    assert!(phrases(&found(&text), "titles nearly alike") > 700);
}

#[test]
fn very_many_stets_and_unknown_lines_on_one_card() {
    let mut text = String::from("piece \"Gravel Road March\"\n");
    for _ in 0..10_000 {
        text.push_str("  stet over the break because the seconds are eighth graders\n");
    }
    assert_eq!(phrases(&found(&text), "left over from before"), 10_000);
    text.truncate("piece \"Gravel Road March\"\n".len());
    for at in 0..10_000 {
        let _ = writeln!(text, "  measures {}x", at);
    }
    assert_eq!(phrases(&found(&text), "not understood"), 10_000);
}

#[test]
fn very_many_parts_of_one_instrument() {
    let mut text =
        String::from("ensemble \"Band\"\n  players\n    flute  8\npiece \"Gravel Road March\"\n  parts\n");
    for at in 1..2_000 {
        let _ = writeln!(text, "    flute {at}  C5-C6");
    }
    let all = found(&text);
    assert!(phrases(&all, "part short of players") > 0);
}
