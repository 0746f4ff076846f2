//! What the client can do, looked up once, and what the desk can do for it.

use serde_json::Value;
use tower_lsp::gen_lsp_types::{
    ChangeNotifications, DiagnosticOptions, InitializeParams, PositionEncodingKind, Save, SaveOptions,
    ServerCapabilities, TextDocumentSync, TextDocumentSyncKind, TextDocumentSyncOptions,
    WorkspaceFoldersServerCapabilities, WorkspaceOptions,
};

use crate::text::Encoding;

mod moving;
mod writing;

pub(super) use writing::Writing;

/// What the client can do, as far as it matters here (Language Server Protocol 3.17, `ClientCapabilities`).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Client {
    /// The unit of its columns.
    pub(super) encoding: Encoding,
    /// It asks for diagnostics, so it is not told.
    pub(super) pulls: bool,
    /// It can be told to ask for diagnostics again.
    pub(super) refreshes: bool,
    /// It shows other places with a diagnostic.
    pub(super) related: bool,
    /// It can fade what does nothing.
    pub(super) tags: bool,
    /// It takes edits with the version they are meant for.
    pub(super) versioned_edits: bool,
    /// It takes code actions rather than commands.
    pub(super) code_actions: bool,
    /// It shows an outline as a tree.
    pub(super) outline_tree: bool,
    /// It watches files when it is asked to.
    pub(super) watches: bool,
    /// It shows Markdown in hovers.
    pub(super) markdown: bool,
    /// It shows pictures in hovers, as it said at the start: no capability tells.
    pub(super) pictures: bool,
    /// It shows how far long work is.
    pub(super) shows_progress: bool,
    /// It can be asked to show a document.
    pub(super) shows_documents: bool,
    /// It shows pages that are nowhere on the disk.
    pub(super) shows_pages: bool,
    /// It can be asked for its settings.
    pub(super) has_settings: bool,
    /// It tells of changed settings when it is asked to.
    pub(super) watches_settings: bool,
    /// It asks for a found card's place when it needs it.
    pub(super) resolves_symbols: bool,
    /// It can be told to ask for lenses again.
    pub(super) refreshes_lenses: bool,
    /// It can be told to ask for hints again.
    pub(super) refreshes_hints: bool,
    /// It can be told to ask for word colors again.
    pub(super) refreshes_colors: bool,
    /// It asks what can be renamed before it asks for a new name.
    pub(super) prepares: bool,
    /// What it can do while cards are written.
    pub(super) writing: Writing,
    /// It agreed to the requests that tests make; see `checks`.
    pub(super) checks: bool,
}

impl Client {
    pub(super) fn of(params: &InitializeParams) -> Client {
        // Every capability is optional at every level, which a JSON pointer says shortest.
        let said = serde_json::to_value(&params.capabilities).unwrap_or_default();
        let has = |pointer: &str| said.pointer(pointer).is_some_and(|value| value != &Value::Null);
        let is = |pointer: &str| said.pointer(pointer) == Some(&Value::Bool(true));
        let encodings = said
            .pointer("/general/positionEncodings")
            .and_then(Value::as_array);
        Client {
            // The client lists the units in the order of its liking.
            encoding: encodings
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
                .find_map(|name| match name {
                    "utf-8" => Some(Encoding::Utf8),
                    "utf-16" => Some(Encoding::Utf16),
                    "utf-32" => Some(Encoding::Utf32),
                    _ => None,
                })
                .unwrap_or_default(),
            pulls: has("/textDocument/diagnostic"),
            refreshes: is("/workspace/diagnostics/refreshSupport"),
            related: is("/textDocument/publishDiagnostics/relatedInformation")
                || is("/textDocument/diagnostic/relatedInformation"),
            tags: has("/textDocument/publishDiagnostics/tagSupport")
                || has("/textDocument/diagnostic/tagSupport"),
            versioned_edits: is("/workspace/workspaceEdit/documentChanges"),
            code_actions: has("/textDocument/codeAction/codeActionLiteralSupport"),
            outline_tree: is("/textDocument/documentSymbol/hierarchicalDocumentSymbolSupport"),
            watches: is("/workspace/didChangeWatchedFiles/dynamicRegistration"),
            markdown: said
                .pointer("/textDocument/hover/contentFormat")
                .and_then(Value::as_array)
                .is_some_and(|formats| formats.iter().any(|format| format == "markdown")),
            pictures: params
                .initialization_options
                .as_ref()
                .and_then(|options| options.get("levare").unwrap_or(options).get("pictures"))
                == Some(&Value::Bool(true)),
            shows_progress: is("/window/workDoneProgress"),
            shows_documents: is("/window/showDocument/support"),
            shows_pages: has("/workspace/textDocumentContent") && is("/window/showDocument/support"),
            has_settings: is("/workspace/configuration"),
            watches_settings: is("/workspace/didChangeConfiguration/dynamicRegistration"),
            resolves_symbols: said
                .pointer("/workspace/symbol/resolveSupport/properties")
                .and_then(Value::as_array)
                .is_some_and(|names| names.iter().any(|name| name == "location.range")),
            refreshes_lenses: is("/workspace/codeLens/refreshSupport"),
            refreshes_hints: is("/workspace/inlayHint/refreshSupport"),
            refreshes_colors: is("/workspace/semanticTokens/refreshSupport"),
            prepares: is("/textDocument/rename/prepareSupport"),
            writing: Writing::of(&said, params.initialization_options.as_ref()),
            checks: params
                .initialization_options
                .as_ref()
                .and_then(|options| options.get("checks"))
                == Some(&Value::Bool(true)),
        }
    }
}

/// What the desk can do. What only some clients understand is named to those alone.
pub(super) fn of_desk(client: &Client) -> ServerCapabilities {
    ServerCapabilities {
        position_encoding: Some(match client.encoding {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
            Encoding::Utf32 => PositionEncodingKind::UTF32,
        }),
        text_document_sync: Some(TextDocumentSync::Options(TextDocumentSyncOptions {
            open_close: Some(true),
            change: Some(TextDocumentSyncKind::Incremental),
            will_save: client.writing.tells_before_saving.then_some(true),
            will_save_wait_until: client.writing.edits_before_saving.then_some(true),
            save: Some(Save::SaveOptions(SaveOptions {
                include_text: Some(false),
            })),
        })),
        completion_provider: Some(writing::completion()),
        signature_help_provider: Some(writing::signature()),
        document_on_type_formatting_provider: Some(writing::on_type()),
        hover_provider: Some(true.into()),
        definition_provider: Some(true.into()),
        references_provider: Some(moving::references()),
        document_symbol_provider: Some(true.into()),
        workspace_symbol_provider: Some(moving::search()),
        folding_range_provider: Some(true.into()),
        document_formatting_provider: Some(true.into()),
        document_range_formatting_provider: Some(writing::ranges(client)),
        // To a client that takes commands alone, no edit can be handed.
        code_action_provider: client.code_actions.then(|| writing::actions(client)),
        diagnostic_provider: client.pulls.then(|| {
            DiagnosticOptions {
                identifier: None,
                inter_file_dependencies: true,
                workspace_diagnostics: true,
                work_done_progress_options: moving::told(),
            }
            .into()
        }),
        workspace: Some(WorkspaceOptions {
            workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                supported: Some(true),
                change_notifications: Some(ChangeNotifications::Bool(true)),
            }),
            file_operations: Some(moving::files()),
            text_document_content: client.shows_pages.then(moving::pages),
        }),
        rename_provider: Some(moving::rename(client)),
        document_highlight_provider: Some(true.into()),
        linked_editing_range_provider: Some(true.into()),
        selection_range_provider: Some(true.into()),
        document_link_provider: Some(moving::links()),
        semantic_tokens_provider: Some(moving::tokens()),
        code_lens_provider: Some(moving::lenses()),
        inlay_hint_provider: Some(moving::hints()),
        execute_command_provider: Some(moving::commands()),
        ..ServerCapabilities::default()
    }
}
