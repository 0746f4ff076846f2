//! The examples in the rules' own pages.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::page::{self, Example};
use levare::findings::{self, Finding, RULES, Rule};
use levare::text::Span;

/// The day the examples are read on.
fn today() -> jiff::civil::Date {
    jiff::civil::date(2026, 10, 20)
}

/// All findings of an example, with their places in its text.
fn found(example: &Example) -> Vec<(Span, Finding)> {
    let file = Arc::new(CardFile::read("example.levare", &example.text));
    let snapshot = Snapshot::new(vec![Arc::clone(&file)], today());
    snapshot
        .entries()
        .flat_map(|(id, _)| {
            let findings = findings::of_card(&snapshot, id);
            findings.into_iter().map(move |finding| (id, finding))
        })
        .map(|(id, finding)| (file.in_file(id.entry as usize, finding.span), finding))
        .collect()
}

fn show(found: &[(Span, Finding)], text: &str) -> String {
    found
        .iter()
        .map(|(span, finding)| {
            format!(
                "  {} at {:?}: {}\n",
                finding.phrase,
                span.slice(text),
                finding.saying.whole()
            )
        })
        .collect()
}

/// What is wrong with a rule's page; nothing when it is as it should be.
fn faults(rule: &Rule, page: &str) -> Vec<String> {
    let parsed = page::parse(page);
    let mut faults = Vec::new();
    for (part, name) in [
        (&parsed.notices, "what it notices"),
        (&parsed.why, "Why it matters"),
        (&parsed.todo, "What to do"),
    ] {
        if part.trim().is_empty() {
            faults.push(format!("{}: the page does not say {name}", rule.phrase));
        }
    }
    if parsed.draws.is_empty() || parsed.does_not.is_empty() {
        faults.push(format!(
            "{}: the page needs an example that draws it and one that does not",
            rule.phrase
        ));
    }
    for example in &parsed.draws {
        let found = found(example);
        let places: Vec<Span> = found.iter().map(|(span, _)| *span).collect();
        let ours = found.iter().all(|(_, finding)| finding.phrase == rule.phrase);
        if !ours || places != example.marks || example.marks.is_empty() {
            let marked: Vec<&str> = example
                .marks
                .iter()
                .map(|span| span.slice(&example.text))
                .collect();
            faults.push(format!(
                "{}: expected it alone at {marked:?}, found\n{}in\n{}",
                rule.phrase,
                show(&found, &example.text),
                example.text
            ));
        }
    }
    for example in &parsed.does_not {
        let found = found(example);
        if !found.is_empty() {
            faults.push(format!(
                "{}: expected silence, found\n{}in\n{}",
                rule.phrase,
                show(&found, &example.text),
                example.text
            ));
        }
    }
    faults
}

#[test]
fn every_page_tells_the_truth() {
    let faults: Vec<String> = RULES.iter().flat_map(|rule| faults(rule, rule.page)).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_page_that_lies_is_caught() {
    let rule = findings::find("signature against center").expect("the rule is in the table");
    let page = |signature: &str, marks: &str| {
        format!(
            "It notices.\n# Why it matters\nIt does.\n# Draws it\n```levare\npiece \"A\"\n  tonal center  G minor\n  key signature {signature}\n                {marks}\n```\n# Does not\n```levare\npiece \"B\"\n```\n# What to do\nLook.\n"
        )
    };
    assert_eq!(faults(rule, &page("3 flats", "^^^^^^^")), Vec::<String>::new());
    assert_eq!(
        faults(rule, &page("3 flats", "^^^^^^")).len(),
        1,
        "a mark in the wrong place"
    );
    assert_eq!(
        faults(rule, &page("2 flats", "^^^^^^^")).len(),
        1,
        "nothing drawn"
    );
    assert!(
        !faults(rule, "It notices.").is_empty(),
        "a page without its parts"
    );
}

#[test]
fn phrases_are_plain_and_each_stands_once() {
    let mut seen = std::collections::HashSet::new();
    for rule in RULES {
        assert!(seen.insert(rule.phrase), "{} stands twice", rule.phrase);
        assert!(
            !rule.phrase.contains(',') && !rule.phrase.contains("because"),
            "{}",
            rule.phrase
        );
        assert_eq!(rule.phrase, rule.phrase.to_lowercase());
    }
}
