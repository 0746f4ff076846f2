//! What the rules about keys and time find in the demo and in the three catalogues: the slips that their
//! pages of verdicts name, and nothing else.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::{self, Family, Severity, find};

/// Files of a catalogue below the project's folder, in the order of their paths.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder can be read")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "levare") {
            found.push(path);
        }
    }
}

/// Findings of some families as `card | words marked | phrase | severity`, and all that is said.
pub fn found(folder: &str, families: &[Family]) -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut paths = Vec::new();
    files(&root, &mut paths);
    let cards: Vec<Arc<CardFile>> = paths
        .iter()
        .map(|path| {
            let name = path
                .strip_prefix(&root)
                .expect("below the root")
                .to_string_lossy()
                .into_owned();
            let text = std::fs::read_to_string(path).expect("the file can be read");
            Arc::new(CardFile::read(&name, &text))
        })
        .collect();
    assert!(!cards.is_empty(), "{folder} holds no cards");
    let snapshot = Snapshot::new(cards, jiff::civil::date(2026, 10, 20));
    let mut all = Vec::new();
    for (id, entry) in snapshot.entries() {
        for finding in findings::of_card(&snapshot, id) {
            let family = find(finding.phrase).map(|rule| rule.family);
            if !family.is_some_and(|family| families.contains(&family)) {
                continue;
            }
            let hint = match finding.severity {
                Severity::Hint => " | hint",
                _ => "",
            };
            let line = format!(
                "{} | {} | {}{hint}",
                entry.name,
                finding.span.slice(&entry.text),
                finding.phrase
            );
            all.push((
                line,
                format!("{}: {}", finding.saying.place, finding.saying.whole()),
            ));
        }
    }
    all
}

#[test]
fn slips_of_keys_and_time_are_found_and_nothing_else() {
    for (folder, expected) in [
        (
            "demo",
            vec![
                "Overture for a Small Hall | 6:40 | length against measures",
                "Night Train to Alder | 3 flats | signature against center",
                "A Cradle Song for Winter | dotted quarter = 60 | beat against meter",
            ],
        ),
        (
            "tests/catalogues/neat",
            vec![
                "Prelude on a Quiet Street | 3 flats | signature against center",
                "Gray Squirrel Gallop | repeat 49-32 | measures backwards",
                "Copper Beech Rag | 1:50 | length against measures",
                "Tinsmith's Holiday | 2nd ending 22 | endings do not meet",
                "Kite String Waltz | 1st ending 32 | ending alone | hint",
                "Three Wishes | repeat 5-20 2 times | times against endings",
                "Footbridge Polka | repeat 20-36 | repeats cross",
                "Evening Gate | Fine at 24 | sign without a jump",
                "Ox Road | to coda at 24 | sign on the wrong side",
                "Mill Race | D.S. al Coda at 64 | measure never reached",
                "Stepping Stools | 2/4 at 37 | odd measure with no return | hint",
                "Two Weathers | 3/4 at 34 | change beside the others",
            ],
        ),
        (
            "tests/catalogues/hasty",
            vec![
                "Sugar Table | q = 50 | tempo word against figure",
                "Fogbell | 12:00 | length against measures",
                "Canyon Onions | B 25 | long way without a mark | hint",
                "Canyon Onions | mm. 57-46 | measures backwards",
                "Pocketful of Gravel | 1 flat | signature against center",
            ],
        ),
        (
            "tests/catalogues/odd",
            vec![
                "Blue Ladder | 5 flats | signature too flat",
                "Salt Signal | 5:30 | track longer than the piece",
                "Three Lamps | 3 \"Neon\" | movement numbers out of order",
                "Slingstep | 1:35 | length against measures",
                "Five Past Five | dotted quarter = 152 | beat against meter",
                "Four Doors | 1 flat | signature against center",
                "Small Weather | 90 | movements do not add up",
            ],
        ),
    ] {
        let found = found(folder, &[Family::Keys, Family::Time]);
        let lines: Vec<&str> = found.iter().map(|(line, _)| line.as_str()).collect();
        assert_eq!(lines, expected, "in {folder}:\n{found:#?}");
    }
}
