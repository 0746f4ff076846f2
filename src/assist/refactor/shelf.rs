//! Cards in files: moved out, sorted, split.

use crate::catalogue::{CardFile, Entry};
use crate::notation::Kind;
use crate::text::{Edit, Ending, Span, minimal};

use super::super::Place;
use super::Change;

/// Whether a card can stand in a file of its own: the handbook stays where it is.
pub(super) fn can_move(entry: &Entry) -> bool {
    entry.kind.is_some_and(Kind::is_named) && !entry.name.is_empty()
}

/// How cards are sorted: by kind in the manual's order, then by name; lines above the first card stay there.
fn order(entry: &Entry) -> (usize, String) {
    let kind = entry
        .kind
        .and_then(|kind| Kind::ALL.iter().position(|one| *one == kind));
    (kind.map_or(0, |at| at + 1), entry.name.to_lowercase())
}

/// Whether the cards of a file stand in order already.
pub(super) fn is_sorted(cards: &CardFile) -> bool {
    cards.entries.iter().map(|entry| order(entry)).is_sorted()
}

/// A card's text with one line break at its end at least.
fn ended(text: &str, ending: Ending) -> String {
    let mut text = text.to_owned();
    if !text.is_empty() && !text.ends_with(['\n', '\r']) {
        text.push_str(ending.as_str());
    }
    text
}

/// The cards of the file in order. Each takes its own lines along; a blank line parts those that had one.
pub(super) fn sorted(place: &Place<'_>) -> Option<Vec<Change>> {
    let cards = place.snapshot.file_of(place.id)?;
    let before = cards.text();
    let ending = Ending::of(&before);
    let mut entries: Vec<&Entry> = cards.entries.iter().map(|entry| &**entry).collect();
    entries.sort_by_key(|entry| order(entry));
    let apart = cards.entries.iter().any(|entry| {
        entry.kind.is_some()
            && entry
                .text
                .lines()
                .next_back()
                .is_some_and(|line| line.trim().is_empty())
    });
    let mut after = String::new();
    let last = entries.len().saturating_sub(1);
    for (number, entry) in entries.iter().enumerate() {
        let text = ended(&entry.text, ending);
        let is_card = entry.kind.is_some();
        match (is_card && apart, number == last) {
            (true, false) => {
                after.push_str(text.trim_end());
                after.push_str(ending.as_str());
                after.push_str(ending.as_str());
            }
            (true, true) => {
                after.push_str(text.trim_end());
                after.push_str(ending.as_str());
            }
            _ => after.push_str(&text),
        }
    }
    let edits = minimal(&before, &after);
    (!edits.is_empty()).then(|| vec![Change::Edit(place.id.file as usize, edits)])
}

/// A file name for a card: its name in small letters with hyphens, what no file system minds.
fn file_name(entry: &Entry, taken: &[String]) -> String {
    let mut name = String::new();
    for c in entry.name.to_lowercase().chars() {
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') && !matches!(c, '\'' | '’') {
            name.push('-');
        }
        if name.len() > 60 {
            break;
        }
    }
    let name = name.trim_end_matches('-');
    let kind = entry.kind.map_or("card", Kind::word);
    let base = if name.is_empty() || name == "handbook" {
        format!("{name}{kind}")
    } else {
        name.to_owned()
    };
    let mut wanted = format!("{base}.levare");
    let mut number = 2u32;
    while taken.contains(&wanted.to_lowercase()) {
        wanted = format!("{base}-{number}.levare");
        number = number.saturating_add(1);
    }
    wanted
}

/// The names that files in the folder of this one have already.
fn taken(place: &Place<'_>) -> Vec<String> {
    let files = place.snapshot.files();
    let folder = |path: &str| path.rsplit_once('/').map(|(folder, _)| folder.to_owned());
    let own = files
        .get(place.id.file as usize)
        .and_then(|file| folder(&file.path));
    files
        .iter()
        .filter(|file| folder(&file.path) == own)
        .map(|file| file.path.rsplit('/').next().unwrap_or("").to_lowercase())
        .collect()
}

/// The card's text as a file of its own.
fn as_file(entry: &Entry) -> String {
    let ending = Ending::of(&entry.text);
    format!(
        "{}{}",
        entry.text.trim_end().trim_start_matches('\u{feff}'),
        ending.as_str()
    )
}

/// The card in a file of its own, and gone from this one.
pub(super) fn moved(place: &Place<'_>) -> Option<Vec<Change>> {
    let beside = place.id.file as usize;
    let name = file_name(place.entry, &taken(place));
    let whole = place.in_file(Span::whole(place.text()));
    Some(vec![
        Change::Make {
            beside,
            name,
            text: as_file(place.entry),
        },
        Change::Edit(beside, vec![Edit::remove(whole)]),
    ])
}

/// Every card but the first in a file of its own. The first stays, and lines that belong to no card.
pub(super) fn split(place: &Place<'_>) -> Option<Vec<Change>> {
    let beside = place.id.file as usize;
    let cards = place.snapshot.file_of(place.id)?;
    let mut taken = taken(place);
    let mut changes = Vec::new();
    let mut gone = Vec::new();
    for (number, entry) in cards
        .entries
        .iter()
        .enumerate()
        .filter(|(_, entry)| can_move(entry))
        .skip(1)
    {
        let name = file_name(entry, &taken);
        taken.push(name.to_lowercase());
        gone.push(Edit::remove(cards.in_file(number, Span::whole(&entry.text))));
        changes.push(Change::Make {
            beside,
            name,
            text: as_file(entry),
        });
    }
    if changes.is_empty() {
        return None;
    }
    changes.push(Change::Edit(beside, gone));
    Some(changes)
}
