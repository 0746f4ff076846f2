//! Two people's edits of a whole catalogue, put together file by file, with cards that moved to another file.
//!
//! A card that one side moved is moved first in what both started from and on the other side, to the place where it
//! stands now; after that nothing is left that crosses from one file to another.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use super::file::{Merged, cards, merge};
use crate::text::Ending;

/// The texts of a catalogue's files by their paths.
pub type Files = BTreeMap<String, String>;

/// Puts two people's edits of a catalogue together; `base` is what both started from. A file that is to go is none.
/// Where both moved a card, it stays where we put it.
pub fn merge_all(base: &Files, ours: &Files, theirs: &Files) -> BTreeMap<String, Option<Merged>> {
    let (mut was, mut one, mut two) = (base.clone(), ours.clone(), theirs.clone());
    let by_us = moves(base, ours);
    let by_them = moves(base, theirs);
    for (key, to) in &by_us {
        relocate(&mut was, key, to, ours);
        relocate(&mut two, key, to, ours);
    }
    for (key, to) in by_them.iter().filter(|(key, _)| !by_us.contains_key(*key)) {
        relocate(&mut was, key, to, theirs);
        relocate(&mut one, key, to, theirs);
    }
    let names: BTreeSet<&String> = base.keys().chain(ours.keys()).chain(theirs.keys()).collect();
    let text = |files: &Files, name: &String| files.get(name).cloned().unwrap_or_default();
    names
        .into_iter()
        .map(|name| {
            let merged = merge(&text(&was, name), &text(&one, name), &text(&two, name));
            let taken_out = !ours.contains_key(name) || !theirs.contains_key(name);
            let gone = taken_out && base.contains_key(name) && merged.text.trim().is_empty();
            (name.clone(), (!gone).then_some(merged))
        })
        .collect()
}

/// The cards that stand in another file than before, by their keys, with that file. A name that several cards have
/// does not say which of them moved.
fn moves(before: &Files, now: &Files) -> BTreeMap<String, String> {
    let (was, is) = (places(before), places(now));
    let moved = is.into_iter().filter_map(|(key, place)| {
        let (old, new) = (was.get(&key)?.as_ref()?, place?);
        (*old != new).then_some((key, new))
    });
    moved.collect()
}

/// The file of each card; none for a name that several cards have.
fn places(files: &Files) -> HashMap<String, Option<String>> {
    let mut places: HashMap<String, Option<String>> = HashMap::new();
    for (name, text) in files {
        // Lines above the first card belong to their file.
        for card in cards(text).into_iter().filter(|card| !card.title.is_empty()) {
            places
                .entry(card.key)
                .and_modify(|place| *place = None)
                .or_insert_with(|| Some(name.clone()));
        }
    }
    places
}

/// Moves a card to the place that it has in `like`: behind the same card as there.
fn relocate(files: &mut Files, key: &str, to: &str, like: &Files) {
    let Some(Some(from)) = places(files).remove(key) else {
        return;
    };
    if from == to {
        return;
    }
    let Some(text) = files.get(&from) else { return };
    let (mut card, mut rest) = (String::new(), String::new());
    for one in cards(text) {
        match one.key == key {
            true => card.push_str(one.text),
            false => rest.push_str(one.text),
        }
    }
    files.insert(from, rest);
    let neighbors = like.get(to).map(|text| cards(text)).unwrap_or_default();
    let before: Vec<&str> = neighbors
        .iter()
        .take_while(|other| other.key != key)
        .map(|other| other.key.as_str())
        .collect();
    let there = files.get(to).cloned().unwrap_or_default();
    let ending = Ending::of(&there);
    // The last of the cards before it that is there as well; else it comes first, below lines above all cards.
    let behind = cards(&there)
        .iter()
        .rposition(|other| other.title.is_empty() || before.contains(&other.key.as_str()));
    let at = behind.map_or(0, |at| at.saturating_add(1));
    let mut texts: Vec<String> = cards(&there).iter().map(|other| other.text.to_owned()).collect();
    texts.insert(at.min(texts.len()), card);
    let last = texts.len().saturating_sub(1);
    for (at, text) in texts.iter_mut().enumerate() {
        // A blank line parts cards, and the last one needs none.
        let blank = text.lines().last().is_some_and(|line| line.trim().is_empty());
        if !text.ends_with('\n') {
            text.push_str(ending.as_str());
        }
        if at == last {
            text.truncate(text.trim_end().len());
            text.push_str(ending.as_str());
        } else if !blank {
            text.push_str(ending.as_str());
        }
    }
    files.insert(to.to_owned(), texts.concat());
}
