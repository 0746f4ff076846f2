//! Renaming, and the places of one name in a file.

use std::sync::Arc;

use tower_lsp::gen_lsp_types as lsp;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};

use crate::assist::{paired, rename};

use super::super::capabilities::Client;
use super::super::moment::View;
use super::super::to_protocol;
use super::writing::place;

/// `RequestFailed` of the Language Server Protocol 3.17: the request was right and cannot be done.
const REQUEST_FAILED: i64 = -32803;

fn refused(why: String) -> Error {
    Error {
        code: ErrorCode::ServerError(REQUEST_FAILED),
        message: why.into(),
        data: None,
    }
}

pub(in super::super) fn prepare(
    view: &View,
    at: lsp::Position,
    can: &Client,
) -> Result<Option<lsp::PrepareRenameResult>> {
    let Some(place) = place(view, at, can) else {
        return Ok(None);
    };
    let found = rename::prepare(&place).map_err(refused)?;
    Ok(found.map(|found| {
        lsp::PrepareRenameResult::PrepareRenamePlaceholder(lsp::PrepareRenamePlaceholder {
            range: to_protocol::range(view.paper.sheet(), found.span, can.encoding),
            placeholder: found.name,
        })
    }))
}

pub(in super::super) fn rename(
    view: &View,
    at: lsp::Position,
    new: &str,
    can: &Client,
) -> Result<Option<lsp::WorkspaceEdit>> {
    let Some(place) = place(view, at, can) else {
        return Ok(None);
    };
    let Some(files) = rename::in_files(&place, new).map_err(refused)? else {
        return Ok(None);
    };
    let files = files.into_iter().filter_map(|(file, edits)| {
        let paper = view.moment.papers.get(file)?;
        let edits = edits
            .iter()
            .map(|edit| to_protocol::edit(paper.sheet(), edit, can.encoding));
        Some((Arc::clone(paper), edits.collect()))
    });
    Ok(Some(to_protocol::workspace_edits(files, can)))
}

pub(in super::super) fn highlights(
    view: &View,
    at: lsp::Position,
    can: &Client,
) -> Option<Vec<lsp::DocumentHighlight>> {
    let found = paired::highlights(&place(view, at, can)?);
    let shown = found.into_iter().map(|(span, gives)| lsp::DocumentHighlight {
        range: to_protocol::range(view.paper.sheet(), span, can.encoding),
        kind: Some(match gives {
            true => lsp::DocumentHighlightKind::Write,
            false => lsp::DocumentHighlightKind::Read,
        }),
    });
    Some(shown.collect())
}

pub(in super::super) fn linked(
    view: &View,
    at: lsp::Position,
    can: &Client,
) -> Option<lsp::LinkedEditingRanges> {
    let found = paired::linked(&place(view, at, can)?);
    if found.is_empty() {
        return None;
    }
    let ranges = found
        .into_iter()
        .map(|span| to_protocol::range(view.paper.sheet(), span, can.encoding));
    Some(lsp::LinkedEditingRanges {
        ranges: ranges.collect(),
        // A name holds anything but what ends it.
        word_pattern: Some("[^\"“”,\\r\\n]+".to_owned()),
    })
}
