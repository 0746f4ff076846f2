//! The smallest pieces of a line, read with nom: blanks, words, quoted names, remarks.

use nom::bytes::complete::{take_while, take_while1};
use nom::character::complete::{char, one_of, satisfy};
use nom::combinator::{opt, peek};
use nom::sequence::{preceded, terminated};
use nom::{IResult, Parser};

use super::kind::Kind;

/// What every reader here gives back: the rest of the text, and what was read.
pub type Read<'a, T> = IResult<&'a str, T>;

/// The longest stretch between two commas, in bytes, that is looked into. Nobody writes such a one by
/// hand, and looking for places and figures at each of its words would take as long as one likes.
pub const LONGEST: u32 = 1000;

/// Whether the first word has a figure in it, as `Bb4`, `17-48` and `1st` have: no word of plain letters, and no
/// phrase that begins with one, stands there.
#[inline]
pub fn starts_with_figures(text: &str) -> bool {
    let word = text.bytes().take_while(u8::is_ascii_alphanumeric);
    word.take(8).any(|byte| byte.is_ascii_digit())
}

/// Whether a character separates words on a line.
pub fn is_blank(c: char) -> bool {
    c == ' ' || c == '\t' || c == '\u{a0}'
}

/// Whether a character may open a quoted name. Straight and curly quotes are one to a reader.
pub fn is_quote(c: char) -> bool {
    matches!(c, '"' | '“' | '”' | '„' | '«' | '»')
}

/// Zero or more blanks.
pub fn blanks(input: &str) -> Read<'_, &str> {
    let rest = skip_blanks(input);
    Ok((rest, taken(input, rest)))
}

/// One or more blanks.
pub fn blanks1(input: &str) -> Read<'_, &str> {
    let rest = skip_blanks(input);
    match rest.len() < input.len() {
        true => Ok((rest, taken(input, rest))),
        false => refused(input),
    }
}

/// A whole word of the notation, whatever its capitals: what follows must not go on with it.
#[inline]
pub fn word<'a>(
    expected: &'static str,
) -> impl Parser<&'a str, Output = &'a str, Error = nom::error::Error<&'a str>> {
    move |input: &'a str| {
        if !same_start(input, expected) {
            return refused(input);
        }
        match after_word(input, expected) {
            Some(rest) => Ok((rest, taken(input, rest))),
            None => refused(input),
        }
    }
}

/// What stands behind a whole word at the start. Most words are refused at their first byte, so that
/// trying one after another costs little.
fn after_word<'a>(input: &'a str, expected: &str) -> Option<&'a str> {
    let (head, rest) = input.split_at_checked(expected.len())?;
    (head.eq_ignore_ascii_case(expected) && ends_word(rest)).then_some(rest)
}

/// Whether two texts start with the same two bytes, whatever their capitals; a blank stands for any blanks.
#[inline(always)]
pub(super) fn same_start(input: &str, expected: &str) -> bool {
    // Signs may be taken for others here; whoever goes on compares in full.
    let alike = |one: u8, other: u8| (one ^ other) & !0x20 == 0;
    match (input.as_bytes(), expected.as_bytes()) {
        ([one, next, ..], [other, after, ..]) => {
            alike(*one, *other) && (*after == b' ' || alike(*next, *after))
        }
        ([one, ..], [other]) => alike(*one, *other),
        _ => false,
    }
}

fn ends_word(rest: &str) -> bool {
    match rest.as_bytes().first() {
        None => true,
        Some(byte) if byte.is_ascii() => !(byte.is_ascii_alphanumeric() || *byte == b'\''),
        Some(_) => rest
            .chars()
            .next()
            .is_none_or(|c| !(c.is_alphanumeric() || c == '’')),
    }
}

fn taken<'a>(input: &'a str, rest: &str) -> &'a str {
    input.get(..input.len() - rest.len()).unwrap_or("")
}

/// Nothing is read here.
pub(super) fn refused<T>(input: &str) -> Read<'_, T> {
    Err(nom::Err::Error(nom::error::Error::new(
        input,
        nom::error::ErrorKind::Tag,
    )))
}

/// Succeeds where a word may end, and takes nothing.
pub fn word_end(input: &str) -> Read<'_, ()> {
    match ends_word(input) {
        true => Ok((input, ())),
        false => refused(input),
    }
}

/// Several words with any blanks between them, such as `same as`.
#[inline]
pub fn phrase<'a>(words: &'static str) -> impl Fn(&'a str) -> Read<'a, &'a str> {
    move |input: &'a str| {
        if !same_start(input, words) {
            return refused(input);
        }
        match after_phrase(input, words) {
            Some(rest) => Ok((rest, taken(input, rest))),
            None => refused(input),
        }
    }
}

/// What stands behind several words with any blanks between them.
#[inline]
pub(super) fn after_phrase<'a>(input: &'a str, words: &str) -> Option<&'a str> {
    match same_start(input, words) {
        true => behind_phrase(input, words),
        false => None,
    }
}

fn behind_phrase<'a>(input: &'a str, words: &str) -> Option<&'a str> {
    behind(input, words).filter(|rest| ends_word(rest))
}

/// What stands behind several words with any blanks between them, whether or not the last one ends there.
pub(super) fn behind<'a>(input: &'a str, words: &str) -> Option<&'a str> {
    let mut text = input.as_bytes();
    for expected in words.bytes() {
        if expected == b' ' {
            let rest = skip_blanks(input.get(input.len() - text.len()..)?);
            if rest.len() == text.len() {
                return None;
            }
            text = rest.as_bytes();
        } else {
            let (found, rest) = text.split_first()?;
            if !found.eq_ignore_ascii_case(&expected) {
                return None;
            }
            text = rest;
        }
    }
    input.get(input.len() - text.len()..)
}

/// A text without the blanks at its start.
pub(super) fn skip_blanks(text: &str) -> &str {
    let mut rest = text.as_bytes();
    loop {
        rest = match rest {
            [b' ' | b'\t', tail @ ..] => tail,
            // A blank that does not break a line.
            [0xc2, 0xa0, tail @ ..] => tail,
            _ => break,
        };
    }
    text.get(text.len() - rest.len()..).unwrap_or("")
}

/// Text with one blank between its words.
pub fn single(text: &str) -> String {
    let mut blank = true;
    let plain = text.bytes().all(|byte| {
        let twice = byte == b' ' && blank;
        blank = byte == b' ';
        !twice && matches!(byte, b' '..=b'~')
    });
    if plain && !blank {
        return text.to_owned();
    }
    let mut single = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !single.is_empty() {
            single.push(' ');
        }
        single.push_str(word);
    }
    single
}

/// A quoted name: gives what stands between the quotes. A quote that is never closed ends with the line.
pub fn quoted(input: &str) -> Read<'_, &str> {
    let (rest, _) = satisfy(is_quote).parse(input)?;
    let (rest, inside) = take_while(|c| !is_quote(c) && c != '\n' && c != '\r').parse(rest)?;
    let (rest, _) = opt(satisfy(is_quote)).parse(rest)?;
    Ok((rest, inside.trim()))
}

/// A whole number that fits in 32 bits; commas between thousands are allowed.
pub fn number(input: &str) -> Read<'_, u32> {
    let bytes = input.as_bytes();
    let figures = |from: usize| {
        let tail = bytes.get(from..).unwrap_or(&[]);
        tail.iter().take_while(|byte| byte.is_ascii_digit()).count()
    };
    let mut end = figures(0);
    while end > 0 && bytes.get(end) == Some(&b',') && figures(end + 1) == 3 {
        end += 4;
    }
    let digits = bytes
        .get(..end)
        .unwrap_or(&[])
        .iter()
        .filter(|byte| **byte != b',');
    let mut value: Option<u32> = (end > 0).then_some(0);
    for digit in digits {
        let digit = u32::from(digit - b'0');
        value = value.and_then(|value| value.checked_mul(10)?.checked_add(digit));
    }
    match (value, input.get(end..)) {
        (Some(value), Some(rest)) => Ok((rest, value)),
        _ => Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Digit,
        ))),
    }
}

/// A hyphen or one of the dashes people type for a span.
pub fn dash(input: &str) -> Read<'_, char> {
    one_of("-–—−‐‑").parse(input)
}

/// The head of an entry at the very start of a line: its kind, and what stands before the name.
pub fn head_word(line: &str) -> Option<Kind> {
    let (rest, kind) = kind_word(line).ok()?;
    let starts = match kind {
        Kind::Handbook => rest.trim().is_empty() || preceded(blanks, char('(')).parse(rest).is_ok(),
        _ => preceded(blanks, satisfy(is_quote)).parse(rest).is_ok(),
    };
    starts.then_some(kind)
}

/// A kind's word at the start of a line, with or without a name after it.
pub fn kind_word(line: &str) -> Read<'_, Kind> {
    let (rest, word) =
        terminated(take_while1(|c: char| c.is_ascii_alphabetic()), peek(word_end)).parse(line)?;
    match Kind::of_word(word) {
        Some(kind) => Ok((rest, kind)),
        None => Err(nom::Err::Error(nom::error::Error::new(
            line,
            nom::error::ErrorKind::Tag,
        ))),
    }
}

/// Whether a line is one of the marks that version control leaves where changes collide.
pub fn is_conflict_mark(line: &str) -> bool {
    let ends = |mark: &str| {
        line.strip_prefix(mark)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\r', '\n']))
    };
    ends("<<<<<<<") || ends("=======") || ends(">>>>>>>") || ends("|||||||")
}

/// Where a word, or several, start in a text after a blank or at its start.
pub fn find_word(text: &str, word: &str) -> Option<usize> {
    // Looking whether it is there at all costs far less than looking where.
    if !text.contains(word) {
        return None;
    }
    text.match_indices(word)
        .map(|(at, _)| at)
        .find(|at| *at == 0 || text.get(..*at).is_some_and(|before| before.ends_with(is_blank)))
}
