//! What a roster says of a percussionist: what they play, what they do not, how far they are.

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{opt, value};

use super::pitched::longest;
use super::relation;
use crate::notation::names;
use crate::notation::row::{Fact, RowName};
use crate::notation::scan::{Read, blanks1, phrase};
use crate::notation::values::{Pin, Standing};
use crate::text::Span;

/// Reads one thing at the start of a text, and how many bytes it takes.
pub fn fact(text: &str, start: u32) -> Option<(Fact, usize)> {
    longest(text, 8, Pin::read_behind_a_seat)
        .map(|(pin, taken)| (Fact::Pin(pin), taken))
        .or_else(|| anything(text))
        .or_else(|| instruments(text, start, but, true))
        .or_else(|| strong_at(text, start))
        .or_else(|| standing(text))
        .or_else(|| instruments(text, start, also, false))
}

/// `anything`, `everything`, `all` with nothing left out.
fn anything(text: &str) -> Option<(Fact, usize)> {
    let all = alt((
        phrase("all percussion"),
        phrase("everything"),
        phrase("anything"),
        phrase("all"),
        phrase("any"),
    ));
    if let Some(found) = unpitched(text).or_else(|| pitched(text)) {
        return Some(found);
    }
    let (rest, found) = (all, opt((blanks1, alt((phrase("but"), phrase("except"))))))
        .parse(text)
        .ok()?;
    // `all mallets` are the mallets alone.
    if found.1.is_some() || known(rest.trim_start()).is_some() {
        return None;
    }
    let names = vec![RowName {
        span: Span::at(0),
        words: Span::at(0),
        text: "anything".to_owned(),
        numbers: None,
        open: false,
    }];
    Some((Fact::Instruments { names, not: false }, text.len() - rest.len()))
}

/// `anything untuned`, `unpitched percussion only`: everything but mallets and timpani.
fn unpitched(text: &str) -> Option<(Fact, usize)> {
    let lead = opt((
        alt((
            phrase("anything"),
            phrase("everything"),
            phrase("all"),
            phrase("any"),
            phrase("only"),
        )),
        blanks1,
    ));
    let kind = alt((
        phrase("untuned percussion"),
        phrase("unpitched percussion"),
        phrase("non-pitched percussion"),
        phrase("untuned"),
        phrase("unpitched"),
        phrase("non-pitched"),
    ));
    let (rest, _) = (lead, kind, opt((blanks1, phrase("only")))).parse(text).ok()?;
    let group = |name: &str| RowName {
        span: Span::at(0),
        words: Span::at(0),
        text: name.to_owned(),
        numbers: None,
        open: false,
    };
    // The mallets and the timpani are what percussion has with pitches.
    let names = vec![group("mallets"), group("timpani")];
    Some((Fact::Instruments { names, not: true }, text.len() - rest.len()))
}

/// `tuned only`, `only pitched percussion`: the mallets.
fn pitched(text: &str) -> Option<(Fact, usize)> {
    let written = [
        "tuned percussion only",
        "pitched percussion only",
        "only tuned percussion",
        "only pitched percussion",
        "tuned percussion",
        "pitched percussion",
        "only tuned",
        "only pitched",
        "tuned only",
        "pitched only",
    ];
    let rest = written
        .iter()
        .find_map(|words| crate::notation::scan::after_phrase(text, words))?;
    let group = |name: &str| RowName {
        span: Span::at(0),
        words: Span::at(0),
        text: name.to_owned(),
        numbers: None,
        open: false,
    };
    let names = vec![group("mallets")];
    Some((Fact::Instruments { names, not: false }, text.len() - rest.len()))
}

/// Words before instruments that are not played.
fn but(input: &str) -> Read<'_, ()> {
    value(
        (),
        (
            alt((
                phrase("everything but"),
                phrase("everything except"),
                phrase("anything but"),
                phrase("anything except"),
                phrase("all but"),
                phrase("all except"),
                phrase("does not play"),
                phrase("doesn't play"),
                phrase("doesnt play"),
                alt((
                    phrase("won't do"),
                    phrase("wont do"),
                    phrase("doesn't do"),
                    phrase("won't play"),
                    phrase("wont play"),
                    phrase("will not play"),
                    phrase("refuses to play"),
                    phrase("has not played"),
                    phrase("hasn't played"),
                    phrase("hasnt played"),
                    phrase("has never played"),
                )),
                phrase("cannot play"),
                phrase("can't play"),
                phrase("cant play"),
                phrase("not yet"),
                phrase("not on"),
                phrase("not"),
                phrase("never"),
                phrase("no"),
                phrase("except"),
                phrase("but not"),
            )),
            blanks1,
        ),
    )
    .parse(input)
}

/// Words before instruments that are played; mostly none.
fn also(input: &str) -> Read<'_, ()> {
    value(
        (),
        opt((
            alt((
                phrase("plays"),
                phrase("play"),
                phrase("can play"),
                phrase("also plays"),
                phrase("also"),
                alt((phrase("all the"), phrase("all"), phrase("any"))),
                phrase("only"),
                phrase("just"),
                phrase("mostly"),
                phrase("prefers"),
                phrase("likes"),
                phrase("on"),
                phrase("and"),
            )),
            blanks1,
        )),
    )
    .parse(input)
}

fn instruments(
    text: &str,
    start: u32,
    lead: impl Fn(&str) -> Read<'_, ()>,
    not: bool,
) -> Option<(Fact, usize)> {
    let (rest, ()) = lead(text).ok()?;
    // A name that is not known here may be one of the catalogue's own; where it is none, a rule says so.
    let strange = known(rest).is_none();
    if strange && not {
        return None;
    }
    if strange && (rest.split_whitespace().count() > 3 || !rest.starts_with(|c: char| c.is_alphabetic())) {
        return None;
    }
    let from = text.len() - rest.len();
    let (mut names, taken) = relation::targets(rest, start + from as u32)?;
    let mut used = from + taken;
    // `snare set`: behind a drum on a roster the set is the drum set.
    let behind = text.get(used..)?;
    if let Ok((after, _)) = (blanks1, phrase("set")).parse(behind)
        && !strange
    {
        let span = Span::long(start + (text.len() - after.len() - 3) as u32, 3);
        names.push(RowName {
            span,
            words: span,
            text: "drum set".to_owned(),
            numbers: None,
            open: false,
        });
        used = text.len() - after.len();
    }
    let after = text.get(used..)?;
    for tail in [
        "only",
        "yet",
        "as well",
        "too",
        "ok",
        "okay",
        "fine",
        "kid",
        "player",
        "student",
        "first",
        "second",
        "for now",
        "right now",
        "at the moment",
    ] {
        if let Ok((behind, _)) = (blanks1, phrase(tail)).parse(after) {
            used = text.len() - behind.len();
        }
    }
    Some((Fact::Instruments { names, not }, used))
}

fn known(text: &str) -> Option<usize> {
    let rest = match (phrase("the"), blanks1).parse(text) {
        Ok((rest, _)) => rest,
        Err(_) => text,
    };
    names::known_prefix(rest)
}

/// `strong snare`, `strong on mallets`: strong on these, and able to play them.
fn strong_at(text: &str, start: u32) -> Option<(Fact, usize)> {
    let lead = (
        alt((phrase("strong"), phrase("good"), phrase("best"))),
        opt((blanks1, alt((phrase("on"), phrase("at"), phrase("with"))))),
        blanks1,
    );
    let mut lead = lead;
    let (rest, _) = lead.parse(text).ok()?;
    known(rest)?;
    let from = text.len() - rest.len();
    let (mut names, taken) = relation::targets(rest, start + from as u32)?;
    for name in &mut names {
        name.text = format!("strong {}", name.text);
    }
    Some((Fact::Instruments { names, not: false }, from + taken))
}

/// `strong`, `beginner`, `new in October`, `cannot roll yet`: how far the player is.
fn standing(text: &str) -> Option<(Fact, usize)> {
    let (standing, taken) = longest(text, 6, Standing::read)?;
    Some((Fact::Standing(standing), taken))
}
