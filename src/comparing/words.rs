//! What changed, in a director's words.

use super::cards::CardChange;
use super::changes::{Became, Change};
use super::said::What;
use crate::text::sentences::{capital, counted};

/// The longest text that is shown whole, in characters.
const LONGEST: usize = 160;

/// What became of a card itself, in sentences; none where it only says something else.
pub fn itself(change: &CardChange) -> Vec<String> {
    let kind = change.card.kind.map_or("lines", |kind| kind.word());
    let mut told = match change.became {
        Became::Added => vec![format!("A new {kind}.")],
        Became::TakenOut => vec![format!("This {kind} was taken out.")],
        _ => Vec::new(),
    };
    if let Some(old) = &change.old_name {
        told.push(format!("Renamed; it was called \"{old}\"."));
    }
    if let Some(old) = &change.old_file {
        told.push(format!("Moved here from {old}."));
    }
    told
}

/// Sentences for the changes of one card, each with the changes it tells.
pub fn sentences(changes: &[Change]) -> Vec<String> {
    let mut told = Vec::new();
    let mut rest = changes;
    while let Some(first) = rest.first() {
        let together = rest
            .iter()
            .take_while(|other| goes_with(first, other))
            .count()
            .max(1);
        let (these, others) = rest.split_at(together);
        told.push(match these {
            [only] => sentence(only),
            several => entrances(first, several),
        });
        rest = others;
    }
    told
}

/// Entrances of one part that moved are told together.
fn goes_with(first: &Change, other: &Change) -> bool {
    let moved = |change: &Change| change.what == What::Entrance && change.became == Became::Changed;
    moved(first) && moved(other) && first.field == other.field && first.row == other.row
}

fn entrances(first: &Change, several: &[Change]) -> String {
    let each: Vec<String> = several
        .iter()
        .map(|change| format!("{} is now {}", said(&change.was), said(&change.now)))
        .collect();
    format!(
        "{}: {} of the {} moved: {}.",
        capital(&first.field),
        counted(several.len(), "entrance"),
        first.row,
        each.join(", ")
    )
}

/// One change in one sentence.
pub fn sentence(change: &Change) -> String {
    let field = capital(&change.field);
    let place = match change.row.is_empty() {
        true => field.clone(),
        false => format!("{field}, {}", change.row),
    };
    let (was, now) = (said(&change.was), said(&change.now));
    let facts = |words: &str| match words.is_empty() {
        true => String::new(),
        false => format!(" ({words})"),
    };
    match (change.what, change.became) {
        (What::Row { .. }, Became::Added) => format!("{field}: {} added{}.", change.row, facts(&now)),
        (What::Row { .. }, Became::TakenOut) => format!("{field}: {} taken out{}.", change.row, facts(&was)),
        // A row of several: one more or one fewer is no other name.
        (What::Row { .. }, Became::Renamed) if format!("{was}{now}").contains(", ") => {
            format!("{field}: from {was} to {now}.")
        }
        (What::Row { .. }, Became::Renamed) => format!("{field}: {was} is now called {now}."),
        (What::Row { .. }, Became::Moved) => {
            format!("{field}: {} moved from number {was} to number {now}.", change.row)
        }
        (What::Text, Became::Added) => format!("{field} added: \"{now}\""),
        (What::Text, Became::TakenOut) => format!("{field} taken out: \"{was}\""),
        (What::Text, _) => format!("{field} changed: it was \"{was}\", and is now \"{now}\""),
        (What::Remark, Became::Added) => format!("Remark added: {now}."),
        (What::Remark, Became::TakenOut) => format!("Remark taken out: {was}."),
        (What::Remark, _) => format!("Remark changed: {was} is now {now}."),
        (What::Words, became) if change.field.is_empty() => match became {
            Became::Added => format!("A line that is not understood added: \"{now}\""),
            Became::TakenOut => format!("A line that was not understood taken out: \"{was}\""),
            _ => format!("A line that is not understood changed: it was \"{was}\", and is now \"{now}\""),
        },
        (What::Entrance, Became::Changed) => {
            format!(
                "{field}: the entrance of the {} moved: {was} is now {now}.",
                change.row
            )
        }
        (_, Became::Added) => format!("{place}: {now} added."),
        (_, Became::TakenOut) => format!("{place}: {was} taken out."),
        _ => format!("{place}: from {was} to {now}."),
    }
}

/// Words cut where they would fill the page.
fn said(words: &Option<String>) -> String {
    let words = words.as_deref().unwrap_or("");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    match words.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{} ...", words.get(..at).unwrap_or("").trim_end()),
        None => words,
    }
}
