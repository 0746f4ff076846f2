//! From the protocol's types to ours.

use tower_lsp::gen_lsp_types as lsp;

use crate::text::{Encoding, Position, Sheet, Span};

/// A position in ours.
pub(super) fn position(position: lsp::Position) -> Position {
    Position::new(position.line, position.character)
}

/// The byte of a file that a position means; one that does not exist is moved back to the nearest that does.
pub(super) fn offset(sheet: &Sheet, at: lsp::Position, encoding: Encoding) -> u32 {
    sheet.offset(position(at), encoding)
}

/// The stretch between two positions, whichever comes first.
pub(super) fn span(sheet: &Sheet, range: lsp::Range, encoding: Encoding) -> Span {
    let start = offset(sheet, range.start, encoding);
    let end = offset(sheet, range.end, encoding);
    Span::new(start.min(end), start.max(end))
}
