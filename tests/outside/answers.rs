//! The reference answers as they lie on the disk.

use std::path::{Path, PathBuf};

use serde_json::Value;

/// One question with its answers.
pub type Row = Value;

/// Where the answers are: `$LEVARE_OUTSIDE/answers`, or `target/outside/answers`.
fn folder() -> PathBuf {
    let base = std::env::var_os("LEVARE_OUTSIDE").map(PathBuf::from);
    let usual = || Path::new(env!("CARGO_MANIFEST_DIR")).join("target/outside");
    base.unwrap_or_else(usual).join("answers")
}

/// The rows of one subject in a folder.
///
/// # Errors
/// What is not there, with the command that makes it.
pub fn rows_in(folder: &Path, subject: &str) -> Result<Vec<Row>, String> {
    let path = folder.join(format!("{subject}.json"));
    let make = "run tests/outside/prepare, which asks music21 and partitura and writes it";
    let text = std::fs::read_to_string(&path)
        .map_err(|problem| format!("{} cannot be read ({problem}): {make}", path.display()))?;
    let mut all: Value = serde_json::from_str(&text)
        .map_err(|problem| format!("{} is broken ({problem}): {make}", path.display()))?;
    match all["rows"].take() {
        Value::Array(rows) if !rows.is_empty() => Ok(rows),
        _ => Err(format!("{} holds no rows: {make}", path.display())),
    }
}

/// The rows of one subject; the test fails where there are none.
pub fn rows(subject: &str) -> Vec<Row> {
    match rows_in(&folder(), subject) {
        Ok(rows) => rows,
        Err(problem) => panic!("{problem}"),
    }
}

/// A word of a row.
pub fn word<'r>(row: &'r Row, name: &str) -> &'r str {
    row[name]
        .as_str()
        .unwrap_or_else(|| panic!("no word {name} in {row}"))
}

/// A whole number of a row.
pub fn number(row: &Row, name: &str) -> i32 {
    let found = row[name].as_i64().and_then(|n| i32::try_from(n).ok());
    found.unwrap_or_else(|| panic!("no number {name} in {row}"))
}

/// A figure of a row.
pub fn figure(row: &Row, name: &str) -> f64 {
    row[name]
        .as_f64()
        .unwrap_or_else(|| panic!("no figure {name} in {row}"))
}

/// Fails with every difference, at most twenty shown.
pub fn agree(differences: &[String]) {
    let shown: Vec<&str> = differences.iter().take(20).map(String::as_str).collect();
    assert!(
        differences.is_empty(),
        "{} differences:\n{}",
        differences.len(),
        shown.join("\n")
    );
}

#[test]
fn what_is_not_there_names_the_command() {
    let nowhere = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside");
    let said = rows_in(&nowhere, "pitches").expect_err("no answers lie beside the tests");
    assert!(said.contains("run tests/outside/prepare"), "{said}");
}
