//! What changed from one catalogue to another, card by card.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::changes::{Became, Change, between};
use super::merge::likeness;
use super::outline::Outline;
use super::pairs::stays;
use super::said;
use crate::catalogue::names::key as name_key;
use crate::catalogue::{CardFile, Entry, Snapshot};
use crate::notation::Kind;

/// With more cards than this that nobody finds again, no search is made for cards that were renamed.
const MOST_STRANGERS: usize = 400;

/// What changed from one catalogue to another.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Compared {
    /// The cards that say something else, in the order of the new catalogue; those that are gone come last.
    pub cards: Vec<CardChange>,
    /// Cards of which only the layout changed.
    pub layout: Vec<Named>,
    /// Cards that stand at another place among the others of their file.
    pub moved: Vec<Named>,
    /// How many cards say and look the same.
    pub same: usize,
}

/// A card by kind, name and file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Named {
    /// Its kind; none for lines above the first card of a file.
    pub kind: Option<Kind>,
    /// Its name.
    pub name: String,
    /// Its file.
    pub file: String,
}

/// A card that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct CardChange {
    /// The card as it is now, or as it was where it is gone.
    pub card: Named,
    /// Whether it is new or gone; changed otherwise.
    pub became: Became,
    /// Its old name, where it has another.
    pub old_name: Option<String>,
    /// Its old file, where it stands in another.
    pub old_file: Option<String>,
    /// What changed on it.
    pub changes: Vec<Change>,
}

struct Card<'s> {
    named: Named,
    entry: &'s Arc<Entry>,
}

/// What became of one card of some files since they were others; none where it says the same.
pub fn of_card(old: &[Arc<CardFile>], new: &[Arc<CardFile>], card: &Arc<Entry>) -> Option<CardChange> {
    let (was, now) = (cards(old, &|_| true), cards(new, &|_| true));
    let at = now.iter().position(|other| Arc::ptr_eq(other.entry, card))?;
    let pairs = paired(&was, &now);
    let one = now.get(at)?;
    let mut compared = Compared::default();
    match pairs.get(at).copied().flatten().and_then(|at| was.get(at)) {
        Some(before) => compared.both(before, one, &renames(&was, &now, &pairs)),
        None => compared.cards.push(CardChange::new(one)),
    }
    compared.cards.pop()
}

/// The names that cards had and have.
fn renames(was: &[Card<'_>], now: &[Card<'_>], pairs: &[Option<usize>]) -> Vec<(String, String)> {
    now.iter()
        .zip(pairs)
        .filter_map(|(card, pair)| Some((was.get((*pair)?)?, card)))
        .filter(|(old, new)| old.named.name != new.named.name)
        .map(|(old, new)| (old.named.name.clone(), new.named.name.clone()))
        .collect()
}

impl CardChange {
    fn new(card: &Card<'_>) -> CardChange {
        CardChange {
            card: card.named.clone(),
            became: Became::Added,
            old_name: None,
            old_file: None,
            changes: Vec::new(),
        }
    }
}

/// Compares two catalogues. `asked` says of a file whether its cards are looked at.
pub fn compare(old: &Snapshot, new: &Snapshot, asked: &dyn Fn(&str) -> bool) -> Compared {
    let (was, now) = (cards(old.files(), asked), cards(new.files(), asked));
    let pairs = paired(&was, &now);
    let renames = renames(&was, &now, &pairs);
    let mut compared = Compared::default();
    for (at, card) in now.iter().enumerate() {
        match pairs.get(at).copied().flatten().and_then(|at| was.get(at)) {
            Some(before) => compared.both(before, card, &renames),
            None => compared.cards.push(CardChange::new(card)),
        }
    }
    compared.moved = moved(&was, &now, &pairs);
    let kept: HashSet<usize> = pairs.iter().flatten().copied().collect();
    for (at, card) in was.iter().enumerate() {
        if !kept.contains(&at) {
            compared.cards.push(CardChange {
                became: Became::TakenOut,
                ..CardChange::new(card)
            });
        }
    }
    compared
}

impl Compared {
    fn both(&mut self, was: &Card<'_>, now: &Card<'_>, renames: &[(String, String)]) {
        let renamed = was.named.name != now.named.name;
        let moved = was.named.file != now.named.file;
        let same_text = plain(&was.entry.text) == plain(&now.entry.text);
        let changes = match same_text {
            true => Vec::new(),
            false => between(
                &said::of_card(&was.entry.text, &was.entry.reading()),
                &said::of_card(&now.entry.text, &now.entry.reading()),
                renames,
            ),
        };
        if !renamed && !moved && changes.is_empty() {
            match same_text {
                true => self.same += 1,
                false => self.layout.push(now.named.clone()),
            }
            return;
        }
        self.cards.push(CardChange {
            card: now.named.clone(),
            became: Became::Changed,
            old_name: renamed.then(|| was.named.name.clone()),
            old_file: moved.then(|| was.named.file.clone()),
            changes,
        });
    }

    /// Whether nothing says anything else.
    pub fn is_empty(&self) -> bool {
        self.cards.is_empty()
    }
}

/// The cards that moved among the others of their file: as few as explain the new order.
fn moved(was: &[Card<'_>], now: &[Card<'_>], pairs: &[Option<usize>]) -> Vec<Named> {
    let kept: Vec<(&Card<'_>, usize)> = now
        .iter()
        .zip(pairs)
        .filter_map(|(card, pair)| Some((card, (*pair)?)))
        .filter(|(card, old)| was.get(*old).is_some_and(|old| old.named.file == card.named.file))
        .collect();
    let places: Vec<usize> = kept.iter().map(|(_, old)| *old).collect();
    let moves = kept.iter().zip(stays(&places)).filter(|(_, stays)| !stays);
    moves.map(|((card, _), _)| card.named.clone()).collect()
}

/// The text whatever its lines end with; blank lines at its end part it from the next card and say nothing.
fn plain(text: &str) -> String {
    crate::text::Ending::Lf.rewrite(text).trim_end().to_owned()
}

fn cards<'s>(files: &'s [Arc<CardFile>], asked: &dyn Fn(&str) -> bool) -> Vec<Card<'s>> {
    let asked = files.iter().filter(|file| asked(&file.path));
    asked
        .flat_map(|file| file.entries.iter().map(move |entry| (file, entry)))
        // Nothing but blank lines above the first card is no card.
        .filter(|(_, entry)| entry.kind.is_some() || !entry.text.trim().is_empty())
        .map(|(file, entry)| Card {
            named: Named {
                kind: entry.kind,
                name: entry.name.clone(),
                file: file.path.to_string(),
            },
            entry,
        })
        .collect()
}

/// For each new card, which of the old ones it was.
fn paired(was: &[Card<'_>], now: &[Card<'_>]) -> Vec<Option<usize>> {
    let mut pairs: Vec<Option<usize>> = vec![None; now.len()];
    let mut taken = vec![false; was.len()];
    let key = |card: &Card<'_>, level: usize| {
        let name = name_key(&card.named.name);
        let kind = card.named.kind.map(|kind| kind.word()).unwrap_or_default();
        match level {
            // Several cards may have one name, so those that say the same go together first.
            0 => format!("{kind} {name} {} {}", card.named.file, card.entry.digest),
            1 => format!("{kind} {name} {}", card.entry.digest),
            2 => format!("{kind} {name} {}", card.named.file),
            _ if card.named.kind.is_none() => format!("above {}", card.named.file),
            _ => format!("{kind} {name}"),
        }
    };
    for level in 0..4 {
        let mut waiting: HashMap<String, Vec<usize>> = HashMap::new();
        for (at, card) in was.iter().enumerate().rev() {
            if taken.get(at) == Some(&false) {
                waiting.entry(key(card, level)).or_default().push(at);
            }
        }
        for (card, pair) in now
            .iter()
            .zip(pairs.iter_mut())
            .filter(|(_, pair)| pair.is_none())
        {
            *pair = waiting.get_mut(&key(card, level)).and_then(Vec::pop);
            if let Some(taken) = pair.and_then(|at| taken.get_mut(at)) {
                *taken = true;
            }
        }
    }
    renamed(was, now, &mut pairs);
    pairs
}

/// A card that is gone and one that is new, of one kind and saying the same for the most part, are one that was
/// renamed.
fn renamed(was: &[Card<'_>], now: &[Card<'_>], pairs: &mut [Option<usize>]) {
    let kept: HashSet<usize> = pairs.iter().flatten().copied().collect();
    let mut gone: Vec<usize> = (0..was.len()).filter(|at| !kept.contains(at)).collect();
    let new: Vec<usize> = (0..now.len())
        .filter(|at| pairs.get(*at) == Some(&None))
        .collect();
    if gone.len().max(new.len()) > MOST_STRANGERS {
        return;
    }
    let outlines: HashMap<usize, Outline> = gone
        .iter()
        .filter_map(|at| Some((*at, Outline::of(&was.get(*at)?.entry.text))))
        .collect();
    for at in new {
        let Some(card) = now.get(at) else { continue };
        let outline = Outline::of(&card.entry.text);
        let best = gone
            .iter()
            .filter(|old| {
                was.get(**old)
                    .is_some_and(|old| old.named.kind == card.named.kind)
            })
            .filter_map(|old| {
                let before = (was.get(*old)?.named.name.as_str(), outlines.get(old)?);
                Some((likeness(before, (&card.named.name, &outline)), *old))
            })
            .filter(|(like, _)| *like >= 0.5)
            .max_by(|(one, _), (other, _)| one.total_cmp(other));
        if let (Some((_, old)), Some(pair)) = (best, pairs.get_mut(at)) {
            *pair = Some(old);
            gone.retain(|other| *other != old);
        }
    }
}
