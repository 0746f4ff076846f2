//! Texts that the desk and the editor hold stay the same, or the desk says that they do not and does nothing.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::{PHRASE, RIGHT, WRONG};

const OTHER: &str = "concert \"Evening\"\n  program\n    \"Night Train to Alder\"\n";

fn format(client: &mut Client, uri: &str) -> Value {
    client.ask(
        "textDocument/formatting",
        json!({"textDocument": {"uri": uri}, "options": {"tabSize": 2, "insertSpaces": true}}),
    )
}

/// What is told of a file that is out of step: that alone.
fn is_lost(client: &mut Client, uri: &str) -> bool {
    let told = client.told(uri);
    told.len() == 1
        && told[0]["message"]
            .as_str()
            .unwrap()
            .contains("Close the file and open it again")
}

/// A change that is not taken in: the name of the case, and the message as bytes.
fn refused(uri: &str) -> Vec<(&'static str, Vec<u8>)> {
    let change = |change: Value| {
        let message = json!({
            "jsonrpc": "2.0",
            "method": "textDocument/didChange",
            "params": {"textDocument": {"uri": uri, "version": 50}, "contentChanges": [change]},
        });
        message.to_string().into_bytes()
    };
    let range = |start: Value, end: Value| json!({"range": {"start": start, "end": end}, "text": "x"});
    let zero = json!({"line": 0, "character": 0});
    let half = String::from_utf8(change(
        json!({"range": {"start": zero, "end": zero}, "text": "HALF"}),
    ))
    .unwrap();
    let long = "x".repeat(33 << 20);
    vec![
        (
            "a line below zero",
            change(range(json!({"line": -1, "character": 0}), zero.clone())),
        ),
        (
            "half a character",
            change(range(zero.clone(), json!({"line": 0, "character": 1.5}))),
        ),
        (
            "an end that is missing",
            change(json!({"range": {"start": zero}, "text": "x"})),
        ),
        ("no text", change(json!({"range": {"start": zero, "end": zero}}))),
        (
            "a letter that is half of one",
            half.replace("HALF", "\\ud83d").into_bytes(),
        ),
        ("bytes that are no text", {
            let at = half.find("HALF").unwrap();
            let mut bytes = half.clone().into_bytes();
            bytes[at] = 0xff;
            bytes
        }),
        ("a message cut off", half.as_bytes()[..half.len() - 4].to_vec()),
        (
            "a message that is too long",
            change(json!({"range": {"start": zero, "end": zero}, "text": long})),
        ),
    ]
}

#[test]
fn a_change_that_cannot_be_read_is_told_and_nothing_is_edited_until_the_text_is_whole_again() {
    let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("b.levare", OTHER)]);
    let (uri, other) = (folder.uri("a.levare"), folder.uri("b.levare"));
    let text = WRONG.replace("G minor", "G minor   ");
    for (name, body) in refused(&uri) {
        let mut client = Setup::new(&[&folder.path("")]).start();
        client.open(&other, OTHER);
        client.open(&uri, &text);
        assert_eq!(client.phrases(&uri), [PHRASE]);
        assert_ne!(
            format(&mut client, &uri),
            json!([]),
            "there is something to lay out"
        );
        let header = format!("Content-Length: {}\r\n\r\n", body.len());
        client.raw(&[header.as_bytes(), &body].concat());
        assert!(is_lost(&mut client, &uri), "{name}");
        assert_eq!(client.text(&uri), text, "{name}: nothing is put in its place");
        let mut said = client.read_all();
        said.retain(|message| message["params"]["type"] == 2);
        assert_eq!(said.len(), 1, "{name}: {said:?}");
        assert!(
            said[0]["params"]["message"]
                .as_str()
                .unwrap()
                .contains("\"a.levare\""),
            "{name}"
        );
        // Nothing is answered that rests on the text, and nothing changes it from elsewhere.
        assert_eq!(format(&mut client, &uri), Value::Null, "{name}");
        let at = json!({"line": 0, "character": 8});
        assert_eq!(client.at("textDocument/hover", &uri, &at), Value::Null, "{name}");
        let id = client.begin(
            "textDocument/rename",
            json!({"textDocument": {"uri": other}, "position": {"line": 2, "character": 8}, "newName": "Day Train"}),
        );
        let answer = client.answer(id);
        assert!(
            answer["error"]["message"]
                .as_str()
                .unwrap_or_default()
                .contains("open it again"),
            "{name}: {answer}"
        );
        // Further small changes do not help; a whole text does, and so does opening it again.
        client.change(&uri, json!([{"range": {"start": at, "end": at}, "text": "y"}]));
        assert!(is_lost(&mut client, &uri), "{name}");
        client.note(
            "textDocument/didChange",
            json!({"textDocument": {"uri": uri, "version": 60}, "contentChanges": [{"text": RIGHT}]}),
        );
        assert_eq!(client.phrases(&uri), [""; 0], "{name}");
        assert_eq!(client.text(&uri), RIGHT, "{name}");
        client.raw(&[header.as_bytes(), &body].concat());
        assert!(is_lost(&mut client, &uri), "{name}");
        client.close(&uri);
        client.open(&uri, &text);
        assert_eq!(client.phrases(&uri), [PHRASE], "{name}");
        assert_ne!(format(&mut client, &uri), Value::Null, "{name}");
        client.told(&other);
        client.read_all();
    }
}

#[test]
fn whole_numbers_with_a_point_and_ranges_of_null_are_understood() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, "ab");
    let place = |character: f64| json!({"line": 0.0, "character": character});
    client.change(
        &uri,
        json!([{"range": {"start": place(1.0), "end": place(2.0)}, "text": "c"}]),
    );
    assert_eq!(client.text(&uri), "ac");
    client.change(&uri, json!([{"range": null, "text": RIGHT}]));
    assert_eq!(client.text(&uri), RIGHT);
    client.told(&uri);
}

#[test]
fn a_file_opened_in_a_message_that_cannot_be_read_is_not_taken_for_the_one_on_the_disk() {
    let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("a.levare", WRONG)]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    assert_eq!(client.phrases(&uri), [PHRASE]);
    client.note(
        "textDocument/didOpen",
        json!({"textDocument": {"uri": uri, "languageId": "levare", "version": 1}}),
    );
    assert!(is_lost(&mut client, &uri));
    assert_eq!(format(&mut client, &uri), Value::Null);
    client.close(&uri);
    assert_eq!(
        client.phrases(&uri),
        [PHRASE],
        "the disk says again what it holds"
    );
    client.read_all();
}

#[test]
fn clients_that_ask_are_told_too() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    client.note(
        "textDocument/didChange",
        json!({"textDocument": {"uri": uri, "version": 9}, "contentChanges": [{"range": {}, "text": ""}]}),
    );
    let report = client.ask("textDocument/diagnostic", json!({"textDocument": {"uri": uri}}));
    let items = report["items"].as_array().unwrap();
    assert_eq!(items.len(), 1, "{report}");
    assert!(items[0]["message"].as_str().unwrap().contains("open it again"));
    client.read_all();
}

#[test]
fn a_length_that_is_announced_and_never_comes_does_not_make_it_deaf() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    for length in ["40000000", "3000000000", "900000"] {
        client.raw(format!("Content-Length: {length}\r\n\r\n{{}}").as_bytes());
        client.open(&uri, WRONG);
        assert_eq!(client.phrases(&uri), [PHRASE], "{length}");
        client.close(&uri);
        client.told(&uri);
    }
    client.read_all();
}
