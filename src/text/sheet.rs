//! An open file as a row of entry-sized pieces, so that an edit copies only the entries it touches.

use super::{Encoding, Lines, Position, Shared, Span, floor};
use std::fmt;
use std::sync::Arc;

/// Finds where entries start in a text, as byte offsets in rising order.
///
/// Whether an entry starts somewhere may depend only on the line that begins there: a sheet asks again
/// only about the neighborhood of an edit, and relies on the other lines giving the same answer. Offsets
/// that are not at the start of a line are passed over.
pub type Splitter = fn(&str) -> Vec<usize>;

/// One piece of a sheet: an entry, or what stands before the first one.
#[derive(Clone, Copy, Debug)]
pub struct Chunk<'s> {
    /// The piece's own text, shared with whoever keeps it.
    pub text: &'s Shared,
    /// The lines of the piece, counted from its own start.
    pub lines: &'s Lines,
    /// The byte of the whole text at which the piece starts.
    pub start: u32,
    /// The line of the whole text (from 0) on which the piece starts; it always starts a line.
    pub line: u32,
}

impl Chunk<'_> {
    /// Where the piece lies in the whole text.
    pub fn span(&self) -> Span {
        Span::new(self.start, self.start.saturating_add(length(self.text)))
    }
}

/// Which pieces an edit exchanged: `removed` of the old ones, from number `first` on, for `added` new
/// ones. All others are the same shared texts as before.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// The number of the first exchanged piece, before and after.
    pub first: usize,
    /// How many old pieces are gone.
    pub removed: usize,
    /// How many new ones stand in their place.
    pub added: usize,
}

/// An open file as a row of pieces. Every piece but the last ends with a line break, no `\r\n` is ever cut
/// in two, and an empty file has no pieces.
#[derive(Clone)]
pub struct Sheet {
    pieces: Vec<Piece>,
    split: Splitter,
}

#[derive(Clone)]
struct Piece {
    text: Shared,
    lines: Arc<Lines>,
    start: u32,
    line: u32,
}

impl Piece {
    fn of(text: Shared) -> Self {
        Piece {
            lines: Arc::new(Lines::of(&text)),
            text,
            start: 0,
            line: 0,
        }
    }
}

impl Sheet {
    /// Cuts `text` into pieces where `split` says that entries start.
    pub fn new(text: &str, split: Splitter) -> Self {
        Sheet::of(&Shared::from(text), split)
    }

    /// The same of a text that others hold too; nothing of it is copied.
    pub fn of(text: &Shared, split: Splitter) -> Self {
        let pieces = text.cut(split).into_iter().map(Piece::of).collect();
        let mut sheet = Sheet { pieces, split };
        sheet.renumber(0);
        sheet
    }

    /// Puts `text` in place of `span` of the whole text. Edges out of bounds or inside a character are
    /// moved back. Only the pieces touched and the one before them are cut again.
    pub fn replace(&mut self, span: Span, text: &str) -> Change {
        // The piece before comes along: what is put in at the edge may join its last line, and a `\n` may
        // complete its `\r`. The piece after is the one that holds the byte at the end of the span.
        let first = self.number_at(span.start).saturating_sub(1);
        let last = self.number_at(span.end.max(span.start)).saturating_add(1);
        let last = last.min(self.pieces.len());
        let Some(old) = self.pieces.get(first..last) else {
            return Change::default();
        };
        let base = old.first().map_or(0, |piece| piece.start);
        let mut near = String::new();
        for piece in old {
            near.push_str(&piece.text);
        }
        let range = span.shift(-i64::from(base)).range(&near);
        near.replace_range(range, text);

        let new = cut(&near, self.split);
        let same = |old: &Piece, new: &str| &*old.text == new;
        let head = old.iter().zip(&new).take_while(|(a, b)| same(a, b)).count();
        let tail = old
            .iter()
            .skip(head)
            .rev()
            .zip(new.iter().skip(head).rev())
            .take_while(|(a, b)| same(a, b))
            .count();
        let change = Change {
            first: first + head,
            removed: old.len() - head - tail,
            added: new.len() - head - tail,
        };
        let added: Vec<Piece> = new
            .into_iter()
            .skip(head)
            .take(change.added)
            .map(|text| Piece::of(Shared::from(text)))
            .collect();
        self.pieces
            .splice(change.first..change.first + change.removed, added);
        self.renumber(change.first);
        change
    }

    /// Like [`Sheet::replace`], between two positions.
    pub fn replace_between(
        &mut self,
        from: Position,
        to: Position,
        encoding: Encoding,
        text: &str,
    ) -> Change {
        let from = self.offset(from, encoding);
        let to = self.offset(to, encoding);
        self.replace(Span::new(from, to), text)
    }

    /// The pieces in order.
    pub fn chunks(&self) -> impl DoubleEndedIterator<Item = Chunk<'_>> + ExactSizeIterator {
        self.pieces.iter().map(chunk)
    }

    /// Piece number `number`, from 0.
    pub fn chunk(&self, number: usize) -> Option<Chunk<'_>> {
        self.pieces.get(number).map(chunk)
    }

    /// The number of the piece that holds the byte at `offset`; at or past the end the last one. 0 when
    /// there are none.
    pub fn number_at(&self, offset: u32) -> usize {
        self.pieces
            .partition_point(|piece| piece.start <= offset)
            .saturating_sub(1)
    }

    /// Length of the whole text in bytes.
    pub fn len(&self) -> u32 {
        self.pieces
            .last()
            .map_or(0, |piece| piece.start.saturating_add(length(&piece.text)))
    }

    /// Whether the file is empty.
    pub fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }

    /// How many lines the whole text has: at least one.
    pub fn line_count(&self) -> u32 {
        self.pieces
            .last()
            .map_or(1, |piece| piece.line.saturating_add(piece.lines.line_count()))
    }

    /// Line `line` (from 0) of the whole text without its break; past the last line, the empty stretch at the end.
    pub fn line_span(&self, line: u32) -> Span {
        match self.piece_with_line(line) {
            Some(piece) => piece
                .lines
                .line_span(line.saturating_sub(piece.line))
                .shift(i64::from(piece.start)),
            None => Span::at(0),
        }
    }

    /// The position of a byte offset of the whole text, as [`Lines::position`] gives it.
    pub fn position(&self, offset: u32, encoding: Encoding) -> Position {
        let Some(piece) = self.pieces.get(self.number_at(offset)) else {
            return Position::default();
        };
        let inside = offset.saturating_sub(piece.start);
        let found = piece.lines.position(&piece.text, inside, encoding);
        Position::new(found.line.saturating_add(piece.line), found.column)
    }

    /// The byte offset of a position of the whole text, as [`Lines::offset`] gives it.
    pub fn offset(&self, position: Position, encoding: Encoding) -> u32 {
        let Some(piece) = self.piece_with_line(position.line) else {
            return 0;
        };
        let inside = Position::new(position.line.saturating_sub(piece.line), position.column);
        let found = piece.lines.offset(&piece.text, inside, encoding);
        piece.start.saturating_add(found)
    }

    /// The text of a stretch; its edges are moved back to what exists.
    pub fn slice(&self, span: Span) -> String {
        let mut out = String::new();
        for piece in self.pieces.iter().skip(self.number_at(span.start)) {
            if piece.start >= span.end {
                break;
            }
            out.push_str(span.shift(-i64::from(piece.start)).slice(&piece.text));
        }
        out
    }

    fn piece_with_line(&self, line: u32) -> Option<&Piece> {
        let after = self.pieces.partition_point(|piece| piece.line <= line);
        self.pieces.get(after.saturating_sub(1))
    }

    /// Counts starts and lines anew from piece `from` on.
    fn renumber(&mut self, from: usize) {
        let before = from.checked_sub(1).and_then(|last| self.pieces.get(last));
        let (mut start, mut line) = before.map_or((0, 0), after);
        for piece in self.pieces.iter_mut().skip(from) {
            (piece.start, piece.line) = (start, line);
            (start, line) = after(piece);
        }
    }
}

impl fmt::Display for Sheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.pieces.iter().try_for_each(|piece| f.write_str(&piece.text))
    }
}

impl fmt::Debug for Sheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let texts = self.pieces.iter().map(|piece| &piece.text);
        f.debug_list().entries(texts).finish()
    }
}

fn chunk(piece: &Piece) -> Chunk<'_> {
    Chunk {
        text: &piece.text,
        lines: &piece.lines,
        start: piece.start,
        line: piece.line,
    }
}

/// Where the piece after this one starts. The empty line after the last break is the first of the next piece.
fn after(piece: &Piece) -> (u32, u32) {
    let lines = piece.lines.line_count().saturating_sub(1);
    (
        piece.start.saturating_add(length(&piece.text)),
        piece.line.saturating_add(lines),
    )
}

fn length(text: &str) -> u32 {
    Span::whole(text).end
}

impl Shared {
    /// Cuts a text where `split` says that entries start, as a [`Sheet`] does.
    pub fn cut(&self, split: Splitter) -> Vec<Shared> {
        let mut at = 0usize;
        cut(self, split)
            .into_iter()
            .map(|piece| {
                let start = at;
                at = at.saturating_add(piece.len());
                self.part(start..at)
            })
            .collect()
    }
}

/// Cuts `text` at every start of a line that `split` names.
fn cut(text: &str, split: Splitter) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut from = 0;
    for at in split(text) {
        if at > from && at < text.len() && starts_line(text, at) {
            pieces.push(text.get(from..at).unwrap_or(""));
            from = at;
        }
    }
    if from < text.len() {
        pieces.push(text.get(floor(text, from)..).unwrap_or(""));
    }
    pieces
}

/// Whether a line starts at `at`: there is a break before it, and all of that break.
fn starts_line(text: &str, at: usize) -> bool {
    let bytes = text.as_bytes();
    match at.checked_sub(1).and_then(|before| bytes.get(before)) {
        None | Some(b'\n') => true,
        Some(b'\r') => bytes.get(at) != Some(&b'\n'),
        Some(_) => false,
    }
}

#[cfg(test)]
mod tests;
