//! Facts of a row: ranges, measures, relations, solos and the rest, one after another between commas.

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{all_consuming, map, opt, value};
use nom::sequence::preceded;

use super::items::about_word;
use super::row::{Can, Fact, Relation, RowFact};
use super::scan::{self, Read, blanks, blanks1, number, phrase, word};
use super::values::place::{at_word, measure_word, split_place, stretch};
use super::values::{Place, Stet};
use crate::music::{Pitch, PitchRange};
use crate::text::Span;

/// Whether a fact starts with these words, so that a row's name ends before them.
pub fn starts_fact(words: &str) -> bool {
    range(words).is_some()
        || no_range(words).is_some()
        || relation(words).is_ok()
        || keyword(words).is_ok()
        || plays(words).is_ok()
        || players(words).is_ok()
        || about_word(words).is_ok()
        || at_word(words).is_ok()
}

/// Whether a text is nothing but one of the words that are a fact by themselves, such as `optional`.
pub(super) fn is_keyword(text: &str) -> bool {
    keyword(text.trim_end_matches('?').trim_end()).is_ok_and(|(rest, _)| rest.trim().is_empty())
}

/// Reads the facts between two commas; never fails, since anything else is words.
pub fn read(masked: &str, span: Span) -> Vec<RowFact> {
    let mut facts = Vec::new();
    if span.len() > scan::LONGEST {
        let span = super::build::trim_span(masked, span);
        let words = span
            .slice(masked)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        facts.push(RowFact {
            span,
            about: false,
            open: false,
            what: Fact::Words(words, None),
        });
        return facts;
    }
    let mut rest = span;
    // Each round takes at least one word, so the loop ends.
    while !rest.slice(masked).trim().is_empty() {
        let here = super::build::trim_span(masked, rest);
        let (fact, taken) = one(masked, here);
        facts.push(fact);
        rest = Span::new(here.start + taken.max(1), here.end);
    }
    facts
}

fn one(masked: &str, span: Span) -> (RowFact, u32) {
    let whole = span.slice(masked);
    let (text, about) = match about_word(whole) {
        Ok((tail, ())) if !tail.is_empty() => (tail, true),
        _ => (whole, false),
    };
    let skipped = (whole.len() - text.len()) as u32;
    let start = span.start + skipped;
    let (bare, open) = match text.strip_suffix('?') {
        Some(head) => (head.trim_end_matches('?').trim_end(), true),
        None => (text, false),
    };
    let (what, taken) = fact(bare, start);
    let ends = taken >= bare.len();
    let length = if ends { text.len() } else { taken };
    // A `?` in the middle belongs to the fact it ends.
    let (length, open) = match text.get(length..).and_then(|rest| rest.strip_prefix('?')) {
        Some(_) if !ends => (length + 1, true),
        _ => (length, open && ends),
    };
    let fact = RowFact {
        span: Span::long(start, length as u32),
        about,
        open,
        what,
    };
    (fact, skipped + length as u32)
}

/// One fact at the start of `text`, and how many bytes it takes.
fn fact(text: &str, start: u32) -> (Fact, usize) {
    if let Ok((_, _)) = (word("stet"), blanks1).parse(text)
        && let Some(stet) = text.get(4..).and_then(Stet::read)
    {
        return (Fact::Stet(stet), text.len());
    }
    if let Some((range, taken)) = range(text) {
        let rest = text.get(taken..).unwrap_or("");
        let (rest, concert) = match preceded(blanks, word("concert")).parse(rest) {
            Ok((rest, _)) => (rest, true),
            Err(_) => (rest, false),
        };
        let (rest, place) = leading_place(rest);
        let fact = Fact::Range {
            range,
            concert,
            place,
        };
        return (fact, text.len() - rest.len());
    }
    if let Some((fact, taken)) = retune(text).or_else(|| pitches(text)).or_else(|| no_range(text)) {
        return (fact, taken);
    }
    if let Some(fact) = complete_with(text) {
        return (fact, text.len());
    }
    if let Ok((rest, relation)) = relation(text) {
        // `cued in flute 1, 5-12` keeps its comma; the target runs to a place or to the end.
        let (target, place) = split_place(rest);
        let from = start + (text.len() - rest.len()) as u32;
        let target_span = Span::long(from, target.len() as u32);
        let fact = Fact::Relation {
            relation,
            target: super::names::part_in_full(target),
            target_span,
            place,
        };
        return (fact, text.len());
    }
    if let Ok((rest, fact)) = keyword(text) {
        let (rest, place) = leading_place(rest);
        let fact = match fact {
            Fact::Solo(_) => Fact::Solo(place),
            Fact::OverTheBreak(_) => Fact::OverTheBreak(place),
            Fact::Tacet(_) => Fact::Tacet(place),
            other => other,
        };
        return (fact, text.len() - rest.len());
    }
    if let Ok((rest, (_, _, asked))) =
        (alt((word("asks"), word("needs"))), blanks1, nom::combinator::rest).parse(text)
    {
        return (
            Fact::Asks(asked.split_whitespace().collect::<Vec<_>>().join(" ")),
            text.len() - rest.len(),
        );
    }
    if let Ok((rest, fact)) = players(text) {
        return (fact, text.len() - rest.len());
    }
    if let Ok((rest, fact)) = plays(text) {
        return (fact, text.len() - rest.len());
    }
    let (words, place) = split_place(text);
    (
        Fact::Words(words.split_whitespace().collect::<Vec<_>>().join(" "), place),
        text.len(),
    )
}

/// A place right after a fact: `5-12`, `at 41-44`, `at trio`.
fn leading_place(text: &str) -> (&str, Option<Place>) {
    let trimmed = text.trim_start_matches(scan::is_blank);
    if let Ok((rest, stretch)) = preceded(opt(at_word), stretch).parse(trimmed) {
        let place = match stretch.first == stretch.last {
            true => Place::At(super::values::Point::Measure(stretch.first)),
            false => Place::Between(
                super::values::Point::Measure(stretch.first),
                super::values::Point::Measure(stretch.last),
            ),
        };
        return (rest, Some(place));
    }
    if let Ok((rest, ())) = at_word(trimmed)
        && let Some(place) = super::values::place::after_at(rest)
    {
        return ("", Some(place));
    }
    (text, None)
}

/// A range of pitches at the start: `A3-C5`, `A3 – C5`, `A3 to C5`.
fn range(text: &str) -> Option<(PitchRange, usize)> {
    let first = text.chars().next()?;
    if !matches!(first.to_ascii_uppercase(), 'A'..='G') {
        return None;
    }
    let mut ends: Vec<usize> = text
        .match_indices(scan::is_blank)
        .map(|(at, _)| at)
        .take(4)
        .collect();
    ends.push(text.len());
    ends.into_iter()
        .filter_map(|end| Some((PitchRange::read(text.get(..end)?.trim_end_matches('?'))?, end)))
        .next()
        .map(|(range, end)| {
            (
                range,
                text.get(..end)
                    .map_or(end, |piece| piece.trim_end_matches('?').len()),
            )
        })
}

/// `retune F2 to C3 at 33`.
fn retune(text: &str) -> Option<(Fact, usize)> {
    let lead = alt((word("retunes"), word("retuned"), word("retune"), word("change")));
    let (rest, _) = (lead, blanks1).parse(text).ok()?;
    let (body, place) = split_place(rest);
    let (from, to) = body.split_once(" to ")?;
    let fact = Fact::Retune(Pitch::read(from.trim())?, Pitch::read(to.trim())?, place);
    Some((fact, text.len()))
}

/// Two things like pitches with a dash between them that are no range: `D-B5`, `D5-H6`.
fn no_range(text: &str) -> Option<(Fact, usize)> {
    let end = text.find(scan::is_blank).unwrap_or(text.len());
    let piece = text.get(..end)?.trim_end_matches('?');
    let (low, high) = piece.split_once(['-', '–', '—'])?;
    let like_pitch = |word: &str| {
        let mut chars = word.chars();
        chars
            .next()
            .is_some_and(|c| matches!(c.to_ascii_uppercase(), 'A'..='H'))
            && chars.as_str().chars().count() <= 3
            && chars.all(|c| c.is_ascii_digit() || matches!(c, 'b' | '#' | '♭' | '♯'))
    };
    let octave = piece.contains(|c: char| c.is_ascii_digit());
    (octave && like_pitch(low) && like_pitch(high)).then(|| (Fact::NoRange(piece.to_owned()), piece.len()))
}

/// `complete with 1, 3 and 5`, `complete with parts 1 and 2`.
pub(super) fn complete_with(text: &str) -> Option<Fact> {
    let (rest, _) = (phrase("complete with"), blanks1).parse(text).ok()?;
    let rest = rest
        .strip_prefix("parts")
        .or_else(|| rest.strip_prefix("part"))
        .unwrap_or(rest);
    let numbers: Option<Vec<u32>> = rest
        .split(|c: char| c == ',' || c == '&' || scan::is_blank(c))
        .filter(|word| !word.is_empty() && *word != "and")
        .map(|word| word.parse().ok())
        .collect();
    numbers
        .filter(|numbers| !numbers.is_empty())
        .map(Fact::CompleteWith)
}

/// Pitches of timpani: `F2 Bb2`, `notes F2 and Bb2`, `tuned F2 Bb2 at 33`.
fn pitches(text: &str) -> Option<(Fact, usize)> {
    let lead = alt((
        word("notes"),
        word("pitches"),
        word("tuned to"),
        word("tuned"),
        word("retune to"),
        word("retuned to"),
    ));
    let (rest, led) = match (lead, blanks1).parse(text) {
        Ok((rest, _)) => (rest, true),
        Err(_) => (text, false),
    };
    let (body, place) = split_place(rest);
    let words: Vec<&str> = body.split_whitespace().filter(|word| *word != "and").collect();
    let pitches: Option<Vec<Pitch>> = words.iter().map(|word| Pitch::read(word)).collect();
    let pitches = pitches.filter(|pitches| !pitches.is_empty() && pitches.len() <= 16)?;
    (led || words.iter().all(|word| word.chars().any(|c| c.is_ascii_digit())))
        .then_some((Fact::Pitches(pitches, place), text.len()))
}

fn relation(input: &str) -> Read<'_, Relation> {
    nom::sequence::terminated(
        alt((
            value(
                Relation::SameAs,
                alt((
                    phrase("same as"),
                    phrase("the same as"),
                    phrase("identical to"),
                    phrase("= same as"),
                )),
            ),
            value(
                Relation::InsteadOf,
                alt((phrase("instead of"), phrase("in place of"), phrase("replaces"))),
            ),
            value(
                Relation::CuedIn,
                alt((
                    phrase("cued in"),
                    phrase("cued for"),
                    phrase("cue in"),
                    phrase("cues in"),
                    phrase("cross-cued in"),
                    phrase("is cued in"),
                )),
            ),
            value(
                Relation::Doubles,
                alt((
                    phrase("doubled by"),
                    phrase("doubled in"),
                    phrase("doubles"),
                    phrase("doubling"),
                )),
            ),
            value(Relation::Follows, phrase("follows")),
            value(Relation::With, alt((phrase("together with"), phrase("with")))),
            value(
                Relation::For,
                alt((phrase("for any of"), phrase("any of"), phrase("for"))),
            ),
        )),
        blanks1,
    )
    .parse(input)
}

fn keyword(input: &str) -> Read<'_, Fact> {
    alt((
        value(
            Fact::BelowTheBreak,
            alt((
                phrase("below the break"),
                phrase("under the break"),
                phrase("never over the break"),
                phrase("not over the break"),
                phrase("stays below the break"),
            )),
        ),
        value(
            Fact::OverTheBreak(None),
            alt((
                phrase("over the break"),
                phrase("above the break"),
                phrase("crosses the break"),
                phrase("across the break"),
            )),
        ),
        value(Fact::OnePlayer, alt((phrase("one player"), phrase("1 player")))),
        value(
            Fact::Optional,
            alt((
                word("optional"),
                word("opt"),
                phrase("may be left out"),
                phrase("can be left out"),
                phrase("ad lib"),
            )),
        ),
        value(Fact::Tacet(None), word("tacet")),
        value(Fact::Solo(None), alt((word("solos"), word("solo"), word("soli")))),
        value(
            Fact::Throughout,
            alt((
                word("throughout"),
                phrase("all the way through"),
                phrase("whole piece"),
            )),
        ),
    ))
    .parse(input)
    .map(|(rest, fact)| (rest.strip_prefix('.').unwrap_or(rest), fact))
}

fn players(input: &str) -> Read<'_, Fact> {
    map(
        (
            stretch,
            blanks1,
            alt((word("players"), word("player"), word("percussionists"))),
        ),
        |(count, ..)| Fact::Players(count.first, count.last),
    )
    .parse(input)
}

/// Measures: `5-20`, `at 16`, `mm. 5-20`, `plays 5-20`.
fn plays(input: &str) -> Read<'_, Fact> {
    let (rest, _) = opt((alt((word("plays"), word("at"), word("in"))), blanks1)).parse(input)?;
    map(stretch, Fact::Plays).parse(rest).and_then(|(rest, fact)| {
        // `5 players`, `8va` and other words after a number are no measures.
        let next = rest.trim_start_matches(scan::is_blank);
        let apart = next.is_empty() || next.starts_with('?') || starts_fact_shallow(next);
        if apart {
            Ok((rest, fact))
        } else {
            Err(nom::Err::Error(nom::error::Error::new(
                input,
                nom::error::ErrorKind::Eof,
            )))
        }
    })
}

fn starts_fact_shallow(words: &str) -> bool {
    relation(words).is_ok() || keyword(words).is_ok() || range(words).is_some()
}

/// What some players of a section can do: `4 over the break`, `2 up to G5`, `1 treble clef`, `all over the break`.
pub fn some(text: &str) -> Option<Fact> {
    let counted = alt((
        value(None, word("all")),
        value(Some(0), word("none")),
        value(Some(1), word("one")),
        value(Some(2), word("two")),
        map(number, Some),
    ));
    let mut head = nom::sequence::terminated(counted, (blanks1, opt((word("of them"), blanks1))));
    let (rest, count) = head.parse(text).ok()?;
    let rest = rest.trim();
    Some(Fact::Some {
        count,
        can: can(rest),
    })
}

fn can(text: &str) -> Can {
    if keyword(text).is_ok_and(|(rest, fact)| rest.trim().is_empty() && matches!(fact, Fact::OverTheBreak(_)))
    {
        return Can::OverTheBreak;
    }
    let pitch = |lead: &'static str| {
        let (rest, _) = phrase(lead)(text).ok()?;
        Pitch::read(rest.trim())
    };
    if let Some(pitch) = pitch("up to").or_else(|| pitch("to")) {
        return Can::UpTo(pitch);
    }
    if let Some(pitch) = pitch("down to") {
        return Can::DownTo(pitch);
    }
    if text.eq_ignore_ascii_case("treble clef")
        || text.eq_ignore_ascii_case("T.C.")
        || text.eq_ignore_ascii_case("tc")
    {
        return Can::TrebleClef;
    }
    let also = alt((
        phrase("also plays"),
        phrase("also play"),
        phrase("also"),
        phrase("doubles on"),
        phrase("double on"),
        phrase("switches to"),
        phrase("switch to"),
        phrase("can switch to"),
    ));
    if let Ok((_, (_, _, other))) = all_consuming((also, blanks1, nom::combinator::rest)).parse(text) {
        return Can::Also(other.split_whitespace().collect::<Vec<_>>().join(" "));
    }
    Can::Words(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A measure word at the start, so that `m. 5` is never a name.
pub fn starts_measure(text: &str) -> bool {
    measure_word(text).is_ok_and(|(rest, ())| rest.starts_with(|c: char| c.is_ascii_digit()))
}
