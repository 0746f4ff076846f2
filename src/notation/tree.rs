//! The lossless tree of one entry: every byte belongs to exactly one line, and lines hang under lines.
//!
//! All places are byte spans counted from the start of the entry's own text, so a tree stays true
//! wherever in a file its entry moves.

use crate::text::Span;

use super::fields::FieldSpec;
use super::kind::Kind;

/// One entry, or what stands above the first entry of a file (then without a head).
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    /// The line that starts the entry.
    pub head: Option<Head>,
    /// All lines in order; their spans tile the entry's text without gap or overlap.
    pub lines: Vec<Line>,
    /// The entry's fields in the order they are written.
    pub fields: Vec<Field>,
    /// Lines that belong to nothing.
    pub strays: Vec<Stray>,
}

/// The head of an entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Head {
    /// What the entry is.
    pub kind: Kind,
    /// Where the kind's word stands.
    pub kind_span: Span,
    /// The name between the quotes; empty for the handbook.
    pub name: String,
    /// Where the name stands, without its quotes.
    pub name_span: Span,
    /// Whether the closing quote is there (or no quote is called for).
    pub closed: bool,
    /// Words after the name that are no remark, if any.
    pub rest: Option<Span>,
}

/// What one line of a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// The line that starts the entry.
    Head,
    /// Nothing but blanks.
    Blank,
    /// Nothing but a remark in parentheses.
    Remark,
    /// A field of the entry.
    Field,
    /// A line that hangs under a field.
    Deeper,
    /// A line that belongs to nothing.
    Stray,
}

/// One line with its ending.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line {
    /// The whole line, its ending included.
    pub span: Span,
    /// What is written on it: without indent, trailing blanks and ending.
    pub body: Span,
    /// How far it is indented, in columns; a tab goes to the next multiple of four.
    pub indent: u32,
    /// What the line is.
    pub kind: LineKind,
}

/// A field: its words, its value, and what hangs under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// The index of its line.
    pub line: usize,
    /// Where the field's own words stand.
    pub word: Span,
    /// What the notation knows of it; none when the card has no such field.
    pub spec: Option<&'static FieldSpec>,
    /// The value on the same line, remarks included; empty when all of it hangs below.
    pub value: Span,
    /// The lines below it.
    pub rows: Vec<Row>,
    /// Whether the line stands at the margin, where it should not.
    pub at_margin: bool,
    /// Whether the line stands among the rows of another field, where it should not.
    pub among_rows: bool,
}

/// A line that hangs under a field or under another row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The index of its line.
    pub line: usize,
    /// What is written on it.
    pub body: Span,
    /// The lines below it.
    pub rows: Vec<Row>,
    /// Whether it stands where the card's fields do, and not below its own.
    pub among_fields: bool,
}

/// A line that belongs to nothing, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Stray {
    /// The index of its line.
    pub line: usize,
    /// What is written on it.
    pub body: Span,
    /// What is the matter with it.
    pub why: StrayWhy,
}

/// Why a line belongs to nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StrayWhy {
    /// A kind at the margin whose name is not in quotation marks.
    NameNotQuoted(Kind),
    /// Words at the margin that start no entry.
    AtMargin,
    /// A line above the first entry of the file.
    AboveFirst,
    /// A mark that version control left where changes collide.
    Conflict,
}

impl Tree {
    /// The entry's kind, where it has a head.
    pub fn kind(&self) -> Option<Kind> {
        self.head.as_ref().map(|head| head.kind)
    }

    /// Writes the entry out again from the tree's lines; always the text it was read from.
    pub fn print(&self, text: &str) -> String {
        self.lines.iter().map(|line| line.span.slice(text)).collect()
    }

    /// The index of the line that holds a place.
    pub fn line_at(&self, offset: u32) -> Option<usize> {
        let after = self.lines.partition_point(|line| line.span.start <= offset);
        after.checked_sub(1)
    }
}

impl Field {
    /// The field's place from its first word to the end of its last line.
    pub fn whole(&self, tree: &Tree) -> Span {
        let mut last = self.line;
        let mut open: Vec<&Row> = self.rows.iter().collect();
        while let Some(row) = open.pop() {
            last = last.max(row.line);
            open.extend(row.rows.iter());
        }
        let end = tree.lines.get(last).map_or(self.value.end, |line| line.body.end);
        Span::new(self.word.start, end.max(self.word.end))
    }
}
