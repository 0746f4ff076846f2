//! Where the lines of a text begin and end.

use super::ending::breaks;
use super::{Encoding, Position, Span, floor};

/// The lines of one text. Lines end at `\n`, `\r\n` or `\r` and nowhere else (Language Server Protocol
/// 3.17, `EOL`); a text that ends with a break has one more, empty line after it.
///
/// The text itself is not kept; it is handed to each question again. Handing a different one gives a
/// wrong place, but no failure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines {
    /// For each line, where it starts and where its break (or the text's end) is.
    spans: Vec<Span>,
    length: u32,
}

impl Lines {
    /// Finds the lines of `text`. What lies beyond 4 GiB is not reached.
    pub fn of(text: &str) -> Self {
        let whole = Span::whole(text);
        let mut spans = Vec::new();
        let mut start = 0;
        for (at, ending) in breaks(text) {
            let (Ok(end), Ok(next)) = (u32::try_from(at), u32::try_from(at + ending.as_str().len())) else {
                break;
            };
            spans.push(Span::new(start, end));
            start = next;
        }
        spans.push(Span::new(start, whole.end));
        spans.shrink_to_fit();
        Lines {
            spans,
            length: whole.end,
        }
    }

    /// How many lines there are: at least one.
    pub fn line_count(&self) -> u32 {
        u32::try_from(self.spans.len()).unwrap_or(u32::MAX)
    }

    /// Line `line` (from 0) without its break; past the last line, the empty stretch at the text's end.
    pub fn line_span(&self, line: u32) -> Span {
        self.spans
            .get(line as usize)
            .copied()
            .unwrap_or(Span::at(self.length))
    }

    /// Line `line` (from 0) together with its break; past the last line, the empty stretch at the text's end.
    pub fn full_line_span(&self, line: u32) -> Span {
        let next = self.line_span(line.saturating_add(1));
        let span = self.line_span(line);
        Span::new(span.start, next.start.max(span.end))
    }

    /// The line (from 0) on which `offset` stands; a place between `\r` and `\n` is on the line they end.
    pub fn line_at(&self, offset: u32) -> u32 {
        let after = self.spans.partition_point(|span| span.start <= offset);
        u32::try_from(after.saturating_sub(1)).unwrap_or(u32::MAX)
    }

    /// The position of a byte offset. A place inside a character becomes the character's start, one past
    /// the text its end, and one inside a line break the end of the line.
    pub fn position(&self, text: &str, offset: u32, encoding: Encoding) -> Position {
        let offset = offset.min(self.length);
        let line = self.line_at(offset);
        let span = self.line_span(line);
        let before = Span::new(span.start, offset.min(span.end));
        Position::new(line, encoding.length(before.slice(text)))
    }

    /// The byte offset of a position. Past the end of a line it is the line's end before the break, past
    /// the last line the text's end, and inside a character the character's start.
    pub fn offset(&self, text: &str, position: Position, encoding: Encoding) -> u32 {
        let span = self.line_span(position.line);
        let start = floor(text, span.start as usize);
        let inside = encoding.bytes(span.slice(text), position.column);
        u32::try_from(start + inside).unwrap_or(u32::MAX)
    }

    /// The stretch between two positions, by [`Lines::offset`]; empty at the start if they are the wrong way round.
    pub fn span(&self, text: &str, from: Position, to: Position, encoding: Encoding) -> Span {
        Span::new(self.offset(text, from, encoding), self.offset(text, to, encoding))
    }
}

/// The whole lines that a stretch of text touches, their endings included. Only those lines are looked at, so that
/// asking it of many places takes no longer than the text is long.
pub fn whole_lines(text: &str, span: Span) -> Span {
    let bytes = text.as_bytes();
    let starts_line = |at: &usize| match at.checked_sub(1).and_then(|before| bytes.get(before)) {
        None | Some(b'\n') => true,
        Some(b'\r') => bytes.get(*at) != Some(&b'\n'),
        Some(_) => false,
    };
    let from = (span.start as usize).min(bytes.len());
    let to = (span.end.max(span.start) as usize).min(bytes.len());
    let start = (0..=from).rev().find(starts_line).unwrap_or(0);
    let end = (to + 1..bytes.len()).find(starts_line).unwrap_or(bytes.len());
    Span::new(start as u32, end as u32)
}

#[cfg(test)]
mod tests;
