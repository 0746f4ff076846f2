//! Reading one condition's words, already tidied: which of the known forms it has.

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{opt, recognize};

use crate::catalogue::instrument_named;
use crate::music::Instruments;
use crate::music::groups::Group;
use crate::notation::scan::{Read, blanks, phrase};

use super::amount::{Amount, amount, count};
use super::read::DEEPEST;
use super::styles::{STYLES, singular};
use super::term::{Condition, Facet, Term};
use super::{card_words, music_words};
use crate::text::Span;

/// Reads a whole condition; none where it has no known form.
pub(super) fn term(text: &str, depth: u8) -> Option<Term> {
    if depth > DEEPEST || text.len() > 400 {
        return None;
    }
    let bare = without_lead(text);
    let readers = [
        negated,
        card_words::term,
        music_words::term,
        different,
        counted,
        has,
        styled,
    ];
    readers.iter().find_map(|read| read(bare, depth))
}

/// What the words stand in, without a place of its own: the whole condition's place serves.
pub(super) fn inner(term: Term) -> Box<Condition> {
    Box::new(Condition {
        span: Span::new(0, 0),
        term,
    })
}

/// `text` behind `words`, where it starts with them.
pub(super) fn after<'t>(text: &'t str, words: &'static str) -> Option<&'t str> {
    let (rest, _) = phrase(words)(text).ok()?;
    Some(rest.trim_start())
}

/// `text` before `words`, where it ends with them.
pub(super) fn before<'t>(text: &'t str, words: &str) -> Option<&'t str> {
    let at = text.len().checked_sub(words.len())?;
    let (head, tail) = (text.get(..at)?, text.get(at..)?);
    (tail.eq_ignore_ascii_case(words) && head.ends_with(' ')).then(|| head.trim_end())
}

/// Words that say no more than that a condition follows.
fn without_lead(text: &str) -> &str {
    const LEADS: [&str; 14] = [
        "every piece",
        "each piece",
        "all pieces",
        "every work",
        "each work",
        "must be",
        "must have",
        "must",
        "is",
        "are",
        "that is",
        "nothing but",
        "of",
        "with",
    ];
    let mut text = text.trim();
    for _ in 0..4 {
        match LEADS.iter().find_map(|lead| after(text, lead)) {
            Some(rest) if !rest.is_empty() => text = rest,
            _ => break,
        }
    }
    text
}

/// `no solo`, `without timpani`, `never a solo`, `not performed` inside a longer condition.
fn negated(text: &str, depth: u8) -> Option<Term> {
    let rest = ["no", "without", "not", "nothing"]
        .iter()
        .find_map(|lead| after(text, lead))?;
    // `no more than` is a bound, which the other readers know.
    if [
        "more", "less", "fewer", "higher", "lower", "longer", "harder", "sharps", "flats",
    ]
    .iter()
    .any(|bound| after(rest, bound).is_some())
    {
        return None;
    }
    let rest = ["a", "an", "any"]
        .iter()
        .find_map(|article| after(rest, article))
        .unwrap_or(rest);
    let term = term(rest, depth + 1).or_else(|| term(&singular(rest), depth + 1))?;
    match term {
        Term::Not(_) | Term::Count { .. } | Term::Different { .. } => None,
        term => Some(Term::Not(inner(term))),
    }
}

fn nothing(input: &str) -> Read<'_, &str> {
    Ok((input, ""))
}

/// `at least 2 keys`, `3 different composers`, `key changes`.
fn different(text: &str, _: u8) -> Option<Term> {
    if let Some(facet) = before(text, "changes")
        .or_else(|| before(text, "change"))
        .and_then(facet)
    {
        return Some(Term::Changes(facet));
    }
    if let Some(facet) = after(text, "changing")
        .or_else(|| after(text, "mixed"))
        .and_then(facet)
    {
        return Some(Term::Changes(facet));
    }
    let (rest, amount) = amount(text, count, nothing).ok()?;
    let rest = rest.trim_start();
    let named = ["different", "kinds of", "other"]
        .iter()
        .find_map(|word| after(rest, word))
        .unwrap_or(rest);
    let what = facet(named)?;
    let amount = match amount {
        Amount::Just(n) => Amount::AtLeast(n),
        amount => amount,
    };
    Some(Term::Different { amount, what })
}

fn facet(word: &str) -> Option<Facet> {
    Some(match word.to_lowercase().as_str() {
        "key" | "keys" | "tonal center" | "tonal centers" | "key signature" | "key signatures" => Facet::Key,
        "meter" | "meters" | "time signature" | "time signatures" => Facet::Meter,
        "tempo" | "tempos" | "tempi" | "speeds" => Facet::Tempo,
        "style" | "styles" => Facet::Style,
        "composer" | "composers" | "writers" => Facet::Composer,
        _ => return None,
    })
}

fn article(input: &str) -> Read<'_, &str> {
    alt((phrase("a"), phrase("an"), phrase("some"))).parse(input)
}

fn piece_word(input: &str) -> Read<'_, &str> {
    recognize(alt((
        phrase("pieces"),
        phrase("piece"),
        phrase("works"),
        phrase("work"),
        phrase("numbers"),
        phrase("number"),
        phrase("selections"),
        phrase("selection"),
        phrase("titles"),
        phrase("title"),
        phrase("of the pieces"),
        phrase("of them"),
    )))
    .parse(input)
}

/// `a march`, `2 marches`, `at least 1 lyrical`, `a piece in 6/8`, `at least 3 pieces`.
fn counted(text: &str, depth: u8) -> Option<Term> {
    let (rest, amount) = match article(text) {
        Ok((rest, _)) => (rest, Amount::A),
        Err(_) => amount(text, count, nothing).ok()?,
    };
    let rest = rest.trim_start();
    if rest.is_empty() {
        return None;
    }
    if let Ok((of, _)) = piece_word(rest) {
        let of = of.trim();
        return match of.is_empty() {
            true => Some(Term::Count { amount, of: None }),
            false => Some(Term::Count {
                amount,
                of: Some(inner(term(of, depth + 1)?)),
            }),
        };
    }
    // `a slow piece`, `2 lyrical works`.
    let described = [
        "piece",
        "pieces",
        "work",
        "works",
        "number",
        "numbers",
        "selection",
        "selections",
    ]
    .iter()
    .find_map(|word| before(rest, word));
    let of = match described {
        Some(described) => term(described, depth + 1).or_else(|| style_words(described))?,
        None => term(rest, depth + 1)
            .or_else(|| term(&singular(rest), depth + 1))
            .or_else(|| style_words(&singular(rest)))?,
    };
    // A count of what is counted already says nothing.
    if matches!(
        of,
        Term::Count { .. } | Term::Different { .. } | Term::LengthInAll(_)
    ) {
        return None;
    }
    Some(Term::Count {
        amount,
        of: Some(inner(of)),
    })
}

/// One or two plain words, which may be a style that a card uses.
fn style_words(text: &str) -> Option<Term> {
    let plain = text.split(' ').count() <= 2
        && text
            .chars()
            .all(|c| c.is_alphabetic() || matches!(c, ' ' | '-' | '\''));
    plain.then(|| Term::Style(text.to_lowercase()))
}

/// `has oboe solo`, `oboe solo`, `solos`, `has timpani`, `timpani`.
fn has(text: &str, _: u8) -> Option<Term> {
    let said = ["has", "have", "having", "uses", "use", "needs", "includes"]
        .iter()
        .find_map(|lead| after(text, lead));
    let words = said.unwrap_or(text);
    let (words, _) = opt((
        alt((phrase("a"), phrase("an"), phrase("any"), phrase("the"))),
        blanks,
    ))
    .parse(words)
    .ok()?;
    let small = words.to_lowercase();
    if matches!(small.as_str(), "solo" | "solos") {
        return Some(Term::Solo(None));
    }
    let instrument = |name: &str| {
        instrument_named(Instruments::standard(), name).is_some_and(|_| !name.contains('"'))
            || instrument_named(Instruments::standard(), &singular(name)).is_some()
    };
    let solo = before(words, "solo")
        .or_else(|| before(words, "solos"))
        .or_else(|| after(words, "solo"))
        .or_else(|| after(words, "solos for"))
        .or_else(|| after(words, "a solo for"));
    if let Some(name) = solo.filter(|name| instrument(name)) {
        return Some(Term::Solo(Some(name.to_owned())));
    }
    let whole = Instruments::standard().find(words).exact().is_some()
        || Instruments::standard().find(&singular(words)).exact().is_some();
    // `has` may lead to an instrument of the catalogue's own; bare words must be one that everybody knows.
    let group = Group::read(words).is_some();
    match said {
        Some(_) if instrument(words) && !group => Some(Term::Part(words.to_owned())),
        None if whole && !group => Some(Term::Part(words.to_owned())),
        _ => None,
    }
}

/// A style that is known by name.
fn styled(text: &str, _: u8) -> Option<Term> {
    let style = ["in style", "style", "in the style of a"]
        .iter()
        .find_map(|lead| after(text, lead));
    if let Some(style) = style {
        return style_words(style.strip_prefix("a ").unwrap_or(style));
    }
    let word = text.to_lowercase();
    if STYLES.contains(&word.as_str()) {
        return Some(Term::Style(word));
    }
    let one = singular(&word);
    STYLES.contains(&one.as_str()).then_some(Term::Style(one))
}
