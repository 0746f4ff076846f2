//! Documents whose text the desk has lost: a change could not be read, or was refused.
//!
//! About such a document nothing is answered, least of all an edit, until the client sends its whole text again.

use std::collections::HashMap;
use std::sync::Arc;

use tower_lsp::gen_lsp_types::{DocumentChange, MessageType, Uri, WorkspaceEdit};
use tower_lsp::jsonrpc::{Error, ErrorCode};

use super::super::uri::Key;
use super::{Session, locked};

/// `RequestFailed` of the Language Server Protocol 3.17.
const REQUEST_FAILED: i64 = -32803;

impl Session {
    /// Notes that a document is out of step; all open ones, where it could be any. It is told.
    pub(in super::super) fn lose(self: &Arc<Self>, uri: Option<&Uri>) {
        let mut state = locked(&self.state);
        let keys: Vec<Key> = match uri {
            Some(uri) => vec![Key::new(uri)],
            None => state.open.keys().cloned().collect(),
        };
        let mut names: Vec<String> = Vec::new();
        for key in keys {
            if state.lost.insert(key.clone()) {
                let path = key.path();
                let name = path.as_ref().and_then(|path| path.file_name());
                names.push(name.map_or_else(
                    || key.as_str().to_owned(),
                    |name| name.to_string_lossy().into_owned(),
                ));
            }
        }
        drop(state);
        if names.is_empty() {
            return;
        }
        let those = crate::text::sentences::joined(
            &names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>(),
        );
        let text = format!(
            "Levare could not read what was typed last in {those}. Nothing is said or changed there, so that nothing is torn. Close the file and open it again."
        );
        let wire = self.wire.clone();
        self.runtime
            .spawn(async move { wire.show_message(MessageType::Warning, text).await });
        self.bump();
        self.refresh();
    }

    /// Whether a document is out of step.
    pub(in super::super) fn is_lost(&self, key: &Key) -> bool {
        locked(&self.state).lost.contains(key)
    }

    /// Whether an edit leaves the documents alone that are out of step.
    pub(in super::super) fn is_in_step(&self, edit: &WorkspaceEdit) -> bool {
        let state = locked(&self.state);
        state.lost.is_empty() || !touched(edit).any(|uri| state.lost.contains(&Key::new(uri)))
    }

    /// The edit, unless it would change a document that is out of step.
    pub(in super::super) fn in_step(&self, edit: WorkspaceEdit) -> Result<WorkspaceEdit, Error> {
        match self.is_in_step(&edit) {
            true => Ok(edit),
            false => Err(Error {
                code: ErrorCode::ServerError(REQUEST_FAILED),
                message: "One of the files to change is not known as your editor shows it. Close it, open it again, and try once more.".into(),
                data: None,
            }),
        }
    }
}

/// The documents that an edit changes.
fn touched(edit: &WorkspaceEdit) -> impl Iterator<Item = &Uri> {
    let changes = edit.changes.iter().flat_map(HashMap::keys);
    let documents = edit
        .document_changes
        .iter()
        .flatten()
        .filter_map(|change| match change {
            DocumentChange::TextDocumentEdit(edit) => Some(&edit.text_document.text_document_identifier.uri),
            _ => None,
        });
    changes.chain(documents)
}
