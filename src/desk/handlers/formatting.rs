//! Laying a file, or a stretch of it, out in the one form.

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::{formatting, on_type};
use crate::notation::recopy::{How, recopy_file};

use super::super::capabilities::Client;
use super::super::from_protocol;
use super::super::moment::View;
use super::super::to_protocol;

/// The edits that lay the file out, or only those in `range`.
pub(in super::super) fn edits(view: &View, range: Option<lsp::Range>, can: &Client) -> Vec<lsp::TextEdit> {
    let sheet = view.paper.sheet();
    let text = sheet.to_string();
    let within = range.map(|range| from_protocol::span(sheet, range, can.encoding));
    formatting::edits(&text, &recopy_file(&text, How::default()).text, within)
        .iter()
        .map(|edit| to_protocol::edit(sheet, edit, can.encoding))
        .collect()
}

/// The edits that lay the file out before it is saved. An empty line with blanks may hold the cursor, which would
/// lose its depth, so it stays as it is.
pub(in super::super) fn before_saving(view: &View, can: &Client) -> Vec<lsp::TextEdit> {
    let sheet = view.paper.sheet();
    let text = sheet.to_string();
    let mut recopied = recopy_file(&text, How::default()).text;
    let is_held = |line: &str| !line.is_empty() && line.trim_matches([' ', '\t']).is_empty();
    if let Some(last) = text.rsplit('\n').next().filter(|last| is_held(last))
        && !recopied.ends_with(last)
    {
        recopied.push_str(last);
    }
    formatting::edits(&text, &recopied, None)
        .iter()
        .filter(|edit| {
            let line = sheet.position(edit.span.start, can.encoding).line;
            !is_held(sheet.slice(sheet.line_span(line)).trim_end_matches(['\n', '\r']))
        })
        .map(|edit| to_protocol::edit(sheet, edit, can.encoding))
        .collect()
}

/// The edits in any of several stretches, each once.
pub(in super::super) fn in_ranges(view: &View, ranges: &[lsp::Range], can: &Client) -> Vec<lsp::TextEdit> {
    let sheet = view.paper.sheet();
    let text = sheet.to_string();
    let recopied = recopy_file(&text, How::default()).text;
    let mut all = Vec::new();
    for range in ranges {
        let within = from_protocol::span(sheet, *range, can.encoding);
        all.extend(formatting::edits(&text, &recopied, Some(within)));
    }
    all.sort_by_key(|edit| (edit.span.start, edit.span.end));
    all.dedup();
    all.iter()
        .map(|edit| to_protocol::edit(sheet, edit, can.encoding))
        .collect()
}

/// What is put right when a line is left, when a blank ends a word, or when a name is quoted.
pub(in super::super) fn typed(
    view: &View,
    at: lsp::Position,
    typed: &str,
    can: &Client,
) -> Vec<lsp::TextEdit> {
    let sheet = view.paper.sheet();
    let offset = from_protocol::offset(sheet, at, can.encoding);
    on_type::typed(&view.paper.cards, offset, typed)
        .iter()
        .map(|edit| to_protocol::edit(sheet, edit, can.encoding))
        .collect()
}
