//! The catalogues that were typed by hand with slips in them: each slip is found, and nothing else is.
//!
//! Each folder has a table of its slips. A finding answers a slip when it stands on the same card of the
//! same file, on a line that holds the words quoted in the table, and is of the rule named there.

#[path = "catalogues/careful.rs"]
mod careful;
#[path = "catalogues/every_slip.rs"]
mod every_slip;

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use levare::catalogue::{CardFile, Snapshot};
use levare::disk;
use levare::findings::{self, Finding};

/// A slip as the table gives it.
struct Slip {
    file: String,
    card: String,
    words: Vec<String>,
    rule: String,
}

/// A finding with its file, its card and its lines.
struct Told {
    file: String,
    card: String,
    lines: String,
    finding: Finding,
}

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// The files of a folder, by their names.
fn files(folder: &Path) -> Vec<(String, String)> {
    let gathered = disk::gather(
        folder,
        &disk::Rules::default(),
        &mut |_| {},
        &AtomicBool::new(false),
    );
    assert!(gathered.problems.is_empty(), "{:?}", gathered.problems);
    gathered
        .files
        .iter()
        .map(|file| {
            let path = file.path.strip_prefix(folder).unwrap_or(&file.path);
            (path.to_string_lossy().replace('\\', "/"), file.text.to_string())
        })
        .collect()
}

/// Everything that is found in a folder, read on the day its table names.
fn told(folder: &Path) -> Vec<Told> {
    told_in(&files(folder))
}

/// Everything that is found in these files.
fn told_in(files: &[(String, String)]) -> Vec<Told> {
    let files = files
        .iter()
        .map(|(path, text)| Arc::new(CardFile::read(path, text)))
        .collect();
    let snapshot = Snapshot::new(files, jiff::civil::date(2026, 10, 20));
    let mut told = Vec::new();
    for (id, entry) in snapshot.entries() {
        let file = snapshot.file_of(id).expect("a card stands in a file");
        for finding in findings::of_card(&snapshot, id) {
            told.push(Told {
                file: file.path.to_string(),
                card: entry.name.clone(),
                lines: lines_of(&entry.text, &finding),
                finding,
            });
        }
    }
    told
}

/// The whole lines that a finding marks, blanks folded.
fn lines_of(text: &str, finding: &Finding) -> String {
    let start = finding.span.start as usize;
    let end = (finding.span.end as usize).max(start);
    let from = text[..start].rfind(['\n', '\r']).map_or(0, |at| at + 1);
    let to = text[end..].find(['\n', '\r']).map_or(text.len(), |at| end + at);
    folded(&text[from..to])
}

fn folded(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The slips of the first table of a page whose first column is `file`.
fn slips(page: &str, last_heading: Option<&str>) -> Vec<Slip> {
    let page = last_heading
        .and_then(|heading| page.split(heading).next())
        .unwrap_or(page);
    let mut slips = Vec::new();
    let mut in_table = false;
    for line in page.lines() {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        match cells.as_slice() {
            ["", "file", _, _, "rule", ..] => in_table = true,
            ["", "file", ..] => in_table = false,
            ["", rule, ..] if rule.starts_with("---") => {}
            ["", file, card, words, rule, ..] if in_table => slips.push(Slip {
                file: (*file).to_owned(),
                card: card.split(['"', '“', '”']).nth(1).unwrap_or("").to_owned(),
                words: words.split('`').skip(1).step_by(2).map(folded).collect(),
                rule: (*rule).to_owned(),
            }),
            _ => {}
        }
    }
    slips
}

fn answers(told: &Told, slip: &Slip) -> bool {
    let fits = |words: &String| told.lines.contains(words.as_str()) || words.contains(told.lines.as_str());
    told.file == slip.file
        && told.card == slip.card
        && told.finding.phrase == slip.rule
        && slip.words.iter().any(fits)
}

/// What is missed and what is said without need; empty when all is well.
fn differences(told: &[Told], slips: &[Slip]) -> String {
    let mut text = String::new();
    for slip in slips {
        let count = told.iter().filter(|told| answers(told, slip)).count();
        if count != 1 {
            let _ = writeln!(
                text,
                "{count} findings for {} {:?} {:?}, {}",
                slip.file, slip.card, slip.words, slip.rule
            );
        }
    }
    for told in told {
        let asked = told.finding.phrase == "open question";
        if !asked && !slips.iter().any(|slip| answers(told, slip)) {
            let saying = told.finding.saying.whole();
            let _ = writeln!(
                text,
                "not a slip: {} {:?}, {:?}\n    {}: {saying}",
                told.file, told.card, told.lines, told.finding.phrase
            );
        }
    }
    text
}

fn check(name: &str, page: &str, last_heading: Option<&str>) {
    let page = std::fs::read_to_string(folder(page)).expect("the table of slips is there");
    let slips = slips(&page, last_heading);
    assert!(slips.len() > 9, "the table was not read");
    for slip in &slips {
        assert!(findings::find(&slip.rule).is_some(), "no rule {:?}", slip.rule);
    }
    let told = told(&folder(name));
    let differences = differences(&told, &slips);
    assert!(differences.is_empty(), "\n{differences}");
}

#[test]
fn the_neat_catalogue() {
    check(
        "tests/catalogues/neat",
        "tests/catalogues/neat/verdicts.md",
        Some("\n## "),
    );
}

#[test]
fn the_hasty_catalogue() {
    check(
        "tests/catalogues/hasty",
        "tests/catalogues/hasty/verdicts.md",
        Some("\n## "),
    );
}

#[test]
fn the_odd_catalogue() {
    check(
        "tests/catalogues/odd",
        "tests/catalogues/odd/verdicts.md",
        Some("\n## "),
    );
}

#[test]
fn the_planned_catalogue() {
    check(
        "tests/catalogues/planned",
        "tests/catalogues/planned/verdicts.md",
        Some("\n## "),
    );
}

#[test]
fn the_demo() {
    check("demo", "tests/demo/expected.md", Some("\n## Open questions"));
}

#[test]
fn a_table_that_lies_is_caught() {
    let told = told(&folder("tests/catalogues/neat"));
    let lie = Slip {
        file: "pieces.levare".to_owned(),
        card: "No Such Piece".to_owned(),
        words: vec!["measures 1".to_owned()],
        rule: "said twice".to_owned(),
    };
    assert!(
        differences(&told, &[lie]).contains("0 findings for pieces.levare"),
        "a slip that is not there"
    );
    let other_rule = Slip {
        file: "pieces.levare".to_owned(),
        card: "Prelude on a Quiet Street".to_owned(),
        words: vec!["key signature 3 flats".to_owned()],
        rule: "said twice".to_owned(),
    };
    assert!(
        differences(&told, &[other_rule]).contains("0 findings for pieces.levare"),
        "a slip that another rule tells"
    );
    assert!(
        differences(&told, &[]).contains("not a slip"),
        "findings that no table names"
    );
}
