//! Cards are found by their names and by what they are, and their places told when they are needed.

use serde_json::{Value, json};

use crate::client::Client;
use crate::places::range;
use crate::year::{self, SHELF};

fn found(client: &mut Client, query: &str) -> Vec<(String, String)> {
    let found = client.ask("workspace/symbol", json!({"query": query}));
    let words = |card: &Value, name: &str| card[name].as_str().unwrap().to_owned();
    let found = found.as_array().unwrap().clone();
    found
        .iter()
        .map(|card| (words(card, "name"), words(card, "containerName")))
        .collect()
}

fn names(client: &mut Client, query: &str) -> Vec<String> {
    found(client, query).into_iter().map(|(name, _)| name).collect()
}

#[test]
fn conditions_find_the_pieces_that_meet_them() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    assert_eq!(
        found(&mut client, "up to 3 flats, a march"),
        [("Harbor Parade".to_owned(), "up to 3 flats, a march".to_owned())]
    );
    let table: &[(&str, &[&str])] = &[
        ("up to 3 flats", &["Harbor Parade"]),
        ("at least 4 flats", &["Lanterns on the Weir"]),
        ("not a march, in 4/4", &[]),
        ("asks ties", &["Harbor Parade"]),
        ("up to 3 flats, purple", &[]),
        ("lanterns", &["Lanterns on the Weir"]),
    ];
    for (query, wanted) in table {
        assert_eq!(names(&mut client, query), *wanted, "{query}");
    }
    client.change(&shelf, json!([{"text": SHELF.replace("5 flats", "3 flats").replace("by              Odile", "style           march\n  by              Odile")}]));
    assert_eq!(
        names(&mut client, "up to 3 flats, a march"),
        ["Harbor Parade", "Lanterns on the Weir"]
    );
    year::quiet(&folder, &mut client);
}

#[test]
fn a_found_card_tells_its_place_when_it_is_needed() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let card = client.ask("workspace/symbol", json!({"query": "lanterns"}))[0].clone();
    assert_eq!(card["location"], json!({"uri": shelf}));
    let told = client.ask("workspaceSymbol/resolve", card.clone());
    assert_eq!(
        told["location"]["range"],
        range(SHELF, "Lanterns on the Weir", "utf-16")
    );
    // The same card after it has moved.
    let moved = format!("piece \"Night Ferry\"\n\n{SHELF}");
    client.change(&shelf, json!([{"text": moved}]));
    let told = client.ask("workspaceSymbol/resolve", card);
    assert_eq!(
        told["location"]["range"],
        range(&moved, "Lanterns on the Weir", "utf-16")
    );
    year::quiet(&folder, &mut client);
}
