//! How one part stands to others: `same as flute 1`, `instead of snare and bass drum`, `cued in oboe 5-12`.

use nom::Parser;
use nom::branch::alt;
use nom::combinator::value;

use super::sayings::Saying;
use super::{at_place, starts_fact};
use crate::notation::names;
use crate::notation::row::{Fact, Relation, RowName};
use crate::notation::scan::{self, Read, blanks1, phrase, word};
use crate::notation::values::{Place, Point};
use crate::text::Span;

/// The words of a relation at the start of a text, with the blanks behind them.
pub fn relation(input: &str) -> Read<'_, Relation> {
    if scan::starts_with_figures(input) {
        return scan::refused(input);
    }
    let same = alt((
        phrase("same thing as"),
        phrase("same notes as"),
        phrase("same part as"),
        phrase("same line as"),
        phrase("same as"),
        phrase("the same as"),
        phrase("is the same as"),
        phrase("identical to"),
        phrase("identical with"),
        phrase("= same as"),
        equals,
    ));
    let instead = alt((
        phrase("instead of"),
        phrase("in place of"),
        phrase("in lieu of"),
        phrase("replaces"),
        phrase("replacing"),
        phrase("substitutes for"),
        phrase("subs for"),
    ));
    let cued = alt((
        phrase("is cued in"),
        phrase("cued in"),
        phrase("cued for"),
        phrase("cued by"),
        phrase("cued into"),
        phrase("cue in"),
        phrase("cues in"),
        phrase("cross-cued in"),
        phrase("cross cued in"),
    ));
    let cues_for = alt((
        phrase("has the cues for"),
        phrase("has cues for"),
        phrase("has a cue for"),
        phrase("carries the cues for"),
        phrase("carries cues for"),
        phrase("plays the cues for"),
        phrase("cue notes for"),
        phrase("cues for"),
        phrase("cue for"),
    ));
    let doubles = alt((
        phrase("its in"),
        phrase("it's in"),
        phrase("it is in"),
        phrase("also in"),
        phrase("doubled by"),
        phrase("doubled in"),
        phrase("doubled with"),
        phrase("doubles"),
        phrase("doubling"),
        phrase("dbl"),
    ));
    let shared = alt((
        phrase("one player with"),
        phrase("same player as"),
        phrase("same kid as"),
        phrase("same person as"),
        phrase("played by the same player as"),
        phrase("shares a player with"),
    ));
    nom::sequence::terminated(
        alt((
            value(Relation::SameAs, same),
            value(Relation::InsteadOf, instead),
            value(Relation::CuedIn, cued),
            value(Relation::CuesFor, cues_for),
            value(Relation::Doubles, doubles),
            value(
                Relation::Or,
                alt((
                    phrase("or on"),
                    phrase("or"),
                    phrase("may go on"),
                    phrase("may be played on"),
                    phrase("can go on"),
                    phrase("can be played on"),
                )),
            ),
            value(Relation::SharedWith, shared),
            value(Relation::Follows, phrase("follows")),
            value(
                Relation::With,
                alt((phrase("together with"), phrase("with"), phrase("w/"), word("w"))),
            ),
            value(
                Relation::For,
                alt((phrase("for any of"), phrase("any of"), phrase("for"))),
            ),
        )),
        blanks1,
    )
    .parse(input)
}

/// `=` alone, as in `alto sax = horn`.
fn equals(input: &str) -> Read<'_, &str> {
    nom::bytes::complete::tag("=").parse(input)
}

/// A relation with what it stands to and where, at the start of `text`, which starts at `start` in the card.
pub fn fact(text: &str, start: u32) -> Option<(Fact, usize)> {
    let (rest, relation) = relation(text).ok()?;
    let from = text.len() - rest.len();
    let (targets, taken) = targets(rest, start + from as u32)?;
    let used = from + taken;
    let used = used + in_small_notes(relation, text.get(used..)?);
    let (place, more) = at_place(text.get(used..)?);
    let fact = Fact::Relation {
        relation,
        target: joined(&targets),
        target_span: Span::long(start + from as u32, taken as u32),
        targets,
        place,
    };
    Some((fact, used + more))
}

/// How cues are printed, and what they are for, anyway: ` in small notes`, ` if you have none`.
fn in_small_notes(relation: Relation, text: &str) -> usize {
    if !matches!(relation, Relation::CuesFor | Relation::CuedIn) {
        return 0;
    }
    let bare = text.trim_start_matches(scan::is_blank);
    let small = [
        "if you don't have one",
        "if you dont have one",
        "if u dont have 1",
        "if u dont have one",
        "if you have none",
        "if there is none",
        "if none",
        "in small notes",
        "in small print",
        "in small type",
        "in cue notes",
        "in cue-size notes",
        "printed small",
    ];
    let rest = small.iter().find_map(|words| scan::after_phrase(bare, words));
    rest.filter(|_| bare.len() < text.len())
        .map_or(0, |rest| text.len() - rest.len())
}

/// `bari sax cued`: the name stands before the word.
pub fn cued_behind(text: &str, start: u32) -> Option<(Fact, usize)> {
    names::known_prefix(text)?;
    let (target, taken) = name(text, start)?;
    let behind = text.get(taken..)?;
    let (rest, _) = (blanks1, alt((word("cued"), word("cue")))).parse(behind).ok()?;
    rest.trim_matches([' ', '.', '?']).is_empty().then_some(())?;
    let targets = vec![target];
    let fact = Fact::Relation {
        relation: Relation::CuedIn,
        target: joined(&targets),
        target_span: Span::long(start, taken as u32),
        targets,
        place: None,
    };
    Some((fact, text.len() - rest.len()))
}

/// `has the euphonium cues`, `plays the oboe cues`: whose cues they are stands between.
pub fn has_the_cues(text: &str, start: u32) -> Option<(Fact, usize)> {
    let rest = ["has", "plays", "reads", "carries"]
        .iter()
        .find_map(|verb| scan::after_phrase(text, verb))?
        .trim_start_matches(scan::is_blank);
    let rest = rest.get(article(rest)..)?;
    let length = names::known_prefix(rest)?;
    let behind = rest.get(length..)?.trim_start_matches(scan::is_blank);
    let after = ["cues", "cue"]
        .iter()
        .find_map(|word| scan::after_phrase(behind, word))?;
    let from = text.len() - rest.len();
    let (target, taken) = name(rest.get(..length)?, start + from as u32)?;
    let (place, more) = at_place(after);
    let targets = vec![target];
    let fact = Fact::Relation {
        relation: Relation::CuesFor,
        target: joined(&targets),
        target_span: Span::long(start + from as u32, taken as u32),
        targets,
        place,
    };
    Some((fact, text.len() - after.len() + more))
}

/// `flute has it in small notes if no oboe`, `2nd alto reads the cues`: who has the cue stands before the words that
/// say so.
pub fn has_it(text: &str, start: u32) -> Option<(Fact, usize)> {
    const HAS: [&str; 14] = [
        "has it cued",
        "has the cues",
        "has the cue",
        "has cues",
        "has a cue",
        "has small notes",
        "reads the cues",
        "reads the cue",
        "plays the cues",
        "plays the cue",
        "has it in small notes",
        "has it in cue notes",
        "has it in the cues",
        "covers it in cues",
    ];
    // Few texts have such words, and names are looked for in all of them.
    let said = |said: &&str| scan::find_word(text, said).is_some();
    (text.contains(' ') && HAS.iter().any(said)).then_some(())?;
    let skipped = article(text);
    let rest = text.get(skipped..)?;
    names::known_prefix(rest).or_else(|| names::ordinal_prefix(rest).map(|(_, length)| length))?;
    let (target, taken) = name(rest, start + skipped as u32)?;
    let behind = rest.get(taken..)?;
    let tail = behind.trim_start_matches(scan::is_blank);
    let after = HAS.iter().find_map(|said| scan::after_phrase(tail, said))?;
    let used = text.len() - after.len();
    let used = used + in_small_notes(Relation::CuedIn, after);
    let used = used + if_missing(text.get(used..)?);
    let (place, more) = at_place(text.get(used..)?);
    let targets = vec![target];
    let fact = Fact::Relation {
        relation: Relation::CuedIn,
        target: joined(&targets),
        target_span: Span::long(start + skipped as u32, taken as u32),
        targets,
        place,
    };
    Some((fact, used + more))
}

/// ` if no oboe`, ` if there is no oboe`: when a cue is played anyway.
fn if_missing(text: &str) -> usize {
    let bare = text.trim_start_matches(scan::is_blank);
    let led = ["if there is no", "if you have no", "if we have no", "if no"]
        .iter()
        .find_map(|lead| scan::after_phrase(bare, lead));
    let Some(rest) = led.filter(|_| bare.len() < text.len()) else {
        return 0;
    };
    let name = rest.trim_start_matches(scan::is_blank);
    match names::known_prefix(name) {
        Some(end) if name.len() < rest.len() => text.len() - name.len() + end,
        _ => 0,
    }
}

/// `just tuba up an 8ve`, `just the tuba part`: it is another's line and no more.
pub fn just_another(text: &str, start: u32) -> Option<(Fact, usize)> {
    let rest = scan::after_phrase(text, "just")?;
    let rest = rest.trim_start_matches(scan::is_blank);
    let rest = rest.get(article(rest)..)?;
    names::known_prefix(rest)?;
    let from = text.len() - rest.len();
    let (target, taken) = name(rest, start + from as u32)?;
    let behind = rest.get(taken..)?.trim_start_matches(scan::is_blank);
    let part = scan::after_phrase(behind, "part");
    let octave = Saying::leading(part.map_or(behind, str::trim_start))
        .is_ok_and(|(_, said)| matches!(said.0, "an octave higher" | "an octave lower"));
    (octave || part.is_some()).then_some(())?;
    let targets = vec![target];
    let fact = Fact::Relation {
        relation: Relation::Doubles,
        target: joined(&targets),
        target_span: Span::long(start + from as u32, taken as u32),
        targets,
        place: None,
    };
    let used = part.map_or(from + taken, |rest| text.len() - rest.len());
    Some((fact, used))
}

/// A relation with what is said of it behind its names: ` 8va 49 on`, ` except for mm. 62-65`.
pub fn with_its_tail(fact: Fact, text: &str, taken: usize) -> (Vec<Fact>, usize) {
    let Fact::Relation { relation, place, .. } = &fact else {
        return (vec![fact], taken);
    };
    let behind = text.get(taken..).unwrap_or("");
    let bare = behind.trim_start_matches(scan::is_blank);
    if bare.len() == behind.len() || place.is_some() {
        return (vec![fact], taken);
    }
    let doubles = matches!(relation, Relation::Doubles | Relation::With | Relation::SameAs);
    if doubles
        && let Ok((rest, said)) = Saying::leading(bare)
        && matches!(said.0, "an octave higher" | "an octave lower")
    {
        let (place, more) = at_place(rest);
        let said = Fact::Saying(said, place.clone());
        let used = text.len() - rest.len() + more;
        return (vec![placed(fact, place), said], used);
    }
    let same = matches!(relation, Relation::Doubles | Relation::SameAs);
    if same && let Some((places, rest)) = all_but(bare) {
        let facts = places.into_iter().map(|place| placed(fact.clone(), Some(place)));
        return (facts.collect(), text.len() - rest.len());
    }
    (vec![fact], taken)
}

fn placed(fact: Fact, at: Option<Place>) -> Fact {
    match fact {
        Fact::Relation {
            relation,
            target,
            targets,
            target_span,
            place,
        } => Fact::Relation {
            relation,
            target,
            targets,
            target_span,
            place: place.or(at),
        },
        other => other,
    }
}

/// `except 33-40`, `except for mm. 62-65`: the measures before these and behind them.
fn all_but(text: &str) -> Option<(Vec<Place>, &str)> {
    let rest = ["except for", "except in", "except at", "except", "but not"]
        .iter()
        .find_map(|lead| scan::after_phrase(text, lead))?;
    let rest = rest.trim_start_matches(scan::is_blank);
    let (places, taken) = crate::notation::values::passages(rest)?;
    let [Place::Between(Point::Measure(first), Point::Measure(last))] = places.as_slice() else {
        return None;
    };
    let before = first.checked_sub(1).filter(|last| *last > 0);
    let before = before.map(|last| Place::Between(Point::Measure(1), Point::Measure(last)));
    let behind = Place::Between(Point::Measure(last.checked_add(1)?), Point::END);
    (first <= last).then_some(())?;
    Some((before.into_iter().chain([behind]).collect(), rest.get(taken..)?))
}

/// `bells if none`, `dbl bells if none`, `use bells if you have none`: what plays it where nobody has it.
pub fn if_none(text: &str, start: u32) -> Option<(Fact, usize)> {
    let said = [" if ", " will do", " is fine", " is ok", " works", " would "];
    if !text.contains(' ') || !said.iter().any(|said| text.contains(said)) {
        return None;
    }
    let lead = ["dbl", "double on", "double", "use", "play on", "or on", "or"]
        .iter()
        .find_map(|lead| {
            let rest = scan::after_phrase(text, lead)?;
            Some(text.len() - rest.trim_start_matches(scan::is_blank).len())
        })
        .unwrap_or(0);
    let rest = text.get(lead..)?;
    names::known_prefix(rest)?;
    let (target, taken) = name(rest, start + lead as u32)?;
    let behind = rest.get(taken..)?;
    let tail = behind.trim_start_matches(scan::is_blank);
    (tail.len() < behind.len()).then_some(())?;
    let after = [
        "if none",
        "if you have none",
        "if we have none",
        "if there is none",
        "if not available",
        "if unavailable",
        "will do",
        "is fine too",
        "is ok too",
        "is fine",
        "is ok",
        "works too",
        "also works",
        "works as well",
        "would work",
        "would do",
        "works fine",
    ]
    .iter()
    .find_map(|said| scan::after_phrase(tail, said))
    .or_else(|| {
        // `if no xylo` names what nobody has.
        let behind = ["if no", "if you have no", "if we have no"]
            .iter()
            .find_map(|said| scan::after_phrase(tail, said))?;
        let named = behind.trim_start_matches(scan::is_blank);
        named.get(names::known_prefix(named)?..)
    })?;
    let targets = vec![target];
    let fact = Fact::Relation {
        relation: Relation::Or,
        target: joined(&targets),
        target_span: Span::long(start + lead as u32, taken as u32),
        targets,
        place: None,
    };
    Some((fact, text.len() - after.len()))
}

/// `low reeds double tuba`: only before a known name, so that it is no double bar.
pub fn double(text: &str, start: u32) -> Option<(Fact, usize)> {
    let rest = scan::after_phrase(text, "double")?;
    let rest = rest.trim_start_matches(scan::is_blank);
    let rest = rest.get(article(rest)..)?;
    names::known_prefix(rest)?;
    let from = text.len() - rest.len();
    let (targets, taken) = targets(rest, start + from as u32)?;
    let used = from + taken;
    let (place, more) = at_place(text.get(used..)?);
    let fact = Fact::Relation {
        relation: Relation::Doubles,
        target: joined(&targets),
        target_span: Span::long(start + from as u32, taken as u32),
        targets,
        place,
    };
    Some((fact, used + more))
}

/// `the usual, no oboe`, `but no oboe or horn`: only before a known name.
pub fn without(text: &str, start: u32) -> Option<(Fact, usize)> {
    let lead = [
        "but without",
        "but no",
        "but not",
        "without",
        "except for",
        "except",
        "minus",
        "less",
        "no",
    ];
    let rest = lead.iter().find_map(|lead| scan::after_phrase(text, lead))?;
    let rest = rest.trim_start_matches(scan::is_blank);
    let rest = rest.get(article(rest)..)?;
    names::known_prefix(rest).or_else(|| names::ordinal_prefix(rest).map(|(_, length)| length))?;
    let from = text.len() - rest.len();
    let (targets, taken) = targets(rest, start + from as u32)?;
    let fact = Fact::Relation {
        relation: Relation::Without,
        target: joined(&targets),
        target_span: Span::long(start + from as u32, taken as u32),
        targets,
        place: None,
    };
    Some((fact, from + taken))
}

/// The names in one phrase, as the one form writes them: `snare, bass drum and tom-toms`.
pub fn joined(targets: &[RowName]) -> String {
    let names: Vec<String> = targets.iter().map(RowName::one_form).collect();
    match names.as_slice() {
        [head @ .., before, last] => {
            let head: String = head.iter().map(|name| format!("{name}, ")).collect();
            format!("{head}{before} and {last}")
        }
        names => names.concat(),
    }
}

/// Names one after another, with `and`, `or`, `&` or a comma between them, at the start of a text.
pub fn targets(text: &str, start: u32) -> Option<(Vec<RowName>, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    loop {
        let rest = text.get(at..)?;
        let skipped = article(rest);
        let (name, taken) = name(rest.get(skipped..)?, start + (at + skipped) as u32)?;
        found.push(name);
        at += skipped + taken;
        let rest = text.get(at..)?;
        match joint(rest) {
            // A joint with no name behind it belongs to what follows.
            // Behind a name in quotation marks only another one is a name.
            Some(joint)
                if name_follows(rest.get(joint..)?)
                    && (!text.starts_with(scan::is_quote)
                        || rest.get(joint..)?.starts_with(scan::is_quote))
                    && found.len() < 24 =>
            {
                at += joint;
            }
            _ => return Some((found, at)),
        }
    }
}

/// The length of `the ` at the start.
fn article(text: &str) -> usize {
    match nom::sequence::terminated(phrase("the"), blanks1).parse(text) {
        Ok((rest, _)) => text.len() - rest.len(),
        Err(_) => 0,
    }
}

/// The length of what joins two names, blanks on both sides included.
fn joint(text: &str) -> Option<usize> {
    let rest = scan::skip_blanks(text);
    let joints = [", and ", ", or ", ",", "and ", "or ", "& ", "&", "/", "+ ", "+"];
    let joint = joints.iter().find(|joint| {
        rest.get(..joint.len())
            .is_some_and(|head| head.eq_ignore_ascii_case(joint))
    })?;
    let after = rest.get(joint.len()..)?;
    let blank = after.len() - scan::skip_blanks(after).len();
    Some(text.len() - rest.len() + joint.len() + blank)
}

fn name_follows(text: &str) -> bool {
    let rest = text.get(article(text)..).unwrap_or("");
    !rest.trim().is_empty()
        && (rest.starts_with(scan::is_quote)
            || names::known_prefix(rest).is_some()
            || names::ordinal_prefix(rest).is_some()
            || !(starts_fact(rest) || rest.starts_with(|c: char| c.is_ascii_digit())))
}

/// One name with its number at the start of a text.
fn name(text: &str, start: u32) -> Option<(RowName, usize)> {
    let length = length(text);
    let words = text.get(..length)?.trim_end();
    if words.is_empty() {
        return None;
    }
    let (words, open) = match words.strip_suffix('?') {
        Some(words) => (words, true),
        None => (words, false),
    };
    let cut = names::cut_number(words, true);
    let name = RowName {
        span: Span::long(start, words.len() as u32),
        words: Span::long(start + cut.words_at as u32, cut.words.len() as u32),
        text: names::in_full(cut.words),
        numbers: cut.numbers,
        open,
    };
    Some((name, words.len() + usize::from(open)))
}

/// Where a name at the start of a text ends: behind a known one and its number, else before a fact or a joint.
fn length(text: &str) -> usize {
    if let Some(quoted) = quoted(text) {
        return quoted;
    }
    if let Some((_, ordinal)) = names::ordinal_prefix(text) {
        let rest = text.get(ordinal..).unwrap_or("");
        let blank = rest.len() - rest.trim_start().len();
        let known = names::known_prefix(rest.trim_start()).unwrap_or(0);
        return ordinal + blank + known;
    }
    if let Some(known) = names::known_prefix(text) {
        let behind = text.get(known..).unwrap_or("");
        let number = names::number_length(behind, true);
        // No part has a number above 4 (common practice, no source): `doubles euphonium 9-16` is said of measures.
        let high = behind
            .get(..number)
            .unwrap_or("")
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|digits| digits.parse::<u32>().ok())
            .any(|number| number > 8);
        return known + if high { 0 } else { number };
    }
    let mut words = 0;
    let mut blank = true;
    for (at, c) in text.char_indices() {
        if matches!(c, ',' | '/' | '&' | '+') {
            return at;
        }
        if blank && !scan::is_blank(c) && at > 0 {
            let rest = text.get(at..).unwrap_or("");
            let joined = ["and ", "or "].iter().any(|joint| rest.starts_with(joint));
            let number = names::number_length(text.get(at - 1..).unwrap_or(""), true) > 0;
            if joined || words >= 4 || (starts_fact(rest) && !number) {
                return at;
            }
        }
        words += usize::from(blank && !scan::is_blank(c));
        blank = scan::is_blank(c);
    }
    text.len()
}

/// A name in quotation marks.
fn quoted(text: &str) -> Option<usize> {
    let (rest, _) = scan::quoted(text).ok()?;
    Some(text.len() - rest.len())
}
