//! Walls between the rooms, and what every file must have.

use super::{Source, sources};

/// Rooms that compute and nothing else.
const PURE: [&str; 12] = [
    "text",
    "notation",
    "music",
    "catalogue",
    "findings",
    "planning",
    "comparing",
    "scores",
    "tables",
    "pages",
    "assist",
    "page",
];

/// What a pure room never names.
const OUTSIDE: [&str; 20] = [
    "tokio",
    "tower",
    "futures",
    "std::fs",
    "std::io",
    "std::net",
    "std::process",
    "std::thread",
    "ariadne",
    "println!",
    "eprintln!",
    "print!",
    "async fn",
    "SystemTime",
    "Instant",
    "std::time",
    "std::env",
    "rayon",
    "crossbeam",
    "rand::",
];

/// Which rooms a room may use. A room not named here may use all.
const MAY_USE: [(&str, &[&str]); 12] = [
    ("cores.rs", &["text", "catalogue"]),
    ("text", &[]),
    ("music", &[]),
    ("notation", &["text", "music"]),
    ("catalogue", &["text", "music", "notation"]),
    ("planning", &["text", "music", "notation", "catalogue"]),
    (
        "findings",
        &["text", "music", "notation", "catalogue", "planning"],
    ),
    ("comparing", &["text", "notation", "catalogue", "findings"]),
    (
        "assist",
        &["text", "music", "notation", "catalogue", "findings", "planning"],
    ),
    (
        "pages",
        &["text", "music", "notation", "catalogue", "findings", "planning"],
    ),
    (
        "page",
        &[
            "text",
            "music",
            "notation",
            "catalogue",
            "findings",
            "planning",
            "assist",
            "pages",
        ],
    ),
    ("disk", &["text"]),
];

fn report(faults: &[String]) {
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// The lines of a source that name what its room must not.
fn outside(source: &Source) -> Vec<String> {
    let mut faults = Vec::new();
    let whole = source.code().map(|(number, line)| (number, line.to_owned()));
    let spelled = source.taken_in().into_iter();
    for (number, line) in whole.chain(spelled) {
        for word in OUTSIDE.iter().filter(|word| names(&line, word)) {
            faults.push(format!("{}:{number}: a pure room names {word}", source.path));
        }
    }
    faults.sort();
    faults.dedup();
    faults
}

/// Whether a line holds a word that is no piece of a longer one.
fn names(line: &str, word: &str) -> bool {
    line.match_indices(word).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        let after = line[at + word.len()..].chars().next();
        let inside = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
        !inside(before) && (!inside(after) || word.ends_with("::"))
    })
}

/// The lines of a source that use a room above its own.
fn upward(source: &Source, may: &[&str]) -> Vec<String> {
    let mut faults = Vec::new();
    let whole = source.code().map(|(number, line)| (number, line.to_owned()));
    let spelled = source.taken_in().into_iter();
    for (number, line) in whole.chain(spelled) {
        for piece in line.split("crate::").skip(1) {
            let room: String = piece
                .chars()
                .take_while(|c| c.is_alphanumeric() || *c == '_')
                .collect();
            let known = MAY_USE.iter().any(|(name, _)| *name == room)
                || ["desk", "cli", "cores"].contains(&room.as_str());
            if known && room != source.room() && !may.contains(&room.as_str()) {
                faults.push(format!("{}:{number}: {} uses {room}", source.path, source.room()));
            }
        }
    }
    faults.sort();
    faults.dedup();
    faults
}

#[test]
fn pure_rooms_reach_for_nothing_outside() {
    let faults: Vec<String> = sources("src")
        .iter()
        .filter(|source| PURE.contains(&source.room()))
        .flat_map(outside)
        .collect();
    report(&faults);
}

#[test]
fn data_goes_one_way() {
    let all = sources("src");
    let faults: Vec<String> = all
        .iter()
        .filter_map(|source| Some((source, MAY_USE.iter().find(|(room, _)| *room == source.room())?.1)))
        .flat_map(|(source, may)| upward(source, may))
        .collect();
    report(&faults);
}

#[test]
fn protocol_types_stay_at_the_desk() {
    let faults: Vec<String> = sources("src")
        .iter()
        .filter(|source| source.room() != "desk")
        .flat_map(|source| {
            let named = source
                .code()
                .filter(|(_, line)| line.contains("tower_lsp") || line.contains("lsp_types"));
            named
                .map(|(number, _)| format!("{}:{number}: names the protocol", source.path))
                .collect::<Vec<_>>()
        })
        .collect();
    report(&faults);
}

#[test]
fn only_the_disk_room_opens_files() {
    let faults: Vec<String> = sources("src")
        .iter()
        .filter(|source| source.room() != "disk")
        .flat_map(|source| {
            let named = source.code().filter(|(_, line)| {
                let doors = ["std::fs", "tokio::fs", "Command::new(\"git\")"];
                doors.iter().any(|door| line.contains(door))
            });
            named
                .map(|(number, _)| format!("{}:{number}: opens files or asks git by itself", source.path))
                .collect::<Vec<_>>()
        })
        .collect();
    report(&faults);
}

#[test]
fn every_file_says_what_it_is_for() {
    let faults: Vec<String> = ["src", "tests"]
        .iter()
        .flat_map(|folder| sources(folder))
        .filter(|source| !source.text.starts_with("//! "))
        .map(|source| format!("{}: does not start with what it is for", source.path))
        .collect();
    report(&faults);
}

#[test]
fn no_file_is_long_and_most_are_short() {
    let all = sources("src");
    let mut lengths: Vec<usize> = all
        .iter()
        .filter(|source| !source.path.ends_with("/tests.rs"))
        .map(|source| source.text.lines().count())
        .collect();
    let long: Vec<String> = ["src", "tests"]
        .iter()
        .flat_map(|folder| sources(folder))
        .filter(|source| source.text.lines().count() > 800)
        .map(|source| format!("{}: over 800 lines", source.path))
        .collect();
    report(&long);
    lengths.sort_unstable();
    let median = lengths[lengths.len() / 2];
    assert!(median <= 150, "half of the files have more than {median} lines");
}

#[test]
fn tests_are_not_put_aside() {
    let faults: Vec<String> = ["src", "tests"]
        .iter()
        .flat_map(|folder| sources(folder))
        .flat_map(|source| {
            let lines = source.text.lines().enumerate().map(|(at, line)| (at + 1, line));
            let put_aside = lines.filter(|(_, line)| {
                // The words are put together here so that this line does not find itself.
                line.contains(concat!("#[", "ignore")) || line.contains(concat!("#[", "should_panic"))
            });
            put_aside
                .map(|(number, _)| format!("{}:{number}: a test put aside", source.path))
                .collect::<Vec<_>>()
        })
        .collect();
    report(&faults);
}

#[test]
fn a_broken_wall_is_seen() {
    let source = |path: &str, text: &str| Source {
        path: path.to_owned(),
        text: text.to_owned(),
    };
    assert_eq!(outside(&source("src/music/x.rs", "use std::fs;\n")).len(), 1);
    assert_eq!(
        outside(&source(
            "src/music/x.rs",
            "// use std::fs;\n#[cfg(test)]\nuse std::fs;\n"
        ))
        .len(),
        0
    );
    // Behind a test module there is code again, also where the module is another file.
    for tests in [
        "#[cfg(test)]\nmod tests;\n",
        "#[cfg(test)]\nmod tests {\n    fn x() {\n    }\n}\n",
        "#[cfg(test)]\n#[path = \"y.rs\"]\nmod tests;\n",
    ] {
        let text = format!("{tests}use std::fs;\n");
        assert_eq!(outside(&source("src/music/x.rs", &text)).len(), 1, "{tests}");
    }
    for planted in [
        "use std::time::Instant;\n",
        "use std::{fs, fmt};\n",
        "use std::{\n    fmt,\n    thread,\n};\n",
        "let now = Instant::now();\n",
        "use rayon::prelude::*;\n",
        "let home = std::env::var(\"HOME\");\n",
        "let page = \"https://x\"; println!();\n",
    ] {
        let seen = outside(&source("src/music/x.rs", planted));
        assert!(!seen.is_empty(), "{planted}");
    }
    assert!(outside(&source("src/music/x.rs", "let instants = Instants::new();\n")).is_empty());
    for (uses, faults) in [
        ("use crate::catalogue::Entry;\n", 1),
        ("use crate::text::Span;\n", 0),
        ("use crate::{text::Span, catalogue::Entry};\n", 1),
        (
            "use crate::{\n    catalogue::{Entry, EntryId},\n    findings,\n    text::Span,\n};\n",
            2,
        ),
        ("pub(crate) use crate::{cli};\n", 1),
        ("let x = crate::desk::start();\n", 1),
    ] {
        let seen = upward(&source("src/notation/x.rs", uses), &["text", "music"]);
        assert_eq!(seen.len(), faults, "{uses}: {seen:?}");
    }
}
