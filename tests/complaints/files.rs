//! Files that come, go and change, and the addresses that editors write for them.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::shared::{HANDBOOK, PHRASE, RIGHT, WRONG, asked, titled};

/// What the client has, as it gives it back: addresses with the names of their results.
fn known(client: &mut Client) -> Value {
    let all = client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
    let ids = all["items"].as_array().unwrap().iter();
    ids.map(|report| json!({"uri": report["uri"], "value": report["resultId"]}))
        .collect()
}

#[test]
fn a_client_that_asks_hears_that_a_file_is_gone_renamed_or_left_out() {
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("a.levare", WRONG),
        ("old/b.levare", &titled(WRONG, "Slow Boat")),
        ("c.levare", &titled(WRONG, "Long Road")),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let uri = |name: &str| folder.uri(name);
    let found = |names: &[(&str, bool)]| -> Vec<(String, Vec<String>)> {
        let mut all: Vec<_> = names
            .iter()
            .map(|(name, is_wrong)| (uri(name), vec![PHRASE.to_owned(); usize::from(*is_wrong)]))
            .collect();
        all.sort();
        all
    };
    let steps: [(&str, &[(&str, u8)], &[(&str, bool)]); 3] = [
        // A client that is not told that a file has nothing left goes on showing what it has.
        (
            "deleted",
            &[("a.levare", 3)],
            &[("a.levare", false), ("old/b.levare", true), ("c.levare", true)],
        ),
        (
            "renamed",
            &[("c.levare", 3), ("d.levare", 1)],
            &[("c.levare", false), ("d.levare", true), ("old/b.levare", true)],
        ),
        (
            "left out",
            &[(".gitignore", 1)],
            &[("d.levare", true), ("old/b.levare", false)],
        ),
    ];
    for (step, changes, wanted) in steps {
        let had = known(&mut client);
        match step {
            "deleted" => std::fs::remove_file(folder.path("a.levare")).unwrap(),
            "renamed" => std::fs::rename(folder.path("c.levare"), folder.path("d.levare")).unwrap(),
            _ => folder.write(".gitignore", "old/\n"),
        }
        let changes: Vec<(String, u8)> = changes.iter().map(|(name, kind)| (uri(name), *kind)).collect();
        let changes: Vec<(&str, u8)> = changes.iter().map(|(uri, kind)| (uri.as_str(), *kind)).collect();
        client.changed_on_disk(&changes);
        let old: Vec<String> = had
            .as_array()
            .unwrap()
            .iter()
            .map(|id| id["uri"].as_str().unwrap().to_owned())
            .collect();
        // What is the same is only named; a fresh client is told all of it.
        let told = asked(&mut client, &had);
        let fresh = asked(&mut client, &json!([]));
        let mut seen: Vec<(String, Vec<String>)> = fresh.clone();
        seen.extend(
            told.iter()
                .filter(|(uri, _)| !fresh.iter().any(|(f, _)| f == uri))
                .cloned(),
        );
        seen.retain(|(uri, _)| !uri.ends_with("handbook.levare"));
        seen.sort();
        assert_eq!(seen, found(wanted), "{step}");
        for uri in old {
            assert!(
                told.iter().any(|(told, _)| *told == uri),
                "{step}: nothing about {uri}"
            );
        }
    }
}

#[test]
fn without_the_editors_eyes_another_file_still_counts() {
    let evening = "concert \"Evening\"\n  program\n    \"Night Train to Alder\"\n";
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("evening.levare", evening),
        ("shelf/a.levare", WRONG),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).blind().start();
    let (a, uri) = (folder.uri("shelf/a.levare"), folder.uri("evening.levare"));
    client.open(&uri, evening);
    client.until(&a, |told| told.len() == 1);
    let place = |client: &mut Client| {
        let at = json!({"line": 2, "character": 8});
        client.at("textDocument/definition", &uri, &at)
    };
    assert_eq!(place(&mut client)[0]["uri"], json!(a));
    // The open file's answer follows what became of the other.
    std::fs::remove_dir_all(folder.path("shelf")).unwrap();
    client.until(&a, <[Value]>::is_empty);
    assert_eq!(place(&mut client), Value::Null);
    folder.write("new/b.levare", WRONG);
    let b = folder.uri("new/b.levare");
    client.until(&b, |told| told.len() == 1);
    assert_eq!(place(&mut client)[0]["uri"], json!(b));
    folder.write(".ignore", "new\n");
    client.until(&b, <[Value]>::is_empty);
    client.told(&uri);
    client.told(&a);
}

#[test]
fn another_branch_is_another_catalogue() {
    let title = |number: usize| format!("Etude of {number} Lamps");
    for blind in [false, true] {
        let folder = Folder::with(&[("handbook.levare", HANDBOOK), ("open.levare", RIGHT)]);
        for number in 0..12 {
            folder.write(&format!("a{number}.levare"), &titled(WRONG, &title(number)));
        }
        let setup = Setup::new(&[&folder.path("")]);
        let mut client = if blind { setup.blind() } else { setup }.start();
        let open = folder.uri("open.levare");
        client.open(&open, RIGHT);
        for number in 0..12 {
            let uri = folder.uri(&format!("a{number}.levare"));
            assert_eq!(client.phrases(&uri), [PHRASE]);
        }
        // Of twelve files some go, some are mended, some stay, some are new, and some are left out.
        let mut changed = Vec::new();
        let mut note = |name: String, kind: u8| changed.push((folder.uri(&name), kind));
        for number in 0..12 {
            let name = format!("a{number}.levare");
            match number % 4 {
                0 => {
                    std::fs::remove_file(folder.path(&name)).unwrap();
                    note(name, 3);
                }
                1 => {
                    folder.write(&name, &titled(RIGHT, &title(number)));
                    note(name, 2);
                }
                2 => {
                    let new = format!("new/b{number}.levare");
                    folder.write(&new, &titled(WRONG, &title(100 + number)));
                    note(new, 1);
                }
                _ => {}
            }
        }
        folder.write(".gitignore", "a3.levare\n");
        note(".gitignore".to_owned(), 1);
        if !blind {
            let changed: Vec<(&str, u8)> = changed.iter().map(|(uri, kind)| (uri.as_str(), *kind)).collect();
            client.changed_on_disk(&changed);
        }
        for number in 0..12 {
            let uri = folder.uri(&format!("a{number}.levare"));
            let stays = number % 4 == 2 || (number % 4 == 3 && number != 3);
            let wanted = usize::from(stays);
            if blind {
                client.until(&uri, |told| told.len() == wanted);
            }
            assert_eq!(
                client.phrases(&uri),
                vec![PHRASE; wanted],
                "{uri}, blind: {blind}"
            );
            if number % 4 == 2 {
                let uri = folder.uri(&format!("new/b{number}.levare"));
                client.until(&uri, |told| blind && told.is_empty() || told.len() == 1);
                client.until(&uri, |told| told.len() == 1);
            }
        }
        client.told(&open);
    }
}

#[test]
fn a_drive_letter_is_one_letter_however_it_is_written() {
    let ways = [
        "file:///c%3A/cards/a.levare",
        "file:///C:/cards/a.levare",
        "file:///c:/cards/a.levare",
    ];
    let folder = Folder::with(&[]);
    for (number, opened) in ways.iter().enumerate() {
        let mut client = Setup::new(&[&folder.path("")]).start();
        client.open(opened, RIGHT);
        // Another way of writing it for each message that follows; nothing is said of an unknown file.
        let other = ways[(number + 1) % 3];
        let third = ways[(number + 2) % 3];
        client.note(
            "textDocument/didChange",
            json!({"textDocument": {"uri": other, "version": 2}, "contentChanges": [{"text": WRONG}]}),
        );
        assert_eq!(client.text(third), WRONG);
        assert_eq!(
            client.phrases(opened),
            [PHRASE],
            "told under the editor's own writing"
        );
        assert_eq!((client.times(other), client.times(third)), (0, 0));
        client.close(third);
        assert_eq!(client.phrases(opened), [""; 0]);
    }
}

#[test]
fn an_address_that_is_no_file_never_reads_one() {
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("a.levare", RIGHT),
        (
            "evening.levare",
            "concert \"Evening\"\n  program\n    \"Night Train to Alder\"\n",
        ),
    ]);
    let path = folder.uri("a.levare").replace("file://", "");
    for uri in [
        format!("vscode-notebook-cell:{path}"),
        format!("git:{path}?version"),
        "untitled:Untitled-1".to_owned(),
        format!("file://{}", path.replacen("/a.levare", "%2Fa.levare", 1)),
        "file://another-computer/cards/a.levare".to_owned(),
    ] {
        let mut client = Setup::new(&[&folder.path("")]).start();
        client.open(&uri, WRONG);
        // It is a document of its own: served, and not taken for the file whose name it bears.
        assert_eq!(client.phrases(&uri), [PHRASE], "{uri}");
        assert_eq!(client.phrases(&folder.uri("a.levare")), [""; 0], "{uri}");
        let found = client.ask("workspace/symbol", json!({"query": "Night Train"}));
        let places: Vec<&Value> = found
            .as_array()
            .unwrap()
            .iter()
            .map(|s| &s["location"]["uri"])
            .collect();
        assert!(
            places.contains(&&json!(folder.uri("a.levare"))),
            "{uri}: {places:?}"
        );
        client.close(&uri);
        assert_eq!(client.phrases(&uri), [""; 0], "{uri}");
    }
}
