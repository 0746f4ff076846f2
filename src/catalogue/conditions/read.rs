//! Reading conditions: the comma binds loosest, then `or`, then `not`. Reading never fails: a condition
//! with a word left over keeps that word, and those beside it stay understood.

use std::cell::RefCell;

use crate::catalogue::Snapshot;
use crate::catalogue::model::Said;
use crate::notation::pieces::split_commas;
use crate::text::Span;

use super::amount::{Amount, is_comparing, is_trail};
use super::cursor::{Far, Word, Words, words};
use super::lexicon::Sort;
use super::near::{self, Expected, Leftover};
use super::term::{Condition, Term};
use super::words;

/// How deep one condition may stand in another; what goes deeper is left over.
pub(super) const DEEPEST: u8 = 6;

/// How many words one condition may have; nobody writes a longer one.
const MOST_WORDS: usize = 60;

/// Reads conditions with commas between them. Places count from the start of `text`.
pub fn read(snapshot: &Snapshot, text: &str) -> Vec<Condition> {
    split_commas(text)
        .into_iter()
        .flat_map(|(at, piece)| one(snapshot, piece, at))
        .collect()
}

/// The conditions of a field. Places count from the start of the card's text.
pub fn of_field(snapshot: &Snapshot, text: &str, said: &[Said<String>]) -> Vec<Condition> {
    let read = |said: &Said<String>| {
        let (text, at) = (said.span.slice(text), said.span.start as usize);
        snapshot
            .lexicon()
            .conditions(text, at, || one(snapshot, text, at))
    };
    said.iter().flat_map(read).collect()
}

/// The words of a text of conditions that were not understood, each with what belongs there.
pub fn unheard(snapshot: &Snapshot, text: &str) -> Vec<(Span, Expected)> {
    read(snapshot, text)
        .iter()
        .flat_map(Condition::leftovers)
        .map(|left| (left.span, left.expected.clone()))
        .collect()
}

fn is_and(word: &Word) -> bool {
    !word.quoted
        && matches!(
            word.small.as_str(),
            "and" | "&" | "but" | "plus" | "also" | "then"
        )
}

/// A condition without words at its end that say nothing more: what counts players counts those at once, and what
/// counts minutes counts all that is done in them.
///
/// The second says whether it was one of the latter, so that a bare figure before it is minutes.
fn without_tail(text: &str) -> (&str, bool) {
    const TAILS: [&str; 10] = [
        " at any moment",
        " at any time",
        " at any one time",
        " at the same time",
        " at once",
        " at a time",
        " w talking",
        " w/ talking",
        " with talking",
        " including talking",
    ];
    let bare = text.trim_end();
    let found = TAILS
        .iter()
        .find_map(|tail| Some((bare.strip_suffix(tail)?, tail.ends_with("talking"))));
    found.unwrap_or((text, false))
}

/// What stands between two commas: one condition, or several with `and` between them.
fn one(snapshot: &Snapshot, text: &str, at: usize) -> Vec<Condition> {
    let (text, talking) = without_tail(text);
    let mut all = words(text, at);
    // Nobody talks inside a piece: the whole program is meant.
    if talking && let Some(last) = all.last() {
        let (place, bare) = (last.span, last.small.bytes().all(|byte| byte.is_ascii_digit()));
        let more = ["minutes", "in", "all"].into_iter().skip(usize::from(!bare));
        all.extend(more.map(|word| Word::put_before(word, place)));
    }
    let mut rest = all.as_slice();
    while let Some((first, more)) = rest.split_first()
        && is_and(first)
        && !more.is_empty()
    {
        rest = more;
    }
    if rest.is_empty() {
        return Vec::new();
    }
    let whole = alternatives(snapshot, rest);
    let ands = rest.iter().filter(|word| is_and(word)).count();
    if whole.leftovers().is_empty() || !(1..=10).contains(&ands) || rest.len() > MOST_WORDS {
        return vec![whole];
    }
    let each: Vec<Condition> = rest
        .split(is_and)
        .filter(|part| !part.is_empty())
        .map(|part| alternatives(snapshot, part))
        .collect();
    // One of them must be whole, or `an octave and a thrid` would come apart.
    let heard = |one: &Condition| one.leftovers().is_empty();
    match each.iter().all(heard) || each.first().is_some_and(heard) && !is_size(rest) {
        true => each,
        false => vec![whole],
    }
}

/// Whether an `and` may stand inside one condition: `between 2 and 4`, `an octave and a third`.
fn is_size(all: &[Word]) -> bool {
    all.iter().any(|word| {
        matches!(
            word.small.as_str(),
            "between" | "octave" | "octaves" | "range" | "ranges"
        )
    })
}

/// The conditions between `or`.
fn alternatives(snapshot: &Snapshot, all: &[Word]) -> Condition {
    let mut groups: Vec<&[Word]> = Vec::new();
    let mut start = 0;
    for (at, word) in all.iter().enumerate() {
        let splits = !word.quoted
            && word.small == "or"
            && at > start
            && all
                .get(at + 1)
                .is_some_and(|next| next.quoted || !is_trail(&next.small));
        if splits {
            groups.extend(all.get(start..at));
            start = at + 1;
        }
    }
    groups.extend(all.get(start..));
    let mut found: Vec<Condition> = Vec::with_capacity(groups.len());
    for group in groups {
        let mut condition = with_not(snapshot, group);
        if let Some(before) = found.last_mut() {
            if let Some(both) = both_ways(&before.term, &condition.term) {
                before.term = both;
                before.span = before.span.cover(condition.span);
                continue;
            }
            if let Term::Unheard(left) = &condition.term
                && let Some(helped) = helped(snapshot, before, group, left)
            {
                condition = helped;
            }
            if let Some(neither) = neither(before, &condition, all) {
                *before = neither;
                continue;
            }
        }
        found.push(condition);
    }
    match found.len() {
        1 => found.remove(0),
        _ => Condition {
            span: span_of(all),
            term: Term::Any(found),
        },
    }
}

pub(super) fn span_of(all: &[Word]) -> Span {
    match (all.first(), all.last()) {
        (Some(first), Some(last)) => first.span.cover(last.span),
        _ => Span::new(0, 0),
    }
}

/// `no timpani or chimes` has neither.
fn neither(before: &Condition, now: &Condition, all: &[Word]) -> Option<Condition> {
    let no = all
        .first()
        .is_some_and(|word| matches!(word.small.as_str(), "no" | "without"));
    let Term::Not(inner) = &before.term else {
        return None;
    };
    let first = match &inner.term {
        Term::Any(any) => any.first(),
        _ => Some(inner.as_ref()),
    };
    let alike = matches!(
        (&first?.term, &now.term),
        (Term::Style(_), Term::Style(_)) | (Term::Part(_) | Term::Solo(_), Term::Part(_) | Term::Solo(_))
    );
    if !no || !alike {
        return None;
    }
    let mut any = match &inner.term {
        Term::Any(any) => any.clone(),
        _ => vec![inner.as_ref().clone()],
    };
    any.push(now.clone());
    Some(Condition {
        span: before.span.cover(now.span),
        term: Term::Not(Box::new(Condition {
            span: inner.span.cover(now.span),
            term: Term::Any(any),
        })),
    })
}

/// `in G minor or Bb major`, `by Lindqvist or Abara`: the lead of the first holds for the second.
/// Where even so a word is left over, the farther of the two is told.
fn helped(snapshot: &Snapshot, before: &Condition, group: &[Word], left: &Leftover) -> Option<Condition> {
    let lead = match &before.term {
        Term::By(_) => "by",
        Term::Publisher(_) => "publisher",
        Term::Says(field, _) => field.lead(),
        Term::Asks(_) => "asks",
        Term::Teaches(_) => "teaches",
        Term::Key(_) => "in",
        Term::Grade { .. } => "grade",
        _ => return None,
    };
    let mut all = vec![Word::put_before(lead, group.first()?.span)];
    all.extend(group.iter().cloned());
    if all.len() > MOST_WORDS {
        return None;
    }
    let term = match attempt(snapshot, &all) {
        Ok(term) => term,
        Err(far) => {
            let word = all.get(far.at).filter(|word| word.span.start > left.span.start)?;
            Term::Unheard(Leftover {
                words: joined(group),
                word: word.text.clone(),
                span: word.span,
                expected: near::expected(snapshot, &all, &far),
            })
        }
    };
    Some(Condition {
        span: span_of(group),
        term,
    })
}

/// `up to 3 flats or 1 sharp`: the bound of the first holds for the second.
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

/// Takes the `not`s off the front. They are counted, not nested, so that no text can go too deep.
fn with_not(snapshot: &Snapshot, all: &[Word]) -> Condition {
    let (mut from, mut odd) = (0, false);
    let small = |at: usize| {
        all.get(at)
            .filter(|word| !word.quoted)
            .map_or("", |word| &word.small)
    };
    loop {
        let step = match (small(from), small(from + 1)) {
            ("is" | "are", "not") => 2,
            // `not more than 4` is a bound.
            ("not", next) if is_comparing(next) => 0,
            ("not" | "isn't" | "aren't", _) => 1,
            _ => 0,
        };
        if step == 0 || from + step >= all.len() {
            break;
        }
        odd = !odd;
        from += step;
    }
    let inside = all.get(from..).unwrap_or_default();
    let condition = Condition {
        span: span_of(inside),
        term: term(snapshot, inside),
    };
    match odd {
        false => Condition {
            span: span_of(all),
            ..condition
        },
        true => Condition {
            span: span_of(all),
            term: Term::Not(Box::new(condition)),
        },
    }
}

/// Reads all of the words as one condition, or keeps the word that is left over.
fn term(snapshot: &Snapshot, all: &[Word]) -> Term {
    let left = |at: usize, expected: Expected| {
        let word = all.get(at).or(all.last());
        Term::Unheard(Leftover {
            words: joined(all),
            word: word.map_or(String::new(), |word| word.text.clone()),
            span: word.map_or(Span::new(0, 0), |word| word.span),
            expected,
        })
    };
    if all.len() > MOST_WORDS {
        return left(
            MOST_WORDS,
            Expected {
                sorts: vec![Sort::Shorter],
                ..Expected::default()
            },
        );
    }
    match attempt(snapshot, all) {
        Ok(term) => term,
        Err(far) => left(far.at, near::expected(snapshot, all, &far)),
    }
}

/// One condition, or how far its words led.
pub(super) fn attempt(snapshot: &Snapshot, all: &[Word]) -> Result<Term, Far> {
    let far = RefCell::new(Far::default());
    match words::term(Words::new(all, &far, snapshot), 0, 0) {
        Some(term) => Ok(term),
        None => Err(far.into_inner()),
    }
}

pub(super) fn joined(all: &[Word]) -> String {
    let words: Vec<String> = all
        .iter()
        .map(|word| match word.quoted {
            true => format!("\"{}\"", word.text),
            false => word.text.clone(),
        })
        .collect();
    words.join(" ")
}
