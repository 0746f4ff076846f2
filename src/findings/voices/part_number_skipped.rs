//! Part numbers with a gap.

use std::collections::HashMap;

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{RowItem, RowName};
use crate::rule;

use super::rows::whole_range;

rule! {
    /// Parts of one instrument that go from 1 with their ranges and leave out a number on the way. Rows
    /// without ranges may well name only what is worth a word.
    ///
    /// # Why it matters
    ///
    /// Players and copies are divided over the highest number, so a part that does not exist gets players, or
    /// one that exists is forgotten.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     trumpet 1       C4-F5
    ///     trumpet 3       A3-C5
    ///     ^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     trumpet 1       C4-F5
    ///     trumpet 2-3     A3-C5
    ///     clarinet 1      over the break
    ///     clarinet 3      divisi
    /// ```
    ///
    /// # What to do
    ///
    /// Add the part that is left out, or fix the number.
    PartNumberSkipped: "part number skipped", Voices, Information, reads Catalogue, looks at Parts
}

/// The number left out, and the part after it.
pub struct Skipped {
    place: String,
    instrument: String,
    number: u32,
    after: String,
}

impl Notice for PartNumberSkipped {
    type What = Skipped;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Skipped>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            // The instruments in the order of the card, each with its names and their rows.
            let mut places: HashMap<&str, usize> = HashMap::new();
            let mut all: Vec<(&str, Vec<(&RowItem, &RowName)>)> = Vec::new();
            for row in &level.parts {
                for name in &row.names {
                    let Some(instrument) = card.instrument(&name.text) else {
                        continue;
                    };
                    let place = *places.entry(&instrument.name).or_insert(all.len());
                    match all.get_mut(place) {
                        Some((_, rows)) => rows.push((row, name)),
                        None => all.push((&instrument.name, vec![(row, name)])),
                    }
                }
            }
            for (instrument, rows) in all {
                if let Some((number, after)) = skipped(&rows) {
                    let what = Skipped {
                        place: place(movement, "parts"),
                        instrument: instrument.to_owned(),
                        number,
                        after: after.one_form(),
                    };
                    found.push(Noticed::new(after.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Skipped, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "There is {}, and {} {} is not among the parts.",
                what.after, what.instrument, what.number
            ),
            why: "Players and copies are divided over all the numbers, so a part gets forgotten or one gets players that does not exist.".to_owned(),
            todo: "Add the part that is left out, or fix the number.".to_owned(),
        }
    }
}

/// The first number left out below a part that is there, and that part.
fn skipped<'c>(rows: &[(&RowItem, &'c RowName)]) -> Option<(u32, &'c RowName)> {
    let mut parts: Vec<(u32, u32, &RowName)> = Vec::new();
    for (row, name) in rows {
        let (first, last) = name.numbers.filter(|_| !name.open)?;
        whole_range(row)?;
        parts.push((first.min(last), first.max(last), *name));
    }
    parts.sort_by_key(|(first, ..)| *first);
    let mut reached = match parts.first() {
        Some((1, last, _)) => *last,
        _ => return None,
    };
    for (first, last, name) in parts {
        if first > reached.saturating_add(1) {
            return Some((reached.saturating_add(1), name));
        }
        reached = reached.max(last);
    }
    None
}
