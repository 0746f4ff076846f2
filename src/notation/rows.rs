//! Reading rows of tables: where a name ends, what numbers mean, which names share facts.

mod behind;
mod kettles;
mod names_of;
mod order;
mod players;
mod section;
mod table;
mod which;

pub use table::is_one_measure;

use super::build::trim_span;
use super::fields::RowsOf;
use super::heard::{Ear, Expected};
use super::pieces::split_commas;
use super::row::RowItem;
use super::scan;
use crate::text::Span;

/// Reads the rows that stand in `span`: one or more for a deeper line, one or more for the field's own line.
pub fn read(ear: &mut Ear, masked: &str, span: Span, line: usize, of: RowsOf, inline: bool) -> Vec<RowItem> {
    let span = trim_span(masked, span);
    if span.is_empty() {
        return Vec::new();
    }
    ear.listen(span, Expected::Row(of));
    let mark = ear.mark();
    let mut rows = match of {
        RowsOf::Program => order::program(ear, masked, span, line, inline),
        RowsOf::Movements => order::movements(ear, masked, span, line, inline),
        RowsOf::Seats => players::rows_of_chairs(ear, masked, span, line),
        RowsOf::Percussionists => players::percussionists(ear, masked, span, line),
        _ => table::read(ear, masked, span, line, of, inline),
    };
    if let [row] = rows.as_mut_slice() {
        row.partial = !ear.understood(mark, masked, row.span);
        return rows;
    }
    let understood = ear.since(mark);
    for row in &mut rows {
        row.partial = !understood.all(masked, row.span);
    }
    rows
}

/// The segments between commas, trimmed, empty ones left out.
fn segments(masked: &str, span: Span) -> Vec<Span> {
    split_commas(span.slice(masked))
        .into_iter()
        .map(|(offset, piece)| trim_span(masked, Span::long(span.start + offset as u32, piece.len() as u32)))
        .filter(|segment| !segment.is_empty())
        .collect()
}

fn empty_row(span: Span, line: usize) -> RowItem {
    RowItem {
        span,
        line,
        names: Vec::new(),
        count: None,
        facts: Vec::new(),
        partial: false,
    }
}

/// A stretch without a colon, dash or bullet at its start, which some people put after a name.
fn after_colon(masked: &str, span: Span) -> Span {
    let slice = span.slice(masked);
    let trimmed =
        slice.trim_start_matches(|c: char| scan::is_blank(c) || matches!(c, ':' | '–' | '—' | '-' | '='));
    // `= horn` is a relation, and a dash before a figure may be a slip for a range.
    let keeps = slice.trim_start().starts_with('=');
    let cut = if keeps { 0 } else { slice.len() - trimmed.len() };
    trim_span(masked, Span::new(span.start + cut as u32, span.end))
}
