//! Reading conditions: the comma binds loosest, then `or`, then `not`. Reading never fails; what is no
//! known condition keeps its words.

use nom::Parser;
use nom::branch::alt;

use crate::catalogue::model::Said;
use crate::notation::items::split_commas;
use crate::notation::scan::{self, phrase};
use crate::text::Span;

use super::amount::{Amount, is_trail};
use super::term::{Condition, Term};
use super::words;

/// How many alternatives one condition may have; no director writes so many.
const MOST_ALTERNATIVES: usize = 50;

/// How deep one condition may stand in another; what goes deeper is kept as words.
pub(super) const DEEPEST: u8 = 6;

/// Reads conditions with commas between them. Places count from the start of `text`.
pub fn read(text: &str) -> Vec<Condition> {
    split_commas(text)
        .into_iter()
        .filter_map(|(at, piece)| one(piece, at))
        .collect()
}

/// The conditions of a field. Places count from the start of the card's text.
pub fn of_field(text: &str, said: &[Said<String>]) -> Vec<Condition> {
    said.iter()
        .filter_map(|said| one(said.span.slice(text), said.span.start as usize))
        .collect()
}

fn trimmed(text: &str, at: usize) -> (&str, usize) {
    let start = text.len() - text.trim_start().len();
    (text.trim(), at.saturating_add(start))
}

fn span(text: &str, at: usize) -> Span {
    Span::long(
        u32::try_from(at).unwrap_or(u32::MAX),
        u32::try_from(text.len()).unwrap_or(u32::MAX),
    )
}

/// One condition without commas, as it stands `at` so many bytes from the start.
fn one(text: &str, at: usize) -> Option<Condition> {
    let (text, at) = trimmed(text, at);
    let (text, at) = match text.get(..4) {
        Some(and) if and.eq_ignore_ascii_case("and ") => {
            let rest = text.get(4..).unwrap_or("");
            trimmed(rest, at.saturating_add(4))
        }
        _ => (text, at),
    };
    if text.is_empty() {
        return None;
    }
    let mut pieces = alternatives(text);
    if pieces.len() > MOST_ALTERNATIVES {
        pieces = vec![(0, text)];
    }
    let mut all: Vec<Condition> = Vec::with_capacity(pieces.len());
    for (from, piece) in pieces {
        let (piece, piece_at) = trimmed(piece, at.saturating_add(from));
        if piece.is_empty() {
            continue;
        }
        let mut condition = with_not(piece, piece_at);
        // `up to 3 flats or 1 sharp`: the bound of the first holds for the second.
        if let (Term::Signature { .. }, Some(before)) = (&condition.term, all.last_mut()) {
            if let Some(both) = both_ways(&before.term, &condition.term) {
                before.term = both;
                before.span = before.span.cover(condition.span);
                continue;
            }
        } else if let Some(before) = all.last()
            && condition.unread().len() == 1
            && let Some(helped) = helped(before, piece, piece_at)
        {
            condition = helped;
        }
        all.push(condition);
    }
    match all.len() {
        0 => None,
        1 => all.pop(),
        _ => Some(Condition {
            span: span(text, at),
            term: Term::Any(all),
        }),
    }
}

/// `in G minor or Bb major`, `by Lindqvist or Abara`: the lead of the first holds for the second.
fn helped(before: &Condition, piece: &str, at: usize) -> Option<Condition> {
    let lead = match &before.term {
        Term::By(_) => "by ",
        Term::Publisher(_) => "from ",
        Term::Asks(_) => "asks ",
        Term::Teaches(_) => "teaches ",
        Term::Features(_) => "features ",
        _ => return None,
    };
    let term = words::term(&format!("{lead}{piece}"), 0)?;
    Some(Condition {
        span: span(piece, at),
        term,
    })
}

fn both_ways(before: &Term, now: &Term) -> Option<Term> {
    let bound = |before: Amount, now: Amount| match (before, now) {
        (Amount::AtMost(_), Amount::Just(n)) => Amount::AtMost(n),
        (_, now) => now,
    };
    match (before, now) {
        (
            Term::Signature {
                flats: Some(flats),
                sharps: None,
            },
            Term::Signature {
                flats: None,
                sharps: Some(sharps),
            },
        ) if flats.is_at_most() => Some(Term::Signature {
            flats: Some(*flats),
            sharps: Some(bound(*flats, *sharps)),
        }),
        (
            Term::Signature {
                flats: None,
                sharps: Some(sharps),
            },
            Term::Signature {
                flats: Some(flats),
                sharps: None,
            },
        ) if sharps.is_at_most() => Some(Term::Signature {
            flats: Some(bound(*sharps, *flats)),
            sharps: Some(*sharps),
        }),
        _ => None,
    }
}

/// The pieces between `or`, each with its byte offset; an `or` inside quotes or in `or less` does not count.
fn alternatives(text: &str) -> Vec<(usize, &str)> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        if scan::is_quote(c) {
            quoted = !quoted;
        }
        let Some(rest) = text.get(at..).filter(|_| !quoted && scan::is_blank(c)) else {
            continue;
        };
        let Some(after) = rest
            .get(1..3)
            .filter(|or| or.eq_ignore_ascii_case("or"))
            .and_then(|_| rest.get(3..))
        else {
            continue;
        };
        if after.starts_with(scan::is_blank) && !is_trail(after) {
            pieces.push((start, text.get(start..at).unwrap_or("")));
            start = at + 3;
        }
    }
    pieces.push((start, text.get(start..).unwrap_or("")));
    pieces
}

/// Takes the `not`s off the front. They are counted, not nested, so that no text can go too deep.
fn with_not(text: &str, at: usize) -> Condition {
    let (mut rest, mut from, mut odd) = (text, at, false);
    while let Ok((after, _)) = alt((phrase("not"), phrase("isn't"), phrase("is not"))).parse(rest) {
        // `not more than 4` is a bound.
        if words::term(&tidy(rest), 0).is_some() || after.trim().is_empty() {
            break;
        }
        odd = !odd;
        (rest, from) = trimmed(after, from.saturating_add(rest.len() - after.len()));
    }
    let (inner, inner_at) = (rest, from);
    let tidied = tidy(inner);
    let term = match words::term(&tidied, 0) {
        Some(term) => term,
        None if odd => {
            return Condition {
                span: span(text, at),
                term: Term::Words(tidy(text)),
            };
        }
        None => Term::Words(tidied),
    };
    match odd {
        false => Condition {
            span: span(text, at),
            term,
        },
        true => Condition {
            span: span(text, at),
            term: Term::Not(Box::new(Condition {
                span: span(inner, inner_at),
                term,
            })),
        },
    }
}

/// Single blanks, straight quotes and plain signs.
fn tidy(text: &str) -> String {
    let mut tidied = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !tidied.is_empty() {
            tidied.push(' ');
        }
        tidied.extend(word.chars().map(|c| match c {
            '“' | '”' | '„' | '«' | '»' => '"',
            '’' | '‘' => '\'',
            c => c,
        }));
    }
    tidied
}
