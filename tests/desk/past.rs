//! What changed on a card since the last commit is told where its name is hovered over.

use std::process::Command;

use serde_json::json;

use crate::client::{Client, Folder};
use crate::places::position;
use crate::year::{self, HANDBOOK, SHELF};

/// Runs git with nobody's settings.
fn git(folder: &Folder, arguments: &[&str]) {
    let out = Command::new("git")
        .args(["-c", "user.name=Test", "-c", "user.email=test@localhost"])
        .args(arguments)
        .current_dir(folder.path(""))
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .output()
        .expect("git, which these checks need");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
}

/// A desk over a catalogue that was just committed.
fn committed() -> (Folder, Client) {
    let folder = year::folder();
    git(&folder, &["init", "--quiet"]);
    git(&folder, &["add", "."]);
    git(&folder, &["commit", "--quiet", "-m", "First"]);
    let mut client = year::able(&folder).start();
    year::open(&folder, &mut client);
    (folder, client)
}

/// What a hover over words tells of the past.
fn past(client: &mut Client, uri: &str, text: &str, words: &str) -> Option<String> {
    let at = text.find(words).expect(words) + 1;
    let hover = client.ask(
        "textDocument/hover",
        json!({"textDocument": {"uri": uri}, "position": position(text, at, "utf-16")}),
    );
    let told = hover["contents"]["value"].as_str()?;
    let (_, past) = told.split_once("**Since the last commit**")?;
    Some(past.trim().to_owned())
}

#[test]
fn a_card_says_what_changed_on_it() {
    let (folder, mut client) = committed();
    let shelf = folder.uri("shelf.levare");
    assert_eq!(past(&mut client, &shelf, SHELF, "Harbor Parade"), None);

    let typed = SHELF
        .replace("lasts           3:10", "lasts           3:20")
        .replace("D5-C6", "D5-D6")
        .replace("piece \"Lanterns", "piece \"Slow Lanterns");
    client.change(&shelf, json!([{"text": typed}]));
    for words in ["Harbor Parade", "piece"] {
        let told = past(&mut client, &shelf, &typed, words).expect(words);
        assert_eq!(
            told,
            "- Lasts: from 3:10 to 3:20.\n- Parts, flute: from D5-C6 to D5-D6."
        );
    }
    // The card's other words say what they always say.
    assert_eq!(past(&mut client, &shelf, &typed, "march"), None);
    let told = past(&mut client, &shelf, &typed, "Slow Lanterns").expect("words");
    assert_eq!(told, "- Renamed; it was called \"Lanterns on the Weir\".");

    // What was committed since then is no news.
    folder.write("shelf.levare", &typed);
    client.save(&shelf);
    git(&folder, &["commit", "--quiet", "-a", "-m", "Second"]);
    assert_eq!(past(&mut client, &shelf, &typed, "Harbor Parade"), None);
    year::quiet(&folder, &mut client);
}

#[test]
fn a_card_may_be_new_or_come_from_another_file() {
    let (folder, mut client) = committed();
    let (shelf, handbook) = (folder.uri("shelf.levare"), folder.uri("handbook.levare"));
    let at = SHELF.find("piece \"Lanterns").expect("the card");
    let (first, second) = SHELF.split_at(at);
    let night = format!("{first}piece \"Night Ferry\"\n  by              Tam Lindqvist\n");
    client.change(&shelf, json!([{"text": night}]));
    let told = past(&mut client, &shelf, &night, "Night Ferry").expect("words");
    assert_eq!(told, "- A new piece.");

    let moved = format!("{HANDBOOK}\n{second}");
    client.open(&handbook, &moved);
    let told = past(&mut client, &handbook, &moved, "Lanterns").expect("words");
    assert_eq!(told, "- Moved here from shelf.levare.");
    let changed = moved.replace(
        "notation        1\n",
        "notation        1\n  change          5 s\n",
    );
    client.change(&handbook, json!([{"text": changed}]));
    let told = past(&mut client, &handbook, &changed, "handbook").expect("words");
    assert_eq!(told, "- Change: 5 s added.");
    year::quiet(&folder, &mut client);
}

#[test]
fn many_changes_are_cut_and_a_folder_without_git_has_no_past() {
    let (folder, mut client) = committed();
    let shelf = folder.uri("shelf.levare");
    let mut typed = SHELF.to_owned();
    for (old, new) in [
        ("3:10", "3:20"),
        ("Tam Lindqvist", "Tam Lindberg"),
        ("style           march", "style           waltz"),
        ("tonal center    Bb major", "tonal center    G minor"),
        ("6/8", "3/4"),
        ("D5-C6", "D5-D6"),
        ("A3-C5", "A3-D5"),
        ("with alto sax", "with alto sax 2"),
    ] {
        assert!(typed.contains(old), "{old}");
        typed = typed.replacen(old, new, 1);
    }
    client.change(&shelf, json!([{"text": typed}]));
    let told = past(&mut client, &shelf, &typed, "Harbor Parade").expect("words");
    assert_eq!(told.lines().count(), 7, "{told}");
    assert!(
        told.ends_with("- And 4 more changes; levare compare --since HEAD tells all."),
        "{told}"
    );
    year::quiet(&folder, &mut client);

    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    client.change(&shelf, json!([{"text": typed}]));
    assert_eq!(past(&mut client, &shelf, &typed, "Harbor Parade"), None);
    year::quiet(&folder, &mut client);
}
