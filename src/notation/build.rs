//! Reading the text of one entry into its tree. Never fails: what fits nowhere is kept as a stray line.

use crate::text::Span;

use super::fields::{self, FieldSpec, RowsOf, Shape};
use super::kind::Kind;
use super::names;
use super::scan;
use super::takers;
use super::tree::{Field, Head, Line, LineKind, Row, Stray, StrayWhy, Tree};

/// Reads one entry's text, as `split` cut it, into a tree.
pub fn build(text: &str) -> Tree {
    let mut builder = Builder {
        text,
        tree: Tree {
            head: None,
            lines: cut_lines(text),
            fields: Vec::new(),
            strays: Vec::new(),
        },
        open: Vec::new(),
        swallowing: false,
        table: 0,
        inner: None,
    };
    for index in 0..builder.tree.lines.len() {
        builder.line(index);
    }
    builder.tree
}

/// A field or row that deeper lines may still join: its indent and its place in the tree.
struct Open {
    indent: u32,
    running: bool,
    at_margin: bool,
}

struct Builder<'t> {
    text: &'t str,
    tree: Tree,
    /// The chain of open lines, outermost first; the first is a field, the rest rows below it.
    open: Vec<Open>,
    /// Whether indented lines belong to a card whose first line lost its quotation marks or its margin.
    swallowing: bool,
    /// The field that rows join, by its place in the tree.
    table: usize,
    /// A field among the rows of another: its indent and its place in the tree.
    inner: Option<(u32, usize)>,
}

impl Builder<'_> {
    fn line(&mut self, index: usize) {
        let Some(&line) = self.tree.lines.get(index) else {
            return;
        };
        let body = line.body.slice(self.text);
        let kind = if body.is_empty() {
            LineKind::Blank
        } else if line.indent == 0 && scan::is_conflict_mark(body) {
            self.stray(index, StrayWhy::Conflict)
        } else if line.indent == 0 {
            self.margin(index, body)
        } else {
            self.indented(index, body, line.indent)
        };
        if let Some(line) = self.tree.lines.get_mut(index) {
            line.kind = kind;
        }
    }

    fn margin(&mut self, index: usize, body: &str) -> LineKind {
        if (index == 0 || self.tree.head.is_none())
            && let Some(head) = self.head(index, body)
        {
            self.tree.head = Some(head);
            return LineKind::Head;
        }
        if is_remark(body) {
            return LineKind::Remark;
        }
        self.open.clear();
        self.swallowing = false;
        if let Ok((rest, kind)) = scan::kind_word(body)
            && kind.is_named()
            && !rest.trim().is_empty()
            && self.field_spec(body).is_none()
        {
            self.swallowing = true;
            return self.stray(index, StrayWhy::NameNotQuoted(kind));
        }
        // `peice "Fogbell"` was meant to start an entry, so what is indented under it is not the entry's above.
        self.swallowing = is_named_line(body) && self.field_spec(body).is_none();
        match self.tree.head {
            None => self.stray(index, StrayWhy::AboveFirst),
            Some(_) => match self.field_spec(body) {
                Some((spec, length)) => {
                    self.field(index, Some(spec), length, 0, true);
                    LineKind::Field
                }
                None => self.stray(index, StrayWhy::AtMargin),
            },
        }
    }

    fn indented(&mut self, index: usize, body: &str, indent: u32) -> LineKind {
        let running = self
            .open
            .first()
            .is_some_and(|open| open.running && open.indent < indent);
        if is_remark(body) && !running {
            return LineKind::Remark;
        }
        if self.swallowing {
            return LineKind::Deeper;
        }
        if self.tree.head.is_none() {
            return self.stray(index, StrayWhy::AboveFirst);
        }
        while self.open.last().is_some_and(|open| open.indent >= indent) {
            self.open.pop();
        }
        // A field at the margin is a slip of the hand: the fields after it are its neighbors, not its rows.
        let after_slip = self.open.len() == 1 && self.open.first().is_some_and(|open| open.at_margin);
        if after_slip && self.field_spec(body).is_some() {
            self.open.clear();
        }
        if self.open.is_empty() {
            let wordless = || takers::only(self.tree.kind()?, body);
            let named = self.field_spec(body);
            let named = named.or_else(|| wordless().map(|spec| (spec, 0)));
            match named {
                // `snare 1-40` beside its `percussion`: a row that slipped to the fields' column.
                Some((spec, 0)) if self.last_table_is(spec) => self.beside_its_table(index, indent),
                None if self.names_a_row(body) => self.beside_its_table(index, indent),
                Some((spec, length)) => self.field(index, Some(spec), length, indent, false),
                None => {
                    self.field(index, None, unknown_word(body), indent, false);
                    // `  piece "Fogbell"`: what follows is that card's and not this one's.
                    self.swallowing = starts_indented(body);
                }
            }
            return LineKind::Field;
        }
        match self.inner {
            // What stands deeper than a field among rows belongs to that field.
            Some((column, field)) if column < indent => {
                self.push_row(field, index, 1, false);
                return LineKind::Deeper;
            }
            _ => self.inner = None,
        }
        if let Some((spec, length)) = self.field_among_rows(body) {
            self.inner = Some((indent, self.tree.fields.len()));
            self.push_field(index, Some(spec), length, false, true);
            return LineKind::Deeper;
        }
        self.row(index, indent);
        LineKind::Deeper
    }

    /// The field of the card that a line names although it stands at the depth of a table's rows.
    fn field_among_rows(&self, body: &str) -> Option<(&'static FieldSpec, usize)> {
        if self.open.len() != 1 {
            return None;
        }
        let found = self.field_spec(body)?;
        let own = self.tree.fields.get(self.table)?.spec?;
        let inside = match own.shape {
            Shape::Rows(of) => {
                let group = of == RowsOf::Program && fields::starts_with_words(body, "for").is_some();
                group || names::known_prefix(body).is_some()
            }
            Shape::Block(specs) => fields::find(specs, body).is_some(),
            _ => true,
        };
        (!inside).then_some(found)
    }

    /// Whether a line at the fields' depth names an instrument, and the last field is a table of such.
    fn names_a_row(&self, body: &str) -> bool {
        let table = self.tree.fields.get(self.table).and_then(|field| field.spec);
        let of_instruments = matches!(
            table.map(|spec| spec.shape),
            Some(Shape::Rows(RowsOf::Parts | RowsOf::Percussion | RowsOf::Players))
        );
        let last = self.tree.fields.len().checked_sub(1) == Some(self.table);
        // `percussion 5` on a band is no player of the winds: the director's word for another line comes first.
        let elsewhere = |kind| !fields::meant::meant(kind, false, body).is_empty();
        of_instruments
            && last
            && names::known_prefix(body).is_some()
            && !self.tree.kind().is_some_and(elsewhere)
    }

    /// Hangs a row that stands at the fields' depth under the table above it.
    fn beside_its_table(&mut self, index: usize, indent: u32) {
        self.push_row(self.table, index, 1, true);
        self.open.push(Open {
            indent,
            running: false,
            at_margin: false,
        });
    }

    /// Whether the last field is this table, so that a line can be one more row of it.
    fn last_table_is(&self, spec: &FieldSpec) -> bool {
        let last = self.tree.fields.last().and_then(|field| field.spec);
        matches!(spec.shape, Shape::Rows(_)) && last == Some(spec)
    }

    fn field_spec(&self, body: &str) -> Option<(&'static FieldSpec, usize)> {
        let kind = self.tree.kind()?;
        fields::find(fields::fields_of(kind), body)
    }

    fn field(
        &mut self,
        index: usize,
        spec: Option<&'static FieldSpec>,
        length: usize,
        indent: u32,
        at_margin: bool,
    ) {
        self.table = self.tree.fields.len();
        self.inner = None;
        self.push_field(index, spec, length, at_margin, false);
        self.open.clear();
        self.open.push(Open {
            indent,
            running: spec.is_some_and(|spec| spec.shape == Shape::Running),
            at_margin,
        });
    }

    fn push_field(
        &mut self,
        index: usize,
        spec: Option<&'static FieldSpec>,
        length: usize,
        at_margin: bool,
        among_rows: bool,
    ) {
        let Some(line) = self.tree.lines.get(index) else {
            return;
        };
        let word = Span::long(line.body.start, length as u32);
        let after = Span::new(word.end, line.body.end);
        self.tree.fields.push(Field {
            line: index,
            word,
            spec,
            value: trim_value(self.text, after),
            rows: Vec::new(),
            at_margin,
            among_rows,
        });
    }

    /// Hangs a line under a field at a depth.
    fn push_row(&mut self, field: usize, index: usize, depth: usize, among_fields: bool) {
        let Some(line) = self.tree.lines.get(index) else {
            return;
        };
        let row = Row {
            line: index,
            body: line.body,
            rows: Vec::new(),
            among_fields,
        };
        if let Some(field) = self.tree.fields.get_mut(field) {
            push_at(&mut field.rows, depth, row);
        }
    }

    fn row(&mut self, index: usize, indent: u32) {
        let running = self.open.first().is_some_and(|open| open.running);
        // In running text every deeper line is one more line of the paragraph, however deep.
        let depth = if running { 1 } else { self.open.len() };
        self.push_row(self.table, index, depth, false);
        // A chain deeper than anybody writes would make every later walk deep; it stays flat instead.
        if !running && self.open.len() < 8 {
            self.open.push(Open {
                indent,
                running: false,
                at_margin: false,
            });
        }
    }

    fn stray(&mut self, index: usize, why: StrayWhy) -> LineKind {
        if let Some(line) = self.tree.lines.get(index) {
            self.tree.strays.push(Stray {
                line: index,
                body: line.body,
                why,
            });
        }
        LineKind::Stray
    }

    fn head(&self, index: usize, body: &str) -> Option<Head> {
        let kind = scan::head_word(body)?;
        let start = self.tree.lines.get(index)?.body.start;
        let kind_span = Span::long(start, kind.word().len() as u32);
        let after = body.get(kind.word().len()..)?;
        let mut head = Head {
            kind,
            kind_span,
            name: String::new(),
            name_span: Span::new(kind_span.end, kind_span.end),
            closed: true,
            rest: None,
        };
        let mut rest = after;
        if kind.is_named() {
            let (quote, _) = scan::blanks(after).ok()?;
            let opening = quote.chars().next()?.len_utf8();
            let (tail, _) = scan::quoted(quote).ok()?;
            let written = quote.get(..quote.len() - tail.len())?;
            head.closed = written.len() > opening && written.ends_with(scan::is_quote);
            let closing = if head.closed {
                written.chars().next_back()?.len_utf8()
            } else {
                0
            };
            let inside = written.get(opening..written.len() - closing)?;
            let inner = start + (body.len() - quote.len() + opening) as u32;
            head.name_span = trim_span(self.text, Span::long(inner, inside.len() as u32));
            head.name = head.name_span.slice(self.text).to_owned();
            rest = tail;
        }
        let rest_span = Span::new(
            start + (body.len() - rest.len()) as u32,
            start + body.len() as u32,
        );
        let trimmed = trim_span(self.text, rest_span);
        if !trimmed.is_empty() && !is_remark(trimmed.slice(self.text)) {
            head.rest = Some(trimmed);
        }
        Some(head)
    }
}

/// Whether a line is one word and a quoted name, as the head of an entry is.
fn is_named_line(body: &str) -> bool {
    let Some((word, name)) = body.split_once(scan::is_blank) else {
        return false;
    };
    let name = name.trim_start();
    word.chars().all(char::is_alphabetic)
        && name.starts_with(scan::is_quote)
        && scan::quoted(name).is_ok_and(|(rest, _)| rest.trim().is_empty() || is_remark(rest.trim()))
}

/// Hangs a row at a depth: 1 is under the field itself, 2 under its last row, and so on.
fn push_at(rows: &mut Vec<Row>, depth: usize, row: Row) {
    if depth > 1
        && let Some(last) = rows.last_mut()
    {
        push_at(&mut last.rows, depth - 1, row);
        return;
    }
    rows.push(row);
}

/// The length of the words that an unknown field seems to have: up to a wide gap, else the first word.
pub fn unknown_word(body: &str) -> usize {
    let first = body.find(scan::is_blank).unwrap_or(body.len());
    match (body.find("  "), body.find('\t')) {
        (Some(gap), Some(tab)) => short_or(body, gap.min(tab), first),
        (Some(gap), None) | (None, Some(gap)) => short_or(body, gap, first),
        (None, None) => first,
    }
}

/// A field's words are one or two; a wide gap after more than two words is no column.
fn short_or(body: &str, gap: usize, first: usize) -> usize {
    let words = body.get(..gap).unwrap_or("").trim_end();
    match words.split_whitespace().count() {
        1 | 2 => words.len(),
        _ => first,
    }
}

/// Trims blanks, and a colon or equals sign that some people put after a field's words.
pub(super) fn trim_value(text: &str, span: Span) -> Span {
    let trimmed = trim_span(text, span);
    match trimmed.slice(text).strip_prefix(':') {
        Some(_) => trim_span(text, Span::new(trimmed.start + 1, trimmed.end)),
        None => trimmed,
    }
}

/// A span without the blanks at its ends.
pub fn trim_span(text: &str, span: Span) -> Span {
    // The end goes first, so that blanks alone leave an empty place where a word would have started.
    let kept = span.slice(text).trim_end();
    let words = kept.trim_start();
    Span::long(span.start + (kept.len() - words.len()) as u32, words.len() as u32)
}

/// Whether a trimmed line is nothing but remarks in parentheses.
pub fn is_remark(body: &str) -> bool {
    if !body.starts_with('(') {
        return false;
    }
    let mut depth = 0usize;
    for c in body.chars() {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ if depth == 0 && !scan::is_blank(c) => return false,
            _ => {}
        }
    }
    true
}

fn cut_lines(text: &str) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut start = 0usize;
    let bytes = text.as_bytes();
    let mut at = 0usize;
    while at < bytes.len() {
        let ending = match bytes.get(at) {
            Some(b'\n') => 1,
            Some(b'\r') if bytes.get(at + 1) == Some(&b'\n') => 2,
            Some(b'\r') => 1,
            _ => {
                at += 1;
                continue;
            }
        };
        lines.push(line(text, start, at, at + ending));
        at += ending;
        start = at;
    }
    if start < text.len() {
        lines.push(line(text, start, text.len(), text.len()));
    }
    lines
}

fn line(text: &str, start: usize, content_end: usize, end: usize) -> Line {
    let content = text.get(start..content_end).unwrap_or("");
    let content = if start == 0 {
        content.trim_start_matches('\u{feff}')
    } else {
        content
    };
    let start_of_content = content_end - content.len();
    let trimmed = content.trim_start_matches(scan::is_blank);
    let indent = content
        .chars()
        .take_while(|c| scan::is_blank(*c))
        .fold(0u32, |column, c| {
            if c == '\t' {
                (column / 4 + 1).saturating_mul(4)
            } else {
                column.saturating_add(1)
            }
        });
    let body_start = start_of_content + (content.len() - trimmed.len());
    Line {
        span: Span::new(start as u32, end as u32),
        body: Span::long(body_start as u32, trimmed.trim_end().len() as u32),
        indent,
        kind: LineKind::Blank,
    }
}

/// Where the entries of a file start, in bytes; the text before the first is an entry without a head.
///
/// The first start is always 0, so the pieces between starts are the whole file.
pub fn split(text: &str) -> Vec<usize> {
    let mut starts = vec![0];
    let mut at = 0usize;
    for piece in text.split_inclusive(['\n', '\r']) {
        let line = if at == 0 {
            piece.trim_start_matches('\u{feff}')
        } else {
            piece
        };
        if at > 0 && starts_entry(line) {
            starts.push(at);
        }
        at += piece.len();
    }
    starts
}

/// Whether a line starts an entry: a kind at the margin and its quoted name, or `handbook` alone.
pub fn starts_entry(line: &str) -> bool {
    scan::head_word(line).is_some()
}

/// Whether a line without its blanks is a kind and a quoted name and nothing else: the start of an entry that
/// slipped from the margin.
pub fn starts_indented(line: &str) -> bool {
    let Ok((rest, kind)) = scan::kind_word(line) else {
        return false;
    };
    let name = rest.trim_start_matches(scan::is_blank);
    let Ok((behind, inside)) = scan::quoted(name) else {
        return false;
    };
    let closed = name.len() > behind.len() + inside.len() + 1;
    let behind = behind.trim();
    kind.is_named() && closed && !inside.is_empty() && (behind.is_empty() || is_remark(behind))
}

/// The kind that an entry's text starts with, without reading the rest.
pub fn kind_of(text: &str) -> Option<Kind> {
    scan::head_word(text.trim_start_matches('\u{feff}'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_under_a_head_with_blanks_before_it_are_not_the_entrys_above() {
        let text = "piece \"Rag\"\n  bars 40\n  piece \"Fogbell\"\n    bars 60\n  style novelty\nstyle rag\n";
        let tree = build(text);
        let words: Vec<&str> = tree.fields.iter().map(|field| field.word.slice(text)).collect();
        assert_eq!(words, ["bars", "piece", "style"]);
        let concert = "concert \"Spring\"\n  program\n    piece \"Rag\"\n    piece \"Fogbell\"\n  hall gym\n";
        assert_eq!(build(concert).fields.len(), 2, "rows of a table stay its rows");
    }

    #[test]
    fn lines_under_a_misspelled_head_are_not_the_entrys_above() {
        let text = "piece \"Rag\"\n  style rag\npeice \"Fogbell\"\n  style novelty\n  bars 40\n";
        let tree = build(text);
        assert_eq!(tree.fields.len(), 1, "{:?}", tree.fields);
        assert_eq!(tree.strays.len(), 1);
        let field_at_margin = build("piece \"Rag\"\nperformed \"Band\"\n  bars 40\n");
        assert_eq!(field_at_margin.fields.len(), 2);
    }
}
