//! What a line that is being written can still become. A line in the making is often not yet a field or
//! a row, so this looks at words and indents rather than at the finished reading.

use crate::notation::Kind;
use crate::notation::fields::{self, FieldSpec, RowsOf, Shape};
use crate::notation::tree::{LineKind, Tree};
use crate::text::Span;

/// What stands before the cursor on its line, and what the line hangs under.
#[derive(Debug, Clone, PartialEq)]
pub enum Here {
    /// At the margin: a card's kind. The span is the word so far.
    Margin(Span),
    /// At the margin, behind a kind and an opening quotation mark. The span is the line so far.
    Name(Kind, Span),
    /// A field's word is to be written, one of these. The span is the words so far.
    FieldWord(&'static [FieldSpec], Span),
    /// A value of a field. The span runs from the value's start to the cursor.
    Value(&'static FieldSpec, Span),
    /// A row of a table on a line of its own. The span runs from the row's start to the cursor.
    Row(RowsOf, Span),
    /// Facts under a row.
    Facts(RowsOf, Span),
}

/// Looks at the line of `offset` in a card's text.
pub fn here(kind: Option<Kind>, tree: &Tree, text: &str, offset: u32) -> Option<Here> {
    let index = tree.line_at(offset)?;
    let line = tree.lines.get(index)?;
    if offset >= line.span.end && line.span.slice(text).ends_with(['\n', '\r']) {
        // Behind the last line's break a new line begins that the tree does not know yet.
        return Some(Here::Margin(Span::at(offset)));
    }
    let start = if line.body.is_empty() {
        line.body.start.max(line.span.start)
    } else {
        line.body.start
    };
    let before = Span::new(line.span.start, offset).slice(text);
    let blank = before.len() - before.trim_start_matches([' ', '\t']).len();
    let from = line.span.start.saturating_add(u32::try_from(blank).unwrap_or(0));
    let written = Span::new(from.min(offset.max(start)), offset);
    if blank == 0 {
        // Behind a kind comes a name, which only the director knows.
        let first = written.slice(text);
        if !first.contains([' ', '\t', '"', '“']) {
            return Some(Here::Margin(written));
        }
        let (word, rest) = first.split_once([' ', '\t'])?;
        let kind = Kind::of_word(word).filter(|kind| kind.is_named())?;
        let after = Span::new(offset, line.body.end.max(offset)).slice(text);
        let is_new = matches!(rest.trim_start(), "\"" | "“") && matches!(after, "" | "\"" | "”");
        return is_new.then_some(Here::Name(kind, written));
    }
    let specs = fields::fields_of(kind?);
    let indent = columns(before.get(..blank).unwrap_or(""));
    let mut chain = parents(tree, index, indent);
    let Some(field_line) = chain.pop() else {
        return Some(of_fields(specs, written, text));
    };
    let field = tree.fields.iter().find(|field| field.line == field_line)?;
    let spec = field.spec?;
    match spec.shape {
        Shape::Running => None,
        Shape::List(_) | Shape::Value(_) => Some(Here::Value(spec, written)),
        Shape::Block(inside) => match chain.pop() {
            None => Some(of_fields(inside, written, text)),
            Some(line) => {
                let words = tree.lines.get(line)?.body.slice(text);
                let (inner, _) = fields::find(inside, words)?;
                Some(Here::Value(inner, written))
            }
        },
        Shape::Rows(RowsOf::Movements) if !chain.is_empty() => {
            Some(of_fields(fields::movement_fields(), written, text))
        }
        Shape::Rows(of) if chain.is_empty() => Some(Here::Row(of, written)),
        Shape::Rows(of) => Some(Here::Facts(of, written)),
    }
}

/// A line that is a field of these: its word, or its value when the word is finished.
fn of_fields(specs: &'static [FieldSpec], written: Span, text: &str) -> Here {
    let words = written.slice(text);
    match fields::find(specs, words) {
        Some((spec, length)) if words.len() > length => {
            let rest = words.get(length..).unwrap_or("");
            let blanks = rest.len() - rest.trim_start_matches([' ', '\t']).len();
            let skip = u32::try_from(length.saturating_add(blanks)).unwrap_or(0);
            let value = Span::new(written.start.saturating_add(skip).min(written.end), written.end);
            match spec.shape {
                Shape::Rows(of) => Here::Row(of, value),
                Shape::Block(inside) => of_fields(inside, value, text),
                _ => Here::Value(spec, value),
            }
        }
        _ => Here::FieldWord(specs, written),
    }
}

/// The lines that a line with this indent hangs under, the innermost first, the head not among them.
fn parents(tree: &Tree, index: usize, indent: u32) -> Vec<usize> {
    let mut found = Vec::new();
    let mut least = indent;
    for (number, line) in tree.lines.iter().enumerate().take(index).rev() {
        match line.kind {
            LineKind::Head => break,
            LineKind::Field | LineKind::Deeper if line.indent < least => {
                found.push(number);
                least = line.indent;
                if line.kind == LineKind::Field {
                    break;
                }
            }
            _ => {}
        }
    }
    found
}

/// How far blanks indent: a tab goes to the next multiple of four.
fn columns(blanks: &str) -> u32 {
    blanks.chars().fold(0u32, |at, c| match c {
        '\t' => (at / 4).saturating_add(1).saturating_mul(4),
        _ => at.saturating_add(1),
    })
}
