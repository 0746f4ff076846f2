//! From the body of a frame to calls and replies.
//!
//! Nothing here fails: what is no message becomes an answer saying so (JSON-RPC 2.0, section 5.1,
//! for the numbers). A client's reply is taken apart leniently, since a handler may be waiting
//! for it. An array is a batch (JSON-RPC 2.0, section 6); the protocol's own messages never come
//! in one, so its members are taken in order as if each had come alone, and answered singly.

use serde_json::{Map, Value};
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};

/// One thing that a body held.
#[derive(Debug)]
pub(super) enum Incoming {
    /// A request or a notification.
    Call(Request),
    /// The client's reply to something it was asked.
    Reply(Response),
    /// An id and nothing else: some clients leave out an empty result.
    Bare(Id),
    /// No message. The id is `Null` where none could be made out.
    Broken(Id, Error),
}

/// Reads a body that holds at most `max_values` JSON values.
///
/// The values are counted before any is built, because a small value takes many times the room
/// in memory that it takes in the text.
pub(super) fn read(body: &[u8], max_values: usize) -> Vec<Incoming> {
    let broken = |error| vec![Incoming::Broken(Id::Null, error)];
    let Ok(text) = std::str::from_utf8(body) else {
        return broken(parse_error("The message is not UTF-8 text."));
    };
    if values_at_most(body) > max_values {
        return broken(refused("The message holds too many values."));
    }
    match serde_json::from_str(text) {
        Err(error) => broken(parse_error(&format!("The message is not JSON: {error}."))),
        Ok(Value::Array(members)) => batch(members),
        Ok(value) => vec![one(value)],
    }
}

/// An upper bound for the number of values in a JSON text: each but the first follows a comma or
/// an opening bracket.
fn values_at_most(body: &[u8]) -> usize {
    let (mut count, mut quoted, mut escaped) = (1_usize, false, false);
    for &byte in body {
        match (quoted, byte) {
            (true, _) if escaped => escaped = false,
            (true, b'\\') => escaped = true,
            (_, b'"') => quoted = !quoted,
            (false, b',' | b'[' | b'{') => count += 1,
            _ => {}
        }
    }
    count
}

fn batch(members: Vec<Value>) -> Vec<Incoming> {
    if members.is_empty() {
        let error = refused("The batch is empty.");
        return vec![Incoming::Broken(Id::Null, error)];
    }
    let mut read = Vec::new();
    let mut told = false;
    for member in members {
        let next = one(member);
        // Members without an id are complained of once, or a batch of ones would fill the pipe.
        if matches!(next, Incoming::Broken(Id::Null, _)) && std::mem::replace(&mut told, true) {
            continue;
        }
        read.push(next);
    }
    read
}

fn one(value: Value) -> Incoming {
    let Value::Object(mut fields) = value else {
        return Incoming::Broken(Id::Null, refused("The message is not a JSON object."));
    };
    if fields.contains_key("method") {
        super::step::straighten(&mut fields);
        let id = known_id(&fields).unwrap_or(Id::Null);
        return match serde_json::from_value(Value::Object(fields)) {
            Ok(request) => Incoming::Call(request),
            Err(error) => Incoming::Broken(id, refused(&format!("Not a request: {error}."))),
        };
    }
    let Some(id) = known_id(&fields) else {
        return Incoming::Broken(Id::Null, refused("The message has neither method nor id."));
    };
    if let Some(error) = fields.remove("error").filter(|error| !error.is_null()) {
        Incoming::Reply(Response::from_error(id, lenient_error(&error)))
    } else if let Some(result) = fields.remove("result") {
        Incoming::Reply(Response::from_ok(id, result))
    } else {
        Incoming::Bare(id)
    }
}

fn known_id(fields: &Map<String, Value>) -> Option<Id> {
    match fields.get("id")? {
        Value::Number(number) => number.as_i64().map(Id::Number),
        Value::String(text) => Some(Id::String(text.clone())),
        _ => None,
    }
}

fn lenient_error(value: &Value) -> Error {
    let code = value.get("code").and_then(Value::as_i64);
    let message = value.get("message").and_then(Value::as_str);
    Error {
        code: code.map_or(ErrorCode::InternalError, ErrorCode::from),
        message: message.unwrap_or_default().to_owned().into(),
        data: value.get("data").cloned(),
    }
}

/// An answer of code -32700: what came could not be read as JSON.
pub(super) fn parse_error(message: &str) -> Error {
    Error {
        message: message.to_owned().into(),
        ..Error::parse_error()
    }
}

/// An answer of code -32600: JSON, but no message that can be acted on.
pub(super) fn refused(message: &str) -> Error {
    Error {
        message: message.to_owned().into(),
        ..Error::invalid_request()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(body: &str) -> Vec<String> {
        read(body.as_bytes(), 50)
            .into_iter()
            .map(|incoming| match incoming {
                Incoming::Call(request) => match request.id() {
                    Some(id) => format!("ask {id} {}", request.method()),
                    None => format!("note {}", request.method()),
                },
                Incoming::Reply(response) => match response.error() {
                    Some(error) => format!("reply {} {}", response.id(), error.code),
                    None => format!("reply {} ok", response.id()),
                },
                Incoming::Bare(id) => format!("bare {id}"),
                Incoming::Broken(id, error) => format!("broken {id} {}", error.code),
            })
            .collect()
    }

    #[test]
    fn bodies() {
        let deep = "[".repeat(40);
        let many = format!("[{}1]", "1,".repeat(50));
        let commas = format!(r#"{{"jsonrpc":"2.0","method":"{}"}}"#, r#",[\",{\\"#.repeat(60));
        let table: &[(&str, &[&str])] = &[
            (r#"{"jsonrpc":"2.0","id":1,"method":"a"}"#, &["ask 1 a"]),
            (
                r#"{"jsonrpc":"2.0","id":"x","method":"a","params":[]}"#,
                &[r#"ask "x" a"#],
            ),
            (r#"{"jsonrpc":"2.0","method":"a"}"#, &["note a"]),
            (r#"{"jsonrpc":"2.0","id":1,"result":null}"#, &["reply 1 ok"]),
            (
                r#"{"jsonrpc":"2.0","id":1,"error":null,"result":2}"#,
                &["reply 1 ok"],
            ),
            (
                r#"{"jsonrpc":"2.0","id":1,"error":{"code":5,"message":"m","more":1}}"#,
                &["reply 1 5"],
            ),
            (r#"{"id":1,"error":"no"}"#, &["reply 1 -32603"]),
            (r#"{"jsonrpc":"2.0","id":7}"#, &["bare 7"]),
            (r#"{"jsonrpc":"1.0","id":1,"method":"a"}"#, &["broken 1 -32600"]),
            (r#"{"id":1,"method":"a"}"#, &["broken 1 -32600"]),
            (r#"{"jsonrpc":"2.0","id":1,"method":5}"#, &["broken 1 -32600"]),
            (
                r#"{"jsonrpc":"2.0","id":1.5,"method":"a"}"#,
                &["broken null -32600"],
            ),
            (
                r#"{"jsonrpc":"2.0","id":[1],"method":"a"}"#,
                &["broken null -32600"],
            ),
            (r#"{}"#, &["broken null -32600"]),
            ("3", &["broken null -32600"]),
            ("null", &["broken null -32600"]),
            ("[]", &["broken null -32600"]),
            ("", &["broken null -32700"]),
            ("{", &["broken null -32700"]),
            (r#"{"a":1} x"#, &["broken null -32700"]),
            (&deep, &["broken null -32700"]),
            (&many, &["broken null -32600"]),
            (&commas, &[&format!("note {}", ",[\",{\\".repeat(60))]),
            (
                r#"[{"jsonrpc":"2.0","id":1,"method":"a"}, 1, 2, {"jsonrpc":"2.0","method":"b"}]"#,
                &["ask 1 a", "broken null -32600", "note b"],
            ),
        ];
        for (body, wanted) in table {
            assert_eq!(shape(body), *wanted, "{body}");
        }
    }

    #[test]
    fn a_body_that_is_not_text() {
        let read = read(b"{\"a\":\"\xff\"}", 50);
        assert!(matches!(&read[..], [Incoming::Broken(Id::Null, e)] if e.code == ErrorCode::ParseError));
    }

    #[test]
    fn very_deep_nesting_is_an_answer_and_not_an_overflow() {
        let deep = "[".repeat(1_000_000);
        let read = read(deep.as_bytes(), usize::MAX);
        assert!(matches!(&read[..], [Incoming::Broken(Id::Null, e)] if e.code == ErrorCode::ParseError));
    }
}
