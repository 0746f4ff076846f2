//! Laying a file, or a stretch of it, out in the one form.

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::formatting;
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
