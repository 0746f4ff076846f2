//! The words of a condition, taken one after another. A condition is read only where none is left; the
//! word that no reading got past is kept with what was expected there.

use std::cell::RefCell;

use crate::catalogue::Snapshot;
use crate::notation::scan::{is_blank, is_quote};
use crate::text::Span;

use super::lexicon::Sort;

/// One word, or a quoted name.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Word {
    /// Where it stands, quotes included.
    pub span: Span,
    /// As written, without quotes.
    pub text: String,
    /// In small letters, without a full stop behind it.
    pub small: String,
    /// Whether it stood in quotes.
    pub quoted: bool,
}

impl Word {
    fn new(text: &str, at: usize, whole: usize, quoted: bool) -> Word {
        let small = text.to_lowercase().replace(['’', '‘'], "'");
        let plain = small.trim_end_matches(['.', '!', ';']);
        Word {
            span: Span::long(
                u32::try_from(at).unwrap_or(u32::MAX),
                u32::try_from(whole).unwrap_or(u32::MAX),
            ),
            text: text.to_owned(),
            small: if plain.is_empty() {
                small.clone()
            } else {
                plain.to_owned()
            },
            quoted,
        }
    }

    /// A word that nobody wrote, read before others as if it stood there.
    pub fn put_before(word: &str, span: Span) -> Word {
        Word {
            span,
            text: word.to_owned(),
            small: word.to_owned(),
            quoted: false,
        }
    }
}

/// The words of a text that begins `from` bytes from where places count. Signs (`≤`, `=`, a dash between
/// figures) are words of their own, and so is a unit that is written at its figure (`4min`).
pub(super) fn words(text: &str, from: usize) -> Vec<Word> {
    let mut found = Vec::new();
    let mut rest = text;
    loop {
        rest = rest.trim_start_matches(|c: char| is_blank(c) || c.is_whitespace());
        let at = from.saturating_add(text.len() - rest.len());
        let Some(first) = rest.chars().next() else {
            return found;
        };
        if is_quote(first) {
            let inside = rest.get(first.len_utf8()..).unwrap_or("");
            let (name, after) = match inside.char_indices().find(|(_, c)| is_quote(*c)) {
                Some((end, close)) => (
                    inside.get(..end).unwrap_or(""),
                    inside.get(end + close.len_utf8()..).unwrap_or(""),
                ),
                None => (inside, ""),
            };
            found.push(Word::new(name.trim(), at, rest.len() - after.len(), true));
            rest = after;
            continue;
        }
        let end = rest
            .char_indices()
            .find(|(_, c)| c.is_whitespace() || is_blank(*c) || is_quote(*c))
            .map_or(rest.len(), |(end, _)| end);
        pieces(rest.get(..end).unwrap_or(""), at, &mut found);
        rest = rest.get(end..).unwrap_or("");
    }
}

fn pieces(mut chunk: &str, mut at: usize, found: &mut Vec<Word>) {
    while !chunk.is_empty() {
        let end = first_piece(chunk);
        let piece = chunk.get(..end).unwrap_or(chunk);
        found.push(Word::new(piece, at, piece.len(), false));
        at = at.saturating_add(piece.len());
        chunk = chunk.get(piece.len()..).unwrap_or("");
    }
}

fn first_piece(chunk: &str) -> usize {
    for sign in ["<=", ">=", "≤", "≥", "<", ">", "=", "~"] {
        if chunk.starts_with(sign) {
            return sign.len();
        }
    }
    let is_dash = |c: char| matches!(c, '-' | '–' | '—' | '−' | '‐' | '‑');
    if let Some(dash) = chunk
        .chars()
        .next()
        .filter(|c| is_dash(*c) && chunk.len() > c.len_utf8())
    {
        return dash.len_utf8();
    }
    let figure = |c: char| c.is_ascii_digit() || matches!(c, '.' | ':' | '½' | '¼' | '¾' | '$' | '€' | '£');
    let end = chunk.find(|c| !figure(c)).unwrap_or(chunk.len());
    let (head, tail) = (chunk.get(..end).unwrap_or(""), chunk.get(end..).unwrap_or(""));
    if !head.is_empty() && !tail.is_empty() {
        let mut after = tail.chars();
        match after.next() {
            Some(c) if is_dash(c) => {
                let next: String = after.collect();
                // A day (`2026-12-10`) or a month (`2026-12`) is one word.
                let day = head.len() == 4
                    && next
                        .get(..2)
                        .is_some_and(|two| two.bytes().all(|b| b.is_ascii_digit()))
                    && next
                        .get(2..)
                        .is_none_or(|more| !more.starts_with(|c: char| c.is_ascii_digit()));
                if next.starts_with(figure) && !day {
                    return end;
                }
            }
            Some('+') if tail == "+" => return end,
            Some(c) if c.is_alphabetic() => {
                let unit: String = tail.chars().take_while(|c| c.is_alphabetic()).collect();
                let small = unit.to_lowercase();
                if unit.len() == tail.trim_end_matches('.').len()
                    && small.chars().count() >= 2
                    && !matches!(small.as_str(), "st" | "nd" | "rd" | "th")
                {
                    return end;
                }
            }
            _ => {}
        }
    }
    chunk.find('=').filter(|at| *at > 0).unwrap_or(chunk.len())
}

/// How far any reading got, and what would have led on from there.
#[derive(Debug, Default)]
pub(super) struct Far {
    /// The word that nothing got past.
    pub at: usize,
    /// Words that would have been read there.
    pub words: Vec<&'static str>,
    /// Sorts of things that would have been read there.
    pub sorts: Vec<Sort>,
    /// Whether a whole condition ended just before it.
    pub ends: bool,
}

/// The words from a place on, up to an end.
#[derive(Clone, Copy)]
pub(super) struct Words<'t> {
    all: &'t [Word],
    to: usize,
    far: &'t RefCell<Far>,
    /// The catalogue whose names may be used.
    pub snapshot: &'t Snapshot,
}

impl<'t> Words<'t> {
    /// All of `all`.
    pub fn new(all: &'t [Word], far: &'t RefCell<Far>, snapshot: &'t Snapshot) -> Words<'t> {
        Words {
            all,
            to: all.len(),
            far,
            snapshot,
        }
    }

    /// The same words, ending before `to`.
    pub fn up_to(self, to: usize) -> Words<'t> {
        Words {
            to: to.min(self.to),
            ..self
        }
    }

    /// The same words, read without a trace of how far.
    pub fn aside(self, far: &'t RefCell<Far>) -> Words<'t> {
        Words { far, ..self }
    }

    /// Where the words end.
    pub fn end(self) -> usize {
        self.to
    }

    /// The word at a place.
    pub fn get(self, at: usize) -> Option<&'t Word> {
        self.all.get(at).filter(|_| at < self.to)
    }

    /// The word at a place in small letters; empty at the end and for a quoted name.
    pub fn small(self, at: usize) -> &'t str {
        self.get(at)
            .filter(|word| !word.quoted)
            .map_or("", |word| &word.small)
    }

    fn note(self, at: usize, add: impl FnOnce(&mut Far)) {
        let mut far = self.far.borrow_mut();
        if at > far.at {
            *far = Far { at, ..Far::default() };
        }
        if at == far.at {
            add(&mut far);
        }
    }

    /// Remembers that such a thing would have been read here.
    pub fn expect(self, at: usize, sort: Sort) {
        self.note(at, |far| far.sorts.push(sort));
    }

    /// Whether no word is left; where one is, that is remembered.
    pub fn is_done(self, at: usize) -> bool {
        if at >= self.to {
            return true;
        }
        self.note(at, |far| far.ends = true);
        false
    }

    /// Takes these words.
    pub fn phrase(self, at: usize, phrase: &'static str) -> Option<usize> {
        let mut here = at;
        for word in phrase.split(' ') {
            if self.small(here) != word {
                self.note(here, |far| far.words.push(word));
                return None;
            }
            here += 1;
        }
        Some(here)
    }

    /// Takes the longest of these.
    pub fn one_of(self, at: usize, phrases: &[&'static str]) -> Option<usize> {
        phrases.iter().filter_map(|phrase| self.phrase(at, phrase)).max()
    }

    /// Takes one of these where it stands there.
    pub fn maybe(self, at: usize, phrases: &[&'static str]) -> usize {
        self.one_of(at, phrases).unwrap_or(at)
    }

    /// The words from one place to another with single blanks.
    pub fn joined(self, from: usize, to: usize) -> String {
        let words: Vec<&str> = self
            .all
            .get(from..to.min(self.to))
            .unwrap_or_default()
            .iter()
            .map(|word| word.text.as_str())
            .collect();
        words.join(" ")
    }

    /// The longest stretch of at most `most` unquoted words that `read` takes.
    pub fn longest<T>(
        self,
        at: usize,
        most: usize,
        sort: Sort,
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<(usize, T)> {
        let mut end = at;
        while end < self.to && end - at < most && self.get(end).is_some_and(|word| !word.quoted) {
            end += 1;
        }
        while end > at {
            if let Some(found) = read(&self.joined(at, end)) {
                // A name may go on with a word that was mistyped.
                if end < self.to {
                    self.expect(end, sort);
                }
                return Some((end, found));
            }
            end -= 1;
        }
        self.expect(at, sort);
        None
    }

    /// A quoted name.
    pub fn quoted(self, at: usize) -> Option<(usize, String)> {
        match self.get(at) {
            Some(word) if word.quoted && !word.text.is_empty() => Some((at + 1, word.text.clone())),
            _ => {
                self.expect(at, Sort::Quoted);
                None
            }
        }
    }
}

impl Words<'_> {
    /// Where the words from one place to another stand.
    pub fn span(self, from: usize, to: usize) -> Span {
        let inside = self.all.get(from..to.min(self.to)).unwrap_or_default();
        match (inside.first(), inside.last()) {
            (Some(first), Some(last)) => first.span.cover(last.span),
            _ => Span::new(0, 0),
        }
    }
}
