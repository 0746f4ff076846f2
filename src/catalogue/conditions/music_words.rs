//! Reading conditions on the music: keys, meters, tempos, lengths, ranges, percussion.

use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag_no_case, take_while1};
use nom::combinator::recognize;

use crate::catalogue::instrument_named;
use crate::music::interval::read_size;
use crate::music::{Clock, Instruments, Key, Meter, Mode, Pitch, PitchRange, Signature};
use crate::notation::scan::{Read, blanks, phrase};

use super::amount::{Amount, amount, count};
use super::styles::singular;
use super::term::{MeterSort, Term};
use super::words::{after, before, inner};

/// Reads a condition on the music.
pub(super) fn term(text: &str, depth: u8) -> Option<Term> {
    let readers = [
        signature,
        only,
        key,
        meter,
        tempo,
        length,
        measures,
        percussionists,
        range,
        over_the_break,
        reach,
    ];
    readers.iter().find_map(|read| read(text, depth))
}

/// A unit's words between blanks, which must stand there whole.
fn units<'a>(all: &'static [&'static str]) -> impl Fn(&'a str) -> Read<'a, &'a str> {
    move |input: &'a str| {
        let (rest, _) = blanks(input)?;
        all.iter()
            .find_map(|unit| phrase(unit)(rest).ok())
            .ok_or_else(|| nom::Err::Error(nom::error::Error::new(input, nom::error::ErrorKind::Tag)))
    }
}

/// A bound on a number with this unit, all of `text`.
fn bounded(text: &str, all: &'static [&'static str]) -> Option<Amount> {
    match amount(text, count, units(all)) {
        Ok((rest, amount)) if rest.trim().is_empty() => Some(amount),
        _ => None,
    }
}

fn signature(text: &str, _: u8) -> Option<Term> {
    let text = ["key signature", "key signatures"]
        .iter()
        .find_map(|lead| after(text, lead))
        .unwrap_or(text);
    let text = after(text, "of").unwrap_or(text);
    if let Some(flats) = bounded(text, &["flats", "flat", "♭"]) {
        return Some(Term::Signature {
            flats: Some(flats),
            sharps: None,
        });
    }
    if let Some(sharps) = bounded(text, &["sharps", "sharp", "♯"]) {
        return Some(Term::Signature {
            flats: None,
            sharps: Some(sharps),
        });
    }
    if let Some(both) = bounded(
        text,
        &[
            "flats and sharps",
            "sharps and flats",
            "accidentals in the key signature",
        ],
    ) {
        return Some(Term::Signature {
            flats: Some(both),
            sharps: Some(both),
        });
    }
    let none = Some(Amount::AtMost(0));
    match text.to_lowercase().as_str() {
        "no flats" => Some(Term::Signature {
            flats: none,
            sharps: None,
        }),
        "no sharps" => Some(Term::Signature {
            flats: None,
            sharps: none,
        }),
        "no flats and sharps" | "no sharps and flats" | "no key signature" => Some(Term::Signature {
            flats: none,
            sharps: none,
        }),
        _ => {
            // The words of the field itself: `2 flats`, which were taken above, or `none`.
            let said = Signature::read(text).filter(|_| text.contains("flat") || text.contains("sharp"))?;
            Some(Term::Signature {
                flats: Some(Amount::Exactly(u64::from(said.flats()))),
                sharps: Some(Amount::Exactly(u64::from(said.sharps()))),
            })
        }
    }
}

fn key(text: &str, _: u8) -> Option<Term> {
    let lead = [
        "tonal center",
        "in the key of",
        "the key of",
        "key of",
        "key",
        "in a",
        "in",
    ]
    .iter()
    .find_map(|lead| after(text, lead));
    let words = lead.unwrap_or(text);
    let named = ["key", "keys", "mode", "modes"]
        .iter()
        .find_map(|word| before(words, word))
        .unwrap_or(words);
    if let Some(mode) = Mode::read(named).filter(|_| named.len() > 2) {
        return Some(Term::Mode(mode));
    }
    // A bare `A` or `a march in F` is no key unless a mode or a lead says so.
    let has_mode = named
        .rsplit(' ')
        .next()
        .is_some_and(|last| Mode::read(last).is_some());
    let key = Key::read(named)?;
    (has_mode || lead.is_some() && named.len() <= 2).then_some(Term::Key(key))
}

fn meter(text: &str, _: u8) -> Option<Term> {
    let words = ["in", "meter"]
        .iter()
        .find_map(|lead| after(text, lead))
        .unwrap_or(text);
    let sort = ["meter", "meters", "time"]
        .iter()
        .find_map(|word| before(words, word));
    let sort = match sort.map(str::to_lowercase).as_deref() {
        Some("duple") => Some(MeterSort::Duple),
        Some("triple") => Some(MeterSort::Triple),
        Some("quadruple") => Some(MeterSort::Quadruple),
        Some("compound") => Some(MeterSort::Compound),
        Some("simple") => Some(MeterSort::Simple),
        Some("uneven" | "unequal" | "odd" | "asymmetric" | "asymmetrical" | "irregular") => {
            Some(MeterSort::Uneven)
        }
        _ => None,
    };
    if let Some(sort) = sort {
        return Some(Term::MeterSort(sort));
    }
    let plain = ["meter", "time"]
        .iter()
        .find_map(|word| before(words, word))
        .unwrap_or(words);
    let named = plain.contains('/') || plain.eq_ignore_ascii_case("cut") || plain != words;
    Meter::read(plain)
        .filter(|meter| named && (meter.numbers().is_some() || *meter == Meter::Free))
        .map(Term::Meter)
}

/// `only 4/4`, `all in Bb major`, `4/4 throughout`.
fn only(text: &str, depth: u8) -> Option<Term> {
    let words = ["only in", "only", "all in", "nothing but"]
        .iter()
        .find_map(|lead| after(text, lead))
        .or_else(|| before(text, "throughout"))
        .or_else(|| before(text, "only"))?;
    let of = key(&format!("in {words}"), depth).or_else(|| meter(words, depth))?;
    Some(Term::Only(inner(of)))
}

fn tempo(text: &str, _: u8) -> Option<Term> {
    match text.to_lowercase().as_str() {
        "slow" | "slow tempo" | "slow tempos" => return Some(Term::Slow),
        "fast" | "fast tempo" | "fast tempos" => return Some(Term::Fast),
        _ => {}
    }
    let (rest, said) = match after(text, "tempo") {
        Some(rest) => (rest, true),
        None => (text, false),
    };
    let rest = ["quarter =", "q =", "quarter="]
        .iter()
        .find_map(|lead| rest.strip_prefix(lead))
        .map(str::trim_start);
    let (words, said) = match rest {
        Some(rest) => (rest, true),
        None => (after(text, "tempo").unwrap_or(text), said),
    };
    let unit = |input| match said {
        true => units(&["beats a minute", "beats per minute", "bpm"])(input).or(Ok((input, ""))),
        false => units(&["beats a minute", "beats per minute", "bpm"])(input),
    };
    match amount(words, count, unit) {
        Ok((rest, amount)) if rest.trim().is_empty() => Some(Term::Tempo(amount)),
        _ => None,
    }
}

/// A length of time in seconds; a number alone waits for the unit behind the second.
fn seconds(input: &str) -> Read<'_, u64> {
    let (rest, figures) = take_while1(|c: char| c.is_ascii_digit() || c == ':' || c == '.').parse(input)?;
    let (unit_rest, _) = blanks(rest)?;
    let unit: Read<'_, &str> = recognize(alt((
        tag_no_case("minutes"),
        tag_no_case("minute"),
        tag_no_case("min"),
        tag_no_case("seconds"),
        tag_no_case("second"),
        tag_no_case("sec"),
    )))
    .parse(unit_rest);
    let (rest, words) = match unit {
        Ok((after, unit)) => (
            after.strip_prefix('.').unwrap_or(after),
            format!("{figures} {unit}"),
        ),
        Err(_) if figures.contains(':') => (rest, figures.to_owned()),
        Err(_) => (rest, format!("{figures} minutes")),
    };
    match Clock::read(&words) {
        Some(clock) => Ok((rest, u64::from(clock.seconds()))),
        None => Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Digit,
        ))),
    }
}

fn length(text: &str, _: u8) -> Option<Term> {
    let words = ["lasts", "lasting", "length", "duration", "long"]
        .iter()
        .find_map(|lead| after(text, lead))
        .unwrap_or(text);
    let whole = ["in all", "altogether", "in total", "total", "all together"]
        .iter()
        .find_map(|tail| before(words, tail));
    let words = whole.unwrap_or(words);
    let words = before(words, "long")
        .or_else(|| before(words, "each"))
        .unwrap_or(words);
    let timed =
        words.contains(':') || words.to_lowercase().contains("min") || words.to_lowercase().contains("sec");
    let (rest, amount) = amount(words, seconds, |input| Ok((input, ""))).ok()?;
    // `at least 4` is no length; the unit or the clock's form must be there.
    if !timed || !rest.trim().is_empty() {
        return None;
    }
    Some(match whole {
        Some(_) => Term::LengthInAll(amount),
        None => Term::Length(amount),
    })
}

fn measures(text: &str, _: u8) -> Option<Term> {
    bounded(text, &["measures", "measure", "bars", "bar"]).map(Term::Measures)
}

fn percussionists(text: &str, _: u8) -> Option<Term> {
    let words = ["needs", "takes", "for"]
        .iter()
        .find_map(|lead| after(text, lead))
        .unwrap_or(text);
    bounded(
        words,
        &[
            "percussionists",
            "percussionist",
            "percussion players",
            "percussion player",
            "players in the percussion",
            "percussion",
        ],
    )
    .map(Term::Percussionists)
}

/// `every range at most an octave and a third`, `clarinet 2 range within an octave`.
fn range(text: &str, _: u8) -> Option<Term> {
    let (part, rest) = match [
        "every range",
        "every part's range",
        "each range",
        "all ranges",
        "ranges",
        "range of every part",
    ]
    .iter()
    .find_map(|lead| after(text, lead))
    {
        Some(rest) => (None, rest),
        None => {
            let at = text.find(" range ")?;
            (Some(part(text.get(..at)?)?), text.get(at + 7..)?.trim_start())
        }
    };
    let size = [
        "at most",
        "up to",
        "no more than",
        "not more than",
        "within",
        "no wider than",
        "under",
    ]
    .iter()
    .find_map(|lead| after(rest, lead))?;
    Some(Term::Range {
        part,
        steps: read_size(size)?,
    })
}

/// A part's name, where it is one.
fn part(words: &str) -> Option<String> {
    let words = words.trim();
    let words = words.strip_suffix("'s").unwrap_or(words);
    let (name, _) = crate::music::instruments::split_part(words);
    instrument_named(Instruments::standard(), name)
        .or_else(|| instrument_named(Instruments::standard(), &singular(name)))
        .map(|_| words.to_owned())
}

fn over_the_break(text: &str, _: u8) -> Option<Term> {
    let (head, never) = if let Some(head) =
        before(text, "over the break").or_else(|| before(text, "crosses the break"))
    {
        match ["never goes", "never", "not", "does not go", "stays"]
            .iter()
            .find_map(|word| {
                head.eq_ignore_ascii_case(word)
                    .then_some("")
                    .or_else(|| before(head, word))
            }) {
            Some(head) => (head, true),
            None => (head, false),
        }
    } else if let Some(head) = before(text, "below the break").or_else(|| before(text, "under the break")) {
        (
            ["stays", "never leaves"]
                .iter()
                .find_map(|word| before(head, word))
                .unwrap_or(head),
            true,
        )
    } else if text.eq_ignore_ascii_case("over the break") {
        ("", false)
    } else if text.eq_ignore_ascii_case("below the break") {
        ("", true)
    } else {
        return None;
    };
    let (head, never) = match after(head, "no") {
        Some(head) => (head, true),
        None => (head, never),
    };
    let named = match head.to_lowercase().as_str() {
        "" | "clarinet" | "clarinets" | "nobody" | "every clarinet" | "all clarinets" => None,
        _ => Some(part(head)?),
    };
    let over = Term::OverTheBreak(named);
    Some(match never {
        true => Term::Not(inner(over)),
        false => over,
    })
}

/// `trumpet up to D5`, `trumpets no higher than D5`, `flute down to D4`, `trumpet Bb3-D5`.
fn reach(text: &str, _: u8) -> Option<Term> {
    const UP: [&str; 8] = [
        " up to ",
        " no higher than ",
        " not above ",
        " never above ",
        " at most ",
        " not over ",
        " never over ",
        " to ",
    ];
    const DOWN: [&str; 6] = [
        " down to ",
        " no lower than ",
        " not below ",
        " never below ",
        " at least ",
        " not under ",
    ];
    let split = |leads: &[&str]| {
        leads.iter().find_map(|lead| {
            let at = text.find(lead)?;
            let pitch = Pitch::read(text.get(at + lead.len()..)?)?;
            Some((part(text.get(..at)?)?, pitch))
        })
    };
    if let Some((part, high)) = split(&UP) {
        return Some(Term::Reach {
            part,
            low: None,
            high: Some(high),
        });
    }
    if let Some((part, low)) = split(&DOWN) {
        return Some(Term::Reach {
            part,
            low: Some(low),
            high: None,
        });
    }
    let at = text.rfind(' ')?;
    let range = PitchRange::read(text.get(at..)?)?.upright();
    let head = text.get(..at)?;
    let head = before(head, "within").unwrap_or(head);
    Some(Term::Reach {
        part: part(head)?,
        low: Some(range.low),
        high: Some(range.high),
    })
}
