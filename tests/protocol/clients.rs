//! Clients of many kinds ask for everything, and get nothing that they cannot take: `desk/fits.rs` holds
//! every message against what the client said.

use std::path::Path;

use serde_json::{Value, json};

use crate::client::Setup;
use crate::questions::{REQUESTS, SHELF, catalogue, everything, offers};

/// What each kind of client says of itself.
pub fn all() -> Vec<(String, Value)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/protocol/clients");
    let mut all: Vec<(String, Value)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "json"))
        .map(|path| {
            let said: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, said["capabilities"].clone())
        })
        .collect();
    all.sort_by(|one, other| one.0.cmp(&other.0));
    assert!(all.len() >= 6, "{all:?}");
    all
}

#[test]
fn every_client_gets_only_what_it_can_take() {
    for (name, can) in all() {
        let folder = catalogue();
        let mut client = Setup::new(&[&folder.path("")]).exactly(can).start();
        let offered = client.capabilities.clone();
        let uris = ["handbook", "band", "shelf", "spring"].map(|file| folder.uri(&format!("{file}.levare")));
        let shelf = &uris[2];
        client.open(shelf, SHELF);
        client.settle();
        let held = everything(&mut client, shelf, SHELF);
        for (method, pointer, _) in REQUESTS {
            let is_offered = offers(&offered, pointer);
            // A result from before that is not known any more is answered in full elsewhere, and files are
            // laid out while saving only where the editor's settings say so.
            let may_be_empty =
                ["workspace/willRenameFiles", "textDocument/willSaveWaitUntil"].contains(&method);
            assert!(
                !is_offered || may_be_empty || held[method] > 0,
                "{name}: {method} is offered and answers nothing"
            );
        }
        // It is told, or asks.
        let asks = offers(&offered, "/diagnosticProvider");
        assert_eq!(client.times(shelf) == 0, asks, "{name}");
        // After an edit and a change on the disk, what is sent by itself.
        client.change(shelf, json!([{"text": SHELF.replace("3 flats", "2 flats")}]));
        std::fs::remove_file(folder.path("spring.levare")).unwrap();
        client.changed_on_disk(&[(&uris[3], 3)]);
        for uri in &uris {
            client.told(uri);
        }
    }
}

#[test]
fn what_is_not_offered_is_not_answered() {
    let folder = catalogue();
    let mut client = Setup::new(&[&folder.path("")]).start();
    let offered = client.capabilities.clone();
    for (method, pointer, asks) in REQUESTS {
        // Parts of an offer are answered with the whole of it.
        if pointer.matches('/').count() > 1 || offers(&offered, pointer) {
            continue;
        }
        let said = crate::questions::parameters(asks, &folder.uri("shelf.levare"), 0, 0, 1);
        let id = client.begin(method, said);
        let answer = client.answer(id);
        let is_unknown = answer["error"]["code"] == -32601;
        // A client that did not say that it asks may ask all the same.
        assert!(
            is_unknown || pointer == "/diagnosticProvider",
            "{method}: {answer}"
        );
    }
    client.settle();
    for file in ["handbook", "band", "shelf", "spring"] {
        client.told(&folder.uri(&format!("{file}.levare")));
    }
}
