//! What one session tells and answers, in a form that can be laid beside another's.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::{Value, json};

use crate::client::Client;
use crate::world::World;

/// Findings of all files, and colors, outlines and hints of the open ones, by the names of the files.
pub type Seen = BTreeMap<String, Value>;

pub fn seen(client: &mut Client, world: &World, pulls: bool) -> Seen {
    let mut seen = Seen::new();
    let mut asked: BTreeMap<String, Value> = BTreeMap::new();
    if pulls {
        let all = client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
        for report in all["items"].as_array().unwrap() {
            asked.insert(
                report["uri"].as_str().unwrap().to_owned(),
                report["items"].clone(),
            );
        }
    }
    for name in &world.names {
        let uri = world.folder.uri(name);
        let found = match pulls {
            true => asked.get(&uri).cloned().unwrap_or_else(|| json!([])),
            false => Value::Array(client.told(&uri)),
        };
        seen.insert(format!("findings of {name}"), found);
    }
    for name in world.open.keys() {
        let uri = world.folder.uri(name);
        let document = json!({"textDocument": {"uri": uri}});
        let colors = client.ask("textDocument/semanticTokens/full", document.clone());
        seen.insert(format!("colors of {name}"), colors["data"].clone());
        let outline = client.ask("textDocument/documentSymbol", document.clone());
        seen.insert(format!("outline of {name}"), outline);
        let whole = json!({"start": {"line": 0, "character": 0}, "end": {"line": 9999, "character": 0}});
        let hints = client.ask(
            "textDocument/inlayHint",
            json!({"textDocument": {"uri": uri}, "range": whole}),
        );
        seen.insert(format!("hints of {name}"), hints);
        let lenses = client.ask("textDocument/codeLens", document);
        seen.insert(format!("lenses of {name}"), lenses);
    }
    let cards = client.ask("workspace/symbol", json!({"query": ""}));
    let mut cards: Vec<String> = cards
        .as_array()
        .unwrap()
        .iter()
        .map(|card| format!("{} {}", card["name"], card["location"]))
        .collect();
    cards.sort();
    seen.insert("cards".to_owned(), json!(cards));
    seen
}

/// The first difference between two.
pub fn difference(one: &Seen, other: &Seen) -> Option<String> {
    let names: BTreeSet<&String> = one.keys().chain(other.keys()).collect();
    names.into_iter().find_map(|name| {
        let (one, other) = (one.get(name), other.get(name));
        let text = |seen: Option<&Value>| serde_json::to_string_pretty(&seen).unwrap();
        (one != other).then(|| format!("{name}\nthis session: {}\nthe other: {}", text(one), text(other)))
    })
}

/// Where a finding begins, and its phrase.
type Place = (String, u64, String);

/// What the desk tells, as the command line would.
pub fn places(world: &World, seen: &Seen) -> Vec<Place> {
    let mut places = Vec::new();
    for name in &world.names {
        for found in seen[&format!("findings of {name}")].as_array().unwrap() {
            let line = found["range"]["start"]["line"].as_u64().unwrap() + 1;
            if let Some(phrase) = found["code"].as_str() {
                places.push((name.clone(), line, phrase.to_owned()));
            }
        }
    }
    places.sort();
    places
}

/// What the command line finds in the files as they are on the disk, in the outer catalog and the inner one.
pub fn by_command(world: &World) -> Vec<Place> {
    let mut places = Vec::new();
    let inner = world.folder.path("jazz/handbook.levare").exists();
    for folder in [Some(""), inner.then_some("jazz")].into_iter().flatten() {
        let output = Command::new(env!("CARGO_BIN_EXE_levare"))
            .args(["proofread", ".", "--as", "json", "--least", "hint"])
            .current_dir(world.folder.path(folder))
            .output()
            .unwrap();
        for line in String::from_utf8(output.stdout).unwrap().lines() {
            let found: Value = serde_json::from_str(line).unwrap();
            if found["about"] == "finding" {
                let file = found["file"].as_str().unwrap();
                let name = if folder.is_empty() {
                    file.to_owned()
                } else {
                    format!("{folder}/{file}")
                };
                places.push((
                    name,
                    found["from"]["line"].as_u64().unwrap(),
                    found["phrase"].as_str().unwrap().to_owned(),
                ));
            }
        }
    }
    places.sort();
    places
}
