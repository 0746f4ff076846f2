//! All names of pieces, people, publishers, bands, lists and festivals that the project made up, in one list, so
//! that anybody can check at a glance that none belongs to somebody.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::Path;

use levare::catalogue::CardFile;
use levare::findings::RULES;
use levare::notation::Kind;

const LIST: &str = "tests/invented-names.md";

/// Texts that hold cards.
fn cards() -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let mut folders = vec!["demo", "src/catalogue/ready", "tests/catalogues"]
        .into_iter()
        .map(str::to_owned)
        .collect::<Vec<_>>();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    while let Some(folder) = folders.pop() {
        for file in std::fs::read_dir(root.join(&folder)).expect("a folder of the project") {
            let file = file.expect("a file of it");
            let path = format!("{folder}/{}", file.file_name().to_string_lossy());
            match file.file_type().expect("its kind") {
                kind if kind.is_dir() => folders.push(path),
                _ if path.ends_with(".levare") => {
                    all.push(std::fs::read_to_string(root.join(path)).expect("cards"));
                }
                _ => {}
            }
        }
    }
    // Of this page only the cards that are typed; the rest is answers.
    let year = std::fs::read_to_string(root.join("grammar/year.md")).expect("a page");
    let typed = year
        .split("```levare")
        .skip(1)
        .filter_map(|rest| rest.split("```").next());
    all.extend(typed.map(|block| block.split_once('\n').map_or("", |(_, cards)| cards).to_owned()));
    let pages = ["README.md", "grammar/manual.md", "grammar/limits.md"];
    let pages = pages.map(|page| std::fs::read_to_string(root.join(page)).expect("a page"));
    let rules = RULES.iter().map(|rule| rule.page.to_owned());
    for page in pages.into_iter().chain(rules) {
        let fenced = page.split("```").skip(1).step_by(2);
        all.extend(fenced.map(|block| block.split_once('\n').map_or("", |(_, cards)| cards).to_owned()));
    }
    all
}

/// The names, by what they are names of.
fn names() -> BTreeMap<&'static str, BTreeSet<String>> {
    let mut found: BTreeMap<&'static str, BTreeSet<String>> = BTreeMap::new();
    let mut add = |what: &'static str, name: &str| {
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if name.chars().any(char::is_alphabetic) && !name.contains(['{', '\\']) {
            found.entry(what).or_default().insert(name);
        }
    };
    for text in cards() {
        for entry in CardFile::read("a.levare", &text).entries {
            let what = match entry.kind {
                Some(Kind::Piece) => "Pieces",
                Some(Kind::Ensemble) => "Bands",
                Some(Kind::Concert) => "Concerts",
                Some(Kind::Bundle | Kind::List | Kind::Criteria) => "Bundles, lists and criteria",
                _ => "In quotation marks besides",
            };
            if entry.kind.is_some() {
                add(what, &entry.name);
            }
            if let Some(piece) = entry.piece() {
                for person in &piece.by {
                    add("People", &person.name);
                }
                for publisher in &piece.publisher {
                    add("Publishers", &publisher.value);
                }
            }
        }
        for line in text.lines() {
            for quoted in line.split('"').skip(1).step_by(2) {
                add("In quotation marks besides", quoted);
            }
        }
    }
    let named: BTreeSet<String> = found
        .iter()
        .filter(|(what, _)| !what.ends_with("besides"))
        .flat_map(|(_, names)| names.iter().cloned())
        .collect();
    if let Some(besides) = found.get_mut("In quotation marks besides") {
        besides.retain(|name| !named.contains(name));
    }
    found
}

#[test]
fn every_invented_name_is_on_the_list() {
    let mut page = "# Names that are made up\n\nAll pieces, people, publishers, bands, lists and festivals of the demo, the hand-typed catalogs, the manual and the pages of the rules. None is meant to be anybody's; whoever knows one that is tells us, and it is changed. `LEVARE_BLESS=1 cargo test --test tidy invented` writes this list again after a name was added: look the new one up first.\n".to_owned();
    for (what, names) in names() {
        let _ = write!(page, "\n## {what}\n\n");
        for name in names {
            let _ = writeln!(page, "- {name}");
        }
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(LIST);
    if std::env::var_os("LEVARE_BLESS").is_some() {
        std::fs::write(&path, &page).expect("the list can be written");
    }
    let listed = std::fs::read_to_string(&path).expect("the list is there");
    let new: Vec<&str> = page
        .lines()
        .filter(|line| !listed.lines().any(|old| old == *line))
        .collect();
    let gone: Vec<&str> = listed
        .lines()
        .filter(|line| !page.lines().any(|now| now == *line))
        .collect();
    assert!(
        new.is_empty() && gone.is_empty(),
        "not on {LIST}: {new:#?}\nno longer used: {gone:#?}"
    );
}
