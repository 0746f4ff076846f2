//! What some players of a section can do: `4 over the break`, `2 up to G5`, `1 treble clef`.

use std::sync::LazyLock;

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{map, opt, value};

use super::keywords::{counted, keyword};
use super::notes::Note;
use super::pitched::longest;
use super::sayings::Phrases;
use crate::music::Pitch;
use crate::notation::names;
use crate::notation::row::{Can, Fact};
use crate::notation::scan::{Read, blanks1, number, phrase, word};
use crate::notation::values::{Day, Standing};

/// Reads how many and what at the start of a text, and how many bytes it takes.
pub fn some(text: &str) -> Option<(Fact, usize)> {
    // `with 1 more from January`, `only 2 over the break`: the word before the number changes nothing.
    for lead in ["with", "and", "only", "plus", "of whom", "of which", "of them"] {
        if let Ok((rest, _)) = (phrase(lead), blanks1).parse(text)
            && rest.starts_with(|c: char| c.is_ascii_digit() || c.is_alphabetic())
            && let Some((fact, taken)) = counted_some(rest)
        {
            return Some((fact, text.len() - rest.len() + taken));
        }
    }
    if let Ok((rest, _)) = (alt((word("maybe"), word("perhaps"), word("possibly"))), blanks1).parse(text)
        && let Ok((rest, count)) = alt((counted, number)).parse(rest)
    {
        let can = Can::Maybe;
        return Some((
            Fact::Some {
                count: Some(count),
                can,
            },
            text.len() - rest.len(),
        ));
    }
    // `but share 1 horn` is said of all of them.
    let shared = text
        .strip_prefix("but they ")
        .or_else(|| text.strip_prefix("but "));
    let shared = shared.or_else(|| text.strip_prefix("they ")).unwrap_or(text);
    if let Some((can, taken)) = longest(shared, 7, share) {
        let fact = Fact::Some { count: None, can };
        return Some((fact, text.len() - shared.len() + taken));
    }
    if let Some((can, taken)) = longest(text, 6, |words| there(words).filter(|_| leaves(words))) {
        return Some((Fact::Some { count: None, can }, taken));
    }
    counted_some(text).or_else(|| {
        // `too many`, `beginners`: said of the whole section.
        let (rest, said) = standing(text).ok()?;
        let can = Can::Standing(said);
        Some((Fact::Some { count: None, can }, text.len() - rest.len()))
    })
}

fn counted_some(text: &str) -> Option<(Fact, usize)> {
    let count = alt((
        value(
            None,
            alt((
                phrase("all of them"),
                word("all"),
                phrase("everybody"),
                phrase("both of them"),
                word("both"),
            )),
        ),
        value(
            Some(0),
            alt((phrase("none of them"), word("none"), phrase("nobody"))),
        ),
        map(counted, Some),
        map(number, Some),
    ));
    let between = (
        opt((
            blanks1,
            alt((
                phrase("of them"),
                phrase("of em"),
                phrase("of whom"),
                phrase("of those"),
                phrase("who"),
            )),
        )),
        opt((
            blanks1,
            alt((
                word("can"),
                word("is"),
                word("are"),
                word("go"),
                word("goes"),
                word("play"),
                word("plays"),
            )),
        )),
        blanks1,
    );
    let (rest, (count, _)) = (count, between).parse(text).ok()?;
    let (can, taken) = can(rest)?;
    Some((Fact::Some { count, can }, text.len() - rest.len() + taken))
}

/// Words that say that somebody does not go over the break yet.
const NOT_OVER: [&str; 12] = [
    "have not crossed the break",
    "haven't crossed the break",
    "havent crossed the break",
    "has not crossed the break",
    "hasn't crossed the break",
    "have not been over the break",
    "not over the break yet",
    "not over the break",
    "still below the break",
    "below the break",
    "cannot cross the break",
    "can't cross the break",
];

/// `4 have not crossed the break`: how many of a section do not go over it, and the bytes that say so.
pub fn not_over_the_break(text: &str) -> Option<(u32, usize)> {
    let text_after = ["of whom ", "of them ", "with ", "only ", "but ", "and "]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))
        .unwrap_or(text);
    let (rest, count) = alt((counted, number)).parse(text_after).ok()?;
    let rest = rest.trim_start();
    let rest = ["of them ", "of whom "]
        .iter()
        .find_map(|of| rest.strip_prefix(of))
        .unwrap_or(rest);
    let rest = NOT_OVER
        .iter()
        .find_map(|words| crate::notation::scan::after_phrase(rest, words))?;
    let rest = crate::notation::scan::after_phrase(rest.trim_start(), "yet").unwrap_or(rest);
    Some((count, text.len() - rest.len()))
}

fn can(text: &str) -> Option<(Can, usize)> {
    if let Some((can, taken)) = longest(text, 6, more) {
        return Some((can, taken));
    }
    if let Some((can, taken)) = longest(text, 7, share) {
        return Some((can, taken));
    }
    if let Ok((rest, said)) = standing(text) {
        return Some((Can::Standing(said), text.len() - rest.len()));
    }
    if let Ok((rest, Fact::OverTheBreak(_))) = keyword(text) {
        return Some((Can::OverTheBreak, text.len() - rest.len()));
    }
    let up = alt((phrase("up to"), phrase("to"), phrase("as high as")));
    if let Ok((rest, _)) = (up, blanks1).parse(text)
        && let Some((pitch, taken)) = longest(rest, 2, Pitch::read)
    {
        return Some((Can::UpTo(pitch), text.len() - rest.len() + taken));
    }
    let reach = alt((
        phrase("up to"),
        phrase("can play"),
        phrase("reaches"),
        phrase("reach"),
        phrase("hits"),
        phrase("hit"),
        phrase("play"),
        phrase("plays"),
    ));
    if let Ok((rest, _)) = (opt((word("can"), blanks1)), reach, blanks1).parse(text)
        && let Some((note, taken)) = longest(rest, 3, |words| {
            Note::read(
                words
                    .strip_prefix("the ")
                    .or_else(|| words.strip_prefix("a "))
                    .unwrap_or(words),
            )
            .filter(|note| note.height.is_some())
        })
    {
        return Some((Can::Reach(note), text.len() - rest.len() + taken));
    }
    let down = alt((phrase("down to"), phrase("as low as")));
    if let Ok((rest, _)) = (down, blanks1).parse(text)
        && let Some((pitch, taken)) = longest(rest, 2, Pitch::read)
    {
        return Some((Can::DownTo(pitch), text.len() - rest.len() + taken));
    }
    if let Ok((rest, ())) = treble_clef(text) {
        return Some((Can::TrebleClef, text.len() - rest.len()));
    }
    let also = alt((
        phrase("also plays"),
        phrase("also play"),
        phrase("also on"),
        phrase("also"),
        phrase("doubles on"),
        phrase("double on"),
        phrase("doubles"),
        phrase("switches to"),
        phrase("switch to"),
        phrase("can switch to"),
        phrase("plays"),
        phrase("on"),
    ));
    if let Ok((rest, _)) = (also, blanks1).parse(text) {
        // A name that is not known may be one of the catalogue's own, but not a whole phrase with its article.
        let end = rest.find(',').unwrap_or(rest.len());
        let own = rest.get(..end)?;
        let phrase = own.split_whitespace().count() > 2
            || ["a", "an", "the"]
                .iter()
                .any(|article| word(article).parse(own).is_ok());
        let taken = names::known_prefix(rest).or((!phrase).then_some(end))?;
        let name = names::in_full(rest.get(..taken)?);
        let after = rest.get(taken..)?;
        let part = alt((word("parts"), word("part")));
        let used = match (blanks1, part).parse(after) {
            Ok((behind, _)) => rest.len() - behind.len(),
            Err(_) => taken,
        };
        return Some((Can::Also(name), text.len() - rest.len() + used));
    }
    if let Some((can, taken)) = longest(text, 6, there) {
        return Some((can, taken));
    }
    None
}

/// `more beginning in January`, `more from 2027-01`.
fn more(words: &str) -> Option<Can> {
    let rest = words.strip_prefix("more ")?;
    let leads = [
        "beginning in ",
        "beginning ",
        "starting in ",
        "starting ",
        "starts in ",
        "joining in ",
        "joins in ",
        "coming in ",
        "from ",
        "in ",
        "since ",
    ];
    let day = leads.iter().find_map(|lead| rest.strip_prefix(lead))?;
    Day::read(day).map(Can::More)
}

/// `share a stand`, `share a stand and an instrument`, `sharing one horn`.
fn share(words: &str) -> Option<Can> {
    let rest = ["share ", "shares ", "sharing ", "sharing"]
        .iter()
        .find_map(|lead| words.strip_prefix(lead))?;
    let (mut stand, mut instrument) = (false, false);
    for word in rest.split_whitespace() {
        match word {
            "a" | "an" | "one" | "1" | "the" | "and" | "&" => {}
            "stand" | "stands" => stand = true,
            // Wind players call whatever they play a horn.
            "horn" | "instrument" | "instruments" | "horns" => instrument = true,
            _ => return None,
        }
    }
    let last = rest.split_whitespace().last()?;
    let whole = !matches!(last, "a" | "an" | "one" | "the" | "and" | "&");
    (whole && (stand || instrument)).then_some(Can::Share { stand, instrument })
}

/// `moving in November`, `leaves 2027-01`: said of all that stand before it.
const LEAVES: [&str; 8] = [
    "moving in ",
    "moving ",
    "moves in ",
    "moves ",
    "leaving in ",
    "leaving ",
    "leaves in ",
    "leaves ",
];

fn leaves(words: &str) -> bool {
    LEAVES.iter().any(|lead| words.starts_with(lead))
}

/// `joined 2026-10-12`, `since October`, `until 2027-01-15`, `moving in November`.
fn there(words: &str) -> Option<Can> {
    if let Some(day) = LEAVES.iter().find_map(|lead| words.strip_prefix(lead)) {
        return Day::read(day).map(Can::Until);
    }
    match Standing::read(words)? {
        Standing::Since(day) => Some(Can::Since(day)),
        Standing::Until(day) => Some(Can::Until(day)),
        _ => None,
    }
}

fn treble_clef(input: &str) -> Read<'_, ()> {
    let mut reads = opt((alt((word("reads"), word("read"), word("in"))), blanks1));
    let (rest, _) = reads.parse(input)?;
    value(
        (),
        alt((
            phrase("treble clef only"),
            phrase("treble clef"),
            nom::bytes::complete::tag_no_case("T.C."),
            phrase("tc"),
        )),
    )
    .parse(rest)
}

/// Words for how far a player is (common practice, no source).
const STANDINGS: [(&str, &[&str]); 20] = [
    (
        "strong",
        &[
            "strong players",
            "a strong player",
            "strong player",
            "good",
            "solid",
        ],
    ),
    (
        "beginner",
        &[
            "beginners",
            "a beginner",
            "beg",
            "beg.",
            "beginning",
            "first year",
            "first-year",
            "just started",
            "just starting",
            "brand new",
            "began this year",
            "started this year",
            "started this fall",
            "first years",
        ],
    ),
    ("new", &["new players", "new kid", "new this year"]),
    ("weak", &["shaky", "not strong", "needs help"]),
    ("sixth grader", &["sixth graders", "6th grader", "6th graders"]),
    (
        "seventh grader",
        &["seventh graders", "7th grader", "7th graders"],
    ),
    ("eighth grader", &["eighth graders", "8th grader", "8th graders"]),
    ("second year", &["second-year", "2nd year"]),
    ("Year 7", &["Year Seven", "Yr 7", "Y7"]),
    ("Year 8", &["Year Eight", "Yr 8", "Y8"]),
    ("Year 9", &["Year Nine", "Yr 9", "Y9"]),
    ("Year 10", &["Year Ten", "Yr 10", "Y10"]),
    ("with the director", &["me", "myself"]),
    ("advanced", &["experienced", "third year"]),
    ("too many", &["more than we need"]),
    ("too few", &["not enough", "fewer than we need"]),
    (
        "on a curved head",
        &["on a curved headjoint", "on a curved head joint"],
    ),
    (
        "on a school instrument",
        &[
            "on a school horn",
            "on a loaner",
            "on a rental",
            "on school horns",
            "on school instruments",
        ],
    ),
    ("left-handed", &["left handed"]),
    (
        "often absent",
        &[
            "out sick a lot",
            "sick a lot",
            "out a lot",
            "absent a lot",
            "often out",
            "often away",
            "often sick",
            "misses a lot",
            "always absent",
        ],
    ),
];

/// How far a player is, at the start of a text.
pub fn standing(input: &str) -> Read<'_, &'static str> {
    static PHRASES: LazyLock<Phrases<&'static str>> = LazyLock::new(|| {
        Phrases::new(STANDINGS.iter().flat_map(|(words, also)| {
            std::iter::once(*words)
                .chain(also.iter().copied())
                .map(|written| (*words, written))
        }))
    });
    PHRASES.leading(input)
}
