//! A card as lines with what they say: which hang under which, what each is found again by, and the parts it can
//! be put together from.

use std::collections::BTreeMap;

use crate::catalogue::names::key as name_key;
use crate::notation::fields::{FieldSpec, RowsOf, Shape};
use crate::notation::row::RowItem;
use crate::notation::tree::{LineKind, Row, Tree};
use crate::notation::{self, Body, FieldReading, Of, Reading, items, remarks};
use crate::text::Span;

use super::keys::{self, single};

/// A card in lines.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outline {
    /// The line that starts it; none above the first card of a file.
    pub head: Option<Line>,
    /// Its lines; those that hang under another are in that one.
    pub lines: Vec<Line>,
    /// Whether it holds lines that stand where they should not, so that only line by line can be said what it says.
    pub rough: bool,
    /// Blank lines at its end.
    pub blank_end: u32,
}

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The line that starts a card.
    Head,
    /// A field.
    Field,
    /// A row of a table, or a line of items or facts below another.
    Row,
    /// A line of running text.
    Words,
    /// A remark on a line of its own.
    Remark,
    /// A line of a card that is rough.
    Loose,
}

/// One line, with the lines that hang under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is.
    pub role: Role,
    /// What it is found again by among its neighbors.
    pub key: String,
    /// Blank lines above it.
    pub gap: u32,
    /// What is written, without its ending.
    pub text: String,
    /// What stands before the first part: the indent, and the words of a field.
    pub lead: String,
    /// What it says, part by part.
    pub parts: Vec<Part>,
    /// Whether the parts and commas are all there is, so that the line can be put together from parts.
    pub whole: bool,
    /// Whether the order of its parts counts: stages of a value.
    pub stages: bool,
    /// Whether the order of the lines below counts: a program, movements, rows of chairs, running text.
    pub ordered: bool,
    /// Whether a card may have several such lines that say different things.
    pub repeats: bool,
    /// The lines below.
    pub below: Vec<Line>,
}

/// A part of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// What it is.
    pub kind: PartKind,
    /// What it is found again by.
    pub key: String,
    /// What it says, in the one form where it was understood.
    pub says: String,
    /// As it is written.
    pub text: String,
    /// The measure from which it holds, for stages.
    pub measure: Option<u32>,
}

/// What a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartKind {
    /// The name of a row or of a card.
    Name,
    /// An item, a stage, a fact, or words.
    Said,
    /// A remark.
    Remark,
}

impl Line {
    /// What the line says by itself.
    pub fn own(&self) -> String {
        let mut own = format!("{}\u{1}", self.key);
        for part in &self.parts {
            own.push_str(&part.says);
            own.push('\u{2}');
        }
        own
    }

    /// What the line and those below it say, however they are laid out.
    pub fn says(&self) -> String {
        let mut says = self.own();
        for line in &self.below {
            says.push('\u{3}');
            // A blank line parts two paragraphs.
            if line.role == Role::Words && line.gap > 0 {
                says.push('\u{4}');
            }
            says.push_str(&line.says());
            says.push('\u{5}');
        }
        says
    }

    /// The line and those below it as they are written, blank lines between them included.
    pub fn written(&self, out: &mut Vec<String>) {
        out.extend((0..self.gap).map(|_| String::new()));
        out.push(self.text.clone());
        for line in &self.below {
            line.written(out);
        }
    }

    fn indent(&self) -> &str {
        let words = self.text.trim_start();
        self.text.strip_suffix(words).unwrap_or("")
    }

    fn columns(&self, depth: usize, columns: &mut Vec<String>) {
        if columns.len() == depth && self.role != Role::Remark {
            columns.push(self.indent().to_owned());
        }
        self.below
            .iter()
            .for_each(|line| line.columns(depth + 1, columns));
    }

    fn move_to(&mut self, depth: usize, columns: &[String]) {
        let column = match columns.get(depth) {
            Some(column) => column.clone(),
            None => match columns.last() {
                Some(last) => format!("{last}{}", "  ".repeat(depth + 1 - columns.len())),
                None => return,
            },
        };
        let words = self.text.trim_start();
        if self.lead.len() >= self.indent().len() {
            let lead = self.lead.get(self.indent().len()..).unwrap_or("");
            self.lead = format!("{column}{lead}");
        }
        self.text = format!("{column}{words}");
        self.below
            .iter_mut()
            .for_each(|line| line.move_to(depth + 1, columns));
    }

    /// Whether the words below go to the end of a paragraph.
    pub fn is_running(&self) -> bool {
        self.below.iter().any(|line| line.role == Role::Words)
    }
}

impl Outline {
    /// Reads the text of one card.
    pub fn of(text: &str) -> Outline {
        let reading = notation::read(text);
        let mut sorter = Sorter {
            text,
            reading: &reading,
            found: BTreeMap::new(),
            notes: Vec::new(),
        };
        sorter.fields(&reading.fields);
        sorter.outline()
    }

    /// What the card says, however it is laid out.
    pub fn says(&self) -> String {
        let mut says = self.head.as_ref().map(Line::own).unwrap_or_default();
        for line in &self.lines {
            says.push_str(&line.says());
            says.push('\u{6}');
        }
        says
    }

    /// Its lines as they are written, without the head and the blank lines at the end.
    pub fn written(&self) -> Vec<String> {
        let mut out = Vec::new();
        for line in &self.lines {
            line.written(&mut out);
        }
        out
    }

    /// How far lines are indented, by how deep they hang: the first of each depth.
    pub fn columns(&self) -> Vec<String> {
        let mut columns = Vec::new();
        self.lines.iter().for_each(|line| line.columns(0, &mut columns));
        columns
    }

    /// The same card with its lines at other columns, so that lines of two writings can stand on one card.
    pub fn at_columns(mut self, columns: &[String]) -> Outline {
        self.lines.iter_mut().for_each(|line| line.move_to(0, columns));
        self
    }

    /// The same card as one line after another, with nothing hanging under anything.
    pub fn flat(mut self) -> Outline {
        let mut flat = Vec::new();
        for line in std::mem::take(&mut self.lines) {
            flatten(line, &mut flat);
        }
        self.lines = flat;
        self.rough = true;
        self
    }
}

fn flatten(mut line: Line, out: &mut Vec<Line>) {
    let below = std::mem::take(&mut line.below);
    let words = single(&line.text);
    out.push(Line {
        role: Role::Loose,
        key: words.clone(),
        parts: vec![Part::words(&words)],
        whole: false,
        stages: false,
        ordered: true,
        repeats: true,
        ..line
    });
    for line in below {
        flatten(line, out);
    }
}

impl Part {
    fn words(words: &str) -> Part {
        Part {
            kind: PartKind::Said,
            key: String::new(),
            says: words.to_owned(),
            text: words.to_owned(),
            measure: None,
        }
    }
}

/// What was read of one line.
struct Found {
    role: Role,
    key: String,
    /// Where its value starts; its indent and the words of a field are before it.
    start: u32,
    parts: Vec<(Span, Part)>,
    stages: bool,
    ordered: bool,
    repeats: bool,
}

struct Sorter<'t> {
    text: &'t str,
    reading: &'t Reading,
    found: BTreeMap<usize, Found>,
    /// The remarks of the card.
    notes: Vec<Span>,
}

impl Sorter<'_> {
    fn fields(&mut self, fields: &[FieldReading]) {
        for field in fields {
            self.field(field);
        }
    }

    fn field(&mut self, field: &FieldReading) {
        let spec = field.spec;
        let shape = spec.map(|spec| spec.shape);
        let key = match spec {
            Some(spec) => spec.name.to_owned(),
            // How many words a field of nobody's has hangs on the blanks, and those must not count.
            None => {
                let words = field.word.slice(self.text).split_whitespace();
                words.take(1).map(name_key).collect()
            }
        };
        let stages = matches!(shape, Some(Shape::Value(_)));
        self.found.insert(
            field.line,
            Found {
                role: Role::Field,
                key,
                start: if spec.is_some() {
                    field.word.end
                } else {
                    field.word.start
                },
                parts: Vec::new(),
                stages,
                ordered: spec.is_some_and(is_ordered),
                repeats: spec.is_some_and(repeats),
            },
        );
        match &field.body {
            // A reason goes to the end of its paragraph, so it stays as it is written.
            Body::Items(_) if matches!(shape, Some(Shape::List(Of::Stet))) => {}
            Body::Items(items) => {
                for item in items {
                    self.put(item.span, item_part(self.text, item, stages));
                }
            }
            Body::Rows(rows) => {
                for table_row in rows {
                    let row = &table_row.row;
                    let alone = rows.iter().filter(|other| other.row.line == row.line).count() == 1;
                    self.row(row, row.line == field.line || !alone);
                    self.fields(&table_row.fields);
                }
            }
            Body::Block(inside) => {
                for field in inside {
                    if !self.found.contains_key(&field.line) {
                        self.field(field);
                    }
                }
            }
            Body::Running(..) | Body::Unknown => {}
        }
    }

    /// A row of a table: a line of its own with its name and its facts, or one part of a line.
    fn row(&mut self, row: &RowItem, part: bool) {
        let text = self.text;
        let name = keys::row_name(text, row);
        if part {
            let says = row_says(text, row);
            self.put(row.span, said(name_key(&name), says));
            return;
        }
        let own = self.line_of(row.span.start);
        let key = name_key(&name);
        self.found.insert(row.line, Found::row(key, row.span.start));
        if let Some(span) = keys::name_span(row) {
            let names: Vec<String> = row.names.iter().map(|name| name.one_form()).collect();
            let says = match keys::title(row) {
                Some(title) => title.to_string(),
                None => names.join(", "),
            };
            let part = Part {
                kind: PartKind::Name,
                ..said("name".to_owned(), says)
            };
            self.put(span, part);
        }
        if let Some(count) = row.count {
            self.put(count.span, said("count".to_owned(), count.to_string()));
        }
        let titled = usize::from(keys::title(row).is_some());
        for fact in row.facts.iter().skip(titled) {
            // Facts may stand on deeper lines, which are rows without a name.
            let at = self.line_of(fact.span.start);
            if at != own
                && let Some(line) = at
            {
                let start = self.body_of(line).start;
                self.found
                    .entry(line)
                    .or_insert_with(|| Found::row(String::new(), start));
            }
            let is_stet = matches!(fact.what, notation::row::Fact::Stet(_));
            if at == own || !is_stet {
                self.put(fact.span, said(keys::fact_key(fact), fact.to_string()));
            }
        }
    }

    /// Puts a part on the line it stands on. Several things said by the same words are one part.
    fn put(&mut self, span: Span, mut part: Part) {
        let Some(line) = self.line_of(span.start) else {
            return;
        };
        let start = self.body_of(line).start;
        let found = self
            .found
            .entry(line)
            .or_insert_with(|| Found::row(String::new(), start));
        part.text = span.slice(self.text).to_owned();
        match found.parts.iter_mut().find(|(other, _)| *other == span) {
            Some((_, other)) => {
                other.says.push_str(", ");
                other.says.push_str(&part.says);
            }
            None => found.parts.push((span, part)),
        }
    }

    fn line_of(&self, offset: u32) -> Option<usize> {
        self.reading.tree.line_at(offset)
    }

    fn body_of(&self, line: usize) -> Span {
        let line = self.reading.tree.lines.get(line);
        line.map_or(Span::new(0, 0), |line| line.body)
    }

    fn outline(mut self) -> Outline {
        let tree = &self.reading.tree;
        self.notes = remarks::remarks(self.text)
            .into_iter()
            .map(|(start, end)| Span::new(start as u32, end as u32))
            .collect();
        let (depths, running) = depths(tree);
        let rough = is_rough(tree, &depths);
        let mut flat: Vec<(usize, Line)> = Vec::new();
        let mut head = None;
        let mut gap = 0;
        for (index, line) in tree.lines.iter().enumerate() {
            if line.kind == LineKind::Blank {
                gap += 1;
                continue;
            }
            let depth = depths.get(&index).copied();
            let read = match line.kind {
                LineKind::Head => self.head(index, gap),
                _ if running.contains(&index) => self.words(index, gap),
                LineKind::Remark | LineKind::Stray => self.remark(index, gap),
                _ => self.line(index, gap),
            };
            gap = 0;
            match line.kind {
                LineKind::Head => head = Some(read),
                _ => flat.push((depth.unwrap_or(0), read)),
            }
        }
        let mut rest = flat.into_iter().peekable();
        let outline = Outline {
            head,
            lines: nest(&mut rest, 0),
            rough,
            blank_end: gap,
        };
        match rough {
            true => outline.flat(),
            false => outline,
        }
    }

    fn written(&self, index: usize) -> String {
        let line = self.reading.tree.lines.get(index);
        let words = line.map_or("", |line| line.span.slice(self.text));
        words.trim_end_matches(['\r', '\n']).to_owned()
    }

    fn head(&self, index: usize, gap: u32) -> Line {
        let mut line = self.words(index, gap);
        line.role = Role::Head;
        line.key = String::new();
        if let Some(head) = &self.reading.tree.head {
            let behind = Span::new(head.name_span.end, self.body_of(index).end).slice(self.text);
            let behind = behind.trim_start_matches(['"', '”', '“']);
            let says = format!("{} {} {}", head.kind, head.name, single(behind));
            line.parts = vec![said(String::new(), says)];
        }
        line
    }

    /// A line of running text, or one that is taken as it is written.
    fn words(&self, index: usize, gap: u32) -> Line {
        let words = single(self.body_of(index).slice(self.text));
        Line {
            role: Role::Words,
            key: words.clone(),
            gap,
            text: self.written(index),
            lead: String::new(),
            parts: vec![Part::words(&words)],
            whole: false,
            stages: false,
            ordered: true,
            repeats: true,
            below: Vec::new(),
        }
    }

    fn remark(&self, index: usize, gap: u32) -> Line {
        Line {
            role: Role::Remark,
            ..self.words(index, gap)
        }
    }

    fn line(&self, index: usize, gap: u32) -> Line {
        let body = self.body_of(index);
        let Some(found) = self.found.get(&index) else {
            // Nobody read it: rows of a field that the card does not have, reasons, and what hangs too deep.
            return Line {
                role: Role::Row,
                ..self.words(index, gap)
            };
        };
        let value = Span::new(found.start.clamp(body.start, body.end), body.end);
        let (parts, whole) = self.parts(found, value);
        let start = self
            .reading
            .tree
            .lines
            .get(index)
            .map_or(body.start, |line| line.span.start);
        let first = found.parts.iter().map(|(span, _)| span.start).min();
        let lead = Span::new(start, first.unwrap_or(body.end).max(value.start)).slice(self.text);
        Line {
            role: found.role,
            key: found.key.clone(),
            gap,
            text: self.written(index),
            lead: lead.to_owned(),
            parts,
            whole,
            stages: found.stages,
            ordered: found.ordered,
            repeats: found.repeats,
            below: Vec::new(),
        }
    }

    /// The parts of a line in their order, and whether they are all there is on it.
    fn parts(&self, found: &Found, value: Span) -> (Vec<Part>, bool) {
        let mut said: Vec<(Span, Part)> = found.parts.clone();
        if said.is_empty() {
            let words = single(value.slice(self.text));
            let none = words.is_empty();
            return match none {
                true => (Vec::new(), true),
                false => (vec![Part::words(&words)], false),
            };
        }
        said.sort_by_key(|(span, _)| span.start);
        let mut whole = said
            .windows(2)
            .all(|pair| matches!(pair, [(one, _), (other, _)] if one.end <= other.start));
        whole &= said.iter().all(|(span, _)| value.encloses(*span));
        for note in self.notes.iter().filter(|note| value.encloses(**note)) {
            let words = single(note.slice(self.text));
            match said.iter_mut().find(|(span, _)| span.encloses(*note)) {
                // A remark in the middle of an item goes with it.
                Some((_, part)) => {
                    part.says.push(' ');
                    part.says.push_str(&words);
                }
                None => {
                    let part = Part {
                        kind: PartKind::Remark,
                        key: words.clone(),
                        says: words,
                        text: note.slice(self.text).to_owned(),
                        measure: None,
                    };
                    said.push((*note, part));
                }
            }
        }
        let left = left_over(self.text, value, &said);
        if !left.is_empty() {
            whole = false;
            // What nobody keeps an account of still counts as something said.
            said.push((Span::at(value.end), Part::words(&left)));
        }
        (said.into_iter().map(|(_, part)| part).collect(), whole)
    }
}

impl Found {
    fn row(key: String, start: u32) -> Found {
        Found {
            role: Role::Row,
            start,
            parts: Vec::new(),
            stages: false,
            ordered: false,
            // Lines of facts below a row have no name to be found by, and say more and more.
            repeats: key.is_empty(),
            key,
        }
    }
}

fn said(key: String, says: String) -> Part {
    Part {
        kind: PartKind::Said,
        key,
        says,
        text: String::new(),
        measure: None,
    }
}

fn item_part(text: &str, item: &items::Item, stages: bool) -> Part {
    Part {
        measure: keys::item_measure(item).filter(|_| stages),
        ..said(keys::item_key(text, item, stages), keys::item_says(text, item))
    }
}

/// A card's kind and name as its head says them, and the name alone.
pub fn head_name(line: &str) -> (String, String) {
    let tree = notation::read(line).tree;
    match tree.head {
        Some(head) if head.kind.is_named() => (format!("{} \"{}\"", head.kind, head.name), head.name),
        Some(head) => (head.kind.to_string(), String::new()),
        None => Default::default(),
    }
}

/// What a row says in one line.
pub fn row_says(text: &str, row: &RowItem) -> String {
    let mut says = vec![keys::row_name(text, row)];
    says.extend(row.count.map(|count| count.to_string()));
    says.extend(row.facts.iter().map(ToString::to_string));
    if row.partial {
        says.push(single(row.span.slice(text)));
    }
    says.join(", ")
}

/// The words of a value that are no part of it, but for commas and words that only join.
fn left_over(text: &str, value: Span, parts: &[(Span, Part)]) -> String {
    let mut left = String::new();
    let mut at = value.start;
    let mut spans: Vec<Span> = parts.iter().map(|(span, _)| *span).collect();
    spans.sort_by_key(|span| span.start);
    spans.push(Span::at(value.end));
    for span in spans {
        if span.start > at {
            left.push_str(Span::new(at, span.start).slice(text));
            left.push(' ');
        }
        at = at.max(span.end);
    }
    let words = left
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':'))
        .filter(|word| !matches!(*word, "" | "and" | "&" | "+"));
    words.collect::<Vec<_>>().join(" ")
}

/// Whether the order of the lines below a field counts.
fn is_ordered(spec: &FieldSpec) -> bool {
    match spec.shape {
        Shape::Rows(of) => matches!(of, RowsOf::Program | RowsOf::Movements | RowsOf::Seats),
        Shape::Running | Shape::List(Of::Stet) => true,
        _ => false,
    }
}

/// Whether a card may have the field several times with different things said, each a fact of its own.
fn repeats(spec: &FieldSpec) -> bool {
    matches!(
        spec.shape,
        Shape::Running | Shape::List(Of::Stet | Of::Performance | Of::Loan)
    )
}

/// How deep each line hangs, a field at 0; and the lines whose words are taken as they are written.
fn depths(tree: &Tree) -> (BTreeMap<usize, usize>, std::collections::BTreeSet<usize>) {
    let mut depths = BTreeMap::new();
    let mut running = std::collections::BTreeSet::new();
    for field in &tree.fields {
        depths.insert(field.line, 0);
        let words = field
            .spec
            .is_some_and(|spec| matches!(spec.shape, Shape::Running | Shape::List(Of::Stet)));
        let mut open: Vec<(&Row, usize)> = field.rows.iter().map(|row| (row, 1)).collect();
        while let Some((row, depth)) = open.pop() {
            // Paragraphs have no depths of their own.
            depths.insert(row.line, if words { 1 } else { depth });
            if words {
                running.insert(row.line);
            }
            open.extend(row.rows.iter().map(|row| (row, depth + 1)));
        }
    }
    // A remark on its own line hangs where the next line hangs.
    let mut next: Option<usize> = None;
    for (index, line) in tree.lines.iter().enumerate().rev() {
        match depths.get(&index) {
            Some(depth) => next = Some(*depth),
            None if line.kind == LineKind::Remark => {
                let above = tree.fields.iter().rfind(|field| field.line < index);
                let deeper = above
                    .and_then(|field| tree.lines.get(field.line))
                    .is_some_and(|field| line.indent > field.indent);
                let depth = match (next, deeper) {
                    (Some(depth), _) if above.is_some() => depth,
                    (None, true) => 1,
                    _ => 0,
                };
                depths.insert(index, depth);
            }
            None => {}
        }
    }
    (depths, running)
}

/// Whether a card holds lines that stand where they should not.
fn is_rough(tree: &Tree, depths: &BTreeMap<usize, usize>) -> bool {
    let slipped = |rows: &[Row]| rows.iter().any(|row| row.among_fields);
    let fields = &tree.fields;
    !tree.strays.is_empty()
        || fields
            .iter()
            .any(|field| field.among_rows || field.at_margin || slipped(&field.rows))
        || tree.lines.iter().enumerate().any(|(index, line)| {
            !matches!(line.kind, LineKind::Blank | LineKind::Head) && !depths.contains_key(&index)
        })
}

/// Hangs lines under those they belong to.
fn nest(rest: &mut std::iter::Peekable<std::vec::IntoIter<(usize, Line)>>, depth: usize) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    while let Some((_, mut line)) = rest.next_if(|(next, _)| *next >= depth) {
        line.below = nest(rest, depth + 1);
        lines.push(line);
    }
    lines
}
