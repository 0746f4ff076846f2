//! Where a cursor stands: the card, its field, its item or row, and the name under it.

use std::sync::Arc;

use crate::catalogue::{Entry, EntryId, NameUse, Snapshot};
use crate::notation::items::Item;
use crate::notation::{Body, FieldReading, Reading, TableRow};
use crate::text::Span;

/// A stretch of a card, perhaps in another file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Target {
    /// The card.
    pub id: EntryId,
    /// Where on it, in bytes from the start of the card.
    pub span: Span,
}

/// A cursor on a card, with the card read.
#[derive(Debug)]
pub struct Place<'s> {
    /// The catalogue.
    pub snapshot: &'s Snapshot,
    /// Where the card stands.
    pub id: EntryId,
    /// The card.
    pub entry: &'s Arc<Entry>,
    /// The card as deep as the notation reads.
    pub reading: Reading,
    /// The cursor, in bytes from the start of the card.
    pub offset: u32,
    /// Where the card starts in its file, in bytes.
    pub start: u32,
}

/// A name that belongs to a card.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NameHere<'s> {
    /// The card's own name.
    Own(Span),
    /// The name of another card.
    Use(&'s NameUse),
}

impl<'s> Place<'s> {
    /// The place of a file's byte; none where the file has no card.
    pub fn at(snapshot: &'s Snapshot, file: usize, offset: u32) -> Option<Place<'s>> {
        let cards = snapshot.files().get(file)?;
        let (index, inside) = cards.entry_at(offset)?;
        let entry = cards.entries.get(index)?;
        let id = EntryId {
            file: u32::try_from(file).ok()?,
            entry: u32::try_from(index).ok()?,
        };
        Some(Place {
            snapshot,
            id,
            entry,
            reading: entry.reading(),
            offset: inside.min(Span::whole(&entry.text).end),
            start: offset.saturating_sub(inside),
        })
    }

    /// The card's text.
    pub fn text(&self) -> &'s str {
        &self.entry.text
    }

    /// A span of the card as a span of its file.
    pub fn in_file(&self, span: Span) -> Span {
        span.shift(i64::from(self.start))
    }

    /// The card's first words: its kind, and its name where it has one.
    pub fn head(&self) -> Option<Span> {
        self.entry.kind?;
        let head = self.reading.tree.head.as_ref()?;
        let name = self.entry.name_span;
        Some(match name.is_empty() {
            true => head.kind_span,
            false => Span::new(head.kind_span.start, name.end),
        })
    }

    /// Whether the cursor is on the card's first words.
    pub fn is_on_head(&self) -> bool {
        self.head().is_some_and(|head| head.touches(self.offset))
    }

    /// The fields around the cursor, the outermost first.
    pub fn fields(&self) -> Vec<&FieldReading> {
        let mut found = Vec::new();
        let mut level: Vec<&FieldReading> = self.reading.fields.iter().collect();
        while let Some(field) = level.into_iter().rfind(|field| field.whole.touches(self.offset)) {
            found.push(field);
            level = match &field.body {
                Body::Block(inside) => inside.iter().collect(),
                Body::Rows(rows) => rows.iter().flat_map(|row| &row.fields).collect(),
                _ => Vec::new(),
            };
        }
        found
    }

    /// The innermost field around the cursor.
    pub fn field(&self) -> Option<&FieldReading> {
        self.fields().pop()
    }

    /// The item of a list, or the stage of a value, that the cursor is on.
    pub fn item(&self) -> Option<&Item> {
        self.field()?
            .items()
            .iter()
            .find(|item| item.span.touches(self.offset))
    }

    /// The row of a table that the cursor is on.
    pub fn row(&self) -> Option<&TableRow> {
        self.fields()
            .into_iter()
            .rev()
            .flat_map(FieldReading::rows)
            .find(|row| row.row.span.touches(self.offset))
    }

    /// The name of a card under the cursor.
    pub fn name(&self) -> Option<NameHere<'s>> {
        let own = self.entry.name_span;
        if self.entry.kind.is_some() && !own.is_empty() && own.touches(self.offset) {
            return Some(NameHere::Own(own));
        }
        self.entry
            .uses
            .iter()
            .find(|name| name.span.touches(self.offset))
            .map(NameHere::Use)
    }

    /// The cards that the name under the cursor means: the card itself on its own head.
    pub fn meant(&self) -> Vec<EntryId> {
        match self.name() {
            Some(NameHere::Own(_)) => vec![self.id],
            Some(NameHere::Use(name)) => self.snapshot.meant(name),
            None => Vec::new(),
        }
    }

    /// The word under the cursor, hyphens and apostrophes included.
    pub fn word(&self) -> Span {
        let is_part = |c: char| c.is_alphanumeric() || c == '-' || c == '\'' || c == '#';
        let text = self.text();
        let at = crate::text::floor(text, self.offset as usize);
        let (before, after) = text.split_at(at);
        let left: usize = before
            .chars()
            .rev()
            .take_while(|c| is_part(*c))
            .map(char::len_utf8)
            .sum();
        let right: usize = after
            .chars()
            .take_while(|c| is_part(*c))
            .map(char::len_utf8)
            .sum();
        let start = u32::try_from(at.saturating_sub(left)).unwrap_or(self.offset);
        Span::long(start, u32::try_from(left.saturating_add(right)).unwrap_or(0))
    }
}
