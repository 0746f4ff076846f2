//! A rule that says what it looks at finds nothing on cards that have none of it.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::page;
use levare::findings::{Card, Looks, RULES};

fn snapshot(files: Vec<(String, String)>) -> Snapshot {
    let files = files
        .iter()
        .map(|(path, text)| Arc::new(CardFile::read(path, text)));
    Snapshot::new(files.collect(), jiff::civil::date(2026, 10, 20))
}

/// The files below a folder.
fn folder(path: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut open = vec![std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(path)];
    while let Some(next) = open.pop() {
        for entry in std::fs::read_dir(&next).expect("the folder is there").flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|ending| ending == "levare") {
                let text = std::fs::read_to_string(&path).expect("it is text");
                found.push((path.to_string_lossy().into_owned(), text));
            }
        }
    }
    found
}

#[test]
fn rules_find_nothing_where_they_do_not_look() {
    let mut catalogues = vec![folder("demo")];
    for name in ["hasty", "neat", "odd", "planned", "river", "summit"] {
        catalogues.push(folder(&format!("tests/catalogues/{name}")));
    }
    // The pages draw each finding at least once.
    for rule in RULES {
        let page = page::parse(rule.page);
        for example in page.draws.iter().chain(&page.does_not) {
            catalogues.push(vec![("a.levare".to_owned(), example.text.clone())]);
        }
    }
    let (mut passed, mut looked) = (0, 0);
    for catalogue in catalogues {
        let snapshot = snapshot(catalogue);
        for (id, entry) in snapshot.entries() {
            let reading = entry.reading();
            let card = Card::new(&snapshot, id, entry, &reading, entry.facts());
            let has = Looks::of(entry, entry.facts());
            for rule in RULES {
                if rule.looks.meets(has) {
                    looked += 1;
                    continue;
                }
                passed += 1;
                let mut found = Vec::new();
                (rule.run)(&card, rule, &mut found);
                assert!(found.is_empty(), "{}: {}", rule.phrase, entry.text);
            }
        }
    }
    assert!(passed * 2 > looked, "{passed} passed over, {looked} looked at");
}
