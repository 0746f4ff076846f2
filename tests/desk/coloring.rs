//! Every word is told for what it is: whole, by a stretch, and as what changed.

use serde_json::{Value, json};

use crate::client::Client;
use crate::year::{self, SHELF};

/// The words with their sorts, as an editor works them out.
fn colored(client: &Client, text: &str, data: &[u64]) -> Vec<(String, String)> {
    let legend = client
        .capabilities
        .pointer("/semanticTokensProvider/legend/tokenTypes")
        .and_then(Value::as_array)
        .unwrap();
    let lines: Vec<&str> = text.split('\n').collect();
    let (mut line, mut column) = (0, 0);
    data.chunks(5)
        .map(|five| {
            if five[0] > 0 {
                line += five[0] as usize;
                column = 0;
            }
            column += five[1] as usize;
            let units: Vec<u16> = lines[line].encode_utf16().collect();
            let word = &units[column..column + five[2] as usize];
            let sort = legend[five[3] as usize].as_str().unwrap();
            (String::from_utf16(word).unwrap(), sort.to_owned())
        })
        .collect()
}

fn numbers(data: &Value) -> Vec<u64> {
    let data = data.as_array().cloned().unwrap_or_default();
    data.iter().map(|number| number.as_u64().unwrap()).collect()
}

#[test]
fn words_are_told_for_what_they_are() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let text = SHELF.replace("march\n", "march (é𝄞 a remark)\n");
    client.change(&shelf, json!([{"text": text}]));
    let document = json!({"uri": shelf});
    let whole = client.ask(
        "textDocument/semanticTokens/full",
        json!({"textDocument": document}),
    );
    let found = colored(&client, &text, &numbers(&whole["data"]));
    for (word, sort) in [
        ("piece", "keyword"),
        ("Harbor Parade", "class"),
        ("tonal center", "property"),
        ("Bb major", "enumMember"),
        ("(é𝄞 a remark)", "comment"),
        ("quarter = 100", "number"),
        ("trio", "event"),
        ("clarinet 1", "variable"),
        ("A3-C5", "number"),
        ("same as", "operator"),
        ("over the break", "operator"),
        ("sharing a solo", "function"),
    ] {
        let pair = (word.to_owned(), sort.to_owned());
        assert!(found.contains(&pair), "{pair:?} is not in {found:?}");
    }
    assert_eq!(found.iter().filter(|(word, _)| word == "trio").count(), 4);
    // The same words have the same color behind a number of players.
    let band = folder.uri("band.levare");
    let whole = client.ask(
        "textDocument/semanticTokens/full",
        json!({"textDocument": {"uri": band}}),
    );
    let players = colored(&client, year::BAND, &numbers(&whole["data"]));
    for (word, sort) in [("4", "number"), ("over the break", "operator")] {
        let pair = (word.to_owned(), sort.to_owned());
        assert!(players.contains(&pair), "{pair:?} is not in {players:?}");
    }

    // A stretch gives the same words, and no others.
    let range = json!({"start": {"line": 3, "character": 0}, "end": {"line": 4, "character": 0}});
    let part = client.ask(
        "textDocument/semanticTokens/range",
        json!({"textDocument": document, "range": range}),
    );
    let part = colored(&client, &text, &numbers(&part["data"]));
    assert_eq!(
        part,
        [
            ("tonal center".to_owned(), "property".to_owned()),
            ("Bb major".to_owned(), "enumMember".to_owned()),
        ]
    );
    year::quiet(&folder, &mut client);
}

#[test]
fn what_changed_makes_the_old_words_the_new_ones() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let document = json!({"uri": shelf});
    let whole = client.ask(
        "textDocument/semanticTokens/full",
        json!({"textDocument": document}),
    );
    let mut held = numbers(&whole["data"]);
    let mut name = whole["resultId"].clone();
    let texts = [
        SHELF.to_owned(),
        SHELF.replace("  style           march\n", ""),
        SHELF.replace("6/8", "6/8, 2/4 at A"),
        String::new(),
        SHELF.to_owned(),
    ];
    for text in texts {
        client.change(&shelf, json!([{"text": text}]));
        let answer = client.ask(
            "textDocument/semanticTokens/full/delta",
            json!({"textDocument": document, "previousResultId": name}),
        );
        assert!(
            answer.get("edits").is_some(),
            "a change, not everything: {answer}"
        );
        for edit in answer["edits"].as_array().unwrap() {
            let start = edit["start"].as_u64().unwrap() as usize;
            let end = start + edit["deleteCount"].as_u64().unwrap() as usize;
            held.splice(start..end, numbers(&edit["data"]));
        }
        name = answer["resultId"].clone();
        let whole = client.ask(
            "textDocument/semanticTokens/full",
            json!({"textDocument": document}),
        );
        assert_eq!(held, numbers(&whole["data"]));
        assert_eq!(name, whole["resultId"]);
    }
    // A name that the desk does not know any more gets everything.
    let answer = client.ask(
        "textDocument/semanticTokens/full/delta",
        json!({"textDocument": document, "previousResultId": "long ago"}),
    );
    assert_eq!(numbers(&answer["data"]), held);
    year::quiet(&folder, &mut client);
}
