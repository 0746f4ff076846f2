//! Diagnostics for clients that ask: of one document, and of everything.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use serde_json::json;
use tower_lsp::gen_lsp_types as lsp;
use tower_lsp::jsonrpc::{Error, ErrorCode};

use super::super::diagnostics;
use super::super::moment::{Moment, Stop, View};
use super::super::session::Session;
use super::super::transport::with_items;
use super::super::uri::Key;

/// The report of one document; one that the client has already is only named.
pub(in super::super) fn document(
    session: &Session,
    view: &View,
    previous: Option<&str>,
    stop: &Stop,
) -> lsp::DocumentDiagnosticReport {
    let told = diagnostics::told(session, view, stop).unwrap_or_default();
    let items = told.written();
    let result_id = format!("{:016x}", diagnostics::digest(&items));
    if previous == Some(result_id.as_str()) {
        return lsp::DocumentDiagnosticReport::RelatedUnchangedDocumentDiagnosticReport(
            lsp::RelatedUnchangedDocumentDiagnosticReport {
                related_documents: None,
                unchanged_document_diagnostic_report: lsp::UnchangedDocumentDiagnosticReport { result_id },
            },
        );
    }
    session.has_said(&view.paper.key, told.sayings);
    full(Some(with_items(&result_id, items)), Vec::new())
}

fn full(result_id: Option<String>, items: Vec<lsp::Diagnostic>) -> lsp::DocumentDiagnosticReport {
    lsp::DocumentDiagnosticReport::RelatedFullDocumentDiagnosticReport(
        lsp::RelatedFullDocumentDiagnosticReport {
            related_documents: None,
            full_document_diagnostic_report: lsp::FullDocumentDiagnosticReport { result_id, items },
        },
    )
}

/// The report of a document that the desk knows nothing of.
pub(in super::super) fn nothing() -> lsp::DocumentDiagnosticReport {
    full(None, Vec::new())
}

/// `ServerCancelled` of the Language Server Protocol 3.17, with which the client is asked to ask again.
const SERVER_CANCELLED: i64 = -32802;

/// The answer when the text has moved on while it was looked at.
pub(in super::super) fn ask_again() -> Error {
    Error {
        code: ErrorCode::ServerError(SERVER_CANCELLED),
        message: "The text has moved on.".into(),
        data: Some(json!({ "retriggerRequest": true })),
    }
}

/// How many reports are sent together where they are sent in parts.
const PART: usize = 20;

/// What the report of a file that is gone is called.
const GONE: &str = "gone";

/// The reports of all files.
pub(in super::super) struct Reports {
    /// Those that have not been sent in parts.
    pub(in super::super) items: Vec<lsp::WorkspaceDocumentDiagnosticReport>,
    /// Whether any of them says something that the client does not have.
    pub(in super::super) news: bool,
}

/// The reports of all files of all catalogues; empty ones for files that the client still has something of
/// and that are gone. `part` is given some at a time, once there is news.
pub(in super::super) fn workspace(
    session: &Session,
    moments: &[Arc<Moment>],
    previous: Vec<lsp::PreviousResultId>,
    stop: &Stop,
    part: Option<&dyn Fn(Vec<lsp::WorkspaceDocumentDiagnosticReport>)>,
) -> Reports {
    let known: HashMap<Key, (lsp::Uri, String)> = previous
        .into_iter()
        .map(|id| (Key::new(&id.uri), (id.uri, id.value)))
        .collect();
    let mut seen: HashSet<Key> = HashSet::new();
    let mut items = Vec::new();
    let mut news = false;
    for moment in moments {
        for (file, paper) in moment.papers.iter().enumerate() {
            if stop.is_set() {
                return Reports { items, news };
            }
            if !seen.insert(paper.key.clone()) {
                continue;
            }
            let view = View {
                moment: Arc::clone(moment),
                file,
                paper: Arc::clone(paper),
            };
            let Some(told) = diagnostics::told(session, &view, stop) else {
                continue;
            };
            let result_id = format!("{:016x}", told.digest());
            let old = known.get(&paper.key);
            let uri = old.map_or_else(|| paper.uri.clone(), |(uri, _)| uri.clone());
            let is_old = old.is_some_and(|(_, value)| *value == result_id);
            news |= !is_old;
            items.push(report(uri, paper.version, result_id, told.diagnostics, is_old));
            if let Some(part) = part
                && items.len() >= PART
                && news
            {
                part(std::mem::take(&mut items));
            }
        }
    }
    for (key, (uri, value)) in known {
        if !seen.contains(&key) {
            // Of a file that was told to be empty, and is gone, nothing is new.
            news |= value != GONE;
            items.push(gone(uri));
        }
    }
    if let Some(part) = part
        && news
        && !items.is_empty()
    {
        part(std::mem::take(&mut items));
    }
    Reports { items, news }
}

fn report(
    uri: lsp::Uri,
    version: Option<i32>,
    result_id: String,
    items: Vec<lsp::Diagnostic>,
    is_old: bool,
) -> lsp::WorkspaceDocumentDiagnosticReport {
    if is_old {
        return lsp::WorkspaceDocumentDiagnosticReport::WorkspaceUnchangedDocumentDiagnosticReport(
            lsp::WorkspaceUnchangedDocumentDiagnosticReport {
                uri,
                version,
                unchanged_document_diagnostic_report: lsp::UnchangedDocumentDiagnosticReport { result_id },
            },
        );
    }
    lsp::WorkspaceDocumentDiagnosticReport::WorkspaceFullDocumentDiagnosticReport(
        lsp::WorkspaceFullDocumentDiagnosticReport {
            uri,
            version,
            full_document_diagnostic_report: lsp::FullDocumentDiagnosticReport {
                result_id: Some(result_id),
                items,
            },
        },
    )
}

fn gone(uri: lsp::Uri) -> lsp::WorkspaceDocumentDiagnosticReport {
    lsp::WorkspaceDocumentDiagnosticReport::WorkspaceFullDocumentDiagnosticReport(
        lsp::WorkspaceFullDocumentDiagnosticReport {
            uri,
            version: None,
            full_document_diagnostic_report: lsp::FullDocumentDiagnosticReport {
                result_id: Some(GONE.to_owned()),
                items: Vec::new(),
            },
        },
    )
}
