//! The winds of the page filled in from the cards.

use std::collections::BTreeMap;

use crate::catalogue::Snapshot;
use crate::planning::percussion::Setting;
use crate::planning::winds::{self, Depth, Part, WindSharing, is_switch};
use crate::text::sentences::{capital, counted, joined};

use super::{WindCell, WindRow, Winds};

/// The wind parts of pieces with who plays them; the pieces are told apart by their numbers, a single one has none.
pub fn wind_table(snapshot: &Snapshot, pieces: &[(String, Option<&Setting>)], without: &[String]) -> Winds {
    let sharings: Vec<Option<WindSharing>> = pieces
        .iter()
        .map(|(_, setting)| {
            let setting = (*setting)?;
            let absent = setting.winds_absent(snapshot, without);
            let (bands, movements) = (&setting.bands, &setting.movements);
            let sharing = winds::of_piece(snapshot, setting.piece, bands, movements, &absent)?;
            (sharing.depth > Depth::SectionsOnly).then_some(sharing)
        })
        .collect();
    // As a score has them: by instrument, then by number.
    let all = snapshot.instruments().all();
    let place = |part: &Part| {
        // A part for several instruments has no place of its own and comes last.
        let [only] = part.instruments.as_slice() else {
            return usize::MAX;
        };
        let found = all.iter().position(|one| one.name.as_ref() == only.as_str());
        found.unwrap_or(usize::MAX)
    };
    let mut parts: BTreeMap<(usize, String), WindRow> = BTreeMap::new();
    for (column, sharing) in sharings.iter().enumerate() {
        let Some(sharing) = sharing else { continue };
        for (at, part) in sharing.parts.iter().enumerate() {
            let cell = wind_cell(snapshot, sharing, at, part);
            let row = parts
                .entry((place(part), part.name.clone()))
                .or_insert_with(|| WindRow {
                    part: capital(&part.name),
                    cells: vec![WindCell::default(); pieces.len()],
                });
            if let Some(old) = row.cells.get_mut(column) {
                *old = cell;
            }
        }
    }
    let rows: Vec<WindRow> = parts
        .into_values()
        .filter(|row| row.cells.iter().any(|cell| !cell.words.is_empty()))
        .collect();
    let numbers = pieces.iter().map(|(number, _)| number.clone());
    Winds {
        pieces: numbers.filter(|number| !number.is_empty()).collect(),
        rows,
    }
}

/// Who plays a wind part, in the fewest words; what may be left out and is says nothing.
fn wind_cell(snapshot: &Snapshot, sharing: &WindSharing, at: usize, part: &Part) -> WindCell {
    let players = part.players();
    if players > 0 {
        let switched: Vec<String> = part
            .seated
            .iter()
            .filter_map(|(who, count)| Some((sharing.players.get(*who)?, count)))
            .filter(|(who, _)| is_switch(who, part, snapshot.instruments()))
            .map(|(who, count)| counted(*count, &who.instrument))
            .collect();
        let words = match switched.as_slice() {
            [] => players.to_string(),
            all => joined(all),
        };
        return WindCell { words, amiss: false };
    }
    if part.open {
        return WindCell {
            words: "open".to_owned(),
            amiss: false,
        };
    }
    if part.spare.is_some() {
        return WindCell::default();
    }
    let uncovered = sharing.uncovered.iter().find(|one| one.part == at);
    let by = uncovered.and_then(|one| one.covers.get(one.by?)?.instrument());
    WindCell {
        words: match by {
            Some(instrument) => format!("nobody ({instrument}?)"),
            None => "nobody".to_owned(),
        },
        amiss: true,
    }
}
