//! Percussion instruments that are owned, borrowed, or said not to be there.

use std::fmt;

use crate::music::Instruments;
use crate::notation::names;

use super::borrowing::{take_event, take_owner};
use super::cursor::{Cursor, number, single};
use super::day::{Day, Days};
use super::flaw::{is_flaw, take_flaw};
use super::instrument_name::{At, Known, at, known, own_name, strip_looks};

/// Percussion instruments that are owned or borrowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Equipment {
    /// How many; one unless said.
    pub count: u32,
    /// The instrument as written, in the singular or plural.
    pub name: String,
    /// Where the name stands in the text that was read.
    pub name_at: At,
    /// Whether the trade's table has the name.
    pub known: bool,
    /// The instrument of the trade's table at the end of a name that it does not have: `bells` in `near bells`. One of
    /// the catalogue's own may be meant; where it has none, nobody knows that there are no bells.
    pub perhaps: Option<String>,
    /// Drum sizes in inches, as for timpani.
    pub sizes: Vec<u32>,
    /// Where it comes from, when that is said.
    pub from: Option<String>,
    /// The days for which it can be had, where they are said.
    pub days: Option<Days>,
    /// Until when it can be had where that is no day: `the spring concert`.
    pub until: Option<String>,
    /// Whether it is there.
    pub there: There,
    /// What is the matter with it, although it is there.
    pub flaw: Option<String>,
}

/// Whether an instrument is there.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum There {
    /// It is.
    #[default]
    Yes,
    /// The card says that there is none.
    No,
    /// Out for repair, or broken.
    Repair,
    /// Shared with somebody else.
    Shared(String),
}

/// Words that say there is none.
const NONE: [&str; 15] = [
    "we do not own",
    "we don't own",
    "do not have",
    "don't have",
    "dont have",
    "do not own",
    "don't own",
    "dont own",
    "no longer have",
    "without",
    "not",
    "no",
    "lacks",
    "missing",
    "need",
];

/// Words that say it cannot be played now.
const REPAIR: [&str; 14] = [
    "out for repair",
    "out for repairs",
    "out to repair",
    "in repair",
    "in the shop",
    "at the shop",
    "being repaired",
    "needs repair",
    "needs new heads",
    "needs a new head",
    "broken",
    "is broken",
    "cracked",
    "out of order",
];

impl Equipment {
    /// One thing of this name that is there.
    pub fn named(name: &str) -> Equipment {
        Equipment {
            count: 1,
            name: names::in_full(name),
            name_at: At::default(),
            known: known(name) == Some(Known::Wholly),
            perhaps: None,
            sizes: Vec::new(),
            from: None,
            days: None,
            until: None,
            there: There::Yes,
            flaw: None,
        }
    }

    /// Reads `bells`, `2 snares`, `2 pr cymbals`, `timp x2`, `bells (2 sets)`, `timpani 29 and 26`,
    /// `timpani 32, 29, 26 and 23`, `timpani 32", 29"`, `set of 4 timpani (32 to 23)`, `4 drums` behind
    /// timpani, `no chimes`, `chimes from the high school until 2027-05-01`, `xylophone out for repair`,
    /// `marimba shared with the choir`.
    ///
    /// A name that the trade does not know stays a name, and is told by a rule; a known name among words that
    /// are not known is not read.
    pub fn read(text: &str) -> Option<Equipment> {
        let whole = text;
        let (text, flaw) = take_flaw(text.trim());
        let (text, none) = take_none(text);
        let (text, there) = take_there(text, none)?;
        let (text, until) = take_event(text);
        let (text, days) = take_days(text);
        let (text, from) = take_from(text)?;
        let (text, from) = match from {
            Some(from) => (text, Some(from)),
            None => take_owner(text),
        };
        // Days may stand before the school they come from, and behind it.
        let (text, days) = match days {
            Some(days) => (text, Some(days)),
            None => take_days(text),
        };
        let (count, text) = take_count(text);
        let (text, first_size) = take_first_size(text);
        let (text, times) = take_times(text);
        let count = match (count, times) {
            (Some(_), Some(_)) => return None,
            (one, other) => one.or(other).unwrap_or(1),
        };
        let name_end = text
            .find(|c: char| c.is_ascii_digit() || c == '(')
            .unwrap_or(text.len());
        let (name, tail) = text.split_at_checked(name_end)?;
        let name = name.trim().trim_end_matches([':', ',']).trim_end();
        let name = strip_of(name);
        // `bass drum 1`: how many there are stands behind, where no sizes do.
        let (count, tail) = match tail.trim().parse::<u32>() {
            Ok(behind)
                if (1..=5).contains(&behind) && count == 1 && !name.to_lowercase().starts_with("timp") =>
            {
                (behind, "")
            }
            _ => (count, tail),
        };
        let perhaps = match known(name) {
            None if matches!(there, There::Yes | There::Shared(_)) => Some(own_name(name)?.to_owned()),
            _ => None,
        };
        let how = match perhaps {
            Some(_) => Known::Not,
            None => known(name)?,
        };
        let (drums, mut sizes) = sizes_or_drums(tail, name)?;
        match first_size {
            Some(size) if sizes.is_empty() && how == Known::Wholly => sizes.push(size),
            Some(_) => return None,
            None => {}
        }
        (drums.is_none() || count == 1).then_some(())?;
        let count = drums.unwrap_or(count);
        (count > 0).then(|| Equipment {
            count,
            name: names::in_full(&single(name)),
            name_at: at(whole, name),
            known: how == Known::Wholly,
            perhaps,
            sizes,
            from,
            days,
            until,
            there,
            flaw: flaw.map(str::to_owned),
        })
    }

    /// Sizes alone, in an item behind timpani: `29`, `26 and 23`, `26"`.
    pub fn more_sizes(text: &str) -> Option<Vec<u32>> {
        sizes(text).filter(|sizes| !sizes.is_empty())
    }

    /// Takes what a later item of the line says of this thing; false where it says nothing of it.
    pub fn add(&mut self, more: &Owned) -> bool {
        match more {
            Owned::Sizes(sizes) if takes_sizes(&self.name) => self.sizes.extend(sizes),
            Owned::Drums(count) if self.count == 1 && takes_sizes(&self.name) => self.count = *count,
            Owned::Days(days) if self.days.is_none() => self.days = Some(*days),
            Owned::From(from) if self.from.is_none() => self.from = Some(from.clone()),
            Owned::There(there) if self.there == There::Yes => self.there = there.clone(),
            Owned::Kind(_) if takes_sizes(&self.name) => {}
            Owned::Flaw(flaw) if self.flaw.is_none() => self.flaw = Some(flaw.clone()),
            _ => return false,
        }
        true
    }

    /// Joins items of one line: sizes belong to the last drums before them, all else to the thing before it.
    /// Gives the things, each with the number of items that it was made of.
    pub fn join(items: Vec<Owned>) -> Vec<(Equipment, usize)> {
        let mut joined: Vec<(Equipment, usize)> = Vec::new();
        for item in items {
            if let Owned::Thing(thing) = item {
                joined.push((thing, 1));
                continue;
            }
            let reach = item.reach();
            let taken = joined.iter_mut().rev().take(reach).find(|(thing, _)| {
                let mut thing = thing.clone();
                thing.add(&item)
            });
            if let Some((thing, of)) = taken {
                thing.add(&item);
                *of += 1;
            }
        }
        joined
    }

    /// The nearest known name of an instrument, where this one is not known.
    pub fn nearest(&self) -> Option<&'static str> {
        (!self.known)
            .then(|| Instruments::standard().nearest(&self.name))
            .flatten()
    }
}

/// One item of a line of instruments.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Owned {
    /// An instrument.
    Thing(Equipment),
    /// More sizes of the drums before it.
    Sizes(Vec<u32>),
    /// How many drums the timpani before it are.
    Drums(u32),
    /// The days for which the thing before it can be had.
    Days(Days),
    /// Where the thing before it comes from.
    From(String),
    /// Whether the thing before it can be played.
    There(There),
    /// How the drums before it are tuned.
    Kind(&'static str),
    /// What is the matter with the thing before it.
    Flaw(String),
}

/// How timpani are tuned.
const KINDS: [&str; 4] = ["hand-tuned", "hand tuned", "pedal", "with pedals"];

impl Owned {
    /// How many things before it may be meant: drums may stand some way before their sizes.
    pub fn reach(&self) -> usize {
        match self {
            Owned::Sizes(_) | Owned::Drums(_) => usize::MAX,
            _ => 1,
        }
    }

    /// Reads one item of a line of instruments.
    pub fn read(text: &str) -> Option<Owned> {
        if let Some(sizes) = Equipment::more_sizes(text) {
            return Some(Owned::Sizes(sizes));
        }
        if let Some(count) = drums_alone(text) {
            return Some(Owned::Drums(count));
        }
        if let Some(days) = Days::read(text).or_else(|| due_back(text)) {
            return Some(Owned::Days(days));
        }
        if let Some(kind) = KINDS.iter().find(|kind| single(text).eq_ignore_ascii_case(kind)) {
            return Some(Owned::Kind(kind));
        }
        if let Some(from) = single(text).strip_prefix("from ").and_then(partner) {
            return Some(Owned::From(from));
        }
        if REPAIR
            .iter()
            .any(|words| single(text).eq_ignore_ascii_case(words))
        {
            return Some(Owned::There(There::Repair));
        }
        if let Some(with) = single(text).strip_prefix("shared with ") {
            return partner(with).map(|with| Owned::There(There::Shared(with)));
        }
        if is_flaw(text) {
            return Some(Owned::Flaw(single(text)));
        }
        Equipment::read(text).map(Owned::Thing)
    }
}

impl fmt::Display for Owned {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Owned::Thing(thing) => thing.fmt(f),
            Owned::Sizes(sizes) => f.write_str(&show_sizes(sizes)),
            Owned::Drums(count) => write!(f, "{count} drums"),
            Owned::Days(days) => days.fmt(f),
            Owned::From(from) => write!(f, "from {from}"),
            Owned::There(there) => there.fmt(f),
            Owned::Kind(kind) => f.write_str(kind),
            Owned::Flaw(flaw) => f.write_str(flaw),
        }
    }
}

/// `no chimes`, `don't have a xylophone`.
fn take_none(text: &str) -> (&str, bool) {
    let lower = text.to_lowercase();
    let lead = NONE.iter().find(|lead| {
        lower
            .strip_prefix(**lead)
            .is_some_and(|rest| rest.starts_with(' '))
    });
    let Some(rest) = lead.and_then(|lead| text.get(lead.len()..)) else {
        return (text, false);
    };
    let rest = rest.trim_start();
    let rest = ["a ", "an ", "any ", "our own "]
        .iter()
        .find_map(|article| rest.strip_prefix(article))
        .unwrap_or(rest);
    (rest.trim_start(), true)
}

fn take_there(text: &str, none: bool) -> Option<(&str, There)> {
    let lower = text.to_lowercase();
    let repair = REPAIR.iter().find(|words| {
        lower
            .strip_suffix(**words)
            .is_some_and(|head| head.ends_with([' ', ',']))
    });
    if let Some(words) = repair {
        let head = text.get(..text.len() - words.len())?.trim_end_matches([' ', ',']);
        return (!none).then_some((head, There::Repair));
    }
    match lower.find(" shared with ") {
        Some(start) => {
            let with = partner(text.get(start + 13..)?)?;
            (!none).then_some((text.get(..start)?, There::Shared(with)))
        }
        None => Some((text, if none { There::No } else { There::Yes })),
    }
}

/// Days at the end: `until 2027-05-01`, `in December`, `2027-03-01 to 2027-05-15`.
fn take_days(text: &str) -> (&str, Option<Days>) {
    let starts = text.match_indices([' ', ',']).map(|(start, _)| start).take(16);
    for start in starts {
        let (Some(head), Some(tail)) = (text.get(..start), text.get(start + 1..)) else {
            continue;
        };
        let figures = tail.trim().chars().all(|c| c.is_ascii_digit());
        let only = tail.strip_suffix(" only").unwrap_or(tail);
        let during = only
            .trim_start()
            .strip_prefix("for ")
            .map(|month| format!("in {month}"));
        let days = || match &during {
            Some(during) => Days::read(during),
            None => Days::read(only),
        };
        if !figures && let Some(days) = days().or_else(|| due_back(tail)) {
            return (head.trim_end_matches([' ', ',']), Some(days));
        }
    }
    (text, None)
}

/// `due back Dec 20`, `gotta go back Dec 20`, `back by 2026-12-20`.
fn due_back(text: &str) -> Option<Days> {
    let mut words = Cursor::new(text);
    words.any(&["must", "has to", "have to", "gotta", "got to", "needs to", "to"]);
    let back = words.any(&[
        "be back by",
        "be back on",
        "go back by",
        "go back on",
        "go back",
        "goes back",
        "due back",
        "due",
        "back by",
        "back on",
        "returned by",
        "return by",
    ]);
    words.any(&["on", "by"]);
    let until = Day::read(&words.rest()).filter(|_| back)?;
    Some(Days {
        from: None,
        until: Some(until),
    })
}

/// `from the high school`, `borrowed from the high school`.
fn take_from(text: &str) -> Option<(&str, Option<String>)> {
    let Some(start) = text.find(" from ") else {
        return Some((text, None));
    };
    let head = text.get(..start)?.trim_end_matches([' ', ',']);
    let head = head.strip_suffix("borrowed").map_or(head, str::trim_end);
    let head = head.trim_end_matches(',');
    Some((head, Some(partner(text.get(start + 6..)?)?)))
}

/// Whom one borrows from or shares with, in one of the usual words or in quotation marks.
fn partner(text: &str) -> Option<String> {
    super::partner::read(text)
}

/// `2 snares`, `2 x snares`, `two snares`, `2 pr cymbals`, `a snare`, `one pair 16-inch cymbals`.
fn take_count(text: &str) -> (Option<u32>, &str) {
    let text = text.trim();
    let (first, rest) = text.split_once(' ').unwrap_or((text, ""));
    let rest = rest.trim_start();
    if rest.is_empty() {
        return (None, text);
    }
    let bare = first.trim_end_matches(['x', '×', 'X']);
    let count = number(bare).or_else(|| {
        ["a", "an", "our", "the"]
            .iter()
            .any(|article| first.eq_ignore_ascii_case(article))
            .then_some(1)
    });
    match count {
        Some(count) => {
            let rest = ["x ", "× "]
                .iter()
                .find_map(|times| rest.strip_prefix(times))
                .unwrap_or(rest);
            (
                Some(count).filter(|_| number(bare).is_some()),
                strip_of(rest.trim_start()),
            )
        }
        None => (None, text),
    }
}

/// `16-inch crash cymbals`, `29" timpani`.
fn take_first_size(text: &str) -> (&str, Option<u32>) {
    let digits = text.chars().take_while(char::is_ascii_digit).count();
    let rest = text.get(digits..).unwrap_or("");
    let unit = ["-inch ", "-in. ", "\" ", "\u{2033} ", " inch "]
        .iter()
        .find_map(|unit| rest.strip_prefix(unit));
    match (text.get(..digits).and_then(|size| size.parse().ok()), unit) {
        (Some(size), Some(rest)) if (4..=60).contains(&size) => (rest.trim_start(), Some(size)),
        _ => (text, None),
    }
}

/// `timp x2`, `bells (2 sets)`.
fn take_times(text: &str) -> (&str, Option<u32>) {
    let text = text.trim_end();
    if let Some((head, last)) = text.rsplit_once(' ') {
        let bare = last.strip_prefix(['x', '×', 'X']).and_then(number);
        if let Some(count) = bare {
            return (head.trim_end(), Some(count));
        }
    }
    if let Some((head, inside)) = text.strip_suffix(')').and_then(|text| text.rsplit_once('(')) {
        let count = ["sets", "set", "pairs", "pair", "of them", "of these"]
            .iter()
            .find_map(|unit| inside.trim().strip_suffix(unit))
            .map_or_else(|| None, |count| number(count.trim()));
        if let Some(count) = count {
            return (head.trim_end(), Some(count));
        }
    }
    (text, None)
}

/// `pair of`, `set of` before a name.
fn strip_of(name: &str) -> &str {
    [
        "pairs of ",
        "pair of ",
        "sets of ",
        "set of ",
        "pairs ",
        "pair ",
        "prs ",
        "pr. ",
        "pr ",
    ]
    .iter()
    .find_map(|lead| {
        let head = name.get(..lead.len())?;
        head.eq_ignore_ascii_case(lead)
            .then(|| name.get(lead.len()..))
            .flatten()
    })
    .map_or(name, str::trim_start)
}

/// What stands behind the name: sizes, or how many drums.
fn sizes_or_drums(tail: &str, name: &str) -> Option<(Option<u32>, Vec<u32>)> {
    let tail = tail.trim();
    let tail = tail
        .strip_prefix('(')
        .and_then(|tail| tail.strip_suffix(')'))
        .unwrap_or(tail);
    if let Some(count) = drums_alone(tail) {
        return takes_sizes(name).then_some((Some(count), Vec::new()));
    }
    if !tail.is_empty() && !takes_sizes(name) {
        // One size says which drum or cymbal it is; several are of timpani and tom-toms alone.
        let size = sizes(tail).filter(|sizes| sizes.len() == 1 && known(name) == Some(Known::Wholly));
        return size.map(|sizes| (None, sizes));
    }
    Some((None, sizes(tail)?))
}

/// `4 drums`, `four kettles`.
fn drums_alone(text: &str) -> Option<u32> {
    let mut words = Cursor::new(text);
    let count = words.number()?;
    let drums = words.any(&["drums", "kettles", "kettledrums", "of them"]);
    (drums && words.done() && (1..=8).contains(&count)).then_some(count)
}

fn takes_sizes(name: &str) -> bool {
    let plain = strip_looks(name).unwrap_or(name);
    let found = Instruments::standard().find(plain);
    found.exact().is_some_and(|found| {
        matches!(
            found.name.as_ref(),
            "timpani"
                | "tom-toms"
                | "roto-toms"
                | "snare"
                | "bass drum"
                | "crash cymbals"
                | "suspended cymbal"
        )
    })
}

/// The four usual timpani, for `32 to 23`.
const KETTLES: [u32; 5] = [32, 29, 26, 23, 20];

/// `29 and 26`, `32, 29, 26 and 23`, `32" 29"`, `26-inch`, `32 to 23`, `29/26`.
fn sizes(text: &str) -> Option<Vec<u32>> {
    let plain = text
        .to_lowercase()
        .replace("inches", " ")
        .replace("inch", " ")
        .replace("in.", " ");
    let plain = plain
        .replace(['"', '″', '”', '“', ',', '&', '/', '+'], " ")
        .replace("-in ", " ");
    let mut found = Vec::new();
    let mut span_from: Option<u32> = None;
    for word in plain.split_whitespace() {
        let word = word.trim_end_matches('-');
        if word == "and" || word.is_empty() {
            continue;
        }
        if matches!(word, "to" | "through" | "-" | "–") {
            span_from = Some(*found.last()?);
            continue;
        }
        let ends: Vec<&str> = word.split(['-', '–']).collect();
        for (nth, end) in ends.iter().enumerate() {
            let size: u32 = end.parse().ok()?;
            (4..=60).contains(&size).then_some(())?;
            if nth > 0 && ends.len() == 2 {
                span_from = None;
            }
            if let Some(from) = span_from.take() {
                let (high, low) = (from.max(size), from.min(size));
                found.extend(
                    KETTLES
                        .iter()
                        .filter(|kettle| (low..high).contains(*kettle) && **kettle != size),
                );
            }
            found.push(size);
        }
    }
    span_from.is_none().then_some(found)
}

fn show_sizes(sizes: &[u32]) -> String {
    let sizes: Vec<String> = sizes.iter().map(u32::to_string).collect();
    sizes.join(" and ")
}

impl fmt::Display for There {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            There::Yes | There::No => Ok(()),
            There::Repair => f.write_str("out for repair"),
            There::Shared(with) => write!(f, "shared with {with}"),
        }
    }
}

impl fmt::Display for Equipment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.there == There::No {
            f.write_str("no ")?;
        }
        if self.count != 1 {
            write!(f, "{} ", self.count)?;
        }
        f.write_str(&self.name)?;
        if !self.sizes.is_empty() {
            write!(f, " {}", show_sizes(&self.sizes))?;
        }
        if let Some(from) = &self.from {
            write!(f, " from {from}")?;
        }
        if let Some(days) = &self.days {
            write!(f, " {days}")?;
        }
        if let Some(until) = &self.until {
            write!(f, " until {until}")?;
        }
        match self.there {
            There::Yes | There::No => {}
            _ => write!(f, " {}", self.there)?,
        }
        match &self.flaw {
            Some(flaw) => write!(f, " {flaw}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_owned_is_read_as_directors_write_it() {
        for (written, one_form) in [
            ("bells", Some("bells")),
            (
                "hs timp 26 29 til spr concert",
                Some("timp 26 and 29 from the hs until the spring concert"),
            ),
            (
                "xylophone from the prep school until end of Lent term",
                Some("xylophone from the prep school until the end of Lent term"),
            ),
            ("bells until the zqxv concert", None),
            ("2 snares", Some("2 snares")),
            ("S.D.", Some("snare")),
            ("timpani 29 and 26", Some("timpani 29 and 26")),
            (
                "timpani 32, 29, 26 and 23",
                Some("timpani 32 and 29 and 26 and 23"),
            ),
            ("timpani 32\" 29\"", Some("timpani 32 and 29")),
            ("timp x2", Some("2 timp")),
            ("4 timpani", Some("4 timpani")),
            ("timpani, 4 drums", Some("4 timpani")),
            ("set of 4 timpani (32 to 23)", None),
            ("4 timpani (32 to 23)", Some("4 timpani 32 and 29 and 26 and 23")),
            ("2 pr cymbals", Some("2 cymbals")),
            ("pair of crash cymbals", Some("crash cymbals")),
            ("bells (2 sets)", Some("2 bells")),
            ("no chimes", Some("no chimes")),
            ("dont have a xylophone", Some("no xylophone")),
            ("chimes from the high school", Some("chimes from the high school")),
            ("chimes until 2027-05-01", Some("chimes until 2027-05-01")),
            ("chimes in December", Some("chimes in December")),
            (
                "chimes borrowed from the high school until Dec 18, 2026",
                Some("chimes from the high school until 2026-12-18"),
            ),
            ("xylophone out for repair", Some("xylophone out for repair")),
            (
                "marimba shared with the choir",
                Some("marimba shared with the choir"),
            ),
            ("one pair 16-inch crash cymbals", Some("crash cymbals 16")),
            ("washboard", Some("washboard")),
            ("near bells", Some("near bells")),
            ("no near bells", None),
            ("near bells 12 and 13", None),
            (
                "chimes from the church gotta go back Dec 20, 2026",
                Some("chimes from the church until 2026-12-20"),
            ),
            ("chimes due back 2026-12-20", Some("chimes until 2026-12-20")),
            ("chimes gotta zqxv back Dec 20, 2026", None),
            ("bells zqxv", None),
            // A rule tells a name that no card of the catalogue has.
            ("zqxv bells", Some("zqxv bells")),
            ("timpani 29 zqxv", None),
            ("timpani 29 and 26 from zqxv", None),
            ("2 zqxv timpani 29", None),
        ] {
            let read = Equipment::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Equipment::read(&shown)),
                read,
                "{written} again"
            );
        }
    }

    #[test]
    fn slips_keep_their_words_and_get_the_nearest_name() {
        for (written, near) in [
            ("crash cymbels", "crash cymbals"),
            ("bass durm", "bass drum"),
            ("suspened cymbal", "suspended cymbal"),
        ] {
            let read = Equipment::read(written);
            assert_eq!(read.as_ref().map(|read| read.name.as_str()), Some(written));
            assert_eq!(
                read.as_ref().and_then(Equipment::nearest),
                Some(near),
                "{written}"
            );
        }
    }

    #[test]
    fn items_of_one_line_are_joined() {
        let line = [
            "timpani 32",
            "29",
            "26 and 23",
            "chimes",
            "from the high school",
            "until 2027-05-01",
        ];
        let joined = Equipment::join(line.iter().filter_map(|item| Owned::read(item)).collect());
        let shown: Vec<String> = joined.iter().map(|(thing, _)| thing.to_string()).collect();
        assert_eq!(
            shown,
            [
                "timpani 32 and 29 and 26 and 23",
                "chimes from the high school until 2027-05-01"
            ]
        );
        assert_eq!(joined.iter().map(|(_, of)| *of).collect::<Vec<_>>(), [3, 3]);
        let tuned = ["timpani", "hand-tuned", "25 and 28 inch"];
        let joined = Equipment::join(tuned.iter().filter_map(|item| Owned::read(item)).collect());
        let shown: Vec<String> = joined.iter().map(|(thing, _)| thing.to_string()).collect();
        assert_eq!(shown, ["timpani 25 and 28"]);
    }
}
