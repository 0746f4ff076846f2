//! What the client can do while cards are written, and what the desk offers for it.

use serde_json::Value;
use tower_lsp::gen_lsp_types::{
    CodeActionKind, CodeActionOptions, CodeActionProvider, CompletionOptions,
    DocumentOnTypeFormattingOptions, DocumentRangeFormattingOptions, DocumentRangeFormattingProvider,
    SignatureHelpOptions,
};

use super::Client;

/// What the client can do while cards are written (Language Server Protocol 3.18, `ClientCapabilities`).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(in super::super) struct Writing {
    /// It can step from blank to blank in what it writes.
    pub(in super::super) snippets: bool,
    /// It asks for an offer's documentation when it shows it.
    pub(in super::super) asks_documentation: bool,
    /// It asks for an offer's few words when it shows it.
    pub(in super::super) asks_detail: bool,
    /// It shows Markdown beside offers.
    pub(in super::super) markdown: bool,
    /// It takes places in a signature's words for its stretches.
    pub(in super::super) slots_by_place: bool,
    /// It shows Markdown with signatures.
    pub(in super::super) signature_markdown: bool,
    /// It asks for a code action's edit when it is chosen.
    pub(in super::super) asks_edits: bool,
    /// It makes files.
    pub(in super::super) makes_files: bool,
    /// It lays several stretches out at once.
    pub(in super::super) ranges: bool,
    /// It tells before it saves.
    pub(in super::super) tells_before_saving: bool,
    /// It takes edits before it saves.
    pub(in super::super) edits_before_saving: bool,
    /// It wants files laid out before they are saved, as it said at the start.
    pub(in super::super) recopies: bool,
}

impl Writing {
    pub(super) fn of(said: &Value, options: Option<&Value>) -> Writing {
        let is = |pointer: &str| said.pointer(pointer) == Some(&Value::Bool(true));
        let holds = |pointer: &str, wanted: &str| {
            said.pointer(pointer)
                .and_then(Value::as_array)
                .is_some_and(|all| all.iter().any(|one| one == wanted))
        };
        let item = "/textDocument/completion/completionItem";
        let properties = format!("{item}/resolveSupport/properties");
        let recopies = options.and_then(|options| {
            let ours = options.get("levare").unwrap_or(options);
            ours.get("recopyOnSave")
        });
        Writing {
            snippets: is(&format!("{item}/snippetSupport")),
            asks_documentation: holds(&properties, "documentation"),
            asks_detail: holds(&properties, "detail"),
            markdown: holds(&format!("{item}/documentationFormat"), "markdown"),
            slots_by_place: is(
                "/textDocument/signatureHelp/signatureInformation/parameterInformation/labelOffsetSupport",
            ),
            signature_markdown: holds(
                "/textDocument/signatureHelp/signatureInformation/documentationFormat",
                "markdown",
            ),
            asks_edits: holds("/textDocument/codeAction/resolveSupport/properties", "edit")
                && is("/textDocument/codeAction/dataSupport"),
            makes_files: is("/workspace/workspaceEdit/documentChanges")
                && holds("/workspace/workspaceEdit/resourceOperations", "create"),
            ranges: is("/textDocument/rangeFormatting/rangesSupport"),
            tells_before_saving: is("/textDocument/synchronization/willSave"),
            edits_before_saving: is("/textDocument/synchronization/willSaveWaitUntil"),
            recopies: recopies == Some(&Value::Bool(true)),
        }
    }
}

pub(super) fn completion() -> CompletionOptions {
    CompletionOptions {
        // A blank opens a value, a comma the next item; both keys write themselves whatever is shown.
        trigger_characters: Some(["\"", " ", ","].map(str::to_owned).to_vec()),
        all_commit_characters: None,
        resolve_provider: Some(true),
        ..CompletionOptions::default()
    }
}

pub(super) fn signature() -> SignatureHelpOptions {
    SignatureHelpOptions {
        trigger_characters: Some([" ", ","].map(str::to_owned).to_vec()),
        retrigger_characters: Some(["=", "\""].map(str::to_owned).to_vec()),
        ..SignatureHelpOptions::default()
    }
}

pub(super) fn on_type() -> DocumentOnTypeFormattingOptions {
    DocumentOnTypeFormattingOptions {
        first_trigger_character: "\n".to_owned(),
        // A blank ends a word, which may turn out to be a field among the rows of a table; a quotation mark, a
        // card's head.
        more_trigger_character: Some(vec![" ".to_owned(), "\"".to_owned()]),
    }
}

pub(super) fn ranges(client: &Client) -> DocumentRangeFormattingProvider {
    match client.writing.ranges {
        true => {
            DocumentRangeFormattingProvider::DocumentRangeFormattingOptions(DocumentRangeFormattingOptions {
                ranges_support: Some(true),
                work_done_progress_options: Default::default(),
            })
        }
        false => DocumentRangeFormattingProvider::Bool(true),
    }
}

pub(super) fn actions(client: &Client) -> CodeActionProvider {
    CodeActionOptions {
        code_action_kinds: Some(vec![
            CodeActionKind::QuickFix,
            CodeActionKind::RefactorRewrite,
            CodeActionKind::RefactorMove,
            CodeActionKind::Source,
            CodeActionKind::SourceFixAll,
        ]),
        resolve_provider: Some(client.writing.asks_edits),
        ..CodeActionOptions::default()
    }
    .into()
}
