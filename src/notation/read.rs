//! Reading the fields of one entry: from lines and words to items, rows and text.

use std::borrow::Cow;
use std::cell::RefCell;

use crate::text::Span;

use super::asides;
use super::build::{build, trim_span, trim_value};
use super::fields::{self, FieldSpec, Shape};
use super::heard::{Ear, Expected, Unheard};
use super::items::{self, Item};
use super::of::Of;
use super::pieces;
use super::remarks;
use super::row::{Fact, RowItem};
use super::rows;
use super::spoken;
use super::tree::{Field, Row, Tree};

/// One entry read as deep as the notation alone can: its tree, and its fields' values.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The lossless tree.
    pub tree: Tree,
    /// The fields in the order they are written.
    pub fields: Vec<FieldReading>,
    /// Words that nobody understood, in the order they stand.
    pub unheard: Vec<Unheard>,
    /// What the director only remarks, without parentheses, in the order it stands.
    pub asides: Vec<Span>,
}

/// One field with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldReading {
    /// The index of its line in the tree.
    pub line: usize,
    /// Where the field's words stand.
    pub word: Span,
    /// What the notation knows of it; none when the card has no such field.
    pub spec: Option<&'static FieldSpec>,
    /// From its first word to the end of its last line.
    pub whole: Span,
    /// Its value.
    pub body: Body,
}

/// The value of a field.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// Text, one string a paragraph, with the place of all of it.
    Running(Vec<String>, Span),
    /// Items of a list, or stages of a value.
    Items(Vec<Item>),
    /// Rows of a table.
    Rows(Vec<TableRow>),
    /// Fields under the field.
    Block(Vec<FieldReading>),
    /// A field that the card does not have; its value is not read.
    Unknown,
}

/// A row of a table, with what hangs under it.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRow {
    /// The row itself; facts on deeper lines are among its facts.
    pub row: RowItem,
    /// Fields under it, in tables whose rows have such.
    pub fields: Vec<FieldReading>,
    /// In a program, the row (by its index) that says which bands play this one.
    pub under: Option<usize>,
}

impl TableRow {
    fn plain(row: RowItem) -> TableRow {
        TableRow {
            row,
            fields: Vec::new(),
            under: None,
        }
    }
}

impl FieldReading {
    /// The field's name in the one form.
    pub fn name(&self) -> Option<&'static str> {
        self.spec.map(|spec| spec.name)
    }

    /// The items, where it has such.
    pub fn items(&self) -> &[Item] {
        match &self.body {
            Body::Items(items) => items,
            _ => &[],
        }
    }

    /// The rows, where it has such.
    pub fn rows(&self) -> &[TableRow] {
        match &self.body {
            Body::Rows(rows) => rows,
            _ => &[],
        }
    }
}

/// Reads the text of one entry.
pub fn read(text: &str) -> Reading {
    let tree = build(text);
    let all: Vec<&Field> = tree.fields.iter().collect();
    let (fields, unheard, asides) = read_all(text, &tree, &all);
    Reading {
        tree,
        fields,
        unheard,
        asides,
    }
}

/// Reads the tree of an entry, and of its fields only those that are wanted: `wanted` is asked with what the
/// notation knows of the field and with all of its lines. What nobody understood is not told.
pub fn read_some(text: &str, wanted: impl Fn(Option<&FieldSpec>, &str) -> bool) -> Reading {
    let tree = build(text);
    let is_wanted = |field: &&Field| wanted(field.spec, field.whole(&tree).slice(text));
    let some: Vec<&Field> = tree.fields.iter().filter(is_wanted).collect();
    let (fields, ..) = read_all(text, &tree, &some);
    Reading {
        tree,
        fields,
        unheard: Vec::new(),
        asides: Vec::new(),
    }
}

/// The values of fields, the words in them that nobody understood, and those that are only talk.
fn read_all(text: &str, tree: &Tree, wanted: &[&Field]) -> (Vec<FieldReading>, Vec<Unheard>, Vec<Span>) {
    let masked = with_tempos(text, remarks::blanked(text), wanted);
    let masked = with_cymbals(text, masked, wanted);
    let (masked, mut asides) = asides::hidden(masked, wanted);
    let (mut fields, mut unheard) = read_fields(text, &masked, tree, wanted);
    // What nobody understood may be talk; without it the rest is read again.
    let talk = spoken::found(&masked, tree, &unheard);
    if !talk.is_empty() {
        let hidden: Vec<Span> = talk
            .iter()
            .map(|span| spoken::with_its_comma(&masked, *span))
            .collect();
        let conditions: Vec<Span> = talk
            .iter()
            .zip(&hidden)
            .filter(|(talk, hidden)| {
                spoken::is_condition(talk.slice(&masked)) && !asked_before(&masked, **hidden)
            })
            .map(|(_, hidden)| *hidden)
            .collect();
        let masked = asides::without(masked, &hidden);
        let masked = questioned(masked.into_owned(), &conditions);
        (fields, unheard) = read_fields(text, &masked, tree, wanted);
        asides.extend(talk);
    }
    asides.sort_by_key(|span| span.start);
    (fields, unheard, asides)
}

/// `Allegro (144)`: a figure in parentheses on a line of tempos is the tempo, and no remark.
fn with_tempos<'t>(text: &'t str, masked: Cow<'t, str>, wanted: &[&Field]) -> Cow<'t, str> {
    let is_tempo = |field: &&&Field| {
        let shape = field.spec.map(|spec| spec.shape);
        matches!(shape, Some(Shape::Value(Of::Tempo)))
    };
    let mut bytes: Option<Vec<u8>> = None;
    for field in wanted.iter().filter(is_tempo) {
        let line = field.value.slice(text);
        for (start, end) in remarks::remarks(line) {
            let inside = line.get(start + 1..end.saturating_sub(1)).unwrap_or("");
            let figure = inside.contains(|c: char| c.is_ascii_digit());
            if figure && super::values::read(Of::Tempo, inside.trim()).is_some() {
                let from = field.value.start as usize + start + 1;
                let bytes = bytes.get_or_insert_with(|| masked.as_bytes().to_vec());
                if let Some(place) = bytes.get_mut(from..from + inside.len()) {
                    place.copy_from_slice(inside.as_bytes());
                }
            }
        }
    }
    match bytes.and_then(|bytes| String::from_utf8(bytes).ok()) {
        Some(masked) => Cow::Owned(masked),
        None => masked,
    }
}

/// `cymbals (clashed)`: how the cymbals before it are played says which are meant, and is no remark.
fn with_cymbals<'t>(text: &'t str, masked: Cow<'t, str>, wanted: &[&Field]) -> Cow<'t, str> {
    let mut bytes: Option<Vec<u8>> = None;
    let is_percussion = |field: &&&Field| {
        matches!(
            field.spec.map(|spec| spec.shape),
            Some(Shape::Rows(fields::RowsOf::Percussion))
        )
    };
    for field in wanted.iter().filter(is_percussion) {
        for span in flat(&field.rows) {
            let line = span.slice(text);
            for (start, end) in remarks::remarks(line) {
                let inside = line.get(start + 1..end.saturating_sub(1)).unwrap_or("");
                let clashed = ["clashed", "crashed"]
                    .iter()
                    .any(|how| inside.eq_ignore_ascii_case(how));
                let named = line
                    .get(..start)
                    .is_some_and(|head| head.trim().eq_ignore_ascii_case("cymbals"));
                let from = span.start as usize + start + 1;
                if clashed
                    && named
                    && let Some(place) = bytes
                        .get_or_insert_with(|| masked.as_bytes().to_vec())
                        .get_mut(from..from + inside.len())
                {
                    place.copy_from_slice(inside.as_bytes());
                }
            }
        }
    }
    match bytes.and_then(|bytes| String::from_utf8(bytes).ok()) {
        Some(masked) => Cow::Owned(masked),
        None => masked,
    }
}

/// Whether what stands before a place is marked as an open question already.
fn asked_before(masked: &str, place: Span) -> bool {
    masked
        .get(..place.start as usize)
        .is_some_and(|head| head.ends_with('?'))
}

/// The text with a question mark where each of these stretches, which are blank, begins.
fn questioned(masked: String, places: &[Span]) -> String {
    let mut bytes = masked.into_bytes();
    for place in places {
        if let Some(first) = bytes
            .get_mut(place.start as usize)
            .filter(|first| **first == b' ')
        {
            *first = b'?';
        }
    }
    // A blank gave way to a question mark, so that what is left is text.
    String::from_utf8(bytes).unwrap_or_default()
}

fn read_fields(
    text: &str,
    masked: &str,
    tree: &Tree,
    wanted: &[&Field],
) -> (Vec<FieldReading>, Vec<Unheard>) {
    let reader = Reader {
        text,
        masked,
        ear: RefCell::default(),
    };
    let fields = wanted.iter().map(|field| reader.field(tree, field)).collect();
    let unheard = reader.ear.into_inner().unheard(masked);
    (fields, unheard)
}

struct Reader<'t> {
    text: &'t str,
    /// The text with remarks blanked; the same length.
    masked: &'t str,
    /// The account of what was understood.
    ear: RefCell<Ear>,
}

impl Reader<'_> {
    fn field(&self, tree: &Tree, field: &Field) -> FieldReading {
        let body = match field.spec {
            None => Body::Unknown,
            Some(spec) => self.body(tree, field, spec.shape),
        };
        FieldReading {
            line: field.line,
            word: field.word,
            spec: field.spec,
            whole: field.whole(tree),
            body,
        }
    }

    fn body(&self, tree: &Tree, field: &Field, shape: Shape) -> Body {
        match shape {
            Shape::Running => self.running(tree, field),
            Shape::List(of) => Body::Items(self.list(field, of)),
            Shape::Value(of) => Body::Items(self.value(field, of)),
            Shape::Rows(of) => Body::Rows(self.table(tree, field, of)),
            Shape::Block(specs) => Body::Block(self.block(tree, field, specs)),
        }
    }

    fn running(&self, tree: &Tree, field: &Field) -> Body {
        let mut paragraphs: Vec<String> = Vec::new();
        let mut last_line = field.line;
        let mut add = |line: usize, words: &str, fresh: bool| {
            let words = super::scan::single(words);
            if words.is_empty() {
                return;
            }
            match paragraphs.last_mut().filter(|_| !fresh) {
                Some(paragraph) => {
                    paragraph.push(' ');
                    paragraph.push_str(&words);
                }
                None => paragraphs.push(words),
            }
            last_line = line;
        };
        add(field.line, field.value.slice(self.text), true);
        for row in &field.rows {
            // A blank line between two lines of text parts two paragraphs.
            let fresh = tree
                .lines
                .get(row.line.saturating_sub(1))
                .is_some_and(|line| line.body.is_empty());
            add(row.line, row.body.slice(self.text), fresh);
        }
        let end = tree
            .lines
            .get(last_line)
            .map_or(field.value.end, |line| line.body.end);
        Body::Running(
            paragraphs,
            Span::new(field.value.start, end.max(field.value.start)),
        )
    }

    fn list(&self, field: &Field, of: Of) -> Vec<Item> {
        if of == Of::Stet {
            return self.paragraph_items(field, of);
        }
        let mut found = Vec::new();
        for span in std::iter::once(field.value).chain(flat(&field.rows)) {
            let mut line = items::list(&mut self.ear.borrow_mut(), self.masked, span, of);
            spread_day(&mut line);
            found.extend(line);
        }
        if of == Of::Loan {
            due_after(&mut found);
        }
        found
    }

    /// Items that run to the end of their paragraph: the line itself with deeper lines continuing it.
    fn paragraph_items(&self, field: &Field, of: Of) -> Vec<Item> {
        // Parentheses belong to a reason; where none is given they are a remark as elsewhere.
        let read = |span: Span| {
            let reason = span
                .slice(self.text)
                .split_whitespace()
                .any(|word| word == "because");
            items::list(
                &mut self.ear.borrow_mut(),
                if reason { self.text } else { self.masked },
                span,
                of,
            )
        };
        if field.value.is_empty() {
            // Nothing on the field's own line: each deeper line is an item of its own.
            return flat(&field.rows).flat_map(read).collect();
        }
        let end = flat(&field.rows).last().map_or(field.value.end, |span| span.end);
        read(Span::new(field.value.start, end))
    }

    fn value(&self, field: &Field, of: Of) -> Vec<Item> {
        std::iter::once(field.value)
            .chain(flat(&field.rows))
            .flat_map(|span| items::stages(&mut self.ear.borrow_mut(), self.masked, span, of))
            .collect()
    }

    fn table(&self, tree: &Tree, field: &Field, of: fields::RowsOf) -> Vec<TableRow> {
        let mut table: Vec<TableRow> = rows::read(
            &mut self.ear.borrow_mut(),
            self.masked,
            field.value,
            field.line,
            of,
            true,
        )
        .into_iter()
        .map(TableRow::plain)
        .collect();
        for row in &field.rows {
            let read = rows::read(
                &mut self.ear.borrow_mut(),
                self.masked,
                row.body,
                row.line,
                of,
                false,
            );
            let start = table.len();
            table.extend(read.into_iter().map(TableRow::plain));
            if of == fields::RowsOf::Program {
                self.program_group(row, &mut table);
                continue;
            }
            let Some(last) = table.get_mut(start..).and_then(|added| added.last_mut()) else {
                continue;
            };
            if of == fields::RowsOf::Movements {
                last.fields = row
                    .rows
                    .iter()
                    .map(|row| self.row_field(tree, row, fields::movement_fields()))
                    .collect();
            } else {
                for deeper in flat(&row.rows) {
                    self.deeper(&mut last.row, deeper, of);
                }
            }
        }
        table
    }

    /// Pieces listed under `for "BAND"`, or facts below a piece.
    fn program_group(&self, row: &Row, table: &mut Vec<TableRow>) {
        let Some(index) = table.len().checked_sub(1) else {
            return;
        };
        let is_group = table.get(index).is_some_and(|last| is_group(&last.row));
        for deeper in &row.rows {
            if is_group {
                let read = rows::read(
                    &mut self.ear.borrow_mut(),
                    self.masked,
                    deeper.body,
                    deeper.line,
                    fields::RowsOf::Program,
                    false,
                );
                table.extend(read.into_iter().map(|row| TableRow {
                    under: Some(index),
                    ..TableRow::plain(row)
                }));
            } else if let Some(last) = table.get_mut(index) {
                self.deeper(&mut last.row, deeper.body, fields::RowsOf::Program);
            }
        }
    }

    /// Adds to a row what a line below it says.
    fn deeper(&self, row: &mut RowItem, span: Span, of: fields::RowsOf) {
        let ear = &mut self.ear.borrow_mut();
        let mark = ear.mark();
        row.facts
            .extend(deeper_facts(ear, self.text, self.masked, span, of));
        let is_stet = span.slice(self.text).starts_with("stet ");
        row.partial |= !is_stet && !ear.since(mark).all(self.masked, span);
    }

    fn block(&self, tree: &Tree, field: &Field, specs: &'static [FieldSpec]) -> Vec<FieldReading> {
        let mut read: Vec<FieldReading> = Vec::new();
        if !field.value.is_empty() {
            // `library cabinet 3, no. 142` says the first thing one says of it: the place.
            let value = field.value;
            let row = Row {
                among_fields: false,
                line: field.line,
                body: value,
                rows: Vec::new(),
            };
            let inside = match fields::find(specs, value.slice(self.text)) {
                Some(_) => self.row_field(tree, &row, specs),
                None => self.first_field(tree, &row, specs),
            };
            read.push(inside);
        }
        read.extend(field.rows.iter().map(|row| self.row_field(tree, row, specs)));
        read
    }

    fn row_field(&self, tree: &Tree, row: &Row, specs: &'static [FieldSpec]) -> FieldReading {
        let field = field_of_row(self.text, row, specs);
        self.field(tree, &field)
    }

    fn first_field(&self, tree: &Tree, row: &Row, specs: &'static [FieldSpec]) -> FieldReading {
        let field = Field {
            line: row.line,
            word: Span::new(row.body.start, row.body.start),
            spec: specs.first(),
            value: row.body,
            rows: Vec::new(),
            at_margin: false,
            among_rows: false,
        };
        self.field(tree, &field)
    }
}

/// Whether a row of a program says which band plays the pieces below it.
pub(super) fn is_group(row: &RowItem) -> bool {
    let first = row.facts.first().map(|fact| &fact.what);
    matches!(
        first,
        Some(Fact::Relation {
            relation: super::row::Relation::For,
            ..
        })
    )
}

/// The facts on a line below a row.
pub(super) fn deeper_facts(
    ear: &mut Ear,
    text: &str,
    masked: &str,
    span: Span,
    of: fields::RowsOf,
) -> Vec<super::row::RowFact> {
    // A stet runs to the end of its line, commas and all, and keeps its parentheses.
    if span.slice(text).starts_with("stet ") {
        let mut facts = super::facts::read(ear, text, span, of);
        facts.retain(|fact| matches!(fact.what, Fact::Stet(_)));
        return facts;
    }
    ear.listen(span, Expected::Row(of));
    pieces::split_commas(span.slice(masked))
        .into_iter()
        .map(|(offset, piece)| trim_span(masked, Span::long(span.start + offset as u32, piece.len() as u32)))
        .filter(|piece| !piece.is_empty())
        .flat_map(|piece| super::facts::read(ear, masked, piece, of))
        .collect()
}

/// A deeper line taken for a field of its own, as in a library or under a movement.
pub(super) fn field_of_row(text: &str, row: &Row, specs: &'static [FieldSpec]) -> Field {
    let words = row.body.slice(text);
    let (spec, length) = match fields::find(specs, words) {
        Some((spec, length)) => (Some(spec), length),
        None => (None, words.find(super::scan::is_blank).unwrap_or(words.len())),
    };
    let word = Span::long(row.body.start, length as u32);
    Field {
        line: row.line,
        word,
        spec,
        value: trim_value(text, Span::new(word.end, row.body.end)),
        rows: row.rows.clone(),
        at_margin: false,
        among_rows: false,
    }
}

/// All lines below, whatever their depth.
fn flat(rows: &[Row]) -> impl Iterator<Item = Span> {
    let mut spans = Vec::new();
    let mut open: Vec<&Row> = rows.iter().rev().collect();
    while let Some(row) = open.pop() {
        spans.push(row.body);
        open.extend(row.rows.iter().rev());
    }
    spans.into_iter()
}

/// `2023-10-03 to the church, due back in May`: the first May after the day on which it was lent.
fn due_after(items: &mut [Item]) {
    use super::values::{Loan, Value};
    let mut lent = None;
    for item in items {
        match &mut item.value {
            Some(Value::Loan(Loan::Out { day: Some(day), .. })) => lent = Some(*day),
            Some(Value::Loan(Loan::Due(due))) if due.year.is_none() => {
                let after = |lent: super::values::Day| Some((lent.year?, lent.month?, lent.day));
                if let (Some((year, month, day)), Some(due_month)) = (lent.and_then(after), due.month) {
                    // Within one month only days that are both said tell which of them is first.
                    let later = due_month > month
                        || due_month == month && day.zip(due.day).is_some_and(|(lent, due)| due > lent);
                    let unsure = due_month == month && day.zip(due.day).is_none();
                    if !unsure {
                        due.year = Some(if later { year } else { year.saturating_add(1) });
                    }
                }
            }
            _ => {}
        }
    }
}

/// `all by DATE` at the end of a line of skills covers the whole line; any other day is its own skill's.
fn spread_day(line: &mut Vec<Item>) {
    use super::values::Value;
    let Some(Value::Skill(last)) = line.last().and_then(|item| item.value.as_ref()) else {
        return;
    };
    let Some(day) = last.by.filter(|_| last.name.eq_ignore_ascii_case("all")) else {
        return;
    };
    line.pop();
    for item in line {
        if let Some(Value::Skill(skill)) = &mut item.value {
            skill.by.get_or_insert(day);
        }
    }
}
