//! Changes to a text, and the smallest ones between two texts.

use super::ending::breaks;
use super::{Span, floor};
use similar::algorithms::{DiffHook, myers};
use std::collections::HashMap;
use std::convert::Infallible;
use std::{fmt, iter};

/// A stretch of the old text and what stands there in the new one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// What is taken out, in bytes of the old text.
    pub span: Span,
    /// What is put there.
    pub text: String,
}

impl Edit {
    /// Puts `text` in place of `span`.
    pub fn replace(span: Span, text: impl Into<String>) -> Self {
        Edit {
            span,
            text: text.into(),
        }
    }

    /// Puts `text` in at `offset`.
    pub fn insert(offset: u32, text: impl Into<String>) -> Self {
        Edit::replace(Span::at(offset), text)
    }

    /// Takes `span` out.
    pub fn remove(span: Span) -> Self {
        Edit::replace(span, "")
    }
}

/// Two edits of one text want to change the same bytes, so neither was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Overlap {
    /// The one that starts first.
    pub first: Span,
    /// The one that starts before the first has ended.
    pub second: Span,
}

impl fmt::Display for Overlap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "two changes touch the same place (bytes {} to {}, and {} to {}), so neither was made; make them one after the other",
            self.first.start, self.first.end, self.second.start, self.second.end
        )
    }
}

impl std::error::Error for Overlap {}

/// Makes all `edits` at once, each given in places of `text` itself, in any order. Insertions at one place
/// come out in the order given, and before a replacement that starts there. Edges out of bounds or inside
/// a character are moved back.
///
/// # Errors
/// [`Overlap`] when two edits share a byte, or one inserts inside a stretch that another takes out.
pub fn apply(text: &str, edits: &[Edit]) -> Result<String, Overlap> {
    let mut order: Vec<&Edit> = edits.iter().collect();
    order.sort_by_key(|edit| (edit.span.start, edit.span.end));
    for pair in order.windows(2) {
        if let [first, second] = pair
            && second.span.start < first.span.end
        {
            return Err(Overlap {
                first: first.span,
                second: second.span,
            });
        }
    }
    let mut out = String::with_capacity(text.len());
    let mut done = 0;
    for edit in order {
        let range = edit.span.range(text);
        out.push_str(text.get(done..range.start).unwrap_or(""));
        out.push_str(&edit.text);
        done = range.end.max(done);
    }
    out.push_str(text.get(done..).unwrap_or(""));
    Ok(out)
}

/// Beyond this many differing lines on both sides together the lines are not compared one by one; the
/// whole differing part becomes one edit. It keeps the time bounded: the comparison may take the square.
const MOST_LINES: usize = 10_000;

/// Small edits that turn `before` into `after`: lines are compared, then the common head and tail of each
/// differing stretch are left out, so that cursors and marks elsewhere stay. The edits are in order, do not
/// touch each other, and never start or end between `\r` and `\n` of `before`, a place no editor can name.
pub fn minimal(before: &str, after: &str) -> Vec<Edit> {
    let old = cut_lines(before);
    let new = cut_lines(after);
    let head = common(old.iter(), new.iter());
    let old_rest = old.get(head..).unwrap_or(&[]);
    let new_rest = new.get(head..).unwrap_or(&[]);
    let tail = common(old_rest.iter().rev(), new_rest.iter().rev());
    let old_middle = old_rest.get(..old_rest.len() - tail).unwrap_or(&[]);
    let new_middle = new_rest.get(..new_rest.len() - tail).unwrap_or(&[]);

    let mut same = Same(Vec::new());
    if old_middle.len() + new_middle.len() <= MOST_LINES {
        let (old, new) = numbers(old_middle, new_middle);
        let Ok(()) = myers::diff(&mut same, &old, 0..old.len(), &new, 0..new.len());
    }

    let mut hunks = Hunks {
        before,
        after,
        edits: Vec::new(),
    };
    let mut old_at: usize = old.iter().take(head).map(|line| line.len()).sum();
    let mut new_at = old_at;
    let (mut old_line, mut new_line) = (0, 0);
    let end = (old_middle.len(), new_middle.len(), 0);
    for (old_from, new_from, count) in same.0.into_iter().chain(iter::once(end)) {
        let old_to = old_at + bytes(old_middle, old_line..old_from);
        let new_to = new_at + bytes(new_middle, new_line..new_from);
        hunks.push(old_at..old_to, new_at..new_to);
        (old_line, new_line) = (old_from + count, new_from + count);
        old_at = old_to + bytes(old_middle, old_from..old_line);
        new_at = new_to + bytes(new_middle, new_from..new_line);
    }
    hunks.edits
}

/// Lines that stand in both: from which on in the old ones and in the new, and how many.
struct Same(Vec<(usize, usize, usize)>);

impl DiffHook for Same {
    type Error = Infallible;

    fn equal(&mut self, old: usize, new: usize, count: usize) -> Result<(), Infallible> {
        self.0.push((old, new, count));
        Ok(())
    }
}

struct Hunks<'t> {
    before: &'t str,
    after: &'t str,
    edits: Vec<Edit>,
}

impl Hunks<'_> {
    /// Adds the edit for one differing stretch, without its common head and tail.
    fn push(&mut self, old: std::ops::Range<usize>, new: std::ops::Range<usize>) {
        let was = self.before.get(old.clone()).unwrap_or("");
        let is = self.after.get(new).unwrap_or("");
        if was == is {
            return;
        }
        let mut head = prefix(was, is);
        // A break that is left alone has to stay whole on the old side: what looks like a common `\r` or
        // `\n` may be half of a `\r\n`.
        if splits_break(was, head) {
            head -= 1;
        }
        let (was, is) = (was.get(head..).unwrap_or(""), is.get(head..).unwrap_or(""));
        let mut tail = suffix(was, is);
        if splits_break(was, was.len() - tail) {
            tail -= 1;
        }
        let start = old.start + head;
        let end = start + was.len() - tail;
        let (Ok(start), Ok(end)) = (u32::try_from(start), u32::try_from(end)) else {
            return;
        };
        let text = is.get(..is.len() - tail).unwrap_or("");
        self.edits.push(Edit::replace(Span::new(start, end), text));
    }
}

/// Equal lines get equal numbers, so that comparing two lines costs the same at any length.
fn numbers<'t>(old: &[&'t str], new: &[&'t str]) -> (Vec<usize>, Vec<usize>) {
    let mut seen: HashMap<&'t str, usize> = HashMap::new();
    let mut number = |line: &&'t str| {
        let next = seen.len();
        *seen.entry(line).or_insert(next)
    };
    let old = old.iter().map(&mut number).collect();
    let new = new.iter().map(&mut number).collect();
    (old, new)
}

/// Whether `at` is between `\r` and `\n`.
fn splits_break(text: &str, at: usize) -> bool {
    let bytes = text.as_bytes();
    at > 0 && bytes.get(at - 1) == Some(&b'\r') && bytes.get(at) == Some(&b'\n')
}

/// Bytes of the common head, on a character boundary of both.
fn prefix(a: &str, b: &str) -> usize {
    floor(a, common(a.bytes(), b.bytes()))
}

/// Bytes of the common tail, on a character boundary of both.
fn suffix(a: &str, b: &str) -> usize {
    let mut length = common(a.bytes().rev(), b.bytes().rev());
    while !a.is_char_boundary(a.len() - length) {
        length -= 1;
    }
    length
}

fn common<T: PartialEq>(a: impl Iterator<Item = T>, b: impl Iterator<Item = T>) -> usize {
    a.zip(b).take_while(|(a, b)| a == b).count()
}

fn bytes(lines: &[&str], range: std::ops::Range<usize>) -> usize {
    let lines = lines.get(range).unwrap_or(&[]);
    lines.iter().map(|line| line.len()).sum()
}

/// The lines of `text`, each with its break.
fn cut_lines(text: &str) -> Vec<&str> {
    let mut lines = Vec::new();
    let mut from = 0;
    for (at, ending) in breaks(text) {
        let next = at + ending.as_str().len();
        lines.push(text.get(from..next).unwrap_or(""));
        from = next;
    }
    if from < text.len() {
        lines.push(text.get(from..).unwrap_or(""));
    }
    lines
}

#[cfg(test)]
mod tests;
