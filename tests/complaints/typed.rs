//! What directors typed and what was made of it: each case of `typed.txt` is a few cards, what is found in them,
//! and lines that the one form must have.
//!
//! `LEVARE_BLESS=1 cargo test --test complaints typed` writes what is found now; read the difference first.

use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use levare::notation::recopy::{How, recopy_file};

/// A case: its heading, its cards, what is found, and lines of the one form.
#[derive(Debug, Default)]
struct Case {
    heading: String,
    cards: String,
    draws: Vec<String>,
    reads: Vec<String>,
}

const PAGE: &str = "tests/complaints/typed.txt";

fn cases(page: &str) -> (String, Vec<Case>) {
    let mut lead = String::new();
    let mut found: Vec<Case> = Vec::new();
    let mut part = "cards";
    for line in page.lines() {
        if let Some(heading) = line.strip_prefix("== ") {
            found.push(Case {
                heading: heading.to_owned(),
                ..Case::default()
            });
            part = "cards";
            continue;
        }
        let Some(case) = found.last_mut() else {
            let _ = writeln!(lead, "{line}");
            continue;
        };
        match (line, part) {
            ("-- draws", _) => part = "draws",
            ("-- reads", _) => part = "reads",
            (line, "cards") => {
                let _ = writeln!(case.cards, "{line}");
            }
            (line, _) if line.trim().is_empty() => {}
            (line, "draws") => case.draws.push(line.to_owned()),
            (line, _) => case.reads.push(folded(line)),
        }
    }
    (lead, found)
}

fn folded(line: &str) -> String {
    line.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is found in some cards: the phrase, and the line it stands on.
fn drawn(text: &str) -> Vec<String> {
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let mut found = Vec::new();
    for (id, entry) in snapshot.entries() {
        for finding in findings::of_card(&snapshot, id) {
            let start = finding.span.start as usize;
            let line = entry.text[..start].rfind('\n').map_or(0, |at| at + 1);
            let line = entry.text[line..].lines().next().unwrap_or("");
            found.push(format!("{}: {}", finding.phrase, folded(line)));
        }
    }
    found
}

/// The lines of the one form, blanks folded.
fn recopied(text: &str) -> Vec<String> {
    let form = recopy_file(text, How::default()).text;
    form.lines().map(folded).collect()
}

#[test]
fn what_directors_typed_is_taken_as_they_meant_it_or_told() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(PAGE);
    let page = std::fs::read_to_string(&path).expect("the cases are there");
    let (lead, cases) = cases(&page);
    assert!(cases.len() > 60, "the cases were not read");
    let mut wrong = String::new();
    let mut now = lead;
    for case in &cases {
        let cards = case.cards.trim_end().to_owned() + "\n";
        let draws = drawn(&cards);
        if draws != case.draws {
            let _ = writeln!(wrong, "{}\n{cards}  draws {draws:#?}", case.heading);
        }
        let form = recopied(&cards);
        for line in case.reads.iter().filter(|line| !form.contains(line)) {
            let _ = writeln!(wrong, "{}: {line:?} is not in {form:#?}", case.heading);
        }
        let _ = write!(now, "== {}\n{cards}-- draws\n", case.heading);
        for line in &draws {
            let _ = writeln!(now, "{line}");
        }
        if !case.reads.is_empty() {
            now.push_str("-- reads\n");
        }
        for line in &case.reads {
            let _ = writeln!(now, "{line}");
        }
        now.push('\n');
    }
    if std::env::var_os("LEVARE_BLESS").is_some() {
        std::fs::write(&path, now).expect("the cases can be written");
        return;
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// The check can fail: a case that says otherwise is seen.
#[test]
fn a_case_that_lies_is_seen() {
    let (_, cases) =
        cases("== a\npiece \"A\"\n  meter  4/5\n-- draws\n\n== b\npiece \"B\"\n-- draws\nsaid twice: x\n");
    let differ = cases.iter().filter(|case| drawn(&case.cards) != case.draws);
    assert_eq!(differ.count(), 2);
}
