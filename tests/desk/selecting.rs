//! Selections grow from the word to the file; links lead to files that are there and to pages.

use serde_json::{Value, json};

use crate::client::Client;
use crate::year::{self, SHELF, nth, words};

fn grown(client: &mut Client, uri: &str, text: &str, at: &Value) -> Vec<String> {
    let found = client.ask(
        "textDocument/selectionRange",
        json!({"textDocument": {"uri": uri}, "positions": [at]}),
    );
    let mut grown = Vec::new();
    let mut range = &found[0];
    while !range.is_null() {
        grown.push(words(text, &range["range"]).to_owned());
        range = &range["parent"];
    }
    grown
}

#[test]
fn a_selection_grows_from_the_word_to_the_file() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let grows = grown(&mut client, &shelf, SHELF, &nth(SHELF, "= 100", 0, 3));
    let mut wanted = [
        "",
        "100",
        "quarter = 100",
        "quarter = 100 at trio",
        "quarter = 116, quarter = 100 at trio",
        "tempo           quarter = 116, quarter = 100 at trio",
    ]
    .iter();
    let mut next = wanted.next();
    for one in &grows {
        if next.is_some_and(|wanted| wanted == one) {
            next = wanted.next();
        }
    }
    assert_eq!(next, None, "{grows:?}");
    assert_eq!(grows.last().unwrap(), SHELF);
    let card = &grows[grows.len() - 3];
    assert!(
        card.starts_with("piece \"Harbor") && card.ends_with("sharing a solo"),
        "{card}"
    );
    for pair in grows.windows(2) {
        assert!(pair[1].contains(&pair[0]) && pair[1] != pair[0], "{pair:?}");
    }
    // A row of a table lies in its table.
    let grows = grown(&mut client, &shelf, SHELF, &nth(SHELF, "A3-C5", 0, 1));
    assert!(
        grows
            .iter()
            .any(|one| one == "clarinet 1      A3-C5, over the break at trio"),
        "{grows:?}"
    );
    assert!(grows.iter().any(|one| one.starts_with("parts\n")), "{grows:?}");
    let other = SHELF.replace("= 100", "= 96");
    client.change(&shelf, json!([{"text": other}]));
    let grows = grown(&mut client, &shelf, &other, &nth(&other, "= 96", 0, 3));
    assert!(grows.iter().any(|one| one == "quarter = 96 at trio"), "{grows:?}");
    year::quiet(&folder, &mut client);
}

#[test]
fn links_lead_to_files_that_are_there_and_to_pages() {
    let (folder, mut client) = year::desk();
    folder.write("scores/harbor parade.musicxml", "");
    let shelf = folder.uri("shelf.levare");
    let links = |client: &mut Client, text: &str| -> Vec<(String, String)> {
        let found = client.ask(
            "textDocument/documentLink",
            json!({"textDocument": {"uri": shelf}}),
        );
        let found = found.as_array().unwrap().clone();
        found
            .into_iter()
            .map(|link| {
                let word = words(text, &link["range"]).to_owned();
                let followed = client.ask("documentLink/resolve", link);
                (word, followed["target"].as_str().unwrap().to_owned())
            })
            .collect()
    };
    let with = SHELF.replacen(
        "  parts\n",
        "  score           scores/harbor parade.musicxml, scores/none.pdf\n  see             https://example.org/parade (a recording)\n  parts\n",
        1,
    );
    client.change(&shelf, json!([{"text": with}]));
    assert_eq!(
        links(&mut client, &with),
        [
            (
                "scores/harbor parade.musicxml".to_owned(),
                folder.uri("scores/harbor parade.musicxml")
            ),
            (
                "https://example.org/parade".to_owned(),
                "https://example.org/parade".to_owned()
            ),
        ]
    );
    client.change(&shelf, json!([{"text": SHELF}]));
    assert!(links(&mut client, SHELF).is_empty());
    year::quiet(&folder, &mut client);
}
