//! The table of the manual and the tests that hold its rows.

use std::collections::BTreeSet;
use std::path::Path;

const TABLE: &str = include_str!("../../grammar/limits.md");

/// The tests named in the table's last column: `target::module::name` without the module.
fn named() -> BTreeSet<(String, String)> {
    let rows = TABLE
        .lines()
        .filter(|line| line.starts_with("| ") && line.contains('`'));
    let mut named = BTreeSet::new();
    for row in rows {
        let last = row
            .trim_end_matches(['|', ' '])
            .rsplit('|')
            .next()
            .expect("a column");
        let mut tests = 0;
        for test in last.split('`').filter(|part| part.contains("::")) {
            let (target, name) = test.split_once("::").expect("two parts");
            assert!(
                named.insert((target.to_owned(), name.to_owned())),
                "{test} is named twice"
            );
            tests += 1;
        }
        assert!(tests > 0, "a row without a test: {row}");
    }
    named
}

/// All tests of the files below a folder.
fn tests_in(folder: &Path) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
        let text = std::fs::read_to_string(entry.path()).unwrap_or_default();
        let mut lines = text.lines();
        while let Some(line) = lines.next() {
            if line.trim() == "#[test]" {
                let head = lines
                    .find(|line| line.trim_start().starts_with("fn "))
                    .expect("a function");
                let name = head
                    .trim_start()
                    .trim_start_matches("fn ")
                    .split('(')
                    .next()
                    .expect("a name");
                found.insert(name.to_owned());
            }
        }
    }
    found
}

#[test]
fn every_row_names_a_test_and_every_fault_has_a_row() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let named = named();
    assert!(named.len() > 20, "the table is there");
    for (target, name) in &named {
        assert!(
            tests_in(&tests.join(target)).contains(name),
            "there is no test {target}::{name}"
        );
    }
    for name in tests_in(&tests.join("faults")) {
        let is_this = name == "every_row_names_a_test_and_every_fault_has_a_row";
        assert!(
            is_this || named.contains(&("faults".to_owned(), name.clone())),
            "{name} is not in the table"
        );
    }
}
