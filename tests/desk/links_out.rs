//! Links that lead out of the catalogue's folder.

#![cfg(unix)]

use std::os::unix::fs::symlink;

use serde_json::json;

use crate::client::{Folder, Setup};
use crate::found::{PHRASE, WRONG};

#[test]
fn a_file_behind_a_link_to_elsewhere_is_not_read_and_that_is_told() {
    let elsewhere = Folder::with(&[("secret.levare", WRONG), ("known.json", "{\n<<<<<<<\n")]);
    let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("b.levare", WRONG)]);
    symlink(elsewhere.path("secret.levare"), folder.path("s.levare")).unwrap();
    symlink(elsewhere.path("known.json"), folder.path("known-findings.json")).unwrap();
    let mut client = Setup::new(&[&folder.path("")]).start();
    let message = client.message();
    let text = message["params"]["message"].as_str().unwrap();
    assert!(text.contains("outside the catalog's folder"), "{text}");
    assert!(!text.contains("<<<"), "{text}");
    client.read_all();
    assert_eq!(client.phrases(&folder.uri("b.levare")), [PHRASE]);
    assert_eq!(client.phrases(&folder.uri("s.levare")), [""; 0]);
    client.read_all();
    // A link that comes later is told of as well.
    symlink(elsewhere.path("secret.levare"), folder.path("t.levare")).unwrap();
    client.changed_on_disk(&[(&folder.uri("t.levare"), 1)]);
    client.settle();
    assert_eq!(client.phrases(&folder.uri("t.levare")), [""; 0]);
    assert_eq!(client.read_all().len(), 1);
}

#[test]
fn a_card_leads_to_no_file_outside() {
    let text = "piece \"Night Train\"\n  see             scores/a.pdf, ../outside.txt, scores/out.pdf\n";
    let folder = Folder::with(&[
        ("outside.txt", "x"),
        ("c/handbook.levare", "handbook\n"),
        ("c/scores/a.pdf", "x"),
    ]);
    symlink(folder.path("outside.txt"), folder.path("c/scores/out.pdf")).unwrap();
    let mut client = Setup::new(&[&folder.path("c")]).start();
    let uri = folder.uri("c/a.levare");
    client.open(&uri, text);
    let links = client.ask("textDocument/documentLink", json!({"textDocument": {"uri": uri}}));
    let links = links.as_array().unwrap();
    assert_eq!(links.len(), 1, "{links:?}");
    let link = client.ask("documentLink/resolve", links[0].clone());
    assert_eq!(link["target"], json!(folder.uri("c/scores/a.pdf")));
    client.told(&uri);
}
