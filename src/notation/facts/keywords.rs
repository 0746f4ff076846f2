//! Facts that are a word or two: solos, rests, the break, sticks, how many players, and measures.

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{map, opt, value};
use nom::sequence::preceded;

use super::places_behind;
use crate::notation::row::{Fact, Order};
use crate::notation::scan::{self, Read, blanks, blanks1, number, phrase, word};
use crate::notation::values::place::stretch;
use crate::notation::values::{Place, Point, Stretch};

/// A word that is a fact by itself, without a place.
pub fn keyword(input: &str) -> Read<'_, Fact> {
    // A figure can only begin a count.
    if input.starts_with(|c: char| c.is_ascii_digit()) {
        return alt((one_player, other)).parse(input);
    }
    alt((below, over, one_player, optional, silent, solo, dividing, other)).parse(input)
}

fn below(input: &str) -> Read<'_, Fact> {
    value(
        Fact::BelowTheBreak,
        alt((
            phrase("stays below the break"),
            phrase("stay below the break"),
            phrase("stays under the break"),
            phrase("stay under the break"),
            phrase("never over the break"),
            phrase("never goes over the break"),
            phrase("never crosses the break"),
            phrase("not over the break"),
            phrase("doesn't cross the break"),
            phrase("don't cross the break"),
            phrase("dont cross the break"),
            phrase("doesnt cross the break"),
            phrase("does not cross the break"),
            alt((phrase("no break crossing"), phrase("no break"))),
            phrase("below the break"),
            phrase("under the break"),
            phrase("below break"),
            phrase("under break"),
            alt((
                phrase("in the chalumeau register"),
                phrase("chalumeau register"),
                phrase("chalumeau only"),
                phrase("chalumeau"),
                phrase("all chalumeau"),
            )),
        )),
    )
    .parse(input)
}

fn over(input: &str) -> Read<'_, Fact> {
    value(
        Fact::OverTheBreak(None),
        alt((
            phrase("goes over the break"),
            phrase("go over the break"),
            phrase("over the break"),
            phrase("above the break"),
            phrase("crosses the break"),
            phrase("cross the break"),
            phrase("crosses over the break"),
            phrase("across the break"),
            phrase("over break"),
            phrase("above break"),
            phrase("over brk"),
            phrase("over the brk"),
            phrase("crosses break"),
            phrase("break city"),
        )),
    )
    .parse(input)
}

fn one_player(input: &str) -> Read<'_, Fact> {
    value(
        Fact::OnePlayer,
        alt((
            alt((
                phrase("one kid can do both"),
                phrase("1 kid can do both"),
                phrase("one player can do both"),
                phrase("one person can do both"),
                phrase("1 player can do both"),
                phrase("one player can cover both"),
                phrase("one player covers both"),
                phrase("one player on both"),
                phrase("1 player on both"),
                phrase("one kid on both"),
            )),
            phrase("by one player"),
            phrase("one player"),
            alt((phrase("1 player"), phrase("1 plyr"), phrase("one plyr"))),
            phrase("1 kid does both"),
            phrase("one kid does both"),
            phrase("one player does both"),
            phrase("1 kid"),
            phrase("1 person"),
            phrase("one kid"),
            phrase("one person"),
            phrase("same player"),
            phrase("same kid"),
            phrase("same person"),
        )),
    )
    .parse(input)
}

fn optional(input: &str) -> Read<'_, Fact> {
    let (rest, fact) = value(
        Fact::Optional,
        alt((
            phrase("may be left out"),
            phrase("can be left out"),
            phrase("could be left out"),
            alt((
                phrase("not needed"),
                phrase("not required"),
                phrase("you can skip it"),
                phrase("you can skip"),
                phrase("u can skip it"),
                phrase("u can skip"),
                phrase("can skip it"),
                phrase("can skip"),
                alt((phrase("can be skipped"), phrase("drop it"), phrase("can drop it"))),
                phrase("skip it"),
                phrase("leave it out"),
                phrase("we leave it out"),
                phrase("we skip it"),
            )),
            phrase("if available"),
            phrase("if you have one"),
            phrase("if you have it"),
            phrase("ad lib"),
            phrase("ad libitum"),
            word("optional"),
            word("opt"),
        )),
    )
    .parse(input)?;
    Ok((rest.strip_prefix('.').unwrap_or(rest), fact))
}

fn silent(input: &str) -> Read<'_, Fact> {
    value(
        Fact::Tacet(None),
        alt((
            word("tacet"),
            word("rests"),
            word("silent"),
            phrase("does not play"),
            phrase("doesn't play"),
            phrase("drops out"),
            word("except"),
            phrase("but not"),
            nom::combinator::verify(word("but"), |_: &str| but_at(input)),
        )),
    )
    .parse(input)
}

/// `but 25-32`, `but the trio`: where the part does not play.
pub fn but_at(text: &str) -> bool {
    (word("but"), blanks1)
        .parse(text)
        .is_ok_and(|(rest, _)| crate::notation::values::passages(rest).is_some())
}

/// `tacet until C`, `rests till 33`, `tacet to G`: silent from the first measure to the one before.
pub fn silent_until(text: &str) -> Option<(Fact, usize)> {
    let until = alt((word("until"), word("till"), word("til"), word("to")));
    let (rest, _) = (silent, blanks1, until, blanks1).parse(text).ok()?;
    let (place, taken) = super::pitched::longest(rest, 4, up_to)?;
    Some((Fact::Tacet(Some(place)), text.len() - rest.len() + taken))
}

/// From the first measure to the one before a point that is all of `words`; the end is the last measure itself.
pub fn up_to(words: &str) -> Option<Place> {
    let before = match Point::read(words)? {
        Point::Measure(measure) => Point::Measure(measure.checked_sub(1).filter(|last| *last > 0)?),
        Point::Mark(name) => Point::Beside(name, -1),
        Point::FromEnd(0) => Point::END,
        _ => return None,
    };
    Some(Place::Between(Point::Measure(1), before))
}

fn solo(input: &str) -> Read<'_, Fact> {
    let kind = alt((
        word("improvised"),
        word("big"),
        word("short"),
        word("exposed"),
        phrase("has a short"),
        phrase("has a big"),
        phrase("has a"),
        phrase("has the"),
        alt((
            phrase("takes the"),
            phrase("takes a"),
            phrase("gets the"),
            phrase("gets a"),
            phrase("plays the"),
            phrase("plays a"),
            phrase("carries the"),
        )),
        word("has"),
        word("the"),
        word("a"),
        word("open"),
    ));
    value(
        Fact::Solo(None),
        (
            opt((kind, blanks1)),
            alt((word("solos"), word("solo"), word("soli"), word("soloist"))),
        ),
    )
    .parse(input)
}

fn dividing(input: &str) -> Read<'_, Fact> {
    let divided = |input| {
        alt((
            phrase("split into 2 parts"),
            phrase("split into two parts"),
            phrase("split into 2"),
            phrase("split into two"),
            phrase("splits into 2"),
            phrase("splits into two"),
            phrase("divide into two parts"),
            phrase("divided into two parts"),
            phrase("divided in two"),
            phrase("split in two"),
            word("divisi"),
            word("div"),
            word("divided"),
            word("divides"),
            word("divide"),
            word("split"),
            word("splits"),
        ))
        .parse(input)
    };
    let (rest, fact) = alt((
        value(
            Fact::Undivided,
            alt((
                nom::combinator::recognize((
                    alt((word("no"), word("not"), word("never"), word("non"))),
                    blanks1,
                    divided,
                )),
                word("undivided"),
                word("unsplit"),
                word("unis"),
            )),
        ),
        value(
            Fact::DividedAtTimes,
            (
                alt((
                    word("occasional"),
                    word("occasionally"),
                    word("some"),
                    word("sometimes"),
                    word("optional"),
                    word("a little"),
                )),
                blanks1,
                divided,
            ),
        ),
        value(Fact::Divided(None), divided),
    ))
    .parse(input)?;
    Ok((rest.strip_prefix('.').unwrap_or(rest), fact))
}

fn other(input: &str) -> Read<'_, Fact> {
    alt((
        value(
            Fact::Strong,
            alt((
                phrase("needs a strong player"),
                phrase("a strong player"),
                phrase("strong player needed"),
                phrase("strong player"),
                phrase("strong players"),
                phrase("best player"),
                phrase("your best player"),
                phrase("good player"),
                phrase("needs a good player"),
                phrase("a strong kid"),
                phrase("strong kid"),
            )),
        ),
        value(
            Fact::WrittenIn,
            alt((
                phrase("written in by hand"),
                phrase("written in by me"),
                phrase("written in"),
                phrase("added by me"),
                phrase("i wrote it in"),
                phrase("i added it"),
            )),
        ),
        map(
            (
                number,
                blanks1,
                opt((word("independent"), blanks1)),
                alt((word("lines"), word("line"))),
            ),
            |(lines, ..)| Fact::Lines(lines),
        ),
        map(
            (
                counted,
                blanks1,
                opt((word("independent"), blanks1)),
                alt((word("lines"), word("line"))),
            ),
            |(lines, ..)| Fact::Lines(lines),
        ),
    ))
    .parse(input)
}

/// A small number in words.
pub fn counted(input: &str) -> Read<'_, u32> {
    alt((
        value(1, word("one")),
        value(2, word("two")),
        value(3, word("three")),
        value(4, word("four")),
        value(5, word("five")),
        value(6, word("six")),
        value(7, word("seven")),
        value(8, word("eight")),
        value(9, word("nine")),
        value(10, word("ten")),
    ))
    .parse(input)
}

/// How many players it takes: `2 players`, `two players`, `3-4 percussionists`.
pub fn players(input: &str) -> Read<'_, Fact> {
    let count = alt((
        map(stretch, |count: Stretch| (count.first, count.last)),
        map(counted, |count| (count, count)),
    ));
    map(
        (
            opt((
                alt((word("takes"), word("needs"), word("need"), word("wants"))),
                blanks1,
            )),
            count,
            blanks1,
            alt((
                word("players"),
                word("player"),
                word("percussionists"),
                word("percussionist"),
                word("kids"),
                word("people"),
                word("bodies"),
                word("plyrs"),
                word("plyr"),
                word("drummers"),
            )),
        ),
        |(_, (low, high), ..)| Fact::Players(low, high),
    )
    .parse(input)
}

/// Cued events: `events 1-3`, `event 4`, `cue 4`.
pub fn events(input: &str) -> Read<'_, Fact> {
    map(
        (
            opt((word("at"), blanks1)),
            alt((word("events"), word("event"), word("cues"), word("cue"))),
            blanks1,
            stretch,
        ),
        |(.., events)| Fact::Events(events),
    )
    .parse(input)
}

/// `all in at 17`, `comes in at C`: it plays from there on.
fn comes_in(text: &str) -> Option<(Vec<Fact>, usize)> {
    const LEADS: [&str; 12] = [
        "all in at",
        "all in from",
        "all enter at",
        "all come in at",
        "comes in at",
        "come in at",
        "enters at",
        "enter at",
        "first entrance at",
        "joins at",
        "join at",
        "in at",
    ];
    let rest = LEADS.iter().find_map(|lead| scan::after_phrase(text, lead))?;
    let (bare, _) = blanks1(rest).ok()?;
    let (point, taken) = super::pitched::longest(bare, 3, Point::read)?;
    let place = Place::Between(point, Point::END);
    Some((
        vec![Fact::Plays(place, Vec::new())],
        text.len() - bare.len() + taken,
    ))
}

/// Where the part plays: `5-20`, `at 16`, `mm. 5-20`, `1-20 and 30-40`, `33 to the end`, `second time only`.
pub fn plays(text: &str) -> Option<(Vec<Fact>, usize)> {
    if let Some(found) = comes_in(text) {
        return Some(found);
    }
    let led = opt((
        alt((
            word("plays"),
            word("play"),
            word("in"),
            word("only"),
            word("just"),
        )),
        blanks1,
    ));
    let (rest, _): (&str, _) = nom::Parser::parse(&mut { led }, text).ok()?;
    let lead = text.len() - rest.len();
    if let Some((passes, taken)) = crate::notation::values::pass_words(rest) {
        // `second time only` without measures holds wherever the part plays.
        let from = lead + taken;
        let (places, more) = places_behind(text.get(from..)?);
        let places = if places.is_empty() {
            vec![Place::Throughout]
        } else {
            places
        };
        let facts = places.into_iter().map(|place| Fact::Plays(place, passes.clone()));
        return Some((facts.collect(), from + more));
    }
    let (places, taken) = crate::notation::values::passages(rest)?;
    let mut used = lead + taken;
    // `last note only`, where `second time only` does not follow.
    let behind = text.get(used..)?;
    if let Some(tail) = scan::after_phrase(behind.trim_start_matches(scan::is_blank), "only")
        && tail.trim().is_empty()
    {
        used = text.len() - tail.len();
    }
    let after = text.get(used..)?;
    let mut passes = Vec::new();
    let blank = after.len() - scan::skip_blanks(after).len();
    if let Some((found, more)) = crate::notation::values::pass_words(after.get(blank..)?) {
        (passes, used) = (found, used + blank + more);
    }
    Some((
        places
            .into_iter()
            .map(|place| Fact::Plays(place, passes.clone()))
            .collect(),
        used,
    ))
}

/// What it is struck with: `yarn mallets`, `soft beater`, `brushes`.
pub fn sticks(input: &str) -> Read<'_, Fact> {
    let (rest, _) = opt((word("with"), blanks1)).parse(input)?;
    let kinds = [
        "hard",
        "medium",
        "soft",
        "very",
        "yarn",
        "rubber",
        "plastic",
        "brass",
        "felt",
        "wool",
        "wood",
        "wooden",
        "cord",
        "heavy",
        "light",
        "timpani",
        "triangle",
        "bass drum",
        "snare",
        "drum",
        "xylophone",
        "bell",
        "hard rubber",
        "large",
        "small",
        "double",
        "acrylic",
        "metal",
        "marimba",
        "vibraphone",
        "gong",
        "two",
        "four",
        "2",
        "4",
    ];
    let things = [
        "mallets",
        "mallet",
        "mlts",
        "malls",
        "beaters",
        "beater",
        "sticks",
        "stick",
        "brushes",
        "brush",
        "hammers",
        "rods",
        "hands",
        "fingers",
        "knitting needles",
        "coin",
        "bow",
    ];
    let mut at = rest;
    for _ in 0..4 {
        let next = kinds.iter().find_map(|kind| {
            let after = scan::after_phrase(at, kind)?;
            let (after, _) = blanks1(after).ok()?;
            Some(after)
        });
        match next {
            Some(next) => at = next,
            None => break,
        }
    }
    let thing = things.iter().find_map(|thing| scan::after_phrase(at, thing));
    let Some(after) = thing else {
        return Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Tag,
        )));
    };
    let words = rest.get(..rest.len() - after.len()).unwrap_or("");
    let words = words
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase();
    let head = words.strip_suffix("mlts").or_else(|| words.strip_suffix("malls"));
    let words = head.map_or(words.clone(), |head| format!("{head}mallets"));
    Ok((after, Fact::Sticks(words, None)))
}

/// What a piece of a program or a movement is besides.
pub fn order(input: &str) -> Read<'_, Fact> {
    map(
        alt((
            value(
                Order::Attacca,
                alt((
                    word("attacca"),
                    phrase("no break after it"),
                    phrase("straight on"),
                )),
            ),
            value(
                Order::Opener,
                alt((
                    phrase("opens the concert"),
                    phrase("open with it"),
                    phrase("we open with it"),
                    phrase("start with it"),
                    word("opener"),
                    word("opening"),
                    word("opens"),
                )),
            ),
            value(
                Order::Closer,
                alt((
                    word("closer"),
                    word("finale"),
                    word("closing"),
                    phrase("closes the concert"),
                    phrase("close with it"),
                    phrase("end with it"),
                    phrase("we close with it"),
                )),
            ),
            value(Order::Encore, word("encore")),
            value(
                Order::Together,
                alt((
                    phrase("with the choir"),
                    phrase("with choir"),
                    phrase("with the orchestra"),
                    phrase("with both bands"),
                    phrase("combined bands"),
                    phrase("massed bands"),
                    phrase("mass band"),
                )),
            ),
            before_or_after,
            value(
                Order::Intermission,
                alt((word("intermission"), word("interval"), word("break"))),
            ),
            value(
                Order::WarmUp,
                alt((word("warm-up"), phrase("warm up"), word("warmup"))),
            ),
        )),
        Fact::Order,
    )
    .parse(input)
}

/// `before the interval`, `second on the program`, `with the recording`: where a piece stands and what it wants.
fn before_or_after(input: &str) -> Read<'_, Order> {
    const PHRASES: [(&str, Order); 40] = [
        ("after the speech by the principal", Order::AfterSpeech),
        ("after the principal's speech", Order::AfterSpeech),
        ("after the principal speaks", Order::AfterSpeech),
        ("after the head's speech", Order::AfterSpeech),
        ("after the headmaster's speech", Order::AfterSpeech),
        ("after the speeches", Order::AfterSpeech),
        ("after the speech", Order::AfterSpeech),
        ("after the announcements", Order::AfterSpeech),
        ("after the awards", Order::AfterSpeech),
        ("after awards", Order::AfterSpeech),
        ("after announcements", Order::AfterSpeech),
        ("after the welcome", Order::AfterSpeech),
        ("before the intermission", Order::BeforeIntermission),
        ("before intermission", Order::BeforeIntermission),
        ("before the interval", Order::BeforeIntermission),
        ("before the break", Order::BeforeIntermission),
        ("first half", Order::BeforeIntermission),
        ("after the intermission", Order::AfterIntermission),
        ("after intermission", Order::AfterIntermission),
        ("after the interval", Order::AfterIntermission),
        ("after the break", Order::AfterIntermission),
        ("second half", Order::AfterIntermission),
        ("with recorded accompaniment", Order::WithTrack),
        ("with the recorded accompaniment", Order::WithTrack),
        ("with recorded accomp", Order::WithTrack),
        ("w recorded accomp", Order::WithTrack),
        ("with the recording", Order::WithTrack),
        ("with a recording", Order::WithTrack),
        ("with the track", Order::WithTrack),
        ("with the backing track", Order::WithTrack),
        ("needs the speaker", Order::Speaker),
        ("need the speaker", Order::Speaker),
        ("needs a speaker", Order::Speaker),
        ("need a speaker", Order::Speaker),
        ("needs speakers", Order::Speaker),
        ("if time allows", Order::IfTime),
        ("if there is time", Order::IfTime),
        ("if we have time", Order::IfTime),
        ("time permitting", Order::IfTime),
        ("if time", Order::IfTime),
    ];
    for (words, order) in PHRASES {
        if let Ok((rest, _)) = phrase(words)(input) {
            return Ok((rest, order));
        }
    }
    const NTH: [&str; 10] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    ];
    const FIGURES: [&str; 10] = [
        "1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th",
    ];
    let nth = (1u8..).zip(NTH.iter().zip(FIGURES));
    for (number, (name, figure)) in nth {
        for written in [*name, figure] {
            let whole = |input| {
                let (rest, _) = word(written).parse(input)?;
                let (rest, _) = blanks1(rest)?;
                alt((
                    phrase("on the program"),
                    phrase("on the programme"),
                    phrase("in the program"),
                    phrase("in the concert"),
                ))
                .parse(rest)
            };
            if let Ok((rest, _)) = whole(input) {
                return Ok((rest, Order::Nth(number)));
            }
        }
    }
    Err(nom::Err::Error(nom::error::make_error(
        input,
        nom::error::ErrorKind::Alt,
    )))
}

/// `2nd`, `second`, `last` behind a title, and nothing more: where the piece stands on the program.
pub fn only_nth(text: &str) -> Option<Fact> {
    const NTH: [(&str, &str); 8] = [
        ("first", "1st"),
        ("second", "2nd"),
        ("third", "3rd"),
        ("fourth", "4th"),
        ("fifth", "5th"),
        ("sixth", "6th"),
        ("seventh", "7th"),
        ("eighth", "8th"),
    ];
    let bare = text.trim();
    if ["to open", "opens", "we open with this"]
        .iter()
        .any(|said| bare.eq_ignore_ascii_case(said))
    {
        return Some(Fact::Order(Order::Opener));
    }
    if ["last", "to close", "to finish", "closes", "to end", "at the end"]
        .iter()
        .any(|said| bare.eq_ignore_ascii_case(said))
    {
        return Some(Fact::Order(Order::Closer));
    }
    (1u8..)
        .zip(NTH)
        .find(|(_, (name, figure))| bare.eq_ignore_ascii_case(name) || bare.eq_ignore_ascii_case(figure))
        .map(|(number, _)| Fact::Order(Order::Nth(number)))
}

/// `movements 1 and 3`, `movement 2`, `mvts 1-3`, `movement 2 only`.
pub fn movements(text: &str) -> Option<(Fact, usize)> {
    let lead = alt((
        word("movements"),
        word("movement"),
        word("mvts"),
        word("mvt"),
        word("mov"),
    ));
    let (rest, _) = (lead, opt(nom::character::complete::char('.')), blanks)
        .parse(text)
        .ok()?;
    let mut numbers = Vec::new();
    let mut at = rest;
    loop {
        let (after, span) = stretch(at).ok()?;
        numbers.extend(span.first..=span.last.min(span.first.saturating_add(50)));
        let joint = alt((
            map((blanks, nom::character::complete::char('&'), blanks), |_| ()),
            map((blanks1, word("and"), blanks1), |_| ()),
            map((blanks, nom::character::complete::char(','), blanks), |_| ()),
        ));
        match preceded(joint, nom::combinator::peek(nom::character::complete::digit1)).parse(after) {
            Ok((next, _)) => at = next,
            Err(_) => {
                at = after;
                break;
            }
        }
    }
    if let Ok((after, _)) = (blanks1, word("only")).parse(at) {
        at = after;
    }
    Some((Fact::Movements(numbers), text.len() - at.len()))
}
