//! What `desk/fits.rs` must notice: each line is a message that a client which can do nothing more than it
//! must cannot take, and that one which can do everything can.

use serde_json::{Value, json};

use crate::client::fits::faults;
use crate::clients;

fn planted() -> Vec<(&'static str, Value)> {
    let edit =
        json!({"documentChanges": [{"textDocument": {"uri": "file:///a", "version": 1}, "edits": []}]});
    vec![
        ("initialize", json!({"capabilities": {"diagnosticProvider": {}}})),
        (
            "initialize",
            json!({"capabilities": {"renameProvider": {"prepareProvider": true}}}),
        ),
        (
            "initialize",
            json!({"capabilities": {"codeActionProvider": {"resolveProvider": true}}}),
        ),
        (
            "textDocument/completion",
            json!([{"label": "a", "insertTextFormat": 2}]),
        ),
        (
            "textDocument/completion",
            json!({"items": [{"label": "a", "insertTextFormat": 2}]}),
        ),
        (
            "textDocument/completion",
            json!({"items": [], "itemDefaults": {"insertTextFormat": 1}}),
        ),
        ("textDocument/completion", json!([{"label": "a", "tags": [1]}])),
        ("textDocument/completion", json!([{"label": "a", "kind": 25}])),
        (
            "textDocument/completion",
            json!([{"label": "a", "commitCharacters": [","]}]),
        ),
        (
            "textDocument/completion",
            json!([{"label": "a", "textEdit": {"insert": {}, "replace": {}}}]),
        ),
        (
            "completionItem/resolve",
            json!({"label": "a", "documentation": {"kind": "markdown", "value": ""}}),
        ),
        (
            "textDocument/hover",
            json!({"contents": {"kind": "markdown", "value": "x"}}),
        ),
        (
            "textDocument/signatureHelp",
            json!({"signatures": [{"label": "a b", "parameters": [{"label": [0, 1]}]}]}),
        ),
        (
            "textDocument/signatureHelp",
            json!({"signatures": [{"label": "a", "documentation": {"kind": "markdown", "value": ""}}]}),
        ),
        ("textDocument/definition", json!([{"targetUri": "file:///a"}])),
        (
            "textDocument/documentSymbol",
            json!([{"name": "a", "selectionRange": {}}]),
        ),
        ("textDocument/documentSymbol", json!([{"name": "a", "kind": 24}])),
        (
            "workspace/symbol",
            json!([{"name": "a", "location": {"uri": "file:///a"}}]),
        ),
        ("textDocument/codeAction", json!([{"title": "a", "edit": {}}])),
        (
            "textDocument/codeAction",
            json!([{"title": "a", "edit": {}, "disabled": {"reason": "so"}}]),
        ),
        ("textDocument/codeAction", json!([{"title": "a", "data": 1}])),
        ("textDocument/rename", edit.clone()),
        ("workspace/willRenameFiles", edit.clone()),
        ("workspace/applyEdit", json!({"edit": {"changes": {}}})),
        (
            "textDocument/rename",
            json!({"documentChanges": [{"kind": "create", "uri": "file:///a"}]}),
        ),
        (
            "textDocument/rename",
            json!({"changes": {}, "changeAnnotations": {}}),
        ),
        ("textDocument/prepareRename", json!({"defaultBehavior": true})),
        (
            "textDocument/publishDiagnostics",
            json!({"diagnostics": [{"tags": [1]}]}),
        ),
        (
            "textDocument/publishDiagnostics",
            json!({"diagnostics": [{"relatedInformation": []}]}),
        ),
        (
            "textDocument/publishDiagnostics",
            json!({"diagnostics": [{"codeDescription": {}}]}),
        ),
        (
            "textDocument/diagnostic",
            json!({"kind": "full", "items": [{"tags": [2]}]}),
        ),
        (
            "workspace/diagnostic",
            json!({"items": [{"items": [{"relatedInformation": []}]}]}),
        ),
        (
            "client/registerCapability",
            json!({"registrations": [{"id": "1", "method": "workspace/didChangeWatchedFiles"}]}),
        ),
        (
            "client/registerCapability",
            json!({"registrations": [{"id": "1", "method": "textDocument/formatting"}]}),
        ),
        ("workspace/configuration", json!({"items": []})),
        ("window/workDoneProgress/create", json!({"token": 1})),
        ("window/showDocument", json!({"uri": "file:///a"})),
        ("workspace/diagnostic/refresh", Value::Null),
        ("workspace/codeLens/refresh", Value::Null),
        ("workspace/inlayHint/refresh", Value::Null),
        ("workspace/semanticTokens/refresh", Value::Null),
    ]
}

#[test]
fn what_a_client_cannot_take_is_noticed() {
    let everything = clients::all()
        .into_iter()
        .find(|(name, _)| name == "everything")
        .unwrap()
        .1;
    for (method, content) in planted() {
        let found = faults(&json!({}), method, &content);
        assert!(!found.is_empty(), "{method}: {content} is let through");
        let found = faults(&everything, method, &content);
        assert_eq!(found, [""; 0], "{method}: {content}");
    }
}

#[test]
fn what_no_client_takes_is_noticed() {
    let everything = clients::all()
        .into_iter()
        .find(|(name, _)| name == "everything")
        .unwrap()
        .1;
    for (method, content) in [
        (
            "initialize",
            json!({"capabilities": {"positionEncoding": "utf-7"}}),
        ),
        ("textDocument/completion", json!([{"label": "a", "kind": 99}])),
        ("codeAction/resolve", json!({"title": "does nothing"})),
        // Two words of the same line, the second of which starts inside the first.
        (
            "textDocument/semanticTokens/full",
            json!({"data": [0, 4, 8, 0, 0, 0, 3, 2, 0, 0]}),
        ),
    ] {
        assert!(
            !faults(&everything, method, &content).is_empty(),
            "{method}: {content}"
        );
    }
}

#[test]
fn what_every_client_takes_is_let_through() {
    for (method, content) in [
        (
            "textDocument/completion",
            json!([{"label": "a", "kind": 5, "insertTextFormat": 1}]),
        ),
        (
            "textDocument/hover",
            json!({"contents": {"kind": "plaintext", "value": "x"}}),
        ),
        (
            "textDocument/codeAction",
            json!([{"title": "a", "command": "levare.a"}]),
        ),
        ("textDocument/rename", json!({"changes": {"file:///a": []}})),
        (
            "textDocument/publishDiagnostics",
            json!({"diagnostics": [{"message": "x", "severity": 1}]}),
        ),
        (
            "textDocument/semanticTokens/full",
            json!({"data": [0, 4, 3, 0, 0, 0, 3, 2, 0, 0]}),
        ),
    ] {
        assert_eq!(
            faults(&json!({}), method, &content),
            [""; 0],
            "{method}: {content}"
        );
    }
}
