//! Two people's edits of one file, put together card by card.

use std::cell::OnceCell;
use std::collections::{HashMap, HashSet};

use super::card::{self, CardPieces};
use super::lines::Piece;
use crate::catalogue::names::{key as name_key, nearly_alike};
use crate::comparing::outline::{Line, Outline, head_name};
use crate::comparing::pairs::{Sibling, Slot, slots};
use crate::notation;
use crate::text::Ending;

/// A file in which two people's edits were put together.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Merged {
    /// Its text.
    pub text: String,
    /// Where both changed the same thing in different ways.
    pub clashes: Vec<Clash>,
}

/// A place where both readings stay.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    /// The card, as its head says it.
    pub card: String,
    /// The field and the row, in words; empty for the whole card.
    pub about: String,
    /// The line of the first mark, counted from 1.
    pub line: u32,
    /// Our reading, line by line; empty where we took out what they changed.
    pub ours: Vec<String>,
    /// Their reading.
    pub theirs: Vec<String>,
}

/// With more cards than this that nobody finds again, no search is made for cards that were renamed.
const MOST_STRANGERS: usize = 200;

/// A card of a file, read when somebody asks.
pub(super) struct Card<'t> {
    pub(super) text: &'t str,
    /// What it is found again by.
    pub(super) key: String,
    name: String,
    /// Its name between the quotes, or its kind where it has none; empty above the first card.
    pub(super) title: String,
    outline: OnceCell<Outline>,
    last: bool,
}

impl Card<'_> {
    fn outline(&self) -> &Outline {
        self.outline.get_or_init(|| Outline::of(self.text))
    }

    fn untouched(&self) -> CardPieces {
        card::untouched(self.text)
    }
}

impl Sibling for Card<'_> {
    fn key(&self) -> String {
        self.key.clone()
    }

    fn says(&self) -> String {
        self.text.to_owned()
    }

    fn may_become(&self, _other: &Self) -> bool {
        false
    }

    fn repeats(&self) -> bool {
        false
    }

    fn stage(&self) -> Option<Option<u32>> {
        None
    }
}

/// How likely it is that a card was renamed into another, from 0 to 1; below a half it was not. One line that both
/// have says little, for many cards have it, unless one name is the other with more words; names that are nearly
/// alike say enough.
pub fn likeness(one: (&str, &Outline), other: (&str, &Outline)) -> f64 {
    if nearly_alike(one.0, other.0) {
        return 1.0;
    }
    let longer = names_alike(one.0, other.0);
    let says = |card: &Outline| -> Vec<String> { card.lines.iter().map(|line| line.says()).collect() };
    let (one, other) = (says(one.1), says(other.1));
    let shared = one.iter().filter(|line| other.contains(line)).count();
    match shared {
        0 => 0.0,
        1 if !longer => 0.0,
        shared => shared as f64 / one.len().max(other.len()) as f64,
    }
}

/// Whether one name is nearly the other, or the other with more words.
fn names_alike(one: &str, other: &str) -> bool {
    let longer = |one: &str, other: &str| one.starts_with(other) && other.chars().count() > 3;
    nearly_alike(one, other) || longer(one, other) || longer(other, one)
}

/// Puts two people's edits of a file together; `base` is the file that both started from. A byte order mark is there
/// afterward where our file has one.
pub fn merge(base: &str, ours: &str, theirs: &str) -> Merged {
    const MARK: char = '\u{feff}';
    let bare = |text| str::strip_prefix(text, MARK).unwrap_or(text);
    let mut merged = of_texts(bare(base), bare(ours), bare(theirs));
    if ours.starts_with(MARK) {
        merged.text.insert(0, MARK);
    }
    merged
}

fn of_texts(base: &str, ours: &str, theirs: &str) -> Merged {
    let plain = |text: &str| Merged {
        text: text.to_owned(),
        clashes: Vec::new(),
    };
    if ours == theirs || base == theirs {
        return plain(ours);
    }
    if base == ours {
        return plain(theirs);
    }
    let was = cards(base);
    let (mut one, mut two) = (cards(ours), cards(theirs));
    find_renamed(&was, &mut one);
    find_renamed(&was, &mut two);
    let mut made: Vec<Made> = Vec::new();
    for slot in slots(&was, &one, &two, false).unwrap_or_default() {
        let Slot { base, ours, theirs } = slot;
        let base = base.and_then(|at| was.get(at));
        let ours = ours.and_then(|at| one.get(at));
        let theirs = theirs.and_then(|at| two.get(at));
        let Some(of) = ours.or(theirs) else { continue };
        made.extend(one_card(base, ours, theirs).map(|pieces| Made {
            name: of.name.clone(),
            pieces,
            last: of.last,
        }));
    }
    finish(made, Ending::of(ours))
}

/// The cards of a file in order.
pub(super) fn cards(text: &str) -> Vec<Card<'_>> {
    let mut starts = notation::split(text);
    starts.push(text.len());
    let cut = starts.windows(2).filter_map(|ends| match *ends {
        [start, end] => text.get(start..end).map(|card| (card, end == text.len())),
        _ => None,
    });
    cut.filter(|(card, _)| !card.is_empty())
        .map(|(text, last)| {
            let line = text.lines().next().unwrap_or("");
            let (name, title) = head_name(line);
            let key = name_key(&name);
            Card {
                text,
                key,
                name,
                title,
                outline: OnceCell::new(),
                last,
            }
        })
        .collect()
}

/// Gives each card that is not found again by its name the key of the one before that it is most like.
fn find_renamed(before: &[Card<'_>], now: &mut [Card<'_>]) {
    let keys =
        |cards: &[Card<'_>]| -> HashSet<String> { cards.iter().map(|card| card.key.clone()).collect() };
    let (old, new) = (keys(before), keys(now));
    let gone: Vec<&Card<'_>> = before.iter().filter(|card| !new.contains(&card.key)).collect();
    let is_new = |card: &Card<'_>| !old.contains(&card.key);
    let strangers = now.iter().filter(|card| is_new(card)).count();
    if gone.is_empty() || strangers == 0 || strangers.max(gone.len()) > MOST_STRANGERS {
        return;
    }
    let mut common: HashMap<String, usize> = HashMap::new();
    for line in before.iter().flat_map(|card| &card.outline().lines) {
        *common.entry(line.says()).or_default() += 1;
    }
    let mut taken: Vec<&str> = Vec::new();
    for card in now.iter_mut().filter(|card| is_new(card)) {
        let kind = notation::kind_of(card.text);
        let best = gone
            .iter()
            .filter(|old| !taken.contains(&old.key.as_str()) && notation::kind_of(old.text) == kind)
            .map(|old| {
                (
                    likeness((&old.title, old.outline()), (&card.title, card.outline())),
                    old,
                )
            })
            .filter(|(like, _)| *like >= 0.5)
            .max_by(|(one, _), (other, _)| one.total_cmp(other));
        // A wrong guess would give one piece what somebody wrote of another, so what they share must be theirs alone.
        let own = |old: &Card<'_>| {
            let lines = &card.outline().lines;
            let shared = old.outline().lines.iter().map(Line::says);
            let mut shared = shared.filter(|says| lines.iter().any(|line| line.says() == *says));
            names_alike(&old.title, &card.title) || shared.any(|says| common.get(&says) == Some(&1))
        };
        if let Some((_, old)) = best.filter(|(_, old)| own(old)) {
            taken.push(&old.key);
            card.key.clone_from(&old.key);
        }
    }
}

fn one_card(
    base: Option<&Card<'_>>,
    ours: Option<&Card<'_>>,
    theirs: Option<&Card<'_>>,
) -> Option<CardPieces> {
    let changed =
        |was: &Card<'_>, now: &Card<'_>| was.text != now.text && was.outline().says() != now.outline().says();
    match (base, ours, theirs) {
        (_, None, None) => None,
        (None, Some(only), None) | (None, None, Some(only)) => Some(only.untouched()),
        (Some(was), None, Some(left)) => changed(was, left).then(|| card::taken_out(left.outline(), true)),
        (Some(was), Some(left), None) => changed(was, left).then(|| card::taken_out(left.outline(), false)),
        (was, Some(one), Some(two)) => {
            let text = was.map(|was| was.text);
            if text == Some(two.text) || one.text == two.text {
                return Some(one.untouched());
            }
            if text == Some(one.text) {
                return Some(two.untouched());
            }
            Some(card::both(
                (was.map(Card::outline), one.outline(), two.outline()),
                (one.text, two.text),
            ))
        }
    }
}

/// A card of the new file.
struct Made {
    name: String,
    pieces: CardPieces,
    /// Whether it was the last of its file, where no blank line has to part it from the next.
    last: bool,
}

fn finish(mut made: Vec<Made>, ending: Ending) -> Merged {
    let mut merged = Merged::default();
    let parted = made.iter().any(|card| card.pieces.blank_end > 0);
    let count = made.len();
    let mut line = 1;
    for (at, card) in made.iter_mut().enumerate() {
        let is_last = at + 1 == count;
        card.pieces.blank_end = match card.pieces.blank_end {
            0 if card.last && !is_last && parted => 1,
            _ if is_last && !card.last => 0,
            blanks => blanks,
        };
        let mut text = written(&card.pieces.pieces, ending, &mut merged.clashes, line, &card.name);
        for _ in 0..card.pieces.blank_end {
            text.push_str(ending.as_str());
        }
        line += text.matches(ending.as_str()).count() as u32;
        merged.text.push_str(&text);
    }
    merged
}

/// Writes pieces out, clashes between marks; `line` is the number of the first line.
pub fn written(
    pieces: &[Piece],
    ending: Ending,
    clashes: &mut Vec<Clash>,
    mut line: u32,
    card: &str,
) -> String {
    let mut text = String::new();
    let mut put = |words: &str, line: &mut u32| {
        text.push_str(words);
        text.push_str(ending.as_str());
        *line += 1;
    };
    for piece in pieces {
        match piece {
            Piece::Line(words) => put(words, &mut line),
            Piece::Clash { about, ours, theirs } => {
                clashes.push(Clash {
                    card: card.to_owned(),
                    about: about.clone(),
                    line,
                    ours: ours.clone(),
                    theirs: theirs.clone(),
                });
                put(&mark("<<<<<<< ours", ours), &mut line);
                ours.iter().for_each(|words| put(words, &mut line));
                put("=======", &mut line);
                theirs.iter().for_each(|words| put(words, &mut line));
                put(&mark(">>>>>>> theirs", theirs), &mut line);
            }
        }
    }
    text
}

/// A mark with the side it belongs to; that a side took its lines out is said, as nothing else shows it.
fn mark(words: &str, lines: &[String]) -> String {
    match lines.is_empty() {
        true => format!("{words} (taken out)"),
        false => words.to_owned(),
    }
}
