//! The cards on the front page do what the page says they do.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot, conditions};
use levare::findings::{self, Severity};

/// The cards of the front page, put together as the page tells people to.
fn cards() -> String {
    let page = include_str!("../README.md");
    let mut text = String::new();
    let mut inside = false;
    for line in page.lines() {
        // The page's cards stand under numbered steps, three blanks in.
        let line = line.strip_prefix("   ").unwrap_or(line);
        match line {
            "```levare" => inside = true,
            "```" => inside = false,
            _ if inside => {
                text.push_str(line);
                text.push('\n');
            }
            _ => {}
        }
    }
    text
}

fn found(text: &str) -> Vec<(&'static str, Severity, String)> {
    let file = Arc::new(CardFile::read("cards.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let ids: Vec<_> = snapshot.entries().map(|(id, _)| id).collect();
    ids.into_iter()
        .flat_map(|id| findings::of_card(&snapshot, id))
        .map(|finding| (finding.phrase, finding.severity, finding.saying.place))
        .collect()
}

#[test]
fn the_first_five_minutes_end_with_one_true_warning() {
    let text = cards();
    assert!(
        text.contains("ensemble") && text.contains("piece") && text.contains("concert"),
        "{text}"
    );
    let found = found(&text);
    let strong: Vec<_> = found
        .iter()
        .filter(|(_, severity, _)| *severity != Severity::Hint)
        .collect();
    assert_eq!(strong.len(), 1, "{found:?}");
    assert!(
        strong.iter().any(|(phrase, severity, place)| {
            *phrase == "short of percussionists" && *severity == Severity::Warning && place.contains("41-44")
        }),
        "{found:?}"
    );
}

#[test]
fn the_stet_on_the_page_lets_it_stand() {
    let stet = "  stet  short of percussionists because the parent with the wood block comes\n";
    let with = cards().replace("  percussion\n", &format!("{stet}  percussion\n"));
    assert!(
        found(&with)
            .iter()
            .all(|(phrase, ..)| *phrase != "short of percussionists")
    );
    assert_ne!(with, cards(), "the stet was put in");
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
