//! What no good client does.

use serde_json::{Value, json};

use crate::client::{Folder, Setup};
use crate::found::{PHRASE, RIGHT, WRONG};
use crate::places::UNITS;

const METHODS: [&str; 13] = [
    "textDocument/hover",
    "textDocument/completion",
    "textDocument/definition",
    "textDocument/references",
    "textDocument/documentSymbol",
    "textDocument/foldingRange",
    "textDocument/codeAction",
    "textDocument/documentHighlight",
    "textDocument/linkedEditingRange",
    "textDocument/selectionRange",
    "textDocument/inlayHint",
    "textDocument/semanticTokens/range",
    "textDocument/codeLens",
];

#[test]
fn places_that_do_not_exist() {
    let text = "piece \"é♭𝄞\"\r\n  tempo           quarter = 76\r\n\r\n";
    for unit in UNITS {
        let folder = Folder::with(&[]);
        let mut client = Setup::new(&[&folder.path("")]).unit(unit).start();
        let uri = folder.uri("a.levare");
        client.open(&uri, text);
        for line in [0, 1, 2, 3, 4, 900, u32::MAX] {
            for character in [0, 1, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 900, u32::MAX] {
                let at = json!({"line": line, "character": character});
                for method in METHODS {
                    client.ask(
                        method,
                        json!({
                            "textDocument": {"uri": uri},
                            "position": at,
                            "positions": [at],
                            "range": {"start": at, "end": {"line": 0, "character": 3}},
                            "context": {"includeDeclaration": false, "triggerKind": 1, "diagnostics": []},
                        }),
                    );
                }
            }
        }
        // An edit far outside is made at the nearest place there is.
        let far = json!({"line": u32::MAX, "character": u32::MAX});
        client.change(
            &uri,
            json!([{"range": {"start": far, "end": far}, "text": "(end)"}]),
        );
        assert_eq!(client.text(&uri), format!("{text}(end)"));
        client.told(&uri);
    }
}

#[test]
fn changes_are_made_in_order_each_to_what_the_one_before_left() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, "");
    let at = |line: u32, character: u32| json!({"line": line, "character": character});
    client.change(
        &uri,
        json!([
            {"range": {"start": at(0, 0), "end": at(0, 0)}, "text": "lost"},
            {"text": "skill \"ties\"\n"},
            {"range": {"start": at(0, 7), "end": at(0, 11)}, "text": "slurs"},
            {"range": {"start": at(0, 12), "end": at(0, 12)}, "text": " too"},
        ]),
    );
    assert_eq!(client.text(&uri), "skill \"slurs too\"\n");
    client.told(&uri);
}

#[test]
fn messages_about_files_that_are_not_open() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.change(&uri, json!([{"text": WRONG}]));
    client.log("never opened");
    client.close(&uri);
    client.log("never opened");
    client.save(&uri);
    for method in METHODS {
        let answer = client.ask(
            method,
            json!({
                "textDocument": {"uri": uri},
                "positions": [{"line": 1, "character": 1}],
                "position": {"line": 0, "character": 0},
                "range": {"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 0}},
                "context": {"includeDeclaration": false, "triggerKind": 1, "diagnostics": []},
            }),
        );
        assert_eq!(answer, Value::Null, "{method}");
    }
    client.open(&uri, WRONG);
    client.open(&uri, RIGHT);
    client.log("opened twice");
    assert_eq!(client.text(&uri), RIGHT);
    assert_eq!(client.phrases(&uri), [""; 0]);
}

#[test]
fn a_version_that_goes_back_is_refused() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, RIGHT);
    let change = |version: i32, text: &str| json!({"textDocument": {"uri": uri, "version": version}, "contentChanges": [{"text": text}]});
    client.note("textDocument/didChange", change(9, WRONG));
    assert_eq!(client.phrases(&uri), [PHRASE]);
    client.note("textDocument/didChange", change(3, RIGHT));
    client.settle();
    let said = serde_json::to_string(&client.read_all()).unwrap();
    for words in ["went back", "Close the file and open it again"] {
        assert!(said.contains(words), "{said}");
    }
    assert_eq!(client.text(&uri), WRONG);
    // Whatever the client holds now, it is not this.
    assert_eq!(client.phrases(&uri), [""]);
}

#[test]
fn frames_that_cannot_be_read_are_survived() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    let frames: [&[u8]; 4] = [
        b"Content-Length: 5\r\n\r\nnoise",
        b"Content-Length: 3\r\n\r\n\xff\xfe\xfd",
        b"content-length: 2\r\nX-More: 1\r\n\r\n[]",
        b"Content-Length: 17\r\n\r\n{\"jsonrpc\":\"2.0\"}",
    ];
    for frame in frames {
        client.raw(frame);
        assert_eq!(
            client.phrases(&uri),
            [PHRASE],
            "{}",
            String::from_utf8_lossy(frame)
        );
    }
    // Each is answered with an error that names no request.
    for _ in frames {
        let message = client.message();
        assert!(message["error"]["code"].is_i64(), "{message}");
    }
}

#[test]
fn a_panic_is_answered_and_noted_and_nothing_else() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    client.stumbles();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    let id = client.begin("levare/stumble", json!({}));
    assert_eq!(client.answer(id)["error"]["code"], -32603);
    client.log("stumbled and goes on");
    assert_eq!(client.phrases(&uri), [PHRASE]);
}

#[test]
fn a_request_can_be_cancelled() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let id = client.begin("levare/wait", json!({"ms": 60000}));
    client.note("$/cancelRequest", json!({"id": id}));
    assert_eq!(client.answer(id)["error"]["code"], -32800);
}

#[test]
fn four_hundred_edits_while_requests_wait() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, "");
    let waiting: Vec<i64> = (0..40)
        .map(|_| client.begin("levare/wait", json!({"ms": 60000})))
        .collect();
    let mut wanted = String::new();
    for number in 0..400 {
        let word = format!("(remark {number})\n");
        let end = json!({"line": number, "character": 0});
        client.change(&uri, json!([{"range": {"start": end, "end": end}, "text": word}]));
        wanted.push_str(&word);
    }
    assert_eq!(client.text(&uri), wanted);
    for id in waiting {
        client.note("$/cancelRequest", json!({"id": id}));
        assert_eq!(client.answer(id)["error"]["code"], -32800);
    }
    client.told(&uri);
}

#[test]
fn the_end_comes_with_the_editor() {
    let folder = Folder::with(&[]);
    // The end of the input.
    let mut client = Setup::new(&[&folder.path("")]).start();
    client.hang_up();
    assert_eq!(client.status(), Some(1));
    // The word for it, without the courtesy before.
    let mut client = Setup::new(&[&folder.path("")]).start();
    client.note("exit", Value::Null);
    assert_eq!(client.status(), Some(1));
}

#[cfg(unix)]
#[test]
fn a_dead_editor_leaves_no_orphan() {
    let folder = Folder::with(&[]);
    let mut editor = std::process::Command::new("sleep").arg("600").spawn().unwrap();
    let mut client = Setup::new(&[&folder.path("")]).process(editor.id()).start();
    client.settle();
    editor.kill().unwrap();
    editor.wait().unwrap();
    assert_eq!(client.status(), Some(1));
}

#[test]
fn what_tests_ask_is_not_answered_to_others() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).unchecked().start();
    for method in ["levare/text", "levare/wait", "levare/settled", "levare/stumble"] {
        let id = client.begin(method, json!({}));
        assert_eq!(client.answer(id)["error"]["code"], -32601, "{method}");
    }
    client.ask("shutdown", Value::Null);
    client.note("exit", Value::Null);
    assert_eq!(client.status(), Some(0));
}

#[test]
fn this_client_notices_what_is_left_unread() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    client.close(&folder.uri("b.levare"));
    client.settle();
    let left = client.left();
    assert_eq!(left.len(), 2, "{left:?}");
    assert!(
        left[0].contains("never opened") && left[1].contains(PHRASE),
        "{left:?}"
    );
    client.log("never opened");
    client.told(&uri);
    assert_eq!(client.left(), [""; 0]);
}
