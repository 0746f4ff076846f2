//! Big catalogues: small work for small edits.

use serde_json::json;

use crate::catalogue::{card, hundred};
use crate::client::Setup;
use crate::shared::HANDBOOK;

#[test]
fn a_keystroke_in_a_big_catalogue_is_a_small_thing() {
    let folder = hundred(HANDBOOK);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("shelf/p07.levare");
    client.open(&uri, &card(7));
    client.told(&uri);
    let others: Vec<String> = (0..100)
        .filter(|number| *number != 7)
        .map(|number| folder.uri(&format!("shelf/p{number:02}.levare")))
        .collect();
    for other in &others {
        client.told(other);
    }
    let before: Vec<usize> = others.iter().map(|other| client.times(other)).collect();
    let mine = client.times(&uri);
    // Fifty keystrokes in a remark change nothing that is found anywhere.
    for number in 0..50 {
        let at = json!({"line": 1, "character": 3 + number});
        client.change(&uri, json!([{"range": {"start": at, "end": at}, "text": "x"}]));
        client.at("textDocument/hover", &uri, &at);
    }
    client.told(&uri);
    assert_eq!(client.times(&uri), mine, "what is the same is not told again");
    // Fifty that move what is found are told of here, at most once each, and nowhere else.
    for _ in 0..50 {
        let start = json!({"line": 0, "character": 0});
        client.change(
            &uri,
            json!([{"range": {"start": start, "end": start}, "text": "\n"}]),
        );
    }
    client.told(&uri);
    let told = client.times(&uri) - mine;
    assert!((1..=50).contains(&told), "{told} times");
    let after: Vec<usize> = others.iter().map(|other| client.times(other)).collect();
    assert_eq!(before, after, "nothing is told of files that nobody touched");
}
