//! From a name to its card, and to where it is used; cards by their names.

use serde_json::Value;

use crate::assist::symbols::{self, Found};
use crate::assist::{Target, definition, paired, references};

use super::answer::{Said, answer};
use super::places;
use super::question::At;
use super::shelf::{File, Page};

/// The most cards that are found.
const MOST: usize = 100;

fn targets(file: &File<'_>, targets: Vec<Target>) -> Value {
    let all: Vec<Value> = targets
        .into_iter()
        .filter_map(|target| {
            let mut told = places::target(file.page, target)?;
            let entry = file.page.snapshot().entry(target.id)?;
            if let Some(told) = told.as_object_mut() {
                let kind = entry.kind.map_or("", |kind| kind.word());
                told.insert("name".to_owned(), entry.name.as_str().said());
                told.insert("kind".to_owned(), kind.said());
            }
            Some(told)
        })
        .collect();
    all.said()
}

/// Where the card stands that is named at a place.
pub(super) fn card(file: &File<'_>, at: At) -> Value {
    let found = file.place(at).map(|place| definition::of(&place));
    targets(file, found.unwrap_or_default())
}

/// Where the card at a place is used.
pub(super) fn uses(file: &File<'_>, at: At) -> Value {
    let found = file.place(at).map(|place| references::of(&place, false));
    targets(file, found.unwrap_or_default())
}

/// Where the name at a place stands in the file.
pub(super) fn alike(file: &File<'_>, at: At) -> Value {
    let found = file.place(at).map(|place| paired::highlights(&place));
    let ranges = found.unwrap_or_default().into_iter();
    let ranges: Vec<[u32; 4]> = ranges
        .map(|(span, _)| places::range(&file.paper.sheet, span))
        .collect();
    ranges.said()
}

/// The cards whose names are like some letters, then the pieces that meet them as conditions.
pub(super) fn find(page: &Page, words: &str) -> Value {
    let never = || false;
    let mut found = symbols::of_catalogue(page.snapshot(), words, MOST, &never);
    let met = symbols::meeting(page.snapshot(), words, MOST, &never);
    let new: Vec<Found> = met
        .into_iter()
        .filter(|one| !found.iter().any(|other| other.id == one.id))
        .collect();
    found.extend(new);
    found.truncate(MOST);
    let cards: Vec<Value> = found
        .into_iter()
        .filter_map(|card| {
            let target = Target {
                id: card.id,
                span: card.span,
            };
            let leads = places::target(page, target)?;
            Some(answer!("name": card.name, "kind": card.kind.word(), "leads": leads))
        })
        .collect();
    cards.said()
}
