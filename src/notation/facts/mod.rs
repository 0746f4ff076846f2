//! Facts of a row: ranges, measures, relations, solos and the rest, one after another.
//!
//! Each reader takes words from the start of a text and says how many bytes it took. What none of them
//! takes is passed over word by word and stays unaccounted for, so that it is told.

pub mod keywords;
pub mod notes;
pub mod pitched;
mod player;
pub mod relation;
pub mod sayings;
mod sayings_of_parts;
mod some;

use nom::Parser;
use nom::branch::alt;
use nom::combinator::opt;

use super::build::trim_span;
use super::fields::RowsOf;
use super::heard::Ear;
use super::items::about_word;
use super::row::{Fact, Relation, RowFact};
use super::scan::{self, blanks1, phrase, word};
use super::values::conventional::own_word;
use super::values::place::{self, measure_word};
use super::values::{self, Interlude, Lasts, Pin, Place, Stet};
use crate::text::Span;
pub use pitched::complete_with;
use sayings::{Saying, Texture};
pub use some::{not_over_the_break, some};

/// Whether a fact starts with these words, so that a row's name ends before them.
pub fn starts_fact(words: &str) -> bool {
    let words = match about_word(words) {
        Ok((rest, ())) => rest,
        Err(_) => words,
    };
    negation(words).is_some()
        || word("stet").parse(words).is_ok()
        || pitched::range(words).is_some()
        || pitched::no_range(words).is_some()
        || pitched::retune(words).is_some()
        || notes::said_behind(words).is_some()
        || notes::bounds(words).is_some()
        || notes::positions(words).is_some()
        || short(words).is_some()
        || starts_relation(words)
        || phrase("complete with")(words).is_ok()
        || place::at_word(words).is_ok()
        || starts_measure(words)
}

/// Whether a text is nothing but one of the words that are a fact by themselves, such as `optional`.
pub(super) fn is_keyword(text: &str) -> bool {
    // None of them has a figure behind its first word, as rows of names and measures have.
    if text.bytes().skip(1).any(|byte| byte.is_ascii_digit()) {
        return false;
    }
    keywords::keyword(text.trim_end_matches('?').trim_end()).is_ok_and(|(rest, _)| rest.trim().is_empty())
}

/// A measure word and a figure at the start, so that `m. 5` is never a name.
pub fn starts_measure(text: &str) -> bool {
    measure_word(text).is_ok_and(|(rest, ())| rest.starts_with(|c: char| c.is_ascii_digit()))
}

fn starts_relation(words: &str) -> bool {
    relation::relation(words).is_ok_and(|(rest, _)| {
        rest.starts_with(|c: char| c.is_alphabetic() || scan::is_quote(c))
            || super::names::ordinal_prefix(rest).is_some()
    })
}

/// Reads the facts that stand in a stretch between two commas, and hands over what it understood.
pub fn read(ear: &mut Ear, masked: &str, span: Span, of: RowsOf) -> Vec<RowFact> {
    let mut facts = Vec::new();
    let mut rest = trim_span(masked, span);
    if rest.len() > scan::LONGEST {
        return facts;
    }
    // Each round takes at least one word, so the loop ends.
    while !rest.is_empty() {
        let text = rest.slice(masked);
        if let Some(length) = joint(text).or_else(|| only_there(text)) {
            ear.hear(Span::long(rest.start, length as u32));
            rest = behind(masked, rest, length);
            continue;
        }
        // `doubled in the altos except 33-40` is not silent there.
        let but = matches!(
            facts.last(),
            Some(RowFact {
                what: Fact::Relation {
                    relation: Relation::Doubles | Relation::SameAs,
                    ..
                },
                ..
            })
        ) && ["except", "but not", "but"]
            .iter()
            .any(|but| scan::after_phrase(text, but).is_some());
        // `otherwise soft mallets` hangs on the condition before it, and so do other words behind it.
        if facts.is_empty()
            && let Some(tail) = ["otherwise", "else", "if not"]
                .iter()
                .find_map(|lead| scan::after_phrase(text, lead))
            && one(text, rest.start, of).is_none()
            && let bare = scan::skip_blanks(tail)
            && bare.len() < tail.len()
            && let lead = (text.len() - bare.len()) as u32
            && let Some((read, taken)) = one(bare, rest.start + lead, of)
        {
            ear.hear(Span::long(rest.start, lead + taken as u32));
            facts.extend(read.into_iter().map(|fact| RowFact { open: true, ..fact }));
            rest = behind(masked, rest, lead as usize + taken);
            continue;
        }
        if let Some((read, taken)) = one(text, rest.start, of).filter(|_| !but) {
            ear.hear(Span::long(rest.start, taken as u32));
            facts.extend(read);
            rest = behind(masked, rest, taken);
            continue;
        }
        // What stands behind a `not` that nobody reads would say the opposite, so it goes unread too.
        let skipped = match negation(text) {
            Some(length) => {
                let tail = behind(masked, rest, length);
                let taken = one(tail.slice(masked), tail.start, of).map_or(0, |(_, taken)| taken);
                (tail.start - rest.start) as usize + taken
            }
            None => 0,
        };
        rest = behind(masked, rest, skipped.max(first_word(text)));
    }
    facts
}

fn behind(masked: &str, rest: Span, taken: usize) -> Span {
    let start = rest.start.saturating_add(taken as u32).min(rest.end);
    trim_span(masked, Span::new(start, rest.end))
}

fn first_word(text: &str) -> usize {
    let end = text.find(scan::is_blank).unwrap_or(text.len());
    end.max(text.chars().next().map_or(1, char::len_utf8))
}

/// `and`, `&`, `also` between two facts: words that only join.
fn joint(text: &str) -> Option<usize> {
    if scan::starts_with_figures(text) {
        return None;
    }
    let rest = alt((
        word("and"),
        word("but"),
        word("also"),
        word("again"),
        word("plus"),
        word("then"),
        word("so"),
        nom::bytes::complete::tag("&"),
        nom::bytes::complete::tag("+"),
    ));
    let mut rest = nom::sequence::terminated(rest, opt(blanks1));
    let (after, taken) = rest.parse(text).ok()?;
    let leaves_out = phrase("but not")(text).is_ok() || keywords::but_at(text);
    (!after.is_empty() && !leaves_out).then_some(taken.len())
}

/// `exists`, `there is a part`: words that say what the row itself says.
fn only_there(text: &str) -> Option<usize> {
    if scan::starts_with_figures(text) {
        return None;
    }
    ["part exists", "exists", "there is a part", "there is one"]
        .iter()
        .find_map(|words| {
            let rest = scan::after_phrase(text, words)?;
            ends_word(rest).then_some(text.len() - rest.len())
        })
}

/// The length of a word that turns what follows into its opposite.
fn negation(text: &str) -> Option<usize> {
    if scan::starts_with_figures(text) {
        return None;
    }
    let words = [
        "not", "no", "never", "without", "cannot", "can't", "don't", "doesn't", "dont", "doesnt", "isn't",
        "nor", "unless", "if", "except", "hardly", "maybe", "perhaps", "possibly", "cue",
    ];
    words
        .into_iter()
        .find(|negation| scan::after_phrase(text, negation).is_some())
        .map(str::len)
}

/// The facts that one reader takes from the start of a text, and the bytes they take, `about` and `?` included.
fn one(whole: &str, start: u32, of: RowsOf) -> Option<(Vec<RowFact>, usize)> {
    let (text, about) = match about_word(whole).or_else(|_| mostly(whole)) {
        Ok((tail, ())) if !tail.is_empty() => (tail, true),
        _ => (whole, false),
    };
    let skipped = whole.len() - text.len();
    let start = start + skipped as u32;
    let (what, mut taken) = fact(text, start, of)?;
    // A roster has no measures.
    if of == RowsOf::Players && what.iter().any(|fact| matches!(fact, Fact::Plays(..))) {
        return None;
    }
    let open = text.get(taken..).is_some_and(|rest| rest.starts_with('?'));
    taken += usize::from(open);
    let ends = text.get(taken..).is_none_or(ends_word);
    if !ends {
        return None;
    }
    // `same part mostly`: said behind as well as before.
    let behind = text.get(taken..).unwrap_or("");
    let after = behind.trim_start_matches(scan::is_blank);
    let mostly = ["mostly", "for the most part"]
        .iter()
        .find_map(|word| scan::after_phrase(after, word))
        .filter(|_| after.len() < behind.len() && what.iter().all(shades));
    let about = about || mostly.is_some();
    taken = mostly.map_or(taken, |rest| text.len() - rest.len());
    let facts = what
        .into_iter()
        .map(|what| RowFact {
            span: Span::long(start, taken as u32),
            about,
            open,
            what,
        })
        .collect();
    Some((facts, skipped + taken))
}

/// `mostly` before something that may hold for most of a part.
fn mostly(input: &str) -> scan::Read<'_, ()> {
    let (rest, _) = (word("mostly"), blanks1).parse(input)?;
    Ok((rest, ()))
}

/// Whether a fact may hold for most of a part and not for all of it.
pub(super) fn shades(fact: &Fact) -> bool {
    matches!(
        fact,
        Fact::Texture(..) | Fact::Saying(..) | Fact::Divided(_) | Fact::Undivided | Fact::BelowTheBreak
    )
}

/// Whether a fact may end before this: half a word is not understood.
fn ends_word(rest: &str) -> bool {
    rest.chars().next().is_none_or(|c| {
        scan::is_blank(c) || matches!(c, '.' | ':' | '?' | '!' | '/' | '&' | '+' | '-' | '–' | ')')
    })
}

fn fact(text: &str, start: u32, of: RowsOf) -> Option<(Vec<Fact>, usize)> {
    // Most of what is said of percussion are measures alone, and no other reader takes those.
    if matches!(of, RowsOf::Percussion | RowsOf::Parts)
        && let Some(place) = place::bare_stretch(text)
    {
        return Some((vec![Fact::Plays(place, Vec::new())], text.len()));
    }
    if matches!(of, RowsOf::Percussion | RowsOf::Parts)
        && ["none", "no part"]
            .iter()
            .any(|none| text.eq_ignore_ascii_case(none))
    {
        return Some((vec![Fact::NoPart], text.len()));
    }
    if let Ok((_, _)) = (word("stet"), blanks1).parse(text)
        && let Some(stet) = text.get(4..).and_then(Stet::read)
    {
        return Some((vec![Fact::Stet(stet)], text.len()));
    }
    if of == RowsOf::Players
        && let Some((fact, taken)) = some(text)
    {
        return Some((vec![fact], taken));
    }
    if of == RowsOf::Percussionists {
        return player::fact(text, start).map(|(fact, taken)| (vec![fact], taken));
    }
    if of == RowsOf::Percussion
        && let Some((pin, taken)) = pitched::longest(text, 8, Pin::read_beside)
    {
        return Some((vec![Fact::Pin(pin)], taken));
    }
    if of == RowsOf::Program
        && let Some((pin, taken)) = pitched::longest(text, 10, Pin::read_in_a_program)
    {
        return Some((vec![Fact::Pin(pin)], taken));
    }
    if of == RowsOf::Pages
        && let Some((names, taken)) = relation::targets(text, start)
    {
        return Some((vec![Fact::Instruments { names, not: false }], taken));
    }
    // A band is told by its name in quotation marks.
    if of == RowsOf::Program
        && let Ok((rest, Relation::For)) = relation::relation(text)
        && !rest.starts_with(scan::is_quote)
    {
        return None;
    }
    if matches!(of, RowsOf::Movements | RowsOf::Program)
        && let Some((fact, taken)) = length(text)
        && (of == RowsOf::Movements || matches!(fact, Fact::Lasts(_)))
    {
        return Some((vec![fact], taken));
    }
    if of == RowsOf::Program
        && let Some(fact) = keywords::only_nth(text)
    {
        return Some((vec![fact], text.len()));
    }
    let order = match of {
        RowsOf::Program | RowsOf::Movements => order_fact(text),
        _ => None,
    };
    // `intermission 15 minutes`, `warm-up Bb scale`: more than the one word.
    let taken = order.as_ref().map_or(0, |(_, taken)| *taken);
    if of == RowsOf::Program
        && let Some((interlude, longer)) = pitched::longest(text, 10, Interlude::read)
        && longer > taken
    {
        return Some((vec![Fact::Interlude(interlude)], longer));
    }
    if let Some((fact, taken)) = order {
        return Some((vec![fact], taken));
    }
    let single = |(fact, taken): (Fact, usize)| (vec![fact], taken);
    // `cues for euphonium`, `one player with bells` begin with words that are a fact by themselves.
    if let Ok((_, Relation::CuesFor | Relation::CuedIn | Relation::SharedWith)) = relation::relation(text)
        && starts_relation(text)
        && let Some(found) = relation::fact(text, start)
    {
        return Some(single(found));
    }
    if let Some(found) = notes::said_behind(text) {
        return Some(found);
    }
    pitched::range(text)
        .or_else(|| pitched::retune(text))
        .or_else(|| pitched::pitches(text))
        .or_else(|| pitched::no_range(text))
        .or_else(|| complete_with(text).map(|fact| (fact, text.len())))
        .or_else(|| notes::positions(text))
        .map(single)
        .or_else(|| notes::bounds(text))
        .or_else(|| short(text))
        .or_else(|| {
            // Beside a piece, `with` goes with people, and other readers know those.
            let program = matches!(of, RowsOf::Program | RowsOf::Movements);
            let fact = relation_fact(text, start).filter(|(fact, _)| !program || !is_with_a_stranger(fact));
            fact.map(|(fact, taken)| relation::with_its_tail(fact, text, taken))
        })
        .or_else(|| asked(text).map(single))
        .or_else(|| order_fact(text).map(single))
}

/// How long a movement is: `44 bars`, `2:30`.
fn length(text: &str) -> Option<(Fact, usize)> {
    let measures = scan::number(text).ok().and_then(|(rest, measures)| {
        let behind = rest.trim_start_matches(scan::is_blank);
        let after = ["measures", "measure", "bars", "bar"]
            .iter()
            .find_map(|word| scan::after_phrase(behind, word))?;
        Some((Fact::Measures(measures), text.len() - after.len()))
    });
    measures.or_else(|| {
        // `3 1/2 minutes with all repeats`.
        let clock = |words: &str| {
            let lasts = Lasts::read(words)?;
            (lasts == Lasts::exactly(lasts.low)).then_some(lasts.low)
        };
        let (clock, taken) = pitched::longest(text, 6, clock)?;
        Some((Fact::Lasts(clock), taken))
    })
}

/// Whether a part is said to go with something that is no instrument.
fn is_with_a_stranger(fact: &Fact) -> bool {
    use super::row::Relation;
    matches!(
        fact,
        Fact::Relation { relation: Relation::With | Relation::Or, target, .. }
            if super::names::known_prefix(target).is_none() && !target.starts_with(scan::is_quote)
    )
}

fn relation_fact(text: &str, start: u32) -> Option<(Fact, usize)> {
    if let Some(found) = relation::if_none(text, start)
        .or_else(|| relation::double(text, start))
        .or_else(|| relation::has_it(text, start))
        .or_else(|| relation::has_the_cues(text, start))
        .or_else(|| relation::just_another(text, start))
    {
        return Some(found);
    }
    match starts_relation(text) {
        true => relation::fact(text, start),
        false => relation::cued_behind(text, start),
    }
}

fn order_fact(text: &str) -> Option<(Fact, usize)> {
    keywords::movements(text).or_else(|| {
        let (rest, fact) = keywords::order(text).ok()?;
        Some((fact, text.len() - rest.len()))
    })
}

/// `asks dotted quarters`: skills go by any words, so it runs to the comma.
fn asked(text: &str) -> Option<(Fact, usize)> {
    let lead = alt((word("asks"), word("asks for"), word("teaches")));
    let (rest, _) = (lead, blanks1).parse(text).ok()?;
    let words = rest.split_whitespace().collect::<Vec<_>>().join(" ");
    (!words.is_empty()).then_some((Fact::Asks(words), text.len()))
}

/// The fact of the longest words among those that stand for themselves, with the places behind them.
fn short(text: &str) -> Option<(Vec<Fact>, usize)> {
    if let Some(place) = place::bare_stretch(text) {
        return Some((vec![Fact::Plays(place, Vec::new())], text.len()));
    }
    let placed = |fact: Fact, rest: &str| {
        let taken = text.len() - rest.len();
        if let Fact::Saying(saying, _) = fact
            && let Some((places, more)) = into(saying, rest)
        {
            return (with_places(fact, places), taken, taken + more);
        }
        let (places, more) = match of_the_whole(&fact) && until(scan::skip_blanks(rest)).is_some() {
            // `optional until 60`: the part stops there, or it cannot be spared from there on. Nothing is guessed.
            true => (Vec::new(), 0),
            false => places_behind(rest),
        };
        (with_places(fact, places), taken, taken + more)
    };
    let mut found = Longest { text, best: None };
    if let Ok((rest, fact)) = keywords::events(text) {
        let taken = text.len() - rest.len();
        found.push((vec![fact], taken, taken));
    }
    for read in [keywords::keyword, keywords::sticks] {
        if let Ok((rest, fact)) = read(text) {
            found.push(placed(fact, rest));
        }
    }
    if let Ok((rest, texture)) = Texture::leading(text)
        && !starts_relation(text)
    {
        found.push(placed(Fact::Texture(texture, None), rest));
    }
    if let Ok((rest, saying)) = Saying::leading(text) {
        found.push(placed(Fact::Saying(saying, None), rest));
    }
    if let Some((fact, taken)) = keywords::silent_until(text) {
        found.push((vec![fact], taken, taken));
    }
    if let Some(taken) = one_strong(text) {
        found.push((vec![Fact::OnePlayer, Fact::Strong], taken, taken));
    }
    if let Some((facts, taken)) = keywords::plays(text) {
        found.push((facts, taken, taken));
    }
    // `one player` is said of several instruments, so it goes before a number of players.
    if let Ok((rest, fact)) = keywords::players(text) {
        let taken = text.len() - rest.len();
        found.push((vec![fact], taken, taken));
    }
    let (facts, _, used) = found.best?;
    Some((solo_of_its_kind(text, facts), used))
}

/// `one strong kid`: one player, and a strong one.
fn one_strong(text: &str) -> Option<usize> {
    [
        "one strong kid",
        "one strong player",
        "one strong person",
        "1 strong kid",
        "1 strong player",
    ]
    .iter()
    .find_map(|words| scan::after_phrase(text, words))
    .map(|rest| text.len() - rest.len())
}

/// Of what several readers found at the start of a text, that of the longest words, the first where two are as long.
struct Longest<'t> {
    text: &'t str,
    best: Option<(Vec<Fact>, usize, usize)>,
}

impl Longest<'_> {
    /// Takes what a reader found: the bytes of its words, and of all that it used.
    fn push(&mut self, found: (Vec<Fact>, usize, usize)) {
        let ends = self.text.get(found.2..).is_none_or(ends_word);
        if ends && self.best.as_ref().is_none_or(|best| found.1 > best.1) {
            self.best = Some(found);
        }
    }
}

/// `improvised solo 25-40`: what kind of solo it is, beside the solo.
fn solo_of_its_kind(text: &str, mut facts: Vec<Fact>) -> Vec<Fact> {
    let kinds = ["improvised", "open", "exposed"];
    if kinds.into_iter().any(|kind| word(kind).parse(text).is_ok())
        && matches!(facts.first(), Some(Fact::Solo(_)))
        && let Ok((_, saying)) = Saying::leading(text)
    {
        facts.push(Fact::Saying(saying, None));
    }
    facts
}

/// A fact once for each place at which it holds.
fn with_places(fact: Fact, places: Vec<Place>) -> Vec<Fact> {
    if places.is_empty() {
        return vec![fact];
    }
    // `one player 17-32`, `optional 1-40`: it is so of all of the part, and that is where it plays.
    if of_the_whole(&fact) {
        let plays = places.into_iter().map(|place| Fact::Plays(place, Vec::new()));
        return std::iter::once(fact).chain(plays).collect();
    }
    places
        .into_iter()
        .map(|place| {
            let place = Some(place);
            match &fact {
                Fact::Solo(_) => Fact::Solo(place),
                Fact::Tacet(_) => Fact::Tacet(place),
                Fact::OverTheBreak(_) => Fact::OverTheBreak(place),
                Fact::Divided(_) => Fact::Divided(place),
                Fact::Texture(texture, _) => Fact::Texture(*texture, place),
                Fact::Saying(saying, _) => Fact::Saying(*saying, place),
                Fact::Sticks(sticks, _) => Fact::Sticks(sticks.clone(), place),
                other => other.clone(),
            }
        })
        .collect()
}

/// Whether a fact is so of all of a part, wherever the part plays.
fn of_the_whole(fact: &Fact) -> bool {
    matches!(
        fact,
        Fact::OnePlayer | Fact::Optional | Fact::Strong | Fact::WrittenIn | Fact::Lines(_) | Fact::Pin(_)
    )
}

/// Whether a fact can hold at a place; else measures behind it are where the part plays.
fn takes_place(text: &str) -> bool {
    // `optional 1-40` is a part that may be left out and plays at 1-40, as `strong player 1-40` is.
    place::at_word(scan::skip_blanks(text)).is_ok()
}

/// The places right behind a fact: ` 5-12 and 20-24`, ` at 41-44`, ` at trio`, ` at 50 only`, and the bytes they take.
fn places_behind(text: &str) -> (Vec<Place>, usize) {
    let (mut places, taken) = these_places(text);
    let behind = text.get(taken..).unwrap_or("");
    let only = scan::after_phrase(behind.trim_start_matches(scan::is_blank), "only");
    match (only, places.as_slice()) {
        // `at 50 only` holds at that measure and no longer.
        (Some(rest), [Place::At(values::Point::Measure(one))]) if rest.trim().is_empty() && taken > 0 => {
            let one = values::Point::Measure(*one);
            places = vec![Place::Between(one.clone(), one)];
            (places, text.len() - rest.len())
        }
        _ => (places, taken),
    }
}

fn these_places(text: &str) -> (Vec<Place>, usize) {
    let trimmed = scan::skip_blanks(text);
    let blank = text.len() - trimmed.len();
    if blank == 0 {
        return (Vec::new(), 0);
    }
    // `first in m. 12`: from there on.
    if let Some(rest) = ["for the first time", "first"]
        .iter()
        .find_map(|lead| scan::after_phrase(trimmed, lead))
    {
        let (places, more) = these_places(rest);
        if more > 0
            && let [Place::Between(first, _) | Place::At(first)] = places.as_slice()
        {
            return (vec![Place::At(first.clone())], text.len() - rest.len() + more);
        }
    }
    // `only in the last 4 bars`: a place says as much by itself.
    if let Some(rest) = scan::after_phrase(trimmed, "only") {
        let (places, more) = places_behind(rest);
        if more > 0 {
            return (places, text.len() - rest.len() + more);
        }
    }
    if let Some((place, taken)) = until(trimmed) {
        return (vec![place], blank + taken);
    }
    if let Some((places, taken)) = inside(trimmed) {
        return (places, blank + taken);
    }
    if let Some((places, taken)) = values::passages(trimmed) {
        // `at 33` holds from there on, where `33` alone is that measure.
        if takes_place(trimmed)
            && let (Some(place), more) = at_place(text)
            && more >= blank + taken
        {
            return (vec![place], more);
        }
        return (places, blank + taken);
    }
    match at_place(text) {
        (Some(place), taken) => (vec![place], taken),
        (None, _) => (Vec::new(), 0),
    }
}

/// `rolls into 33`: what sounds before that measure; `fills at 8 16 24`: measures one behind the other.
fn into(saying: Saying, text: &str) -> Option<(Vec<Place>, usize)> {
    let bare = scan::skip_blanks(text);
    if bare.len() == text.len() {
        return None;
    }
    if matches!(
        saying.0,
        "rolls" | "swells" | "glissando" | "fills" | "closed rolls" | "open rolls"
    ) && let Some(rest) = scan::after_phrase(bare, "into")
    {
        let rest = scan::skip_blanks(rest);
        let rest = measure_word(rest).map_or(rest, |(rest, ())| rest);
        let (after, measure) = scan::number(rest).ok()?;
        let ends = after.is_empty() || after.starts_with(scan::is_blank);
        let place = Place::At(values::Point::Pickup(measure));
        return ends.then(|| (vec![place], text.len() - after.len()));
    }
    let (mut rest, ()) = place::at_word(bare).ok()?;
    let mut places = Vec::new();
    while let Ok((after, measure)) = scan::number(rest) {
        if !(after.is_empty() || after.starts_with(scan::is_blank)) {
            break;
        }
        let measure = values::Point::Measure(measure);
        places.push(Place::Between(measure.clone(), measure));
        rest = scan::skip_blanks(after);
    }
    // Anything but a figure behind the last may belong to it.
    let ends = rest.is_empty() || word("and").parse(rest).is_err() && !rest.starts_with(['&', '-', '–', '+']);
    let used = text.trim_end().len() - rest.len().min(text.len());
    (places.len() > 2 && ends && rest.is_empty()).then_some((places, used))
}

/// `until 61`, `till C`: from the first measure to the one before.
fn until(text: &str) -> Option<(Place, usize)> {
    let (rest, _) = (alt((word("until"), word("till"), word("til"))), blanks1)
        .parse(text)
        .ok()?;
    let (place, taken) = pitched::longest(rest, 4, keywords::up_to)?;
    Some((place, text.len() - rest.len() + taken))
}

/// `in the last 8 bars`, `in bars 9-12`, `in the trio`; `in 2` and `in thirds` are no places.
fn inside(text: &str) -> Option<(Vec<Place>, usize)> {
    let (rest, _) = (word("in"), blanks1).parse(text).ok()?;
    let (places, taken) = values::passages(rest)?;
    let figure = rest.starts_with(|c: char| c.is_ascii_digit());
    let one = places.iter().all(super::rows::is_one_measure);
    (!(figure && one) && places != [Place::Throughout]).then(|| (places, text.len() - rest.len() + taken))
}

/// One place with its `at` (or measures without it) behind a fact, and the bytes it takes, blanks included.
pub fn at_place(text: &str) -> (Option<Place>, usize) {
    let trimmed = scan::skip_blanks(text);
    let blank = text.len() - trimmed.len();
    if blank == 0 && !trimmed.starts_with('@') {
        return (None, 0);
    }
    if let Ok((rest, ())) = place::at_word(trimmed)
        && let Some((place, taken)) = pitched::longest(rest, 6, place::after_at)
    {
        // A word that is no place of its own makes none before words that nobody understands.
        let after = rest.get(taken..).unwrap_or("").trim_start();
        let own_word = matches!(&place, Place::At(point) if point.mark().is_some_and(own_word));
        if !own_word || after.is_empty() || after.starts_with('?') {
            return (Some(place), text.len() - rest.len() + taken);
        }
    }
    if let Some(taken) = place::throughout(trimmed) {
        return (Some(Place::Throughout), blank + taken);
    }
    let led = starts_measure(trimmed) || trimmed.starts_with(|c: char| c.is_ascii_digit());
    if led && let Some((place, taken)) = pitched::longest(trimmed, 4, place::after_at) {
        return (Some(place), blank + taken);
    }
    (None, 0)
}
