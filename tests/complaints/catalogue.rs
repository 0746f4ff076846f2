//! Everything at once: a hundred files, two roots, and one open file that is not saved.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::places::range;
use crate::shared::{PHRASE, WRONG, actions, asked, edits_of, laid_out, make, titled};

/// The title of a piece of the hundred.
pub fn title(number: usize) -> String {
    format!("Etude of {number} Lamps")
}

/// A piece's card: a remark, and one finding.
pub fn card(number: usize) -> String {
    let fields = "  tonal center    G minor\n  key signature   3 flats\n";
    format!("piece \"{}\"\n  (remark)\n{fields}", title(number))
}

/// A catalogue of a hundred pieces in a hundred files, and a concert that plays every tenth.
pub fn hundred(handbook: &str) -> Folder {
    let folder = Folder::with(&[("handbook.levare", handbook), ("year.levare", &program())]);
    for number in 0..100 {
        folder.write(&format!("shelf/p{number:02}.levare"), &card(number));
    }
    folder
}

fn program() -> String {
    let lines: String = (0..100)
        .step_by(10)
        .map(|number| format!("    \"{}\"\n", title(number)))
        .collect();
    format!("concert \"Spring evening\"\n  program\n{lines}")
}

fn names(client: &mut Client, query: &str) -> Vec<String> {
    let found = client.ask("workspace/symbol", json!({"query": query}));
    let name = |card: &Value| card["name"].as_str().unwrap().to_owned();
    found.as_array().unwrap().iter().map(name).collect()
}

#[test]
fn everything_works_over_a_hundred_files_in_two_roots_with_one_not_saved() {
    let handbook = "handbook\n  notation        1\n";
    let (one, other) = (hundred(handbook), Folder::with(&[("handbook.levare", handbook)]));
    other.write("evening.levare", &program());
    for pulls in [false, true] {
        let setup = Setup::new(&[&one.path(""), &other.path("")]);
        let mut client = if pulls { setup.pulls() } else { setup }.start();
        let year = one.uri("year.levare");
        let evening = other.uri("evening.levare");
        client.open(&year, &program());
        // Not saved: a file that is on no disk, in the second root, and a buffer without a name.
        let new = other.uri("new.levare");
        let card_30 = titled(WRONG, &title(30));
        client.open(&new, &card_30);
        client.open("untitled:Untitled-1", &card_30);

        // Every file has its findings, told or asked for.
        if pulls {
            let found = asked(&mut client, &json!([]));
            let wrong = found
                .iter()
                .filter(|(_, phrases)| phrases.contains(&PHRASE.to_owned()));
            assert_eq!(wrong.count(), 102, "{found:?}");
        } else {
            for number in 0..100 {
                let uri = one.uri(&format!("shelf/p{number:02}.levare"));
                assert_eq!(client.phrases(&uri), [PHRASE], "{uri}");
            }
            assert_eq!(client.phrases(&new), [PHRASE]);
            assert_eq!(client.phrases("untitled:Untitled-1"), [PHRASE]);
        }

        // Names stay in their own root, and what is not saved counts.
        let at = json!({"line": 5, "character": 8});
        let found = client.at("textDocument/definition", &year, &at);
        assert_eq!(found[0]["uri"], json!(one.uri("shelf/p30.levare")));
        let found = client.at("textDocument/definition", &evening, &at);
        assert_eq!(found[0]["uri"], json!(new), "a card that is not on the disk");
        let uses = client.at(
            "textDocument/references",
            &new,
            &json!({"line": 0, "character": 8}),
        );
        let places: Vec<&Value> = uses
            .as_array()
            .unwrap()
            .iter()
            .map(|place| &place["uri"])
            .collect();
        assert_eq!(places, [&json!(evening), &json!(new)]);
        assert_eq!(names(&mut client, &title(77)), [title(77)]);
        assert_eq!(names(&mut client, &title(30)).len(), 3);

        // Reading, writing and mending in the file that is not saved.
        let hover = client.at("textDocument/hover", &new, &json!({"line": 1, "character": 4}));
        assert!(
            hover["contents"]["value"]
                .as_str()
                .is_some_and(|said| !said.is_empty()),
            "{hover}"
        );
        let symbols = client.ask(
            "textDocument/documentSymbol",
            json!({"textDocument": {"uri": new}}),
        );
        assert_eq!(symbols[0]["name"], json!(title(30)));
        let folds = client.ask("textDocument/foldingRange", json!({"textDocument": {"uri": new}}));
        assert!(!folds.as_array().unwrap().is_empty());
        let here = range(&card_30, "3 flats", "utf-16");
        let found = actions(&mut client, &new, &here, &Value::Null, 1);
        let after = make(&mut client, &new, &edits_of(&found[0]["edit"]));
        assert_ne!(after, card_30);
        if pulls {
            let found = asked(&mut client, &json!([]));
            let wrong = found
                .iter()
                .filter(|(_, phrases)| phrases.contains(&PHRASE.to_owned()));
            assert_eq!(wrong.count(), 101, "{found:?}");
        } else {
            client.save(&new);
            assert_eq!(client.phrases(&new), [""; 0]);
        }
        client.change(&new, json!([{"text": format!("{after}  meter 6/8\n")}]));
        let edits = laid_out(&mut client, &new);
        let after = make(&mut client, &new, &edits);
        assert!(after.contains("  meter           6/8"), "{after}");
        let (plain, end) = (format!("{}    \"Etude of 4", program()), 12);
        client.change(&year, json!([{"text": plain}]));
        let at = json!({"line": 12, "character": 4 + end - 1});
        let offers = client.at("textDocument/completion", &year, &at);
        let items = offers.as_array().or_else(|| offers["items"].as_array()).unwrap();
        let labels: Vec<&str> = items.iter().map(|item| item["label"].as_str().unwrap()).collect();
        assert!(labels.contains(&"\"Etude of 44 Lamps\""), "{labels:?}");

        // Closed without being saved, it is gone, and so is what was found by it.
        client.close(&new);
        let at = json!({"line": 5, "character": 8});
        let found = client.at("textDocument/definition", &evening, &at);
        assert_eq!(found, Value::Null);
        for uri in [&year, &new, &evening] {
            client.told(uri);
        }
    }
}
