//! Which folder's handbook counts, how far is looked, and whether the command line agrees.

use std::collections::BTreeMap;
use std::process::Command;

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::shared::{HANDBOOK, PHRASE, WRONG, titled};

/// A handbook that makes hints of what is found.
const MILD: &str = "handbook\n  notation        1\n  hint            signature against center\n";

/// How severe the one finding of a file is; 2 is a warning and 4 a hint.
fn severity(client: &mut Client, uri: &str) -> Value {
    let told = client.told(uri);
    assert_eq!(told.len(), 1, "{told:?}");
    told[0]["severity"].clone()
}

#[test]
fn a_handbook_is_found_from_the_file_even_when_no_folder_is_open() {
    let folder = Folder::with(&[("handbook.levare", MILD), ("deep/below/a.levare", WRONG)]);
    let bare = Folder::with(&[("a.levare", WRONG)]);
    let elsewhere = Folder::with(&[("handbook.levare", HANDBOOK)]);
    for folders in [vec![], vec![elsewhere.path("")]] {
        let paths: Vec<&std::path::Path> = folders.iter().map(std::path::PathBuf::as_path).collect();
        let mut client = Setup::new(&paths).start();
        let (a, b) = (folder.uri("deep/below/a.levare"), bare.uri("a.levare"));
        client.open(&a, WRONG);
        client.open(&b, WRONG);
        assert_eq!(severity(&mut client, &a), 4, "the handbook above it counts");
        assert_eq!(severity(&mut client, &b), 2, "no handbook is above it");
        // A handbook that comes later counts from then on.
        bare.write("handbook.levare", MILD);
        client.changed_on_disk(&[(&bare.uri("handbook.levare"), 1)]);
        assert_eq!(severity(&mut client, &b), 4);
        std::fs::remove_file(bare.path("handbook.levare")).unwrap();
        client.changed_on_disk(&[(&bare.uri("handbook.levare"), 3)]);
        assert_eq!(severity(&mut client, &b), 2);
    }
}

#[test]
fn an_editor_that_names_one_root_only() {
    let folder = Folder::with(&[("handbook.levare", MILD), ("a.levare", WRONG)]);
    let uri = folder.uri("");
    let path = folder.path("");
    for instead in [
        json!({"workspaceFolders": null, "rootUri": uri}),
        json!({"workspaceFolders": null, "rootUri": null, "rootPath": path}),
        json!({"workspaceFolders": [], "rootUri": uri}),
    ] {
        let mut client = Setup::new(&[]).instead(instead.clone()).start();
        let a = folder.uri("a.levare");
        let wanted = usize::from(!instead["workspaceFolders"].is_array());
        assert_eq!(client.told(&a).len(), wanted, "{instead}");
        // Whatever it named, an open file's handbook is found.
        client.open(&a, WRONG);
        assert_eq!(severity(&mut client, &a), 4, "{instead}");
    }
}

#[test]
fn of_folders_in_folders_the_longest_is_taken() {
    let program = "concert \"Evening\"\n  program\n    \"Harbor Parade\"\n";
    let piece = "piece \"Harbor Parade\"\n  style           march\n";
    // No handbooks: the folders alone decide. A name that starts with another is not inside it.
    let folder = Folder::with(&[
        ("band/p.levare", piece),
        ("band/inner/a.levare", program),
        ("band/other/a.levare", program),
        ("bandstand/a.levare", program),
    ]);
    let (band, inner) = (folder.path("band"), folder.path("band/inner"));
    let stand = folder.path("bandstand");
    for order in [
        [&band, &inner, &stand],
        [&stand, &inner, &band],
        [&inner, &band, &stand],
    ] {
        let paths: Vec<&std::path::Path> = order.iter().map(|path| path.as_path()).collect();
        let mut client = Setup::new(&paths).start();
        let table = [
            ("band/inner/a.levare", Value::Null),
            ("band/other/a.levare", json!(folder.uri("band/p.levare"))),
            ("bandstand/a.levare", Value::Null),
        ];
        for (name, wanted) in table {
            let uri = folder.uri(name);
            client.open(&uri, program);
            let at = json!({"line": 2, "character": 8});
            let found = client.at("textDocument/definition", &uri, &at);
            assert_eq!(found[0]["uri"], wanted, "{name} of {order:?}");
            client.told(&uri);
        }
        // A card that comes into the inner folder is found from there, and is nearer than any other.
        let uri = folder.uri("band/inner/p.levare");
        client.open(&uri, piece);
        let at = json!({"line": 2, "character": 8});
        let found = client.at("textDocument/definition", &folder.uri("band/inner/a.levare"), &at);
        assert_eq!(found[0]["uri"], json!(uri), "{order:?}");
        client.settle();
        client.read_all();
    }
}

#[test]
fn a_home_folder_is_not_searched_beyond_a_measure() {
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        (".cache/a.levare", WRONG),
        (".gitignore", "downloads/\n"),
        ("downloads/a.levare", WRONG),
    ]);
    let many = folder.path("many");
    std::fs::create_dir_all(&many).unwrap();
    for number in 0..10_001 {
        std::fs::write(many.join(format!("{number:05}.levare")), "").unwrap();
    }
    let mut client = Setup::new(&[&folder.path("")]).start();
    let message = client.message();
    let said = message["params"]["message"].as_str().unwrap();
    assert_eq!(message["method"], "window/showMessage");
    assert!(said.contains("holds more than 10000 catalog files"), "{said}");
    assert!(said.contains("folder of their own"), "what to do: {said}");
    for left_out in [".cache/a.levare", "downloads/a.levare"] {
        assert_eq!(client.phrases(&folder.uri(left_out)), [""; 0], "{left_out}");
    }
}

#[test]
fn both_doors_say_the_same() {
    let long: String = (0..40)
        .map(|n| titled(WRONG, &format!("Etude of {n} Lamps")) + "\n")
        .collect();
    let folder = Folder::with(&[
        (
            "handbook.levare",
            "handbook\n  notation        1\n  hint            signature against center\n  largest file    2 kB\n",
        ),
        ("a.levare", WRONG),
        (
            "b.levare",
            &titled(WRONG, "Slow Boat").replace("3 flats", "3 flats\n  meter           9/7"),
        ),
        ("long.levare", &long),
        ("left/c.levare", WRONG),
        (".ignore", "left/\n"),
        (".hidden/d.levare", WRONG),
        ("inner/handbook.levare", HANDBOOK),
        ("inner/e.levare", WRONG),
        ("notes.txt", WRONG),
    ]);
    let files = ["handbook", "a", "b", "long", "left/c", ".hidden/d", "inner/e"];
    let mut by_desk: BTreeMap<String, Vec<(String, u64)>> = BTreeMap::new();
    let mut client = Setup::new(&[&folder.path("")]).start();
    for name in files {
        let name = format!("{name}.levare");
        let told = client.told(&folder.uri(&name));
        let found: Vec<(String, u64)> = told
            .iter()
            .map(|found| {
                let severity = found["severity"].as_u64().unwrap();
                (found["code"].as_str().unwrap().to_owned(), severity)
            })
            .collect();
        if !found.is_empty() {
            by_desk.insert(name, found);
        }
    }
    // The file that is too large for this handbook is told of in words, by both.
    let message = client.message();
    assert!(
        message["params"]["message"]
            .as_str()
            .unwrap()
            .contains("long.levare"),
        "{message}"
    );

    let ended = Command::new(env!("CARGO_BIN_EXE_levare"))
        // The command reads the catalogues that it is asked about, and the desk all below the folder.
        .args(["proofread", "--as", "json", "--least", "hint", ".", "inner"])
        .current_dir(folder.path(""))
        .output()
        .unwrap();
    let mut left_out = Vec::new();
    let mut by_hand: BTreeMap<String, Vec<(String, u64)>> = BTreeMap::new();
    for line in String::from_utf8_lossy(&ended.stdout).lines() {
        let found: Value = serde_json::from_str(line).unwrap();
        if found["about"] == "file" {
            left_out.push(
                found["file"]
                    .as_str()
                    .unwrap()
                    .trim_start_matches("./")
                    .to_owned(),
            );
            continue;
        }
        let severity = match found["severity"].as_str().unwrap() {
            "error" => 1,
            "warning" => 2,
            "information" => 3,
            _ => 4,
        };
        let file = found["file"]
            .as_str()
            .unwrap()
            .trim_start_matches("./")
            .to_owned();
        let phrase = found["phrase"].as_str().unwrap().to_owned();
        by_hand.entry(file).or_default().push((phrase, severity));
    }
    assert_eq!(by_desk, by_hand);
    assert_eq!(left_out, ["long.levare"]);
    assert_eq!(
        by_desk["a.levare"],
        [(PHRASE.to_owned(), 4)],
        "the handbook's wish counts"
    );
    assert!(by_desk.len() > 1, "{by_desk:?}");
}
