//! What the desk can do about moving around in a catalogue, and about changing names in it.

use tower_lsp::gen_lsp_types::{
    CodeLensOptions, DocumentLinkOptions, ExecuteCommandOptions, FileOperationFilter, FileOperationOptions,
    FileOperationPattern, FileOperationRegistrationOptions, Full, InlayHintOptions, InlayHintProvider,
    ReferenceOptions, ReferencesProvider, RenameOptions, RenameProvider, SemanticTokensFullDelta,
    SemanticTokensOptions, SemanticTokensOptionsRange, SemanticTokensProvider, TextDocumentContent,
    TextDocumentContentOptions, WorkDoneProgressOptions, WorkspaceSymbolOptions, WorkspaceSymbolProvider,
};

use super::super::commands;
use super::super::handlers::coloring;
use super::super::pages;
use super::Client;

/// A client that does not ask first must not be told that it could (Language Server Protocol 3.17,
/// `RenameOptions`).
pub(super) fn rename(client: &Client) -> RenameProvider {
    match client.prepares {
        true => RenameProvider::RenameOptions(RenameOptions {
            prepare_provider: Some(true),
            work_done_progress_options: Default::default(),
        }),
        false => RenameProvider::Bool(true),
    }
}

pub(super) fn links() -> DocumentLinkOptions {
    DocumentLinkOptions {
        resolve_provider: Some(true),
        work_done_progress_options: Default::default(),
    }
}

pub(super) fn tokens() -> SemanticTokensProvider {
    SemanticTokensProvider::SemanticTokensOptions(SemanticTokensOptions {
        legend: coloring::legend(),
        range: Some(SemanticTokensOptionsRange::Bool(true)),
        full: Some(Full::SemanticTokensFullDelta(SemanticTokensFullDelta {
            delta: Some(true),
        })),
        work_done_progress_options: Default::default(),
    })
}

/// Work that is told of while it goes on, where the client gives it a name.
pub(super) fn told() -> WorkDoneProgressOptions {
    WorkDoneProgressOptions {
        work_done_progress: Some(true),
    }
}

pub(super) fn references() -> ReferencesProvider {
    ReferencesProvider::ReferenceOptions(ReferenceOptions {
        work_done_progress_options: told(),
    })
}

pub(super) fn search() -> WorkspaceSymbolProvider {
    WorkspaceSymbolProvider::WorkspaceSymbolOptions(WorkspaceSymbolOptions {
        resolve_provider: Some(true),
        work_done_progress_options: told(),
    })
}

pub(super) fn lenses() -> CodeLensOptions {
    CodeLensOptions {
        resolve_provider: Some(true),
        work_done_progress_options: Default::default(),
    }
}

pub(super) fn hints() -> InlayHintProvider {
    InlayHintProvider::InlayHintOptions(InlayHintOptions {
        resolve_provider: Some(true),
        work_done_progress_options: Default::default(),
    })
}

pub(super) fn commands() -> ExecuteCommandOptions {
    ExecuteCommandOptions {
        commands: commands::all(),
        work_done_progress_options: Default::default(),
    }
}

/// Any file may be named on a card, so the desk hears of all that are renamed.
pub(super) fn files() -> FileOperationOptions {
    let all = || FileOperationRegistrationOptions {
        filters: vec![FileOperationFilter {
            scheme: Some("file".to_owned()),
            pattern: FileOperationPattern {
                glob: "**/*".to_owned(),
                matches: None,
                options: None,
            },
        }],
    };
    FileOperationOptions {
        will_rename: Some(all()),
        did_rename: Some(all()),
        ..FileOperationOptions::default()
    }
}

pub(super) fn pages() -> TextDocumentContent {
    TextDocumentContent::Options(TextDocumentContentOptions {
        schemes: pages::SCHEMES.map(str::to_owned).to_vec(),
    })
}
