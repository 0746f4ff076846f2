//! The project's pages as a tree: every link leads somewhere, and every page is led to from the front page.

use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};

/// The pages of words, below the project. What tests read as tables, and the steps that an editor shows by itself,
/// are no pages that anybody browses.
fn pages(folder: &Path, root: &Path, found: &mut BTreeSet<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder of the project") {
        let path = entry.expect("an entry").path();
        let below = path.strip_prefix(root).expect("below the project").to_owned();
        let name = path
            .file_name()
            .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        if path.is_dir() {
            let passed = ["target", "node_modules", "walkthrough"].contains(&name.as_str());
            if !passed && !name.starts_with('.') {
                pages(&path, root, found);
            }
        } else if name.ends_with(".md") && (!below.starts_with("tests") || name == "README.md") {
            found.insert(below);
        }
    }
}

/// The lines of a page outside fences.
fn unfenced(text: &str) -> impl Iterator<Item = &str> {
    let mut fenced = false;
    text.lines().filter(move |line| {
        let fence = line.trim_start().starts_with("```");
        fenced ^= fence;
        !fence && !fenced
    })
}

/// Where a page's links lead, but for addresses.
fn links(text: &str) -> Vec<&str> {
    unfenced(text)
        .flat_map(|line| line.split("](").skip(1))
        .filter_map(|rest| rest.split_once(')').map(|(link, _)| link))
        .filter(|link| !link.contains("://"))
        .collect()
}

/// The place of a heading, as pages of this sort are shown: small letters, words joined by hyphens.
fn anchors(text: &str) -> BTreeSet<String> {
    unfenced(text)
        .filter(|line| line.starts_with('#'))
        .map(|line| {
            let words = line.trim_start_matches('#').trim().to_lowercase();
            words
                .chars()
                .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'))
                .map(|c| if c == ' ' { '-' } else { c })
                .collect()
        })
        .collect()
}

/// A path with its steps back taken.
fn straight(path: &Path) -> PathBuf {
    path.components().fold(PathBuf::new(), |mut so_far, step| {
        match step {
            Component::ParentDir => {
                so_far.pop();
            }
            Component::CurDir => {}
            step => so_far.push(step),
        }
        so_far
    })
}

/// What is wrong with the links of one page, and the pages that it leads to.
fn followed(page: &Path, text: &str, read: impl Fn(&Path) -> Option<String>) -> (Vec<String>, Vec<PathBuf>) {
    let (mut faults, mut led) = (Vec::new(), Vec::new());
    for link in links(text) {
        let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
        let to = match file {
            "" => page.to_owned(),
            file => straight(&page.parent().unwrap_or(Path::new("")).join(file)),
        };
        match read(&to) {
            None => faults.push(format!("{}: {link} leads nowhere", page.display())),
            Some(there) if !anchor.is_empty() && !anchors(&there).contains(anchor) => {
                faults.push(format!("{}: {link} has no such heading", page.display()));
            }
            Some(_) => led.push(to),
        }
    }
    (faults, led)
}

#[test]
fn every_link_leads_somewhere_and_every_page_is_led_to() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = BTreeSet::new();
    pages(root, root, &mut all);
    assert!(all.len() > 15, "{all:?}");
    let read = |path: &Path| {
        let path = root.join(path);
        match path.is_dir() {
            true => Some(String::new()),
            false => std::fs::read(path)
                .ok()
                .map(|bytes| String::from_utf8_lossy(&bytes).into_owned()),
        }
    };
    let mut faults = Vec::new();
    let mut reached = BTreeSet::from([PathBuf::from("README.md")]);
    let mut waiting = vec![PathBuf::from("README.md")];
    while let Some(page) = waiting.pop() {
        let text = read(&page).unwrap_or_default();
        let (wrong, led) = followed(&page, &text, read);
        faults.extend(wrong);
        waiting.extend(
            led.into_iter()
                .filter(|page| all.contains(page) && reached.insert(page.clone())),
        );
    }
    faults.extend(
        all.difference(&reached)
            .map(|page| format!("{}: no page leads to it", page.display())),
    );
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn a_link_to_nowhere_is_seen() {
    let there = |path: &Path| (path == Path::new("b/c.md")).then(|| "# A Heading, or two\n".to_owned());
    let text = "[a](b/c.md#a-heading-or-two) [b](b/c.md#another) [c](d.md)\n```\n[d](e.md)\n```\n";
    let (faults, led) = followed(Path::new("a.md"), text, there);
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert_eq!(led, [PathBuf::from("b/c.md")]);
}
