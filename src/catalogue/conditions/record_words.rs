//! Reading conditions on what was learned and on the card itself: weeks, ratings, loans, movements, and what
//! its fields say.

use crate::notation::Kind;
use crate::notation::fields::{FieldSpec, Shape, fields_of};
use crate::notation::values::performance;

use super::amount::{amount, count};
use super::cursor::Words;
use super::lexicon::Sort;
use super::term::Term;
use super::words::{Took, inner};

pub(super) const READERS: [fn(Words<'_>, usize, u8) -> Took; 7] =
    [took, rated, went, lent, movements, percussion_parts, fields];

fn took(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.one_of(at, &["took", "takes", "learned in", "took us"])?;
    let (end, amount) = amount(w, here, count, |w, at| w.one_of(at, &["weeks", "week", "wks"]))?;
    Some((w.maybe(end, &["to learn", "to teach"]), Term::Took(amount)))
}

/// `result I`, `rated superior`, `a rating of II`.
fn rated(w: Words<'_>, at: usize, _: u8) -> Took {
    let leads = [
        "result",
        "results",
        "rating",
        "a rating of",
        "rating of",
        "rated",
        "rated a",
        "got a",
        "earned a",
    ];
    let here = w.one_of(at, &leads)?;
    let (end, rating) = w.longest(here, 1, Sort::Rating, performance::rating_of)?;
    Some((end, Term::Rated(rating)))
}

/// How it went, in the words that a card's `performed` understands.
fn went(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["it", "last time", "that"]);
    if let Some(end) = w.one_of(here, &["went well", "went great", "went over well"]) {
        // What went very well went well; that has its own condition.
        return Some((end, Term::WentWell));
    }
    let (end, went) = w.longest(here, 4, Sort::Went, |words| {
        performance::went_of(words).filter(|went| words.starts_with("went") || *went == words)
    })?;
    Some((end, Term::Went(went)))
}

fn lent(w: Words<'_>, at: usize, _: u8) -> Took {
    let words = [
        "lent",
        "lent out",
        "on loan",
        "out on loan",
        "parts lent",
        "loaned out",
    ];
    Some((w.one_of(at, &words)?, Term::Lent))
}

fn movements(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["has", "with", "in"]);
    let (end, amount) = amount(w, here, count, |w, at| w.one_of(at, &["movements", "movement"]))?;
    Some((end, Term::Movements(amount)))
}

fn percussion_parts(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["has", "with", "needs"]);
    let (end, amount) = amount(w, here, count, |w, at| {
        w.one_of(
            at,
            &["percussion parts", "percussion part", "parts for percussion"],
        )
    })?;
    Some((end, Term::PercussionParts(amount)))
}

/// `notes says "bus"`, `says "bus"`, `tempo known`, `grade unknown`.
fn fields(w: Words<'_>, at: usize, _: u8) -> Took {
    const SAYS: [&str; 6] = [
        "says",
        "say",
        "mentions",
        "mention",
        "says something of",
        "tells of",
    ];
    let holds = |here: usize| w.one_of(here, &SAYS).and_then(|here| w.quoted(here));
    let from = w.maybe(at, &["the card", "its card", "card", "its", "the"]);
    if let Some((end, words)) = holds(from) {
        return Some((end, Term::Holds(None, words)));
    }
    let (here, field) = w.longest(from, 3, Sort::Field, |words| {
        let small = words.to_lowercase();
        named(fields_of(Kind::Piece), &small)
    })?;
    if let Some((end, words)) = holds(here) {
        return Some((end, Term::Holds(Some(field), words)));
    }
    let known = [
        "known",
        "is known",
        "on the card",
        "written down",
        "is on the card",
        "filled in",
    ];
    if let Some(end) = w.one_of(here, &known) {
        return Some((end, Term::Known(field)));
    }
    let unknown = [
        "unknown",
        "is unknown",
        "not known",
        "is not known",
        "not on the card",
        "not written down",
    ];
    let end = w.one_of(here, &unknown)?;
    Some((end, Term::Not(inner(w, at, end, Term::Known(field)))))
}

/// The field of that name, inside a block too.
fn named(all: &'static [FieldSpec], small: &str) -> Option<&'static str> {
    let own = all
        .iter()
        .find(|field| field.name == small || field.also.contains(&small));
    own.map(|field| field.name).or_else(|| {
        all.iter().find_map(|field| match field.shape {
            Shape::Block(inside) => named(inside, small),
            _ => None,
        })
    })
}
