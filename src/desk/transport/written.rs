//! Answers whose greatest part is written as JSON already.
//!
//! The framework makes a tree of every answer before it is written. A report of many findings is written with
//! every key, and such a tree, made and taken apart again, costs more than all the rest of a keystroke. So the
//! report's items travel as text behind its name, and are put in their place when the answer is written.

use serde_json::Value;
use tower_lsp::jsonrpc::Response;

/// Stands between the name of a report and its items; no name holds it.
const BEHIND: char = '\0';

/// The name of a report that has its items with it, as a JSON array.
pub fn with_items(name: &str, items: Vec<u8>) -> String {
    // What serde writes is always UTF-8.
    let items = String::from_utf8(items).unwrap_or_else(|_| "[]".to_owned());
    format!("{name}{BEHIND}{items}")
}

/// The body of an answer.
pub(super) fn body(response: &Response) -> serde_json::Result<Vec<u8>> {
    let report = response.result().and_then(Value::as_object);
    let name = report.and_then(|report| report.get("resultId"));
    let parts = name.and_then(|name| name.as_str()?.split_once(BEHIND));
    let (Some(report), Some((name, items))) = (report, parts) else {
        return serde_json::to_vec(response);
    };
    let mut body = Vec::with_capacity(items.len() + 160);
    body.extend_from_slice(b"{\"jsonrpc\":\"2.0\",\"result\":{\"resultId\":");
    serde_json::to_writer(&mut body, name)?;
    for (key, value) in report
        .iter()
        .filter(|(key, _)| !matches!(key.as_str(), "resultId" | "items"))
    {
        body.push(b',');
        serde_json::to_writer(&mut body, key)?;
        body.push(b':');
        serde_json::to_writer(&mut body, value)?;
    }
    body.extend_from_slice(b",\"items\":");
    body.extend_from_slice(items.as_bytes());
    body.extend_from_slice(b"},\"id\":");
    serde_json::to_writer(&mut body, response.id())?;
    body.push(b'}');
    Ok(body)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;
    use tower_lsp::jsonrpc::Id;

    #[test]
    fn items_are_put_in_their_place() {
        let items = json!([{ "message": "a \"b\"\n♭", "range": {} }, 2]);
        let text = serde_json::to_vec(&items).unwrap();
        let with = |name: String, items: Value| json!({ "kind": "full", "resultId": name, "items": items });
        for id in [Id::Number(7), Id::String("x\"y".to_owned()), Id::Null] {
            let plain = Response::from_ok(id.clone(), with("00ff".to_owned(), items.clone()));
            let travels = Response::from_ok(id, with(with_items("00ff", text.clone()), json!([])));
            let wanted: Value = serde_json::to_value(&plain).unwrap();
            let found: Value = serde_json::from_slice(&body(&travels).unwrap()).unwrap();
            assert_eq!(found, wanted);
            assert_eq!(body(&plain).unwrap(), serde_json::to_vec(&plain).unwrap());
        }
    }
}
