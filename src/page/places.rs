//! Between bytes of a file and the lines and columns of the page.

use serde_json::Value;

use crate::assist::Target;
use crate::text::{Edit, Encoding, Position, Sheet, Span};

use super::answer::{Said, answer};
use super::question::{At, Range};
use super::shelf::Page;

const UNITS: Encoding = Encoding::Utf16;

/// The byte of a place.
pub(super) fn offset(sheet: &Sheet, at: At) -> u32 {
    sheet.offset(Position::new(at[0], at[1]), UNITS)
}

/// The bytes of a stretch.
pub(super) fn span(sheet: &Sheet, range: Range) -> Span {
    let [from_line, from, to_line, to] = range;
    Span::new(offset(sheet, [from_line, from]), offset(sheet, [to_line, to]))
}

/// The place of a byte.
pub(super) fn at(sheet: &Sheet, offset: u32) -> At {
    let position = sheet.position(offset, UNITS);
    [position.line, position.column]
}

/// The stretch of a span.
pub(super) fn range(sheet: &Sheet, span: Span) -> Range {
    let ([from_line, from], [to_line, to]) = (at(sheet, span.start), at(sheet, span.end));
    [from_line, from, to_line, to]
}

/// Edits of a file.
pub(super) fn edits(sheet: &Sheet, edits: &[Edit]) -> Value {
    let edits: Vec<Value> = edits
        .iter()
        .map(|edit| answer!("at": range(sheet, edit.span), "text": &edit.text))
        .collect();
    edits.said()
}

/// A place on a card, with its file.
pub(super) fn target(page: &Page, target: Target) -> Option<Value> {
    let (name, paper) = page.paper(target.id.file as usize)?;
    let span = paper.cards.in_file(target.id.entry as usize, target.span);
    Some(answer!("file": name, "at": range(&paper.sheet, span)))
}
