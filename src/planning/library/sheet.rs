//! The sheet for a count: a row for every part of every set, with what the card says and a blank.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::row::RowName;

use super::Shelf;

/// A row of the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The piece.
    pub id: EntryId,
    /// Its title.
    pub piece: String,
    /// Who wrote it.
    pub by: String,
    /// Where the set is.
    pub place: String,
    /// The part.
    pub part: String,
    /// How many copies the card counts.
    pub on_the_card: Option<u32>,
}

/// The rows: for each set what its card counts, in its order, then the parts that it does not count.
pub fn rows(snapshot: &Snapshot, shelf: &Shelf) -> Vec<Row> {
    let mut rows = Vec::new();
    for set in &shelf.sets {
        let Some(piece) = snapshot.entry(set.id).and_then(|entry| entry.piece()) else {
            continue;
        };
        let by: Vec<&str> = piece.by.iter().map(|person| person.name.as_str()).collect();
        let row = |part: String, on_the_card: Option<u32>| Row {
            id: set.id,
            piece: set.name.clone(),
            by: by.join("; "),
            place: set.place.clone().unwrap_or_default(),
            part,
            on_the_card,
        };
        let mut known: Vec<String> = Vec::new();
        for said in &piece.library.copies {
            // A page of a part, and what stands for all others, is no part by itself.
            if said.value.page.is_some() || said.value.is_of_the_others() || known.contains(&said.value.part)
            {
                continue;
            }
            known.push(said.value.part.clone());
            rows.push(row(said.value.part.clone(), said.value.count));
        }
        if !known.iter().any(|part| part.contains("score")) {
            rows.push(row("score".to_owned(), None));
        }
        for name in snapshot.part_names(piece) {
            for part in numbered(name) {
                if !known.contains(&part) {
                    known.push(part.clone());
                    rows.push(row(part, None));
                }
            }
        }
    }
    rows
}

/// The parts that a name of a row stands for: `clarinet 1-2` for two.
pub fn numbered(name: &RowName) -> Vec<String> {
    match name.numbers {
        Some((first, last)) if first <= last && last - first < 16 => (first..=last)
            .map(|number| format!("{} {number}", name.text))
            .collect(),
        _ => vec![name.text.clone()],
    }
}
