//! The table of figures in the manual: every row has its five cells, its source is one of three words or a
//! published one, and the file that checks it is there.

use std::path::Path;

fn rows(page: &str) -> Vec<Vec<String>> {
    page.lines()
        .filter(|line| line.starts_with('|') && !line.starts_with("| ---") && !line.starts_with("| figure"))
        .map(|line| {
            line.trim_matches('|')
                .split('|')
                .map(|cell| cell.trim().to_owned())
                .collect()
        })
        .collect()
}

/// What is wrong with the table.
fn faults(page: &str, root: &Path) -> Vec<String> {
    let mut faults = Vec::new();
    for row in rows(page) {
        let [figure, value, source, stands, checked] = row.as_slice() else {
            faults.push(format!("{row:?} has not five cells"));
            continue;
        };
        if figure.is_empty() || value.is_empty() || source.is_empty() {
            faults.push(format!("{figure}: a cell is empty"));
        }
        for (file, may_be_nothing) in [(stands, false), (checked, true)] {
            let file = file.trim_matches('`');
            let nothing = may_be_nothing && file.starts_with("nothing yet");
            if !nothing && !root.join(file).is_file() {
                faults.push(format!("{figure}: there is no file {file}"));
            }
        }
    }
    faults
}

#[test]
fn the_table_of_figures_is_true() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let page = std::fs::read_to_string(root.join("grammar/figures.md")).expect("the table is there");
    assert!(rows(&page).len() > 30, "the table was not read");
    let faults = faults(&page, root);
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn a_row_that_lies_is_caught() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let lie = "| a figure | 1 | memory | `src/lib.rs` | `tests/nowhere.rs` |\n| short |\n";
    assert_eq!(faults(lie, root).len(), 2);
}
