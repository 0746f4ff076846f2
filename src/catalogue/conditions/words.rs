//! Reading one condition's words, one after another: which of the known forms they have.

use std::cell::RefCell;

use super::amount::{Amount, amount, count, is_comparing};
use super::cursor::{Far, Words};
use super::lexicon::{Sort, is_known};
use super::read::DEEPEST;
use super::styles::{STYLES, singular};
use super::term::{Condition, Facet, Term};
use super::{card_words, fit_words, music_words, part_words, record_words, time_words};

/// What a reader gives: where it ended, and what it read.
pub(super) type Took = Option<(usize, Term)>;

/// Reads a whole condition: none where a word is left over.
pub(super) fn term(w: Words<'_>, at: usize, depth: u8) -> Option<Term> {
    if depth > DEEPEST {
        return None;
    }
    let at = without_lead(w, at);
    let own: [fn(Words<'_>, usize, u8) -> Took; 4] = [negated, different, counted, styled];
    record_words::READERS
        .iter()
        .chain(&fit_words::READERS)
        .chain(&card_words::READERS)
        .chain(&time_words::READERS)
        .chain(&music_words::READERS)
        .chain(&part_words::READERS)
        .chain(&own)
        .find_map(|read| read(w, at, depth).filter(|(end, _)| w.is_done(*end)))
        .map(|(_, term)| term)
}

/// A condition inside another, with its place.
pub(super) fn inner(w: Words<'_>, from: usize, to: usize, term: Term) -> Box<Condition> {
    Box::new(Condition {
        span: w.span(from, to),
        term,
    })
}

/// Words that say no more than that a condition follows.
fn without_lead(w: Words<'_>, mut at: usize) -> usize {
    const LEADS: [&str; 27] = [
        "every piece",
        "each piece",
        "all pieces",
        "all pieces must",
        "every work",
        "each work",
        "must be",
        "must have",
        "must",
        "should be",
        "should have",
        "to be",
        "is",
        "are",
        "it is",
        "it's",
        "that is",
        "that has",
        "we need",
        "we want",
        "i want",
        "i need",
        "nothing but",
        "of",
        "everything",
        "everything is",
        "all",
    ];
    for _ in 0..4 {
        match w.one_of(at, &LEADS) {
            Some(next) if next < w.end() => at = next,
            _ => break,
        }
    }
    at
}

/// `no solo`, `without timpani`, `nothing fast`, `not performed` inside a longer condition.
fn negated(w: Words<'_>, at: usize, depth: u8) -> Took {
    let here = w.one_of(at, &["no", "without", "not", "nothing", "never"])?;
    // `no more than` is a bound, which the other readers know.
    if is_comparing(w.small(here)) {
        return None;
    }
    let here = w.maybe(here, &["a", "an", "any", "the"]);
    match term(w, here, depth + 1)? {
        Term::Not(_) | Term::Count { .. } | Term::Different { .. } => None,
        term => Some((w.end(), Term::Not(inner(w, here, w.end(), term)))),
    }
}

pub(super) fn nothing(_: Words<'_>, at: usize) -> Option<usize> {
    Some(at)
}

/// `at least 2 keys`, `3 different composers`, `key changes`, `changes meter`, `signature changes`.
fn different(w: Words<'_>, at: usize, _: u8) -> Took {
    if let Some((here, what)) = facet(w, at)
        && let Some(here) = w.one_of(here, &["changes", "change", "changing"])
    {
        return Some((here, Term::Changes(what)));
    }
    let changing = [
        "changes",
        "changing",
        "changes of",
        "a change of",
        "change of",
        "mixed",
        "a mixed",
        "varied",
    ];
    if let Some(here) = w.one_of(at, &changing)
        && let Some((here, what)) = facet(w, here)
    {
        return Some((here, Term::Changes(what)));
    }
    if let Some(here) = w.one_of(at, &["a change in", "a"])
        && let Some((here, what)) = facet(w, here)
        && let Some(here) = w.phrase(here, "change")
    {
        return Some((here, Term::Changes(what)));
    }
    let several = w.one_of(at, &["different", "several", "more than one"]);
    let (here, amount) = match several.filter(|here| facet(w, *here).is_some()) {
        Some(here) => (here, Amount::AtLeast(2)),
        None => amount(w, at, count, nothing)?,
    };
    let here = w.maybe(here, &["different", "kinds of", "other"]);
    let (here, what) = facet(w, here)?;
    let amount = match amount {
        Amount::Just(n) => Amount::AtLeast(n),
        amount => amount,
    };
    Some((here, Term::Different { amount, what }))
}

fn facet(w: Words<'_>, at: usize) -> Option<(usize, Facet)> {
    let facets: [(Facet, &[&'static str]); 6] = [
        (
            Facet::Key,
            &[
                "key",
                "keys",
                "tonal center",
                "tonal centers",
                "tonal centre",
                "tonal centres",
            ],
        ),
        (
            Facet::Signature,
            &["key signature", "key signatures", "signature", "signatures"],
        ),
        (
            Facet::Meter,
            &[
                "meter",
                "meters",
                "metre",
                "metres",
                "time signature",
                "time signatures",
            ],
        ),
        (Facet::Tempo, &["tempo", "tempos", "tempi", "speed", "speeds"]),
        (Facet::Style, &["style", "styles"]),
        (Facet::Composer, &["composer", "composers", "writers"]),
    ];
    facets
        .iter()
        .filter_map(|(facet, words)| Some((w.one_of(at, words)?, *facet)))
        .max_by_key(|(end, _)| *end)
}

const PIECES: [&str; 15] = [
    "one",
    "ones",
    "pieces",
    "piece",
    "works",
    "work",
    "numbers",
    "number",
    "selections",
    "selection",
    "titles",
    "title",
    "tune",
    "tunes",
    "charts",
];

/// `a march`, `2 marches`, `at least 1 lyrical`, `a piece in 6/8`, `1 slow piece`, `at least 3 pieces`.
fn counted(w: Words<'_>, at: usize, depth: u8) -> Took {
    let articles = ["a", "an", "some", "something", "anything", "one that is"];
    let (here, amount) = match w.one_of(at, &articles) {
        Some(here) => (here, Amount::A),
        None => amount(w, at, count, nothing)?,
    };
    let count_of = |of: Option<(usize, usize, Term)>| {
        let of = match of {
            // A count of what is counted already says nothing.
            Some((_, _, Term::Count { .. } | Term::Different { .. } | Term::LengthInAll(_))) => return None,
            Some((from, to, term)) => Some(inner(w, from, to, term)),
            None => None,
        };
        Some((w.end(), Term::Count { amount, of }))
    };
    let all = w
        .one_of(here, &PIECES)
        .or_else(|| w.one_of(here, &["of the pieces", "of them"]));
    if let Some(of) = all {
        if of >= w.end() {
            return count_of(None);
        }
        let of = w.maybe(of, &["that is", "that are", "which is", "with", "in the"]);
        let term = term(w, of, depth + 1)?;
        return count_of(Some((of, w.end(), term)));
    }
    // `a slow piece`, `2 lyrical works`.
    let described = (here + 1..w.end().min(here + 6)).find(|end| PIECES.contains(&w.small(*end)));
    if let Some(end) = described
        && let Some(of) = term(w.up_to(end), here, depth + 1)
    {
        if !w.is_done(end + 1) {
            return None;
        }
        return count_of(Some((here, end, of)));
    }
    // `3 flutes` counts players and no pieces, and nobody can say which pieces have them.
    if amount != Amount::A {
        let aside = RefCell::new(Far::default());
        if let Some(Term::Part(_)) = term(w.aside(&aside), here, depth + 1) {
            w.expect(here, Sort::Style);
            return None;
        }
    }
    let of = term(w, here, depth + 1)?;
    count_of(Some((here, w.end(), of)))
}

/// A style that is known by name, or one that some card uses.
fn styled(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(
        at,
        &[
            "in style",
            "style",
            "in the style of a",
            "in the style of",
            "styles",
            "genre",
        ],
    );
    let here = if here > at {
        w.maybe(here, &["a", "an"])
    } else {
        here
    };
    if here > at
        && let Some((end, name)) = w.quoted(here)
    {
        return Some((end, Term::Style(name.to_lowercase())));
    }
    let (end, style) = w.longest(here, 4, Sort::Style, |words| {
        let small = words.to_lowercase();
        let one = singular(&small);
        let standard = [&small, &one]
            .into_iter()
            .find(|word| STYLES.contains(&word.as_str()))
            .cloned();
        // A style of the catalogue's own stands in the words of its cards.
        standard.or_else(|| is_known(Sort::Style, &small, w.snapshot).then_some(one))
    })?;
    let end = w.maybe(end, &["style", "in style"]);
    Some((end, Term::Style(style)))
}
