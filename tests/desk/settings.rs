//! Settings in the editor's own place: asked for, told, changed, and reported when they are not known.

use std::time::Instant;

use serde_json::{Value, json};

use crate::client::{Client, STUCK, Setup};
use crate::year::{self, OPEN, SPRING};

fn counts(client: &mut Client, uri: &str) -> (usize, usize) {
    let count = |found: &Value| found.as_array().map_or(0, Vec::len);
    let lenses = client.ask("textDocument/codeLens", json!({"textDocument": {"uri": uri}}));
    let range = json!({"start": {"line": 0, "character": 0}, "end": {"line": 20, "character": 0}});
    let hints = client.ask(
        "textDocument/inlayHint",
        json!({"textDocument": {"uri": uri}, "range": range}),
    );
    (count(&lenses), count(&hints))
}

#[test]
fn settings_are_asked_for_and_asked_for_again() {
    let (folder, mut client) = year::desk();
    let spring = folder.uri("spring.levare");
    client.until_asked("workspace/configuration", 1);
    assert_eq!(
        client.last_asked("workspace/configuration"),
        json!({"items": [{"section": "levare"}]})
    );
    client.until_asked("client/registerCapability", 2);
    assert_eq!(counts(&mut client, &spring), (1, 2));
    let table = [
        (json!({"hints": false}), (1, 0)),
        (json!({"hints": ["measures"], "lenses": false}), (0, 0)),
        (json!({"hints": ["lengths"], "lenses": true}), (1, 2)),
    ];
    for (number, (set, wanted)) in table.into_iter().enumerate() {
        client
            .replies
            .insert("workspace/configuration".to_owned(), json!([set]));
        client.note("workspace/didChangeConfiguration", json!({"settings": null}));
        client.until_asked("workspace/configuration", number + 2);
        client.until_asked("workspace/inlayHint/refresh", number + 1);
        // A refresh may still come from before the settings changed.
        let start = Instant::now();
        let mut found = counts(&mut client, &spring);
        while found != wanted && start.elapsed() < STUCK {
            found = counts(&mut client, &spring);
        }
        assert_eq!(found, wanted, "{set}");
    }
    year::quiet(&folder, &mut client);
}

#[test]
fn an_editor_that_cannot_be_asked_tells() {
    let folder = year::folder();
    let mut client = Setup::new(&[&folder.path("")]).start();
    let spring = folder.uri("spring.levare");
    client.open(&spring, SPRING);
    assert_eq!(counts(&mut client, &spring), (1, 2));
    let set = json!({"levare": {"hints": false, "tempo": "fast"}, "other": {"hints": true}});
    client.note("workspace/didChangeConfiguration", json!({"settings": set}));
    assert_eq!(counts(&mut client, &spring), (1, 0));
    client.log("Levare cannot use what is set for levare.tempo");
    // Once is enough to be told.
    client.note("workspace/didChangeConfiguration", json!({"settings": set}));
    assert_eq!(counts(&mut client, &spring), (1, 0));
    for (name, _) in OPEN {
        client.told(&folder.uri(name));
    }
    client.told(&folder.uri("handbook.levare"));
}

#[test]
fn a_buffer_that_was_never_saved_is_served() {
    let (folder, mut client) = year::desk();
    let uri = "untitled:Untitled-1";
    let text = "piece \"Night Ferry\"\n  tonal center    G minor\n  rehearsal marks A 9\n  tempo           100, 90 at A\n";
    client.open(uri, text);
    let range = json!({"start": {"line": 0, "character": 0}, "end": {"line": 9, "character": 0}});
    let asked = json!({"textDocument": {"uri": uri}, "range": range});
    let hints = client.ask("textDocument/inlayHint", asked);
    assert_eq!(hints.as_array().unwrap().len(), 2, "{hints}");
    let found = client.ask(
        "textDocument/rename",
        json!({"textDocument": {"uri": uri}, "position": {"line": 2, "character": 18}, "newName": "B"}),
    );
    assert_eq!(found["documentChanges"][0]["edits"].as_array().unwrap().len(), 2);
    assert_eq!(found["documentChanges"][0]["textDocument"]["uri"], uri);
    let links = client.ask("textDocument/documentLink", json!({"textDocument": {"uri": uri}}));
    assert_eq!(links, json!([]));
    client.told(uri);
    year::quiet(&folder, &mut client);
}
