//! Which catalogue a file belongs to.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::{PHRASE, WRONG};

const HANDBOOK: &str = "handbook\n  notation        1\n";

fn names(client: &mut Client, query: &str) -> Vec<String> {
    let found = client.ask("workspace/symbol", json!({"query": query}));
    let name = |card: &Value| card["name"].as_str().unwrap().to_owned();
    found.as_array().unwrap().iter().map(name).collect()
}

/// Where the first title of a program is said, if anywhere.
fn card_of(client: &mut Client, uri: &str) -> Value {
    let at = json!({"line": 2, "character": 8});
    client.at("textDocument/definition", uri, &at)
}

const PROGRAM: &str = "concert \"Evening\"\n  program\n    \"Harbor Parade\"\n";

#[test]
fn two_folders_are_two_catalogues() {
    let piece = "piece \"Harbor Parade\"\n  style           march\n";
    let one = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("a.levare", PROGRAM),
        ("p.levare", piece),
    ]);
    let other = Folder::with(&[("handbook.levare", HANDBOOK), ("a.levare", PROGRAM)]);
    let mut client = Setup::new(&[&one.path(""), &other.path("")]).start();
    let (a, b) = (one.uri("a.levare"), other.uri("a.levare"));
    client.open(&a, PROGRAM);
    client.open(&b, PROGRAM);
    assert_eq!(card_of(&mut client, &a)[0]["uri"], json!(one.uri("p.levare")));
    assert_eq!(card_of(&mut client, &b), Value::Null);
    assert_eq!(names(&mut client, "Harbor"), ["Harbor Parade"]);
    client.told(&a);
    client.told(&b);
}

#[test]
fn folders_come_and_go() {
    let one = Folder::with(&[("handbook.levare", HANDBOOK)]);
    let other = Folder::with(&[("handbook.levare", HANDBOOK), ("a.levare", WRONG)]);
    let mut client = Setup::new(&[&one.path("")]).start();
    let a = other.uri("a.levare");
    assert_eq!(client.phrases(&a), [""; 0]);
    let folder = json!([{"uri": other.uri(""), "name": "more"}]);
    client.note(
        "workspace/didChangeWorkspaceFolders",
        json!({"event": {"added": folder, "removed": []}}),
    );
    assert_eq!(client.phrases(&a), [PHRASE]);
    assert_eq!(names(&mut client, "Night"), ["Night Train to Alder"]);
    client.note(
        "workspace/didChangeWorkspaceFolders",
        json!({"event": {"added": [], "removed": folder}}),
    );
    assert_eq!(client.phrases(&a), [""; 0]);
    assert_eq!(names(&mut client, "Night"), [""; 0]);
}

#[test]
fn the_nearest_handbook_counts_wherever_the_editor_was_opened() {
    let piece = "piece \"Harbor Parade\"\n  style           march\n";
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("p.levare", piece),
        ("inner/handbook.levare", HANDBOOK),
        ("inner/a.levare", PROGRAM),
        ("deep/below/a.levare", PROGRAM),
    ]);
    let mut client = Setup::new(&[&folder.path("deep")]).start();
    let (inner, deep) = (folder.uri("inner/a.levare"), folder.uri("deep/below/a.levare"));
    client.open(&inner, PROGRAM);
    client.open(&deep, PROGRAM);
    assert_eq!(
        card_of(&mut client, &deep)[0]["uri"],
        json!(folder.uri("p.levare"))
    );
    assert_eq!(card_of(&mut client, &inner), Value::Null);
    // Without its handbook, the inner folder is part of the outer catalogue.
    std::fs::remove_file(folder.path("inner/handbook.levare")).unwrap();
    client.changed_on_disk(&[(&folder.uri("inner/handbook.levare"), 3)]);
    assert_eq!(
        card_of(&mut client, &inner)[0]["uri"],
        json!(folder.uri("p.levare"))
    );
    client.told(&inner);
    client.told(&deep);
}

#[test]
fn a_folder_without_a_handbook_is_a_catalogue_too() {
    let piece = "piece \"Harbor Parade\"\n  style           march\n";
    let folder = Folder::with(&[("a.levare", PROGRAM), ("p.levare", piece)]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let a = folder.uri("a.levare");
    client.open(&a, PROGRAM);
    assert_eq!(card_of(&mut client, &a)[0]["uri"], json!(folder.uri("p.levare")));
    client.told(&a);
}

#[test]
fn a_buffer_that_was_never_saved() {
    let folder = Folder::with(&[("handbook.levare", HANDBOOK)]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = "untitled:Untitled-1";
    client.open(uri, WRONG);
    assert_eq!(client.phrases(uri), [PHRASE]);
    let hover = client.at("textDocument/hover", uri, &json!({"line": 1, "character": 3}));
    assert!(hover["contents"]["value"].as_str().is_some());
    client.close(uri);
    assert_eq!(client.phrases(uri), [""; 0]);
}

#[test]
fn one_file_written_in_two_ways_is_one_file() {
    let folder = Folder::with(&[("handbook.levare", HANDBOOK), ("caf\u{e9}.levare", WRONG)]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let plain = folder.uri("caf\u{e9}.levare");
    assert!(plain.contains("%C3%A9"), "{plain}");
    assert_eq!(client.phrases(&plain), [PHRASE]);
    // The client's own way of writing is given back.
    let odd = plain.replace("%C3%A9", "%c3%a9");
    client.open(&odd, WRONG);
    assert_eq!(client.phrases(&odd), [PHRASE]);
    assert_eq!(names(&mut client, "Night").len(), 1);
    client.told(&plain);
}

#[test]
fn about_a_file_that_is_left_out_nothing_is_said() {
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        (".ignore", "old/\n"),
        ("old/a.levare", WRONG),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let a = folder.uri("old/a.levare");
    client.open(&a, WRONG);
    assert_eq!(client.phrases(&a), [""; 0]);
    // But what one asks about it is answered.
    let hover = client.at("textDocument/hover", &a, &json!({"line": 1, "character": 3}));
    assert!(hover["contents"]["value"].as_str().is_some());
}

#[test]
fn troubles_with_files_are_told_once() {
    let folder = Folder::with(&[("handbook.levare", HANDBOOK)]);
    std::fs::write(folder.path("latin.levare"), b"piece \"Caf\xe9\"\n").unwrap();
    let mut client = Setup::new(&[&folder.path("")]).start();
    let message = client.message();
    assert_eq!(message["method"], "window/showMessage");
    assert!(
        message["params"]["message"]
            .as_str()
            .unwrap()
            .contains("latin.levare")
    );
    client.changed_on_disk(&[(&folder.uri("latin.levare"), 2)]);
    client.settle();
}

/// A whole drive without a handbook is no catalogue: its files are not looked through for the sake of one.
#[test]
fn a_lone_file_in_a_whole_drive_is_read_alone() {
    let folder = Folder::with(&[("a.levare", WRONG), ("b.levare", &WRONG.replace("Night", "Day"))]);
    let mut client = Setup::new(&[std::path::Path::new("/")]).start();
    let a = folder.uri("a.levare");
    client.open(&a, WRONG);
    assert_eq!(client.phrases(&a).len(), 1);
    assert_eq!(names(&mut client, "Night Train").len(), 1);
    assert_eq!(names(&mut client, "Day Train").len(), 0);
}
