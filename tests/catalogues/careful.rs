//! Two catalogues of careful directors: nothing is found in them, and each of the slips of `slips.md`, planted
//! alone, is told by one finding at its place.

use std::fmt::Write as _;

use super::{Told, files, folded, folder, told_in};

/// A slip: on a line of a card, some words become others.
struct Planted {
    catalogue: String,
    card: String,
    right: String,
    wrong: String,
    rule: String,
}

fn planted() -> Vec<Planted> {
    let page = std::fs::read_to_string(folder("tests/catalogues/slips.md")).expect("the table is there");
    page.lines()
        .filter(|line| line.starts_with("| river") || line.starts_with("| summit"))
        .map(|line| {
            let mut cells = line.trim_matches('|').split('|').map(str::trim);
            let mut next = || cells.next().unwrap_or("").trim_matches('`').to_owned();
            Planted {
                catalogue: next(),
                card: next(),
                right: next(),
                wrong: next(),
                rule: next(),
            }
        })
        .collect()
}

/// What is told without what is merely an open question.
fn serious(files: &[(String, String)]) -> Vec<Told> {
    let mut told = told_in(files);
    told.retain(|told| told.finding.phrase != "open question");
    told
}

fn said(told: &Told) -> String {
    format!(
        "{} {:?}, {:?}\n    {}: {}",
        told.file,
        told.card,
        told.lines,
        told.finding.phrase,
        told.finding.saying.whole()
    )
}

fn nothing_is_found(catalogue: &str) {
    let folder = folder(&format!("tests/catalogues/{catalogue}"));
    let files = files(&folder);
    let cards = files.iter().flat_map(|(_, text)| text.lines());
    let heads = cards.filter(|line| line.starts_with(|c: char| c.is_lowercase()));
    assert_eq!(heads.count(), 25, "the cards of {catalogue}");
    let told: Vec<String> = serious(&files).iter().map(said).collect();
    assert!(
        told.is_empty(),
        "false alarms in {catalogue}:\n{}",
        told.join("\n")
    );
}

#[test]
fn nothing_is_found_by_the_river() {
    nothing_is_found("river");
}

#[test]
fn nothing_is_found_at_the_summit() {
    nothing_is_found("summit");
}

/// The files with a slip planted, and the line with it.
fn plant(files: &[(String, String)], slip: &Planted) -> Option<(Vec<(String, String)>, String)> {
    let head = format!("\"{}\"", slip.card);
    let mut files = files.to_vec();
    for (_, text) in &mut files {
        let handbook = slip.card == "handbook";
        let starts = |line: &str| match handbook {
            true => line == "handbook",
            false => line.starts_with(|c: char| c.is_lowercase()) && line.ends_with(&head),
        };
        let mut within = false;
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        for line in &mut lines {
            if line.starts_with(|c: char| c.is_lowercase()) {
                within = starts(line);
            }
            if within && folded(line).contains(&slip.right) {
                let new = match line.contains(&slip.right) {
                    true => line.replacen(&slip.right, &slip.wrong, 1),
                    false => {
                        let indent = line.len() - line.trim_start().len();
                        let words = folded(line).replacen(&slip.right, &slip.wrong, 1);
                        format!("{}{words}", " ".repeat(indent))
                    }
                };
                *line = new.clone();
                *text = lines.join("\n") + "\n";
                return Some((files, folded(&new)));
            }
        }
    }
    None
}

#[test]
fn each_slip_by_the_river_is_told_once_at_its_place() {
    each_is_told_once("river");
}

#[test]
fn each_slip_at_the_summit_is_told_once_at_its_place() {
    each_is_told_once("summit");
}

fn each_is_told_once(catalogue: &str) {
    let slips = planted();
    assert!(slips.len() >= 40, "{} slips", slips.len());
    let all = files(&folder(&format!("tests/catalogues/{catalogue}")));
    let mut text = String::new();
    for slip in slips.iter().filter(|slip| slip.catalogue == catalogue) {
        let Some((files, line)) = plant(&all, slip) else {
            let _ = writeln!(text, "{}: nowhere {:?}", slip.card, slip.right);
            continue;
        };
        let told = serious(&files);
        let right = |told: &&Told| {
            told.finding.phrase == slip.rule && (told.lines.contains(&line) || line.contains(&told.lines))
        };
        if told.len() != 1 || told.iter().filter(right).count() != 1 {
            let _ = writeln!(text, "{} ({}), {}: {line}", slip.card, slip.catalogue, slip.rule);
            for told in &told {
                let _ = writeln!(text, "    {}", said(told));
            }
        }
    }
    assert!(text.is_empty(), "\n{text}");
}
