//! Every line of a card in the one form: heads, fields, rows and remarks at their columns.

use super::values::{self, Read, cut_remarks, with_remarks};
use super::{field_line, head};
use crate::notation::fields::{self, FieldSpec, RowsOf, Shape};
use crate::notation::heard::Ear;
use crate::notation::of::Of;
use crate::notation::read::{Reading, field_of_row, is_group};
use crate::notation::remarks;
use crate::notation::rows;
use crate::notation::tree::{Field, LineKind, Row, Tree};
use crate::text::Span;

/// The card's lines without their endings, one for each line of its tree.
pub fn lines(text: &str, reading: &Reading, alone: &[usize]) -> Vec<String> {
    let tree = &reading.tree;
    let masked = remarks::blanked(text);
    let mut writer = Writer {
        text,
        masked: &masked,
        // What nobody writes anew stays as it stands, but for blanks at its end.
        out: tree
            .lines
            .iter()
            .map(|line| Span::new(line.span.start, line.body.end).slice(text))
            .map(|line| line.trim_start_matches('\u{feff}').to_owned())
            .collect(),
    };
    writer.frame(tree);
    for (index, field) in tree.fields.iter().enumerate() {
        // A field among rows stays where it is, words and all: by another of its names it could be a row.
        if alone.contains(&index) || field.among_rows {
            let indent = if field.among_rows { 4 } else { 2 };
            writer.alone(field.line, Span::new(field.word.start, field.value.end), indent);
            writer.rows_alone(&field.rows, indent + 2);
        } else {
            writer.field(field, 2);
        }
    }
    writer.out
}

struct Writer<'t> {
    text: &'t str,
    /// The text with remarks blanked; the same length.
    masked: &'t str,
    out: Vec<String>,
}

impl Writer<'_> {
    fn set(&mut self, line: usize, words: String) {
        if let Some(out) = self.out.get_mut(line) {
            *out = words;
        }
    }

    /// Heads, blank lines and remarks on lines of their own.
    fn frame(&mut self, tree: &Tree) {
        for (index, line) in tree.lines.iter().enumerate() {
            match line.kind {
                LineKind::Blank => self.set(index, String::new()),
                LineKind::Head => self.head(tree, index),
                LineKind::Remark => {
                    let above = tree.fields.iter().rfind(|field| field.line < index);
                    let indent = match above {
                        _ if line.indent == 0 => 0,
                        Some(field) if below(tree, field, line.indent) => 4,
                        _ => 2,
                    };
                    let body = line.body.slice(self.text);
                    self.set(index, format!("{}{body}", " ".repeat(indent)));
                }
                _ => {}
            }
        }
    }

    fn head(&mut self, tree: &Tree, index: usize) {
        let (Some(found), Some(line)) = (&tree.head, tree.lines.get(index)) else {
            return;
        };
        // A name whose closing quote is missing may hold words that are none of it.
        if !found.closed {
            return;
        }
        let mut rest = Span::new(found.name_span.end, line.body.end)
            .slice(self.text)
            .trim_start();
        if found.kind.is_named() {
            let mut chars = rest.chars();
            chars.next();
            rest = chars.as_str().trim_start();
        }
        let words = head(found.kind, &found.name);
        let gap = match found.rest {
            _ if rest.is_empty() => "",
            Some(_) => " ",
            None => "  ",
        };
        self.set(index, format!("{words}{gap}{rest}"));
    }

    /// A line laid out at its column with its words untouched.
    fn alone(&mut self, line: usize, body: Span, indent: usize) {
        let words = body.slice(self.text).trim_end();
        self.set(line, format!("{}{words}", " ".repeat(indent)));
    }

    fn rows_alone(&mut self, rows: &[Row], indent: usize) {
        for row in rows {
            self.alone(row.line, row.body, indent);
            self.rows_alone(&row.rows, indent + 2);
        }
    }

    fn field(&mut self, field: &Field, indent: usize) {
        let below = indent + 2;
        let Some(spec) = field.spec else {
            self.alone(
                field.line,
                Span::new(field.word.start, field.value.end.max(field.word.end)),
                indent,
            );
            self.rows_alone(&field.rows, below);
            return;
        };
        match spec.shape {
            // A row that stood without its table gets the table's word above it.
            Shape::Rows(of) if field.word.is_empty() && self.is_one_row(field, of) => {
                let whole = field.value;
                let (words, remarks) = cut_remarks(whole.slice(self.text), whole.slice(self.masked));
                let row = with_remarks(values::row_line(below, words, of), remarks);
                self.set(
                    field.line,
                    format!("{}\n{row}", field_line(indent, spec.name, "")),
                );
            }
            _ => {
                let value = self.field_value(field, spec);
                self.set(field.line, field_line(indent, spec.name, &value));
            }
        }
        match spec.shape {
            Shape::Running => self.text_lines(&field.rows, below),
            Shape::List(Of::Stet) => self.text_lines(&field.rows, below),
            Shape::List(of) => self.item_lines(&field.rows, below, Read::List(of)),
            Shape::Value(of) => self.item_lines(&field.rows, below, Read::Value(of)),
            Shape::Rows(of) => self.table(&field.rows, below, of),
            Shape::Block(specs) => self.block(&field.rows, below, specs),
        }
    }

    /// Whether one row of a table stands on the field's own line.
    fn is_one_row(&self, field: &Field, of: RowsOf) -> bool {
        rows::read(
            &mut Ear::default(),
            self.masked,
            field.value,
            field.line,
            of,
            true,
        )
        .len()
            == 1
    }

    /// What stands on the field's own line, remarks included.
    fn field_value(&self, field: &Field, spec: &FieldSpec) -> String {
        let whole = field.value.slice(self.text);
        let (words, remarks) = cut_remarks(whole, field.value.slice(self.masked));
        let form = match spec.shape {
            Shape::Running => return spaced(whole),
            Shape::List(Of::Stet) if field.rows.is_empty() => {
                return values::items_line_plain(whole, Of::Stet);
            }
            Shape::List(Of::Stet) => return spaced(whole),
            Shape::List(of) => values::items_line(words, Read::List(of)),
            Shape::Value(of) => values::items_line(words, Read::Value(of)),
            Shape::Rows(of) => values::inline_rows(words, of),
            Shape::Block(specs) => {
                let inside = inside(self.text, field, specs);
                match inside.spec {
                    Some(spec) if inside.word.is_empty() => {
                        return self.field_value(&inside, spec);
                    }
                    Some(spec) => {
                        return format!("{} {}", spec.name, self.field_value(&inside, spec))
                            .trim_end()
                            .to_owned();
                    }
                    None => words.to_owned(),
                }
            }
        };
        with_remarks(form, remarks)
    }

    fn text_lines(&mut self, rows: &[Row], indent: usize) {
        for row in rows {
            let words = spaced(row.body.slice(self.text));
            self.set(row.line, format!("{}{words}", " ".repeat(indent)));
            self.text_lines(&row.rows, indent + 2);
        }
    }

    fn item_lines(&mut self, rows: &[Row], indent: usize, read: Read) {
        for row in rows {
            let (words, remarks) = self.cut(row);
            let form = with_remarks(values::items_line(words, read), remarks);
            self.set(row.line, format!("{}{form}", " ".repeat(indent)));
            self.item_lines(&row.rows, indent + 2, read);
        }
    }

    fn table(&mut self, rows: &[Row], indent: usize, of: RowsOf) {
        for row in rows {
            let (words, remarks) = self.cut(row);
            let form = with_remarks(values::row_line(indent, words, of), remarks);
            let group = of == RowsOf::Program
                && rows::read(&mut Ear::default(), self.masked, row.body, row.line, of, false)
                    .last()
                    .is_some_and(is_group);
            self.set(row.line, form);
            match of {
                RowsOf::Movements => self.block(&row.rows, indent + 2, fields::movement_fields()),
                RowsOf::Program if group => self.table(&row.rows, indent + 2, of),
                _ => self.facts(&row.rows, indent + 2, of),
            }
        }
    }

    fn facts(&mut self, rows: &[Row], indent: usize, of: RowsOf) {
        for row in rows {
            let whole = row.body.slice(self.text);
            let form = if whole.starts_with("stet ") {
                format!("{}{}", " ".repeat(indent), spaced(whole))
            } else {
                let (words, remarks) = self.cut(row);
                with_remarks(values::facts_line(indent, words, of), remarks)
            };
            self.set(row.line, form);
            self.facts(&row.rows, indent + 2, of);
        }
    }

    fn block(&mut self, rows: &[Row], indent: usize, specs: &'static [FieldSpec]) {
        for row in rows {
            let field = field_of_row(self.text, row, specs);
            self.field(&field, indent);
        }
    }

    fn cut(&self, row: &Row) -> (&str, &str) {
        cut_remarks(row.body.slice(self.text), row.body.slice(self.masked))
    }
}

/// The field that stands on the line of the block it belongs to: `library place cabinet 3`, or without its word.
fn inside(text: &str, field: &Field, specs: &'static [FieldSpec]) -> Field {
    let row = Row {
        among_fields: false,
        line: field.line,
        body: field.value,
        rows: Vec::new(),
    };
    if fields::find(specs, field.value.slice(text)).is_some() {
        return field_of_row(text, &row, specs);
    }
    Field {
        word: Span::at(field.value.start),
        spec: specs.first(),
        rows: Vec::new(),
        ..field.clone()
    }
}

/// Whether a line so far indented stands under the field, where a remark may be moved with its rows.
fn below(tree: &Tree, field: &Field, indent: u32) -> bool {
    let deeper = tree
        .lines
        .get(field.line)
        .is_some_and(|line| indent > line.indent);
    let running = field.spec.is_some_and(|spec| spec.shape == Shape::Running);
    deeper && !running
}

/// Words with single blanks between them.
fn spaced(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}
