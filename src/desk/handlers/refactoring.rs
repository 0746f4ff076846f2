//! Changes that mend nothing and save writing, as code actions.

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::Place;
use crate::assist::refactor::{self, Change, Refactor};
use crate::catalogue::known::{self, Known, Mark};

use super::super::capabilities::Client;
use super::super::moment::{Stop, View};
use super::super::to_protocol;

/// The title of the action that writes all findings of the catalogue down as known.
pub(super) const KNOWN: &str = "Write all findings of this catalog down as known";

/// The kind of an action, as the protocol has it.
pub(super) fn kind(what: Refactor) -> lsp::CodeActionKind {
    match what {
        Refactor::Move | Refactor::Split => lsp::CodeActionKind::RefactorMove,
        _ => lsp::CodeActionKind::RefactorRewrite,
    }
}

/// What can be done at a place, for this client.
pub(super) fn at(place: &Place<'_>, can: &Client) -> Vec<(Refactor, String)> {
    let mut all = refactor::at(place);
    all.retain(|(what, _)| can.writing.makes_files || !what.makes_files());
    all
}

/// The edit of an action; none when there is nothing to do after all.
pub(super) fn edit(
    view: &View,
    place: &Place<'_>,
    what: Refactor,
    can: &Client,
) -> Option<lsp::WorkspaceEdit> {
    let changes = refactor::make(place, what)?;
    let mut edited = Vec::new();
    let mut made = Vec::new();
    for change in changes {
        match change {
            Change::Edit(file, edits) => {
                let paper = view.moment.papers.get(file)?;
                let edits = edits
                    .iter()
                    .map(|edit| to_protocol::edit(paper.sheet(), edit, can.encoding))
                    .collect();
                edited.push((std::sync::Arc::clone(paper), edits));
            }
            Change::Make { beside, name, text } => {
                let paper = view.moment.papers.get(beside)?;
                // A buffer that is nowhere on the disk has nothing to stand beside.
                paper.key.path()?;
                let uri = beside_of(&paper.uri, &name)?;
                made.extend(new_file(uri, text, false));
            }
        }
    }
    let mut edit = to_protocol::workspace_edits(edited, can);
    if !made.is_empty() {
        // New files first, so that no card is ever in none.
        made.extend(edit.document_changes.take()?);
        edit.document_changes = Some(made);
    }
    Some(edit)
}

/// The address of a file in the same folder.
fn beside_of(uri: &lsp::Uri, name: &str) -> Option<lsp::Uri> {
    let mut uri = uri.clone();
    uri.path_segments_mut().ok()?.pop().push(name);
    Some(uri)
}

/// A file made with this text.
fn new_file(uri: lsp::Uri, text: String, overwrite: bool) -> [lsp::DocumentChange; 2] {
    let options = lsp::CreateFileOptions {
        overwrite: overwrite.then_some(true),
        ignore_if_exists: None,
    };
    let edit = lsp::TextEdit {
        range: lsp::Range::default(),
        new_text: text,
    };
    [
        lsp::DocumentChange::CreateFile(lsp::CreateFile {
            uri: uri.clone(),
            options: Some(options),
            annotation_id: None,
        }),
        lsp::DocumentChange::TextDocumentEdit(lsp::TextDocumentEdit {
            text_document: lsp::OptionalVersionedTextDocumentIdentifier {
                version: None,
                text_document_identifier: lsp::TextDocumentIdentifier { uri },
            },
            edits: vec![lsp::Edit::TextEdit(edit)],
        }),
    ]
}

/// The address of the file of known findings; none where the catalogue has no handbook on the disk.
pub(super) fn known_file(view: &View) -> Option<lsp::Uri> {
    let (id, _) = view.moment.snapshot().handbook_card()?;
    let paper = view.moment.paper_of(id)?;
    let path = paper.key.path()?;
    let root = path.parent()?;
    crate::disk::stays_inside(root, &root.join(known::FILE)).ok()?;
    beside_of(&paper.uri, known::FILE)
}

/// All findings of the catalogue in the file of known findings, as `proofread` writes them there.
pub(super) fn known(view: &View, stop: &Stop) -> Option<lsp::WorkspaceEdit> {
    let uri = known_file(view)?;
    // The known findings of files that could not be read would be lost.
    if view.moment.is_a_part {
        return None;
    }
    let mut known = Known::default();
    for (id, entry) in view.moment.snapshot().entries() {
        if stop.is_set() {
            return None;
        }
        for finding in view.moment.findings(id).iter() {
            known.add(Mark::of(entry, finding.phrase, finding.span));
        }
    }
    Some(lsp::WorkspaceEdit {
        document_changes: Some(new_file(uri, known.write(), true).to_vec()),
        ..lsp::WorkspaceEdit::default()
    })
}
