//! Everything that a client can ask, at many places of a catalogue.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::client::{Client, Folder};

pub const HANDBOOK: &str = "handbook\n  notation        1\n  for             \"Seventh Grade Band\"\n";

const BAND: &str = "ensemble \"Seventh Grade Band\"
  players
    flute           9
    clarinet        12, 4 over the break
    alto sax        6
  percussionists
    Ann             snare, bells
    Ben             snare
  keys            Bb major, Eb major

skill \"ties\"
  takes           1 week
";

/// It has findings of several kinds: one that can be mended by hand, one that can be mended safely.
pub const SHELF: &str = "piece \"Harbor Parade\"
  by              Tam Lindqvist
  style           march
  tonal center    Bb major
  key signature   3 flats
  meter 6/8
  rehearsal marks A 9, trio 41
  tempo           quarter = 116, quarter = 100 at trio
  score           harbor.musicxml
  parts
    flute           D5-C6
    clarinet 1      A3-C5, over the break at 41-44
    alto sax        same as flute
  asks            ties

piece \"Night Ferry\"
  tonal center    G minor
  key signature   2 flats
  stet            signature against center because the score has it so
";

const CONCERT: &str = "concert \"Spring evening\"
  for             \"Seventh Grade Band\"
  program
    \"Harbor Parade\"
    \"Night Fery\"
";

/// A catalogue for asking; its pieces lie in `shelf.levare`.
pub fn catalogue() -> Folder {
    Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("band.levare", BAND),
        ("shelf.levare", SHELF),
        ("spring.levare", CONCERT),
        ("harbor.musicxml", ""),
    ])
}

/// What a request says beside the document.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Asks {
    /// Nothing.
    Document,
    /// A place in it.
    Place,
    /// A stretch of it.
    Stretch,
    /// Nothing of a document.
    All,
}

/// Requests, where `initialize` offers them, and what they say.
pub const REQUESTS: [(&str, &str, Asks); 32] = [
    ("textDocument/completion", "/completionProvider", Asks::Place),
    ("textDocument/hover", "/hoverProvider", Asks::Place),
    (
        "textDocument/signatureHelp",
        "/signatureHelpProvider",
        Asks::Place,
    ),
    ("textDocument/declaration", "/declarationProvider", Asks::Place),
    ("textDocument/definition", "/definitionProvider", Asks::Place),
    (
        "textDocument/typeDefinition",
        "/typeDefinitionProvider",
        Asks::Place,
    ),
    (
        "textDocument/implementation",
        "/implementationProvider",
        Asks::Place,
    ),
    ("textDocument/references", "/referencesProvider", Asks::Place),
    (
        "textDocument/documentHighlight",
        "/documentHighlightProvider",
        Asks::Place,
    ),
    (
        "textDocument/documentSymbol",
        "/documentSymbolProvider",
        Asks::Document,
    ),
    ("textDocument/codeAction", "/codeActionProvider", Asks::Stretch),
    ("textDocument/codeLens", "/codeLensProvider", Asks::Document),
    (
        "textDocument/documentLink",
        "/documentLinkProvider",
        Asks::Document,
    ),
    ("textDocument/documentColor", "/colorProvider", Asks::Document),
    (
        "textDocument/formatting",
        "/documentFormattingProvider",
        Asks::Document,
    ),
    (
        "textDocument/rangeFormatting",
        "/documentRangeFormattingProvider",
        Asks::Stretch,
    ),
    (
        "textDocument/rangesFormatting",
        "/documentRangeFormattingProvider/rangesSupport",
        Asks::Document,
    ),
    (
        "textDocument/onTypeFormatting",
        "/documentOnTypeFormattingProvider",
        Asks::Place,
    ),
    (
        "textDocument/willSaveWaitUntil",
        "/textDocumentSync/willSaveWaitUntil",
        Asks::Document,
    ),
    (
        "textDocument/prepareRename",
        "/renameProvider/prepareProvider",
        Asks::Place,
    ),
    ("textDocument/rename", "/renameProvider", Asks::Place),
    (
        "textDocument/foldingRange",
        "/foldingRangeProvider",
        Asks::Document,
    ),
    (
        "textDocument/selectionRange",
        "/selectionRangeProvider",
        Asks::Place,
    ),
    (
        "textDocument/linkedEditingRange",
        "/linkedEditingRangeProvider",
        Asks::Place,
    ),
    (
        "textDocument/semanticTokens/full",
        "/semanticTokensProvider/full",
        Asks::Document,
    ),
    (
        "textDocument/semanticTokens/full/delta",
        "/semanticTokensProvider/full/delta",
        Asks::Document,
    ),
    (
        "textDocument/semanticTokens/range",
        "/semanticTokensProvider/range",
        Asks::Stretch,
    ),
    ("textDocument/inlayHint", "/inlayHintProvider", Asks::Stretch),
    ("textDocument/diagnostic", "/diagnosticProvider", Asks::Document),
    (
        "workspace/diagnostic",
        "/diagnosticProvider/workspaceDiagnostics",
        Asks::All,
    ),
    ("workspace/symbol", "/workspaceSymbolProvider", Asks::All),
    (
        "workspace/willRenameFiles",
        "/workspace/fileOperations/willRename",
        Asks::All,
    ),
];

/// What is asked once more about an item of an answer: the answer's method, the offer, the method.
const RESOLVED: [(&str, &str, &str); 6] = [
    (
        "textDocument/completion",
        "/completionProvider/resolveProvider",
        "completionItem/resolve",
    ),
    (
        "textDocument/codeAction",
        "/codeActionProvider/resolveProvider",
        "codeAction/resolve",
    ),
    (
        "textDocument/codeLens",
        "/codeLensProvider/resolveProvider",
        "codeLens/resolve",
    ),
    (
        "textDocument/documentLink",
        "/documentLinkProvider/resolveProvider",
        "documentLink/resolve",
    ),
    (
        "textDocument/inlayHint",
        "/inlayHintProvider/resolveProvider",
        "inlayHint/resolve",
    ),
    (
        "workspace/symbol",
        "/workspaceSymbolProvider/resolveProvider",
        "workspaceSymbol/resolve",
    ),
];

/// Whether `initialize` offers what stands there.
pub fn offers(offered: &Value, pointer: &str) -> bool {
    let there = offered.pointer(pointer);
    there.is_some_and(|value| !value.is_null() && value != &Value::Bool(false))
}

/// What a request says; parameters that a method does not know do no harm.
pub fn parameters(asks: Asks, uri: &str, line: usize, character: usize, last: usize) -> Value {
    let at = json!({"line": line, "character": character});
    let whole = json!({"start": {"line": 0, "character": 0}, "end": {"line": last, "character": 0}});
    let mut said = json!({
        "textDocument": {"uri": uri},
        "context": {"includeDeclaration": true, "triggerKind": 1, "diagnostics": []},
        "options": {"tabSize": 2, "insertSpaces": true},
        "range": whole,
        "reason": 1,
        "ranges": [whole],
        "previousResultId": "none",
        "previousResultIds": [],
        "query": "",
        "files": [{"oldUri": format!("{uri}.musicxml"), "newUri": format!("{uri}.new.musicxml")}],
    });
    if asks == Asks::Place {
        said["position"] = at.clone();
        said["positions"] = json!([at]);
        said["ch"] = json!("\n");
        said["newName"] = json!("Another name");
        said["context"] = json!({"includeDeclaration": true, "triggerKind": 1, "isRetrigger": false});
    }
    said
}

/// Asks everything that is offered, at every second character of the document; gives how many answers of
/// each method held something.
pub fn everything(client: &mut Client, uri: &str, text: &str) -> BTreeMap<&'static str, usize> {
    let offered = client.capabilities.clone();
    let mut held: BTreeMap<&'static str, usize> = BTreeMap::new();
    let last = text.lines().count();
    for (method, pointer, asks) in REQUESTS {
        if !offers(&offered, pointer) {
            continue;
        }
        let places: Vec<(usize, usize)> = match asks {
            Asks::Place => text
                .lines()
                .enumerate()
                .flat_map(|(line, words)| (0..=words.len()).step_by(3).map(move |at| (line, at)))
                .collect(),
            _ => vec![(0, 0)],
        };
        let mut items = Vec::new();
        for (line, character) in places {
            let said = parameters(asks, uri, line, character, last);
            let id = client.begin(method, said);
            let answer = client.answer(id);
            // A place that has no name cannot be renamed, and is answered so.
            let renames = ["textDocument/rename", "textDocument/prepareRename"].contains(&method);
            let refused = answer["error"]["code"]
                .as_i64()
                .is_some_and(|code| code != -32601);
            assert!(
                answer.get("error").is_none() || refused && renames,
                "{method}: {answer}"
            );
            let result = &answer["result"];
            let is_empty = result.is_null() || *result == json!([]) || *result == json!({"data": []});
            *held.entry(method).or_default() += usize::from(!is_empty);
            let found = result.as_array().or_else(|| result["items"].as_array());
            items.extend(found.into_iter().flatten().take(3).cloned());
        }
        for (of, offer, resolve) in RESOLVED {
            if of != method || !offers(&offered, offer) {
                continue;
            }
            for item in items.iter().take(40) {
                let answer = client.ask(resolve, item.clone());
                *held.entry(resolve).or_default() += usize::from(answer.is_object());
            }
        }
    }
    held
}
