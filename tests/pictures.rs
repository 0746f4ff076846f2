//! The pictures of the front page show the program as it is: the words that each was made from are kept
//! beside it and compared with what the program says now. `tests/pictures/make` makes both anew.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use levare::assist::{hints, lens};
use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use levare::text::Span;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The story's files as `levare start` writes them, with the lines typed that the walkthrough says to type.
fn story(more: &str) -> Vec<(&'static str, String)> {
    let page = include_str!("../editors/vscode/walkthrough/piece.md");
    let lines = page
        .split("```")
        .nth(1)
        .expect("the lines to type")
        .trim_matches('\n');
    vec![
        (
            "band.levare",
            include_str!("../src/catalogue/ready/band.levare").to_owned(),
        ),
        (
            "concerts.levare",
            include_str!("../src/catalogue/ready/concerts.levare").to_owned(),
        ),
        (
            "handbook.levare",
            include_str!("../src/catalogue/ready/handbook.levare").to_owned(),
        ),
        (
            "pieces.levare",
            format!(
                "{}{lines}{more}\n",
                include_str!("../src/catalogue/ready/pieces.levare")
            ),
        ),
    ]
}

fn snapshot(more: &str) -> Snapshot {
    let files = story(more).into_iter();
    let files = files
        .map(|(name, text)| Arc::new(CardFile::read(name, &text)))
        .collect();
    Snapshot::new(files, jiff::civil::date(2026, 10, 20))
}

/// What the program prints, run in a folder with the story.
fn printed(words: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in story("") {
        std::fs::write(folder.path().join(name), text).expect("written");
    }
    let ended = Command::new(env!("CARGO_BIN_EXE_levare"))
        .args(words)
        .current_dir(folder.path())
        .output()
        .expect("the program runs");
    String::from_utf8(ended.stdout).expect("text")
}

/// The words on a page, a line each.
fn words_on(page: &str) -> String {
    let mut words = String::new();
    for text in page.split("<text ").skip(1) {
        let inside = text.split_once('>').map_or("", |(_, rest)| rest);
        words.push_str(inside.split("</text>").next().unwrap_or(""));
        words.push('\n');
    }
    assert!(words.lines().count() > 10, "a page has words: {page}");
    words
}

fn page(words: &[&str]) -> String {
    words_on(&printed(words))
}

/// The card in the editor with the warning under it.
fn editor() -> String {
    let snapshot = snapshot("");
    let (_, pieces) = snapshot.file("pieces.levare").expect("the file");
    let mut text = pieces.text();
    for (id, _) in snapshot.entries() {
        for finding in findings::of_card(&snapshot, id) {
            text.push_str(&format!("\n{}\n{}\n", finding.phrase, finding.saying.whole()));
        }
    }
    text
}

/// The card in the editor with the line above it and who plays beside its rows.
fn players() -> String {
    let snapshot = snapshot(", optional");
    let (file, pieces) = snapshot.file("pieces.levare").expect("the file");
    let text = pieces.text();
    let mut shown = hints::of_file(&snapshot, file, Span::whole(&text), &|_| true, &|| false);
    shown.sort_by_key(|hint| std::cmp::Reverse(hint.offset));
    let mut with = text.clone();
    for hint in shown {
        with.insert_str(hint.offset as usize, &format!(" [{}]", hint.text));
    }
    let titles = snapshot.entries().filter(|(id, _)| id.file as usize == file);
    let titles: Vec<String> = titles.filter_map(|(id, _)| lens::title(&snapshot, id)).collect();
    format!("{}\n\n{with}", titles.join("\n"))
}

/// The pictures, by their names, and the words that each is made from.
fn pictures() -> Vec<(&'static str, String)> {
    let assign = |words: &[&str]| page(&[&["assign"], words].concat());
    vec![
        ("terminal", printed(&["proofread"])),
        ("editor", editor()),
        ("players", players()),
        ("door", assign(&["Drum Hill", "--as", "door"])),
        (
            "evening",
            assign(&["Winter evening", "--demo", "--without", "B5", "--as", "door"]),
        ),
        (
            "counting",
            assign(&["Snow on the Signal House", "--demo", "--as", "counting"]),
        ),
        (
            "seating",
            assign(&["Seventh Grade Band", "--demo", "--as", "seating"]),
        ),
    ]
}

fn beside(name: &str, ending: &str) -> PathBuf {
    root().join("editors/pictures").join(format!("{name}.{ending}"))
}

#[test]
fn every_picture_shows_the_program_as_it_is() {
    let mut old = Vec::new();
    for (name, words) in pictures() {
        let kept = beside(name, "txt");
        if std::env::var_os("LEVARE_BLESS").is_some() {
            std::fs::write(&kept, &words).expect("written");
        }
        let same = std::fs::read_to_string(&kept).is_ok_and(|kept| kept == words);
        if !same || !beside(name, "png").is_file() {
            old.push(name);
        }
    }
    assert!(
        old.is_empty(),
        "out of date: {old:?}. Run tests/pictures/make, and look at the pictures."
    );
}

#[test]
fn every_picture_on_a_page_is_one_of_these() {
    let known: Vec<&str> = pictures().iter().map(|(name, _)| *name).collect();
    let page = include_str!("../README.md");
    let mut shown = 0;
    for piece in page.split("editors/pictures/").skip(1) {
        let name = piece.split(".png").next().unwrap_or("");
        assert!(known.contains(&name), "{name} is made by nothing");
        shown += 1;
    }
    assert!(shown >= 4, "only {shown} are shown");
    for there in std::fs::read_dir(root().join("editors/pictures")).expect("the folder") {
        let name = there
            .expect("an entry")
            .file_name()
            .to_string_lossy()
            .into_owned();
        let stem = name.split('.').next().unwrap_or("");
        assert!(known.contains(&stem), "{name} belongs to no picture");
    }
}
