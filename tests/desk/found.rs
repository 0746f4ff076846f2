//! What is found: where, when, and for how long it is told.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::places::{UNITS, position, range};

/// A card with one finding, and the phrase it is silenced with.
pub const WRONG: &str =
    "piece \"Night Train to Alder\"\n  tonal center    G minor\n  key signature   3 flats\n";
pub const RIGHT: &str =
    "piece \"Night Train to Alder\"\n  tonal center    G minor\n  key signature   2 flats\n";
pub const PHRASE: &str = "signature against center";

/// Applies the edits of a workspace edit to one text.
pub fn applied(text: &str, edit: &Value, unit: &str) -> String {
    let edits = edit["documentChanges"][0]["edits"]
        .as_array()
        .or_else(|| edit["changes"].as_object()?.values().next()?.as_array())
        .unwrap_or_else(|| panic!("no edits in {edit}"));
    all(text, edits, unit)
}

/// Applies edits, the last one first.
pub fn all(text: &str, edits: &[Value], unit: &str) -> String {
    let byte = |wanted: &Value| {
        (0..=text.len())
            .filter(|at| text.is_char_boundary(*at))
            .find(|at| position(text, *at, unit) == *wanted)
            .unwrap_or_else(|| panic!("no place {wanted} in {text:?}"))
    };
    let mut spans: Vec<(usize, usize, &str)> = edits
        .iter()
        .map(|edit| {
            let range = &edit["range"];
            let text = edit["newText"].as_str().unwrap();
            (byte(&range["start"]), byte(&range["end"]), text)
        })
        .collect();
    spans.sort_by_key(|(start, end, _)| std::cmp::Reverse((*start, *end)));
    let mut out = text.to_owned();
    for (start, end, new) in spans {
        out.replace_range(start..end, new);
    }
    out
}

#[test]
fn under_the_right_characters() {
    let text = "piece \"Café B♭ 𝄞\"\n  tonal center    G minor\n  key signature   (é♭𝄞) 3 flats\n";
    for unit in UNITS {
        let folder = Folder::with(&[("a.levare", text)]);
        let mut client = Setup::new(&[&folder.path("")]).unit(unit).start();
        assert_eq!(client.capabilities["positionEncoding"], unit);
        let uri = folder.uri("a.levare");
        client.open(&uri, text);
        let told = client.told(&uri);
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!(told[0]["code"], PHRASE);
        assert_eq!(told[0]["range"], range(text, "3 flats", unit), "{unit}");
        assert!(!told[0]["message"].as_str().unwrap().is_empty());
    }
}

#[test]
fn with_its_version_and_only_when_it_changed() {
    let folder = Folder::with(&[("a.levare", WRONG)]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    assert_eq!(client.phrases(&uri), [PHRASE]);
    assert_eq!(client.told_version(&uri), Some(1));
    let times = client.times(&uri);
    // A line below changes nothing about the finding.
    let end = position(WRONG, WRONG.len(), "utf-16");
    client.change(
        &uri,
        json!([{"range": {"start": end, "end": end}, "text": "  meter           4/4\n"}]),
    );
    client.settle();
    assert_eq!(client.times(&uri), times);
    // A line above moves it.
    let start = json!({"line": 0, "character": 0});
    client.change(
        &uri,
        json!([{"range": {"start": start, "end": start}, "text": "\n"}]),
    );
    let told = client.told(&uri);
    assert_eq!(told[0]["range"]["start"]["line"], 3);
    assert_eq!(client.told_version(&uri), Some(3));
}

#[test]
fn a_finding_at_the_end_of_the_last_edit_waits() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, RIGHT);
    assert_eq!(client.phrases(&uri), [""; 0]);
    let wrong = |client: &mut crate::client::Client| {
        client.change(&uri, json!([{"text": RIGHT}]));
        let digit = range(RIGHT, "2 flats", "utf-16");
        client.change(&uri, json!([{"range": digit, "text": "3 flats"}]));
        assert_eq!(client.phrases(&uri), [""; 0], "it is still being written");
    };
    wrong(&mut client);
    client.save(&uri);
    assert_eq!(client.phrases(&uri), [PHRASE], "saving ends the waiting");

    client.change(&uri, json!([{"text": RIGHT}]));
    assert_eq!(client.phrases(&uri), [""; 0]);
    wrong(&mut client);
    let start = json!({"line": 0, "character": 0});
    client.change(
        &uri,
        json!([{"range": {"start": start, "end": start}, "text": "\n"}]),
    );
    assert_eq!(client.phrases(&uri), [PHRASE], "an edit elsewhere ends it");

    client.change(&uri, json!([{"text": RIGHT}]));
    assert_eq!(client.phrases(&uri), [""; 0]);
    wrong(&mut client);
    client.until(&uri, |told| told.len() == 1);
}

#[test]
fn nothing_is_told_of_files_that_are_gone() {
    let other = WRONG.replace("Night Train", "Slow Boat");
    let folder = Folder::with(&[
        ("handbook.levare", "handbook\n  notation        1\n"),
        ("a.levare", WRONG),
        ("shelf/b.levare", &other),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let (a, b) = (folder.uri("a.levare"), folder.uri("shelf/b.levare"));
    assert_eq!(client.phrases(&a), [PHRASE], "closed files are told of too");
    assert_eq!(client.phrases(&b), [PHRASE]);

    // A new name.
    std::fs::rename(folder.path("a.levare"), folder.path("c.levare")).unwrap();
    let c = folder.uri("c.levare");
    client.changed_on_disk(&[(&a, 3), (&c, 1)]);
    assert_eq!(client.phrases(&a), [""; 0]);
    assert_eq!(client.phrases(&c), [PHRASE]);

    // Left out by an ignore file, and taken in again.
    folder.write(".gitignore", "shelf/\n");
    client.changed_on_disk(&[(&folder.uri(".gitignore"), 1)]);
    assert_eq!(client.phrases(&b), [""; 0]);
    std::fs::remove_file(folder.path(".gitignore")).unwrap();
    client.changed_on_disk(&[(&folder.uri(".gitignore"), 3)]);
    assert_eq!(client.phrases(&b), [PHRASE]);

    // A whole folder, of which the client names only the folder.
    std::fs::remove_dir_all(folder.path("shelf")).unwrap();
    client.changed_on_disk(&[(&folder.uri("shelf"), 3)]);
    assert_eq!(client.phrases(&b), [""; 0]);

    std::fs::remove_file(folder.path("c.levare")).unwrap();
    client.changed_on_disk(&[(&c, 3)]);
    assert_eq!(client.phrases(&c), [""; 0]);
    assert!(
        client.asked.contains(&"client/registerCapability".to_owned()),
        "{:?}",
        client.asked
    );
}

#[test]
fn our_own_eyes_when_the_client_has_none() {
    let folder = Folder::with(&[
        ("handbook.levare", "handbook\n  notation        1\n"),
        ("a.levare", RIGHT),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).blind().start();
    let a = folder.uri("a.levare");
    assert_eq!(client.phrases(&a), [""; 0]);
    folder.write("a.levare", WRONG);
    client.until(&a, |told| told.len() == 1);
    std::fs::remove_file(folder.path("a.levare")).unwrap();
    client.until(&a, <[Value]>::is_empty);
    assert_eq!(client.asked, [""; 0]);
}

#[test]
fn the_disk_says_what_a_closed_file_holds() {
    let folder = Folder::with(&[
        ("handbook.levare", "handbook\n  notation        1\n"),
        ("a.levare", RIGHT),
    ]);
    let elsewhere = Folder::with(&[("x.levare", WRONG)]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let (a, x) = (folder.uri("a.levare"), elsewhere.uri("x.levare"));
    // Changed in the editor, not saved, closed.
    client.open(&a, WRONG);
    assert_eq!(client.phrases(&a), [PHRASE]);
    client.close(&a);
    assert_eq!(client.phrases(&a), [""; 0]);
    // A file of no folder of the editor's.
    client.open(&x, WRONG);
    assert_eq!(client.phrases(&x), [PHRASE]);
    client.close(&x);
    assert_eq!(client.phrases(&x), [""; 0]);
}

#[test]
fn at_most_two_hundred_and_then_how_many_more() {
    let card = |number: u32| {
        format!("piece \"Etude of {number} Lamps\"\n  tonal center    G minor\n  key signature   3 flats\n\n")
    };
    let text: String = (0..230).map(card).collect();
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, &text);
    let told = client.told(&uri);
    assert_eq!(told.len(), 201);
    let last = told.last().unwrap()["message"].as_str().unwrap().to_owned();
    assert!(last.starts_with("30 more findings"), "{last}");
}

#[test]
fn clients_that_ask_are_not_told() {
    let other = WRONG.replace("Night Train", "Slow Boat");
    let folder = Folder::with(&[
        ("handbook.levare", "handbook\n  notation        1\n"),
        ("a.levare", WRONG),
        ("b.levare", &other),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let (a, b) = (folder.uri("a.levare"), folder.uri("b.levare"));
    client.open(&a, WRONG);
    client.settle();
    assert_eq!((client.times(&a), client.times(&b)), (0, 0));

    let ask = |client: &mut crate::client::Client, previous: &Value| {
        client.ask(
            "textDocument/diagnostic",
            json!({"textDocument": {"uri": a}, "previousResultId": previous}),
        )
    };
    let first = ask(&mut client, &Value::Null);
    assert_eq!(first["kind"], "full");
    assert_eq!(first["items"][0]["code"], PHRASE);
    let again = ask(&mut client, &first["resultId"]);
    assert_eq!(again["kind"], "unchanged");
    client.change(&a, json!([{"text": RIGHT}]));
    let mended = ask(&mut client, &first["resultId"]);
    assert_eq!((&mended["kind"], &mended["items"]), (&json!("full"), &json!([])));

    let all = client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
    let found: Vec<(&Value, usize)> = all["items"]
        .as_array()
        .unwrap()
        .iter()
        .map(|report| (&report["uri"], report["items"].as_array().unwrap().len()))
        .collect();
    assert!(found.contains(&(&json!(b), 1)), "{all}");
    assert!(found.contains(&(&json!(a), 0)), "{all}");
    let report = all["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|r| r["uri"] == json!(b))
        .unwrap();
    // It is told to ask again, and what is gone is said to be empty.
    std::fs::remove_file(folder.path("b.levare")).unwrap();
    let before = client.asked.len();
    client.changed_on_disk(&[(&b, 3)]);
    let known = json!([{"uri": b, "value": report["resultId"]}]);
    let all = client.ask("workspace/diagnostic", json!({"previousResultIds": known}));
    let gone = all["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|r| r["uri"] == json!(b))
        .unwrap();
    assert_eq!(gone["items"], json!([]));
    client.settle();
    let refresh = "workspace/diagnostic/refresh".to_owned();
    assert!(client.asked[before..].contains(&refresh), "{:?}", client.asked);
}

#[test]
fn mended_by_hand_without_what_the_client_drops() {
    for unit in UNITS {
        for versioned in [true, false] {
            let text = WRONG.replace("Night", "Nächt 𝄞");
            let folder = Folder::with(&[]);
            let mut client = Setup::new(&[&folder.path("")])
                .unit(unit)
                .with("/workspace/workspaceEdit/documentChanges", json!(versioned))
                .start();
            let uri = folder.uri("a.levare");
            client.open(&uri, &text);
            assert_eq!(client.phrases(&uri), [PHRASE]);
            let here = range(&text, "3 flats", unit);
            let actions = client.ask(
                "textDocument/codeAction",
                json!({"textDocument": {"uri": uri}, "range": here, "context": {"diagnostics": []}}),
            );
            let actions = actions.as_array().unwrap().clone();
            let titles: Vec<&str> = actions.iter().map(|a| a["title"].as_str().unwrap()).collect();
            assert!(titles.len() > 1, "{titles:?}");
            assert!(titles[0].ends_with("(check the score)"), "{titles:?}");
            for action in &actions {
                assert_eq!(action["kind"], "quickfix");
                let mended = applied(&text, &action["edit"], unit);
                client.change(&uri, json!([{"text": mended}]));
                // What is let stand still asks for its reason.
                let stands = action["title"].as_str().unwrap().starts_with("Let ");
                let left: &[&str] = if stands { &["reason missing"] } else { &[] };
                assert_eq!(client.phrases(&uri), left, "{}:\n{mended}", action["title"]);
                client.change(&uri, json!([{"text": text}]));
                assert_eq!(client.phrases(&uri), [PHRASE]);
            }
            assert!(titles.iter().any(|title| title.contains("stand")), "{titles:?}");
            // What has to be decided is never made in bulk.
            let bulk = client.ask(
                "textDocument/codeAction",
                json!({
                    "textDocument": {"uri": uri},
                    "range": here,
                    "context": {"diagnostics": [], "only": ["source.fixAll"]},
                }),
            );
            assert_eq!(bulk, json!([]));
        }
    }
}

#[test]
fn what_needs_no_decision_is_mended_in_bulk() {
    let text = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  key signature   2 flats\n  key signature   2 flats\n  stet            signature against center because the score has it so\n";
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, text);
    let told = client.told(&uri);
    let phrases = |told: &[Value]| -> Vec<Value> { told.iter().map(|one| one["code"].clone()).collect() };
    assert_eq!(phrases(&told), ["said twice", "left over from before"]);
    assert_eq!(told[1]["tags"], json!([1]), "what does nothing is faded");
    let bulk = client.ask(
        "textDocument/codeAction",
        json!({
            "textDocument": {"uri": uri},
            "range": {"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 0}},
            "context": {"diagnostics": [], "only": ["source.fixAll"]},
        }),
    );
    assert_eq!(bulk.as_array().unwrap().len(), 1, "{bulk}");
    let mended = applied(text, &bulk[0]["edit"], "utf-16");
    assert_eq!(mended.matches("key signature").count(), 1, "{mended}");
    assert!(
        mended.contains("stet"),
        "a reason is never taken out unasked: {mended}"
    );
    client.change(&uri, json!([{"text": mended}]));
    assert_eq!(client.phrases(&uri), ["left over from before"]);
}

/// Asks for all that needs no decision, as editors do on saving.
fn bulk(client: &mut Client, uri: &str) -> usize {
    let all = client.ask(
        "textDocument/codeAction",
        json!({
            "textDocument": {"uri": uri},
            "range": {"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 0}},
            "context": {"diagnostics": [], "only": ["source.fixAll"]},
        }),
    );
    all.as_array().unwrap().len()
}

#[test]
fn on_a_part_of_a_catalogue_nothing_is_mended_in_bulk() {
    let text = "piece \"Harbor Parade\"\n  key signature   2 flats\n  key signature   2 flats\n";
    let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("a.levare", text)]);
    let other = folder.path("band.levare");
    std::fs::write(&other, b"ensemble \"Caf\xe9\"\n").unwrap();
    let mut client = Setup::new(&[&folder.path("")]).start();
    client.log("nothing is corrected on saving");
    let uri = folder.uri("a.levare");
    client.open(&uri, text);
    client.told(&uri);
    assert_eq!(bulk(&mut client, &uri), 0);
    let band = folder.uri("band.levare");
    // Once it can be read, all is as ever.
    std::fs::write(&other, "ensemble \"Café\"\n").unwrap();
    client.changed_on_disk(&[(&band, 2)]);
    assert_eq!(bulk(&mut client, &uri), 1);
    std::fs::write(&other, b"ensemble \"Caf\xe9s\"\n  notes x\n").unwrap();
    client.changed_on_disk(&[(&band, 2)]);
    assert_eq!(bulk(&mut client, &uri), 0);
    // What the editor has open is read.
    client.open(&band, "ensemble \"Café\"\n");
    assert_eq!(bulk(&mut client, &uri), 1);
    client.told(&band);
    client.close(&band);
    assert_eq!(bulk(&mut client, &uri), 0);
    std::fs::remove_file(&other).unwrap();
    client.changed_on_disk(&[(&band, 3)]);
    assert_eq!(bulk(&mut client, &uri), 1);
    client.told(&uri);
}

#[test]
fn an_edit_of_the_handbook_reaches_every_file() {
    let other = WRONG.replace("Night Train", "Slow Boat");
    let handbook = "handbook\n  notation        1\n";
    let folder = Folder::with(&[
        ("handbook.levare", handbook),
        ("a.levare", WRONG),
        ("b.levare", &other),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let (h, a, b) = (
        folder.uri("handbook.levare"),
        folder.uri("a.levare"),
        folder.uri("b.levare"),
    );
    client.open(&a, WRONG);
    client.open(&h, handbook);
    // One open and one closed; 2 is a warning and 4 a hint.
    for (wish, severity) in [
        ("", 2),
        ("  hint            signature against center\n", 4),
        ("", 2),
    ] {
        client.change(&h, json!([{"text": format!("{handbook}{wish}")}]));
        for uri in [&a, &b] {
            assert_eq!(client.told(uri)[0]["severity"], severity, "{uri} after {wish:?}");
        }
    }
    client.change(
        &h,
        json!([{"text": format!("{handbook}  stet            signature against center because so\n")}]),
    );
    assert_eq!(client.phrases(&a), [""; 0]);
    assert_eq!(client.phrases(&b), [""; 0]);
    client.told(&h);
}
