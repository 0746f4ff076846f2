//! Long work: told of while it goes on, stopped when nobody wants it, sent in parts, answered when there is news.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::year::{self, SHELF, nth};

/// A catalogue of so many files.
fn many(files: u32) -> Folder {
    let folder = Folder::with(&[("handbook.levare", "handbook\n  notation        1\n")]);
    for number in 0..files {
        let card = format!("piece \"Etude of {number} Lamps\"\n  asks            ties\n");
        folder.write(&format!("piece {number}.levare"), &card);
    }
    folder
}

fn kinds(values: &[Value]) -> Vec<&str> {
    values.iter().filter_map(|value| value["kind"].as_str()).collect()
}

#[test]
fn a_long_reading_is_told_of_from_beginning_to_end() {
    let folder = many(150);
    let mut client = year::able(&folder).start();
    client.until_asked("window/workDoneProgress/create", 1);
    let token = client.last_asked("window/workDoneProgress/create")["token"]
        .as_str()
        .unwrap()
        .to_owned();
    let mut told = Vec::new();
    while kinds(&told).last() != Some(&"end") {
        client.settle();
        told.extend(client.progress(&token));
    }
    assert_eq!(kinds(&told)[0], "begin", "{told:?}");
    assert_eq!(told[0]["title"], "Reading the catalog");
    assert_eq!(told[0]["cancellable"], true);
    let mut before = 0;
    for report in told.iter().filter(|one| one["kind"] == "report") {
        let now = report["percentage"].as_u64().unwrap();
        assert!(now >= before && now <= 100, "{told:?}");
        before = now;
    }
    // A cancel that comes too late stops nothing.
    client.note("window/workDoneProgress/cancel", json!({"token": token}));
    let found = client.ask("workspace/symbol", json!({"query": "Etude of 149"}));
    assert_eq!(found.as_array().unwrap().len(), 1);
    // A short reading is not worth telling of.
    let small = year::folder();
    let mut other = year::able(&small).start();
    year::quiet(&small, &mut other);
    assert!(
        !other.asked.iter().any(|asked| asked.contains("Progress")),
        "{:?}",
        other.asked
    );
}

#[test]
fn the_clients_own_token_is_told_and_parts_are_sent() {
    let folder = many(120);
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let found = client.ask(
        "workspace/symbol",
        json!({"query": "etude", "workDoneToken": "work", "partialResultToken": "part"}),
    );
    assert_eq!(found, json!([]), "all was sent before");
    let parts = client.progress("part");
    let sent: usize = parts.iter().map(|part| part.as_array().unwrap().len()).sum();
    assert!(sent == 120 && parts.len() > 1, "{sent} in {}", parts.len());
    assert_eq!(kinds(&client.progress("work")), ["begin", "end"]);

    let uri = folder.uri("piece 7.levare");
    let found = client.ask(
        "textDocument/references",
        json!({
            "textDocument": {"uri": uri},
            "position": {"line": 1, "character": 19},
            "context": {"includeDeclaration": true},
            "workDoneToken": "work",
            "partialResultToken": "part",
        }),
    );
    assert_eq!(found, json!([]));
    let sent: usize = client
        .progress("part")
        .iter()
        .map(|part| part.as_array().unwrap().len())
        .sum();
    assert_eq!(sent, 120);
    assert_eq!(kinds(&client.progress("work")), ["begin", "end"]);

    let all = client.ask(
        "workspace/diagnostic",
        json!({"previousResultIds": [], "workDoneToken": "work", "partialResultToken": "part"}),
    );
    assert_eq!(all, json!({"items": []}));
    let parts = client.progress("part");
    let sent: usize = parts
        .iter()
        .map(|part| part["items"].as_array().unwrap().len())
        .sum();
    assert!(sent == 121 && parts.len() > 1, "{sent} in {}", parts.len());
    assert_eq!(kinds(&client.progress("work")), ["begin", "end"]);
}

fn known(report: &Value) -> Value {
    let items = report["items"].as_array().unwrap();
    items
        .iter()
        .map(|one| json!({"uri": one["uri"], "value": one["resultId"]}))
        .collect()
}

#[test]
fn a_workspace_answer_waits_for_news_and_can_be_cancelled() {
    let folder = year::folder();
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let shelf = folder.uri("shelf.levare");
    client.open(&shelf, SHELF);
    let first = client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
    let known = known(&first);
    assert_eq!(known.as_array().unwrap().len(), 4);
    // Nothing is new, so the question stays open; other questions are answered meanwhile.
    let open = client.begin("workspace/diagnostic", json!({"previousResultIds": known}));
    client.ask("levare/wait", json!({"ms": 300}));
    assert!(!client.is_answered(open));
    client.change(&shelf, json!([{"text": SHELF.replace("2 flats", "3 flats")}]));
    let news = client.answer(open);
    let items = news["result"]["items"].as_array().unwrap();
    let report = items.iter().find(|one| one["uri"] == json!(shelf)).unwrap();
    assert_eq!(report["kind"], "full");
    assert!(
        report["items"].to_string().contains("signature against center"),
        "{report}"
    );
    let unchanged = items.iter().filter(|one| one["kind"] == "unchanged").count();
    assert!(unchanged >= 2, "{news}");

    let again = crate::long_work::known(&news["result"]);
    let open = client.begin("workspace/diagnostic", json!({"previousResultIds": again}));
    client.ask("levare/wait", json!({"ms": 300}));
    client.note("$/cancelRequest", json!({"id": open}));
    assert_eq!(client.answer(open)["error"]["code"], -32800);
}

#[test]
fn a_finding_carries_its_repair() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    let text = "piece \"Night Ferry\"\n  tonal center    G minor\n  key signature   3 flats\n";
    client.open(&uri, text);
    let repair = |client: &mut Client| client.told(&uri)[0]["data"]["repairs"][0].clone();
    let found = repair(&mut client);
    assert!(found["title"].as_str().unwrap().contains("2 flats"), "{found}");
    let mended = crate::found::all(text, found["edits"].as_array().unwrap(), "utf-16");
    assert!(mended.contains("key signature   2 flats"), "{mended}");
    client.change(&uri, json!([{"text": text.replace("G minor", "D minor")}]));
    assert!(repair(&mut client)["title"].as_str().unwrap().contains("1 flat"));
    client.told(&uri);
}

/// Asks about a long text and changes it at once, until an answer comes too late.
fn too_late(client: &mut Client, uri: &str, method: &str, params: &Value) -> Value {
    let long: String = (0..60)
        .map(|number| SHELF.replace("Harbor Parade", &format!("Harbor Parade {number}")))
        .collect();
    for _ in 0..40 {
        client.change(uri, json!([{"text": long}]));
        let id = client.begin(method, params.clone());
        let start = json!({"line": 0, "character": 0});
        client.change(
            uri,
            json!([{"range": {"start": start, "end": start}, "text": "\n"}]),
        );
        let answer = client.answer(id);
        if answer.get("error").is_some() {
            return answer;
        }
    }
    panic!("{method} was never too late");
}

#[test]
fn an_answer_about_a_text_that_has_moved_on_is_not_given() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let params = json!({
        "textDocument": {"uri": shelf},
        "position": nth(SHELF, "trio", 0, 1),
        "newName": "coda",
    });
    let answer = too_late(&mut client, &shelf, "textDocument/rename", &params);
    assert_eq!(answer["error"]["code"], -32801);
    client.change(&shelf, json!([{"text": SHELF}]));
    let answer = client.ask("textDocument/rename", params);
    assert_eq!(answer["documentChanges"][0]["edits"].as_array().unwrap().len(), 4);
    year::quiet(&folder, &mut client);
}

#[test]
fn a_late_answer_about_findings_asks_to_be_asked_again() {
    let folder = year::folder();
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let shelf = folder.uri("shelf.levare");
    client.open(&shelf, SHELF);
    let params = json!({"textDocument": {"uri": shelf}});
    let answer = too_late(&mut client, &shelf, "textDocument/diagnostic", &params);
    assert_eq!(answer["error"]["code"], -32802);
    assert_eq!(answer["error"]["data"], json!({"retriggerRequest": true}));
    client.change(&shelf, json!([{"text": SHELF}]));
    let answer = client.ask("textDocument/diagnostic", params);
    assert!(answer["items"].to_string().contains("over the break"), "{answer}");
}

#[test]
fn a_reading_that_is_stopped_says_nothing_of_the_cards() {
    let folder = many(3000);
    folder.write(
        "wrong.levare",
        "concert \"Nowhere\"\n  program\n    \"No Such Piece\"\n",
    );
    let mut client = year::able(&folder).start();
    client.until_asked("window/workDoneProgress/create", 1);
    let token = client.last_asked("window/workDoneProgress/create")["token"].clone();
    client.note("window/workDoneProgress/cancel", json!({"token": token}));
    let found = client.ask("workspace/symbol", json!({"query": "etude"}));
    let read = found.as_array().unwrap().len();
    client.settle();
    client.progress_of_all();
    client.log("Reading the catalog was stopped");
    assert!(read < 3000, "{read} cards were read");
    // All of it is read again, and then what is wrong is said.
    client.save(&folder.uri("handbook.levare"));
    client.changed_on_disk(&[(&folder.uri("handbook.levare"), 2)]);
    client.until(&folder.uri("wrong.levare"), |told| told.len() == 1);
    client.settle();
    while kinds(&client.progress_of_all()).last() != Some(&"end") {
        client.settle();
    }
}
