//! Keeping in step with the texts that the client holds.
//!
//! The types of the protocol take a change with a bad range for a whole new text, and a message that cannot be
//! read is dropped without anybody knowing what it was about. After either, the desk's text would no longer be
//! the editor's, and its edits would tear what is there. So changes are looked at before the types see them, and
//! what cannot be read is searched for the document it speaks of. The desk is then told with [`METHOD`] that it
//! has lost its place there.

use serde_json::{Value, json};
use tower_lsp::jsonrpc::Request;

/// The notification that a document is out of step: `{"uri"}`, null where any may be.
pub(super) const METHOD: &str = "levare/outOfStep";

/// The messages that carry a document's text.
const CARRIES_TEXT: [&str; 2] = ["textDocument/didChange", "textDocument/didOpen"];

/// That a document is out of step; none where it could be any.
pub(super) fn lost(uri: Option<&str>) -> Request {
    Request::build(METHOD).params(json!({ "uri": uri })).finish()
}

/// What to tell the desk instead of a message whose text it could not take in; none for any other message.
pub(super) fn instead_of(request: &Request) -> Option<Request> {
    let method = CARRIES_TEXT.iter().find(|method| **method == request.method())?;
    let params = request.params()?;
    let document = params.get("textDocument");
    let field = |name: &str| document.and_then(|document| document.get(name));
    let uri = field("uri").and_then(Value::as_str);
    let has_version = field("version").is_some_and(is_version);
    let is_read = uri.is_some()
        && has_version
        && match *method {
            "textDocument/didOpen" => {
                field("text").is_some_and(Value::is_string)
                    && field("languageId").is_some_and(Value::is_string)
            }
            _ => params
                .get("contentChanges")
                .and_then(Value::as_array)
                .is_some_and(|changes| changes.iter().all(is_change)),
        };
    (!is_read).then(|| lost(uri))
}

fn is_version(value: &Value) -> bool {
    value.as_i64().is_some_and(|number| i32::try_from(number).is_ok())
}

fn is_change(change: &Value) -> bool {
    change.get("text").is_some_and(Value::is_string) && change.get("range").is_none_or(is_range)
}

fn is_range(range: &Value) -> bool {
    let is_place = |place: Option<&Value>| {
        ["line", "character"].iter().all(|name| {
            let number = place.and_then(|place| place.get(name)?.as_u64());
            number.is_some_and(|number| u32::try_from(number).is_ok())
        })
    };
    is_place(range.get("start")) && is_place(range.get("end"))
}

/// Puts right what some clients write otherwise and what can mean only one thing: a whole number as `1.0`, a
/// range that is null, a length of the range, which is out of use and says nothing more.
pub(super) fn straighten(message: &mut serde_json::Map<String, Value>) {
    if message.get("method").and_then(Value::as_str) != Some(CARRIES_TEXT[0]) {
        return;
    }
    let changes = message
        .get_mut("params")
        .and_then(|params| params.get_mut("contentChanges")?.as_array_mut());
    for change in changes.into_iter().flatten().filter_map(Value::as_object_mut) {
        change.remove("rangeLength");
        if change.get("range").is_some_and(Value::is_null) {
            change.remove("range");
        }
        for end in ["start", "end"] {
            for name in ["line", "character"] {
                let place = change
                    .get_mut("range")
                    .and_then(|range| range.get_mut(end)?.get_mut(name));
                if let Some(place) = place
                    && let Some(number) = place.as_f64().filter(|_| place.is_f64())
                    && number.fract() == 0.0
                    && (0.0..=f64::from(u32::MAX)).contains(&number)
                {
                    #[allow(
                        clippy::cast_possible_truncation,
                        clippy::cast_sign_loss,
                        reason = "it is in range"
                    )]
                    let whole = number as u32;
                    *place = json!(whole);
                }
            }
        }
    }
}

/// What to tell the desk of a message that could not be read, by its bytes or by their beginning and end: which
/// document it was about, if it was about a document's text at all.
pub(super) fn after_unread(bytes: &[u8]) -> Option<Request> {
    let text = String::from_utf8_lossy(bytes);
    let carries = match value_of(&text, "method") {
        Some(method) => CARRIES_TEXT.contains(&method.as_str()),
        // The name of the method may be lost; what only a change has may be left.
        None => text.contains("\"contentChanges\""),
    };
    carries.then(|| lost(value_of(&text, "uri").as_deref()))
}

/// The words behind the first such name in a JSON text of which only pieces may be left.
fn value_of(text: &str, name: &str) -> Option<String> {
    let quoted = format!("\"{name}\"");
    let at = text.match_indices(&quoted).find_map(|(at, found)| {
        // Inside a quoted text the quotation marks have a backslash before them.
        let is_free = !text.get(..at)?.ends_with('\\');
        let rest = text.get(at + found.len()..)?.trim_start().strip_prefix(':')?;
        is_free.then(|| rest.trim_start())
    })?;
    let inner = at.strip_prefix('"')?;
    let mut is_escaped = false;
    let end = inner.char_indices().find_map(|(place, c)| match c {
        _ if is_escaped => {
            is_escaped = false;
            None
        }
        '\\' => {
            is_escaped = true;
            None
        }
        '"' => Some(place),
        _ => None,
    })?;
    serde_json::from_str(at.get(..end + 2)?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(method: &str, params: Value) -> Option<Value> {
        let mut message = json!({"jsonrpc": "2.0", "method": method, "params": params});
        straighten(message.as_object_mut().expect("a message"));
        let request: Request = serde_json::from_value(message).expect("a notification");
        instead_of(&request).map(|lost| lost.params().expect("params")["uri"].clone())
    }

    #[test]
    fn only_changes_that_say_what_they_mean_are_taken() {
        let change = |change: Value| {
            told(
                "textDocument/didChange",
                json!({"textDocument": {"uri": "file:///a", "version": 3}, "contentChanges": [{"text": ""}, change]}),
            )
        };
        let range = |start: Value, end: Value| json!({"range": {"start": {"line": start, "character": 0}, "end": {"line": end, "character": 0}}, "text": "x"});
        for fine in [
            json!({"text": "whole"}),
            json!({"text": "whole", "range": null}),
            range(json!(0), json!(1)),
            range(json!(0.0), json!(4294967295.0)),
        ] {
            assert_eq!(change(fine.clone()), None, "{fine}");
        }
        let mut with_length = range(json!(0), json!(1));
        with_length["rangeLength"] = json!(-1);
        assert_eq!(change(with_length), None);
        for bad in [
            range(json!(-1), json!(1)),
            range(json!(1.5), json!(2)),
            range(json!("1"), json!(2)),
            range(json!(0), json!(4294967296u64)),
            json!({"range": {"start": {"line": 0, "character": 0}}, "text": "x"}),
            json!({"range": 5, "text": "x"}),
            json!({"range": {"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 0}}}),
            json!("text"),
        ] {
            assert_eq!(change(bad.clone()), Some(json!("file:///a")), "{bad}");
        }
        let open = |document: Value| told("textDocument/didOpen", json!({ "textDocument": document }));
        assert_eq!(
            open(json!({"uri": "u:a", "languageId": "levare", "version": 1, "text": ""})),
            None
        );
        assert_eq!(
            open(json!({"uri": "u:a", "languageId": "levare", "version": 1, "text": 5})),
            Some(json!("u:a"))
        );
        assert_eq!(open(json!({"version": 1})), Some(Value::Null));
        assert_eq!(told("textDocument/didSave", json!({})), None);
    }

    #[test]
    fn what_could_not_be_read_is_searched_for_its_document() {
        let table: [(&[u8], Option<Value>); 8] = [
            (
                br#"{"method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///caf\u00e9"},"contentChanges":[{"text":"\ud800"}]}}"#,
                Some(json!("file:///caf\u{e9}")),
            ),
            (
                br#"{"params":{"textDocument":{"uri" : "u:a"},"contentChanges":[{"text":"\"method\":\"x\" \xff"#,
                Some(json!("u:a")),
            ),
            (
                br#"{"method":"textDocument/didOpen","params":{"textDocument":{"te"#,
                Some(Value::Null),
            ),
            (br#"{"method":"textDocument/hover","params":{"textDocument":{"uri":"u:a"}"#, None),
            (br#"{"method":"textDocument/didSave","params":{"text":"\"contentChanges\""#, None),
            (b"noise", None),
            (b"", None),
            (br#"{"uri":"#, None),
        ];
        for (bytes, wanted) in table {
            let found = after_unread(bytes).map(|lost| lost.params().expect("params")["uri"].clone());
            assert_eq!(found, wanted, "{}", String::from_utf8_lossy(bytes));
        }
    }
}
