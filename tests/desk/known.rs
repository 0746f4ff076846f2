//! Findings that were written down as known are not told, until their lines change.

use std::process::Command;

use crate::client::{Folder, Setup};

const HANDBOOK: &str = "handbook\n  notation        1\n";
const SHELF: &str = "piece \"Night Train\"
  tonal center    G minor
  key signature   3 flats
";

/// Writes all findings of the folder down as known, by the command.
fn record(folder: &Folder) {
    let ended = Command::new(env!("CARGO_BIN_EXE_levare"))
        .args(["proofread", "--record-known"])
        .current_dir(folder.path(""))
        .output()
        .unwrap();
    assert!(
        ended.status.success(),
        "{}",
        String::from_utf8_lossy(&ended.stderr)
    );
}

#[test]
fn known_findings_are_told_by_neither_door() {
    let folder = Folder::with(&[("handbook.levare", HANDBOOK), ("shelf.levare", SHELF)]);
    let shelf = folder.uri("shelf.levare");
    let known = folder.uri("known-findings.json");
    let mut client = Setup::new(&[&folder.path("")]).start();
    client.open(&shelf, SHELF);
    assert_eq!(client.phrases(&shelf), ["signature against center"]);
    record(&folder);
    client.changed_on_disk(&[(&known, 1)]);
    client.until(&shelf, <[_]>::is_empty);
    // The words it is about are changed, so it is new again.
    client.change(
        &shelf,
        serde_json::json!([{"text": SHELF.replace("3 flats", "4 flats")}]),
    );
    client.until(&shelf, |told| told.len() == 1);
    client.change(&shelf, serde_json::json!([{"text": SHELF}]));
    client.until(&shelf, <[_]>::is_empty);
    // A file that changes collide in is told of, and then all findings are.
    folder.write("known-findings.json", "{\n<<<<<<< ours\n");
    client.changed_on_disk(&[(&known, 2)]);
    client.until(&shelf, |told| told.len() == 1);
    let said = client.message();
    let said = said["params"]["message"].as_str().unwrap();
    assert!(said.contains("line 2 is no known finding"), "{said}");
}
