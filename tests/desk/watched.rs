//! What changes on the disk beside open files, noticed by our own eyes or by the client's.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::{PHRASE, WRONG};

const OUTER: &str = "handbook\n  hint            signature against center\n";

/// A client that watches, or one for which the desk does.
fn start(folder: &Folder, watches: bool) -> Client {
    let setup = Setup::new(&[&folder.path("")]);
    if watches { setup } else { setup.blind() }.start()
}

/// Tells of a change, where the client is the one that watches.
fn changed(client: &mut Client, watches: bool, uri: &str, kind: u8) {
    if watches {
        client.changed_on_disk(&[(uri, kind)]);
    }
}

fn severity(told: &[Value]) -> Option<u64> {
    told.first().and_then(|one| one["severity"].as_u64())
}

#[test]
fn an_ignore_file_that_comes_and_goes_beside_an_open_file() {
    for watches in [true, false] {
        let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("a.levare", WRONG)]);
        let mut client = start(&folder, watches);
        let (uri, ignore) = (folder.uri("a.levare"), folder.uri(".gitignore"));
        client.open(&uri, WRONG);
        assert_eq!(client.phrases(&uri), [PHRASE]);
        folder.write(".gitignore", "a.levare\n");
        changed(&mut client, watches, &ignore, 1);
        client.until(&uri, <[Value]>::is_empty);
        std::fs::remove_file(folder.path(".gitignore")).unwrap();
        changed(&mut client, watches, &ignore, 3);
        client.until(&uri, |told| told.len() == 1);
    }
}

#[test]
fn an_inner_handbook_that_comes_and_goes_beside_an_open_file() {
    for watches in [true, false] {
        let folder = Folder::with(&[
            ("handbook.levare", OUTER),
            ("jazz/a.levare", WRONG),
            ("jazz/b.levare", &WRONG.replace("Night", "Day")),
        ]);
        let mut client = start(&folder, watches);
        let (a, b, inner) = (
            folder.uri("jazz/a.levare"),
            folder.uri("jazz/b.levare"),
            folder.uri("jazz/handbook.levare"),
        );
        client.open(&a, WRONG);
        assert_eq!(severity(&client.told(&a)), Some(4));
        folder.write("jazz/handbook.levare", "handbook\n");
        changed(&mut client, watches, &inner, 1);
        client.until(&a, |told| severity(told) == Some(2));
        client.until(&b, |told| severity(told) == Some(2));
        let symbols = |client: &mut Client| {
            let found = client.ask("workspace/symbol", json!({"query": "Night Train"}));
            found.as_array().unwrap().len()
        };
        assert_eq!(symbols(&mut client), 1);
        std::fs::remove_file(folder.path("jazz/handbook.levare")).unwrap();
        changed(&mut client, watches, &inner, 3);
        client.until(&a, |told| severity(told) == Some(4));
        client.until(&b, |told| severity(told) == Some(4));
        assert_eq!(symbols(&mut client), 1, "no catalog is left behind");
        client.close(&a);
        client.until(&a, |told| severity(told) == Some(4));
    }
}

#[test]
fn catalogues_inside_a_catalogue_are_read_without_being_opened() {
    let folder = Folder::with(&[
        ("handbook.levare", "handbook\n"),
        ("jazz/handbook.levare", "handbook\n"),
        ("jazz/a.levare", WRONG),
        ("jazz/combo/handbook.levare", "handbook\n"),
        ("jazz/combo/b.levare", WRONG),
        (".ignore", "left out\n"),
        ("left out/handbook.levare", "handbook\n"),
        ("left out/c.levare", WRONG),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let all = client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
    let items = |name: &str| {
        let uri = folder.uri(name);
        let report = all["items"]
            .as_array()
            .unwrap()
            .iter()
            .find(|report| report["uri"] == json!(uri))?;
        Some(report["items"].as_array().unwrap().len())
    };
    assert_eq!(items("jazz/a.levare"), Some(1));
    assert_eq!(items("jazz/combo/b.levare"), Some(1));
    assert_eq!(items("left out/c.levare"), None);
    drop(client);
    let mut client = Setup::new(&[&folder.path("")]).start();
    assert_eq!(client.phrases(&folder.uri("jazz/a.levare")), [PHRASE]);
    assert_eq!(client.phrases(&folder.uri("jazz/combo/b.levare")), [PHRASE]);
}

#[test]
fn a_place_in_another_file_moves_with_that_file() {
    let band = "piece \"Overture\"\n  grade           1\n\nensemble \"Band\"\n  percussionists  1\n";
    let played = "piece \"Played\"\n  percussion\n    snare           1-8\n    bass drum       1-8\n    triangle        1-8\n";
    let folder = Folder::with(&[
        ("handbook.levare", "handbook\n"),
        ("a.levare", played),
        ("band.levare", band),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let (a, b) = (folder.uri("a.levare"), folder.uri("band.levare"));
    client.open(&a, played);
    client.open(&b, band);
    let line = |client: &mut Client| {
        let told = client.told(&a);
        let related = told
            .iter()
            .flat_map(|one| one["relatedInformation"].as_array().cloned().unwrap_or_default());
        let there: Vec<Value> = related.filter(|one| one["location"]["uri"] == json!(b)).collect();
        assert!(!there.is_empty(), "{told:?}");
        there[0]["location"]["range"]["start"]["line"].as_u64().unwrap()
    };
    let before = line(&mut client);
    let at = json!({"line": 1, "character": 0});
    client.change(
        &b,
        json!([{"range": {"start": at, "end": at}, "text": "  style           march\n"}]),
    );
    assert_eq!(line(&mut client), before + 1);
    client.told(&b);
}

/// Our own eyes are open before the folder is read, so that nothing that changes meanwhile is missed.
#[test]
fn what_changes_while_the_folder_is_first_read_is_seen() {
    for step in 0..12u64 {
        let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("a.levare", WRONG)]);
        let mut client = start(&folder, false);
        std::thread::sleep(std::time::Duration::from_micros(step * 700));
        folder.write("b.levare", &WRONG.replace("Night", "Day"));
        client.until(&folder.uri("b.levare"), |told| told.len() == 1);
        client.told(&folder.uri("a.levare"));
    }
}
