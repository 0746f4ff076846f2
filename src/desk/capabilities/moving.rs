//! What the desk can do about moving around in a catalogue, and about changing names in it.

use tower_lsp::gen_lsp_types::{
    DocumentLinkOptions, Full, RenameOptions, RenameProvider, SemanticTokensFullDelta, SemanticTokensOptions,
    SemanticTokensOptionsRange, SemanticTokensProvider,
};

use super::super::handlers::coloring;
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
