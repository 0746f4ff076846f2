//! Cards that several complaints use, and small helps.

use serde_json::{Value, json};

use crate::client::Client;

pub const HANDBOOK: &str = "handbook\n  notation        1\n";
/// A card with one finding, and the phrase it is silenced with.
pub const WRONG: &str =
    "piece \"Night Train to Alder\"\n  tonal center    G minor\n  key signature   3 flats\n";
pub const RIGHT: &str =
    "piece \"Night Train to Alder\"\n  tonal center    G minor\n  key signature   2 flats\n";
pub const PHRASE: &str = "signature against center";

/// The same card under another title.
pub fn titled(card: &str, title: &str) -> String {
    card.replace("Night Train to Alder", title)
}

/// What the program answers when it is asked for all that is found: files with the phrases found there.
pub fn asked(client: &mut Client, known: &Value) -> Vec<(String, Vec<String>)> {
    let all = client.ask("workspace/diagnostic", json!({"previousResultIds": known}));
    let mut found: Vec<_> = all["items"]
        .as_array()
        .unwrap()
        .iter()
        .map(|report| {
            let phrases = report["items"].as_array().cloned().unwrap_or_default();
            let phrases = phrases
                .iter()
                .map(|found| found["code"].as_str().unwrap().to_owned());
            (report["uri"].as_str().unwrap().to_owned(), phrases.collect())
        })
        .collect();
    found.sort();
    found
}

/// Makes edits in an open file as an editor does, and gives the text that the program then holds.
pub fn make(client: &mut Client, uri: &str, edits: &[Value]) -> String {
    let mut edits = edits.to_vec();
    let place = |edit: &Value| {
        let start = &edit["range"]["start"];
        (start["line"].as_u64(), start["character"].as_u64())
    };
    // The last one first, so that none moves another.
    edits.sort_by_key(|edit| std::cmp::Reverse(place(edit)));
    let changes = edits
        .iter()
        .map(|edit| json!({"range": edit["range"], "text": edit["newText"]}));
    client.change(uri, Value::Array(changes.collect()));
    client.text(uri)
}

/// The edits of a file that a workspace edit holds.
pub fn edits_of(edit: &Value) -> Vec<Value> {
    let edits = edit["documentChanges"][0]["edits"].as_array();
    edits.unwrap_or_else(|| panic!("no edits in {edit}")).clone()
}

/// The edits that lay a file out.
pub fn laid_out(client: &mut Client, uri: &str) -> Vec<Value> {
    let options = json!({"tabSize": 4, "insertSpaces": true});
    let edits = client.ask(
        "textDocument/formatting",
        json!({"textDocument": {"uri": uri}, "options": options}),
    );
    edits.as_array().unwrap().clone()
}

/// What can be done about a stretch; `only` kinds, unless that is nothing.
pub fn actions(client: &mut Client, uri: &str, range: &Value, only: &Value, trigger: u8) -> Vec<Value> {
    let mut context = json!({"diagnostics": [], "triggerKind": trigger});
    if !only.is_null() {
        context["only"] = only.clone();
    }
    let found = client.ask(
        "textDocument/codeAction",
        json!({"textDocument": {"uri": uri}, "range": range, "context": context}),
    );
    found.as_array().unwrap().clone()
}
