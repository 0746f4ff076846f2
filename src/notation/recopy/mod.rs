//! Recopying: a card laid out again in the one form, with everything it says left as it is.
//!
//! Layout is given to every line; words are changed only where they were understood and say the same in
//! the one form. A last look reads the new card and compares: a field, or the whole card, that would say
//! something else is left alone and named in the result.

mod lines;
mod order;
mod same;
mod spoken;
mod values;

use super::read::{Reading, read};
use super::{Kind, split};
use crate::text::{Ending, Span};

/// What recopying gave.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Recopied {
    /// The new text.
    pub text: String,
    /// What was left alone because the one form would have said something else. Usually empty.
    pub kept_as_is: Vec<Kept>,
}

/// A place left alone, in bytes from the start of the text that was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kept {
    /// Where it stands.
    pub span: Span,
    /// Whether the whole card was left alone, and not only the words of one field.
    pub card: bool,
}

/// How to recopy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct How {
    /// Whether fields are put in the order of the manual. Fields not known stay behind the one before them.
    pub order: bool,
}

/// Recopies one card as it was cut from its file, with the line ending that most of its lines have.
pub fn recopy(text: &str) -> Recopied {
    recopy_card(text, Ending::of(text), How::default())
}

/// Recopies a whole file: every card, with the line ending that most lines of the file have.
///
/// Blank lines at the file's edges are dropped, and its last line ends.
pub fn recopy_file(text: &str, how: How) -> Recopied {
    let ending = Ending::of(text);
    let mut starts = split(text);
    starts.push(text.len());
    let mut out = Recopied::default();
    for ends in starts.windows(2) {
        let &[start, end] = ends else { continue };
        let Some(piece) = text.get(start..end) else {
            continue;
        };
        let card = recopy_card(piece, ending, how);
        let moved = card.kept_as_is.iter().map(|kept| Kept {
            span: kept.span.shift(start as i64),
            ..*kept
        });
        out.kept_as_is.extend(moved);
        out.text.push_str(&card.text);
    }
    let edge = ['\n', '\r'];
    let bom = if out.text.starts_with('\u{feff}') {
        "\u{feff}"
    } else {
        ""
    };
    let inner = out.text.trim_start_matches('\u{feff}').trim_matches(edge);
    out.text = match inner {
        "" => bom.to_owned(),
        inner => format!("{bom}{inner}{}", ending.as_str()),
    };
    out
}

/// Recopies one card with a line ending; the last line of the result ends too.
///
/// What is only remarked without parentheses gets them, so that it is seen for what it was taken.
pub fn recopy_card(text: &str, ending: Ending, how: How) -> Recopied {
    let before = read(text);
    if let Some(marked) = spoken::in_parentheses(text, &before) {
        let copied = copied(&marked, read(&marked), ending, how);
        if copied.kept_as_is.is_empty() {
            return copied;
        }
    }
    copied(text, before, ending, how)
}

fn copied(text: &str, before: Reading, ending: Ending, how: How) -> Recopied {
    let mut kept_as_is = Vec::new();
    let mut alone = Vec::new();
    let mut new = written(text, &before, &alone, ending);
    if !says_the_same(text, &before, &new) {
        alone = differing(text, &before, &new);
        new = written(text, &before, &alone, ending);
        for field in alone.iter().filter_map(|index| before.fields.get(*index)) {
            kept_as_is.push(Kept {
                span: field.whole,
                card: false,
            });
        }
        if !says_the_same(text, &before, &new) {
            kept_as_is = vec![Kept {
                span: Span::whole(text),
                card: true,
            }];
            return Recopied {
                text: ended(text, ending),
                kept_as_is,
            };
        }
    }
    if how.order {
        new = order::ordered(&new);
    }
    Recopied {
        text: new,
        kept_as_is,
    }
}

/// The card's text with its lines written anew; the fields in `alone` keep their words.
fn written(text: &str, reading: &Reading, alone: &[usize], ending: Ending) -> String {
    let bodies = lines::lines(text, reading, alone);
    let mut out = String::with_capacity(text.len() + text.len() / 2);
    if text.starts_with('\u{feff}') {
        out.push('\u{feff}');
    }
    let mut blank = false;
    for body in bodies {
        // One blank line parts as well as three.
        if body.is_empty() && blank {
            continue;
        }
        blank = body.is_empty();
        // A table's word that was not there stands on a line of its own.
        for line in body.split('\n') {
            out.push_str(line);
            out.push_str(ending.as_str());
        }
    }
    out
}

fn says_the_same(text: &str, before: &Reading, new: &str) -> bool {
    same::reading((text, before), (new, &read(new)))
}

/// The fields that say something else in `new`; all of them when not even their number is the same.
fn differing(text: &str, before: &Reading, new: &str) -> Vec<usize> {
    let after = read(new);
    let all = 0..before.fields.len();
    if after.fields.len() != before.fields.len() {
        return all.collect();
    }
    all.filter(|index| {
        let pair = before.fields.get(*index).zip(after.fields.get(*index));
        pair.is_none_or(|(one, other)| {
            !same::field((text, one), (new, other))
                || same::unheard(text, before, one.whole) != same::unheard(new, &after, other.whole)
        })
    })
    .collect()
}

fn ended(text: &str, ending: Ending) -> String {
    let mut text = text.to_owned();
    if !text.is_empty() && !text.ends_with(['\n', '\r']) {
        text.push_str(ending.as_str());
    }
    text
}

/// The head of a card in the one form, for cards that are drafted: `piece "Air"`, or `handbook` alone.
pub fn head(kind: Kind, name: &str) -> String {
    if kind.is_named() {
        format!("{kind} \"{name}\"")
    } else {
        kind.to_string()
    }
}

/// A field's line in the one form, `indent` columns deep: the value starts sixteen columns further on.
pub fn field_line(indent: usize, word: &str, value: &str) -> String {
    columns(indent, word, value, 1)
}

/// A row's line in the one form, `indent` columns deep: the facts start sixteen columns further on, and
/// at least two blanks behind the name, so that it is certain where the name ends.
pub fn row_line(indent: usize, name: &str, facts: &str) -> String {
    columns(indent, name, facts, 2)
}

fn columns(indent: usize, first: &str, second: &str, gap: usize) -> String {
    let mut line = " ".repeat(indent);
    line.push_str(first);
    if second.is_empty() {
        return line;
    }
    if !first.is_empty() {
        let width = first.chars().count();
        let gap = if width + gap <= 16 { 16 - width } else { 2 };
        line.push_str(&" ".repeat(gap));
    }
    line.push_str(second);
    line
}
