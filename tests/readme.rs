//! The cards on the front page do what the page says they do.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot, conditions};
use levare::findings::{self, Severity};

const BAND: &str = include_str!("../src/catalogue/ready/band.levare");
const PIECES: &str = include_str!("../src/catalogue/ready/pieces.levare");
const CONCERTS: &str = include_str!("../src/catalogue/ready/concerts.levare");
const HANDBOOK: &str = include_str!("../src/catalogue/ready/handbook.levare");
const README: &str = include_str!("../README.md");

/// The lines that a page shows between fences that begin with these words.
fn blocks(page: &str, fence: &str) -> Vec<Vec<String>> {
    let mut found: Vec<Vec<String>> = Vec::new();
    let mut inside: Option<(&str, Vec<String>)> = None;
    for line in page.lines() {
        match (line.strip_prefix("```"), inside.as_mut()) {
            (Some(word), None) => inside = Some((word, Vec::new())),
            (Some(_), Some(_)) => {
                let (_, lines) = inside
                    .take()
                    .filter(|(word, _)| *word == fence)
                    .unwrap_or_default();
                found.extend(Some(lines).filter(|lines| !lines.is_empty()));
            }
            (None, Some((_, lines))) => lines.push(line.to_owned()),
            (None, None) => {}
        }
    }
    found
}

/// What is found when the pieces' file reads so, beside the others that `levare start` writes.
fn found(pieces: &str) -> Vec<(&'static str, Severity, String, String)> {
    let files = [
        ("band.levare", BAND),
        ("concerts.levare", CONCERTS),
        ("handbook.levare", HANDBOOK),
        ("pieces.levare", pieces),
    ];
    let files = files.map(|(name, text)| Arc::new(CardFile::read(name, text)));
    let snapshot = Snapshot::new(files.to_vec(), jiff::civil::date(2026, 10, 20));
    let mut found = Vec::new();
    for (id, entry) in snapshot.entries() {
        for finding in findings::of_card(&snapshot, id) {
            let words = finding.span.slice(&entry.text).to_owned();
            found.push((finding.phrase, finding.severity, finding.saying.place, words));
        }
    }
    found
}

fn typed() -> Vec<String> {
    let mut blocks = blocks(README, "levare");
    assert_eq!(blocks.len(), 1, "the page shows one thing to type");
    blocks.remove(0)
}

#[test]
fn the_first_five_minutes_end_with_one_true_warning() {
    let lines = typed();
    assert_eq!(lines.len(), 5);
    let mut pieces = PIECES.to_owned();
    for line in &lines {
        assert_eq!(found(&pieces), [], "before {line}");
        pieces.push_str(line);
        pieces.push('\n');
    }
    let told = found(&pieces);
    assert_eq!(told.len(), 1, "{told:?}");
    let (phrase, severity, place, words) = &told[0];
    assert_eq!(
        (*phrase, *severity),
        ("short of percussionists", Severity::Warning)
    );
    assert!(place.contains("41-56"), "{place}");
    assert_eq!(words, lines[4].trim(), "under the line that was typed last");
    assert_eq!(
        found(&pieces.replace("tambourine      41-56", "tambourine      41-56, optional")),
        []
    );
    let stet = blocks(README, "")
        .into_iter()
        .flatten()
        .find(|line| line.trim_start().starts_with("stet"))
        .expect("the page shows how to let it stand");
    let with = pieces.replace("  percussion\n", &format!("{stet}\n  percussion\n"));
    assert_ne!(with, pieces);
    assert_eq!(found(&with), []);
}

/// The page, the walkthrough, what `levare start` writes and the demo tell of one band and one piece.
#[test]
fn one_story_is_told_everywhere() {
    let written = [BAND, PIECES, CONCERTS, HANDBOOK].concat();
    let typed = typed();
    let walkthrough = [
        include_str!("../editors/vscode/walkthrough/folder.md"),
        include_str!("../editors/vscode/walkthrough/band.md"),
        include_str!("../editors/vscode/walkthrough/piece.md"),
        include_str!("../editors/vscode/walkthrough/warning.md"),
        include_str!("../editors/vscode/walkthrough/door.md"),
    ];
    let has = |line: &str| {
        let line = line.trim_end_matches(", optional");
        written
            .lines()
            .chain(typed.iter().map(String::as_str))
            .any(|other| {
                let words = other.split("   (").next().unwrap_or("").trim_end();
                words == line
            })
    };
    let first = README.split("## What you can ask").next().unwrap_or("");
    for page in walkthrough.into_iter().chain([first]) {
        for line in blocks(page, "").into_iter().flatten() {
            assert!(has(&line) || line.trim_start().starts_with("stet "), "{line}");
        }
    }
    assert_eq!(
        blocks(walkthrough[2], "")[0],
        typed,
        "the walkthrough asks for the same lines"
    );
    for line in &typed {
        let said = line.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            PIECES.contains(&format!("(  {said})")),
            "the file asks for {said}"
        );
    }
    let demo = [
        include_str!("../demo/ensembles.levare"),
        include_str!("../demo/pieces/marches.levare"),
    ];
    let card = |head: &str| {
        let text = demo
            .iter()
            .find_map(|text| text.split_once(head))
            .expect("the card")
            .1;
        text.split("\n\n").next().unwrap_or("").to_owned()
    };
    let theirs = [
        card("ensemble \"Seventh Grade Band\"\n"),
        card("piece \"Drum Hill\"\n"),
    ]
    .join("\n");
    let ours = BAND
        .lines()
        .chain(PIECES.lines())
        .chain(typed.iter().map(String::as_str));
    let mut compared = 0;
    for line in ours.filter(|line| line.starts_with("  ")) {
        let words = line.split("   (").next().unwrap_or("").trim_end();
        assert!(
            theirs.lines().any(|other| other == words),
            "not in the demo: {words}"
        );
        compared += 1;
    }
    assert!(compared > 30, "only {compared}");
}

/// Nothing that a director reads first is made by something that is not there.
#[test]
fn what_the_page_promises_is_there() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    for name in [
        "release",
        "packing/wheel.py",
        "editors/vscode/build",
        "tests/all",
        "tests/pictures/make",
    ] {
        assert!(root.join(name).is_file(), "{name}");
    }
    let archive = include_str!("../packing/archive.py");
    assert!(
        archive.contains("## Get it, open it, type five lines")
            && README.contains("## Get it, open it, type five lines")
    );
    let steps = include_str!("../editors/vscode/package.json");
    for words in ["Levare: your first five minutes", "Make the Page"] {
        assert!(
            README.contains(words.trim_start_matches("Levare: ")) && steps.contains(words),
            "{words}"
        );
    }
    for (at, link) in README
        .match_indices("](")
        .map(|(at, _)| (at, README[at + 2..].split(')').next().unwrap_or("")))
    {
        let file = link.split('#').next().unwrap_or("");
        assert!(
            link.starts_with("https://") || root.join(file).exists(),
            "{link} at {at}"
        );
    }
}

#[test]
fn the_manuals_conditions_are_understood() {
    let cards = [
        include_str!("../demo/pieces/beginners.levare"),
        include_str!("../demo/pieces/concert-works.levare"),
        include_str!("../demo/pieces/lyrical.levare"),
        include_str!("../demo/pieces/marches.levare"),
        include_str!("../demo/pieces/winter.levare"),
        include_str!("../demo/skills.levare"),
    ];
    let file = Arc::new(CardFile::read("a.levare", &cards.concat()));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let understood = |written: &str| {
        let read = conditions::read(&snapshot, written);
        !read.is_empty() && read.iter().all(conditions::Condition::is_heard)
    };
    let manual = include_str!("../grammar/manual.md");
    let table = manual
        .split("Conditions that are understood")
        .nth(1)
        .expect("the table is there");
    let rows = table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .skip(2);
    let mut count = 0;
    for row in rows {
        let conditions = row
            .rsplit_once("| ")
            .map_or(row, |_| row.split('|').nth(2).unwrap_or(""));
        for written in conditions.split('`').skip(1).step_by(2) {
            assert!(understood(written), "{written}");
            count += 1;
        }
    }
    assert!(count > 40, "only {count} were read");
    assert!(!understood("the parents like it"));
}
