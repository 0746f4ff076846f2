//! What is kept between two keystrokes never grows, and one slow file keeps no other waiting.

use serde_json::json;

use crate::client::{Client, Folder, Setup};
use crate::found::{PHRASE, RIGHT, WRONG};

/// More cards than that are never kept, however many there were: half as many again as stand, and a few a file.
fn is_bounded(client: &mut Client, uri: &str) {
    let kept = client.ask("levare/kept", json!({"uri": uri}));
    let number = |name: &str| kept[name].as_u64().unwrap();
    assert!(number("kept") > 0, "{kept}");
    assert!(number("kept") <= number("cards") * 3 / 2 + 2 * 64, "{kept}");
}

fn letter(client: &mut Client, uri: &str, number: usize) {
    let at = |character: u32| json!({"line": 0, "character": character});
    let change = match number % 2 {
        0 => json!([{"range": {"start": at(7), "end": at(7)}, "text": "x"}]),
        _ => json!([{"range": {"start": at(7), "end": at(8)}, "text": ""}]),
    };
    client.change(uri, change);
}

#[test]
fn a_client_that_asks_does_not_make_it_grow() {
    let folder = Folder::with(&[("handbook.levare", "handbook\n"), ("b.levare", RIGHT)]);
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    for number in 0..400 {
        letter(&mut client, &uri, number);
        client.ask("textDocument/diagnostic", json!({"textDocument": {"uri": uri}}));
        if number % 50 == 0 {
            client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
        }
    }
    is_bounded(&mut client, &uri);
}

#[test]
fn an_unbroken_stream_of_edits_does_not_make_it_grow() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, WRONG);
    for number in 0..400 {
        letter(&mut client, &uri, number);
        // Asked for after each, so that each is looked at although there is never a pause.
        let range = json!({"start": {"line": 0, "character": 0}, "end": {"line": 2, "character": 99}});
        client.ask(
            "textDocument/codeAction",
            json!({"textDocument": {"uri": uri}, "range": range, "context": {"diagnostics": []}}),
        );
    }
    is_bounded(&mut client, &uri);
    client.told(&uri);
}

#[test]
fn a_slow_file_keeps_no_other_waiting() {
    for pulls in [false, true] {
        let folder = Folder::with(&[]);
        let setup = Setup::new(&[&folder.path("")]);
        let mut client = if pulls { setup.pulls() } else { setup }.start();
        let (slow, quick) = (folder.uri("slow.levare"), folder.uri("quick.levare"));
        let other = |text: &str| text.replace("Night", "Day");
        client.open(&slow, RIGHT);
        client.open(&quick, &other(RIGHT));
        client.settle();
        let id = client.begin("levare/hold", json!({"uri": slow, "ms": 5000}));
        client.ask("levare/wait", json!({"ms": 50}));
        // Both are changed, and the slow one first, so that there is something to look at in it.
        client.change(&slow, json!([{"text": WRONG}]));
        client.change(&quick, json!([{"text": other(WRONG)}]));
        if pulls {
            let waits = client.begin("textDocument/diagnostic", json!({"textDocument": {"uri": slow}}));
            let report = client.ask("textDocument/diagnostic", json!({"textDocument": {"uri": quick}}));
            assert_eq!(report["items"][0]["code"], PHRASE);
            assert!(!client.is_answered(id), "the slow file is slow no more");
            client.answer(waits);
        } else {
            let times = client.times(&quick);
            while client.times(&quick) == times {
                assert!(!client.is_answered(id), "the quick file waits for the slow one");
                std::thread::sleep(std::time::Duration::from_millis(10));
            }
            // A keystroke while the slow file is looked at does not make a queue of it.
            for _ in 0..20 {
                client.change(&slow, json!([{"text": RIGHT}]));
                client.change(&slow, json!([{"text": WRONG}]));
            }
            client.change(&quick, json!([{"text": other(RIGHT)}]));
            let times = client.times(&quick);
            while client.times(&quick) == times {
                assert!(!client.is_answered(id), "the quick file waits for the slow one");
                std::thread::sleep(std::time::Duration::from_millis(10));
            }
        }
        client.answer(id);
        if !pulls {
            assert_eq!(client.phrases(&slow), [PHRASE]);
            assert_eq!(client.phrases(&quick), [""; 0]);
        }
    }
}
