//! One line above a card's head: who uses it, how much there is of it.

use std::collections::BTreeMap;

use xxhash_rust::xxh3::xxh3_64;

use crate::catalogue::course::Course;
use crate::catalogue::model::{Concert, Piece, ProgramPiece};
use crate::catalogue::{EntryId, Snapshot};
use crate::music::Clock;
use crate::notation::Kind;
use crate::planning::percussion::next_listing;
use crate::planning::{buy, library, teach};
use crate::text::sentences;

use super::sharing::{self, Shared};
use super::{Target, spots};

/// The cards of a file that have such a line, with the place of their heads.
pub fn of_file(snapshot: &Snapshot, file: usize) -> Vec<Target> {
    let Some(cards) = snapshot.files().get(file) else {
        return Vec::new();
    };
    let ids = (0..cards.entries.len()).filter_map(|entry| {
        Some(EntryId {
            file: u32::try_from(file).ok()?,
            entry: u32::try_from(entry).ok()?,
        })
    });
    ids.filter(|id| has_title(snapshot, *id))
        .filter_map(|id| {
            let entry = snapshot.entry(id)?;
            Some(Target {
                id,
                span: entry.name_span,
            })
        })
        .collect()
}

/// Whether a card has such a line, without working all of it out.
fn has_title(snapshot: &Snapshot, id: EntryId) -> bool {
    let entry = snapshot.entry(id);
    match entry.and_then(|entry| entry.piece()) {
        Some(piece) if piece.has_percussion() => true,
        _ => title(snapshot, id).is_some(),
    }
}

/// What the line says; none where there is nothing worth a line.
pub fn title(snapshot: &Snapshot, id: EntryId) -> Option<String> {
    let entry = snapshot.entry(id)?;
    match entry.kind? {
        Kind::Ensemble => {
            let mut said = Vec::new();
            said.extend(counted(users(snapshot, id), &[Kind::Concert]));
            let judged = snapshot
                .entries()
                .filter(|(_, entry)| entry.kind == Some(Kind::Piece))
                .filter(|(piece, _)| snapshot.judges(*piece).iter().any(|judge| judge.ensemble == id))
                .count();
            if judged > 0 {
                said.push(format!(
                    "{} checked for this band",
                    sentences::counted(judged, "piece")
                ));
            }
            (!said.is_empty()).then(|| said.join(", "))
        }
        Kind::Skill | Kind::List | Kind::Criteria | Kind::Instrument => {
            let said = counted(users(snapshot, id), &Kind::ALL);
            (!said.is_empty()).then(|| format!("in {}", said.join(", ")))
        }
        Kind::Piece => {
            let users = counted(users(snapshot, id), &[Kind::Concert, Kind::Bundle, Kind::List]);
            let used = (!users.is_empty()).then(|| format!("in {}", users.join(", ")));
            let shared = entry.piece()?.has_percussion().then(|| {
                let shared = Shared::of_piece(snapshot, id);
                shared.map_or("percussion not counted".to_owned(), |shared| shared.in_short())
            });
            let shelf = library::words::of_piece(snapshot, id);
            let said: Vec<String> = used.into_iter().chain(shared).chain(shelf).collect();
            (!said.is_empty()).then(|| said.join(" · "))
        }
        Kind::Concert => {
            let program = of_program(snapshot, entry.concert()?)?;
            let shared = sharing::of_concert(snapshot, id);
            let taught = teach::words::in_short(snapshot, id);
            let bought = buy::words::in_short(snapshot, id);
            Some(
                [
                    Some(program),
                    shared,
                    taught,
                    bought,
                    library::words::of_concert(snapshot, id),
                ]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(" · "),
            )
        }
        Kind::Handbook | Kind::Bundle => None,
    }
}

/// What a card's line, and the facts beside its words, rest on outside the card itself, as a digest that costs
/// little. It may be another where they are still the same, never the same where they are others.
pub fn rests_on(snapshot: &Snapshot, id: EntryId) -> u64 {
    let Some(entry) = snapshot.entry(id) else { return 0 };
    let text = match entry.kind {
        // The bands, the concerts and the lists are all in the context; who plays a piece rests on what else is
        // played in its concert.
        Some(Kind::Piece) => {
            let concert = next_listing(snapshot, id).map(|listing| listing.concert);
            let pieces = concert.map(|concert| snapshot.digests_of_program(concert));
            format!("{pieces:?}")
        }
        Some(Kind::Concert) => format!("{:?}", snapshot.digests_of_program(id)),
        _ => title(snapshot, id).unwrap_or_default(),
    };
    xxh3_64(format!("{} {text}", snapshot.context()).as_bytes())
}

/// The places that the line counts, for going there.
pub fn places(snapshot: &Snapshot, id: EntryId) -> Vec<Target> {
    let is_instrument = snapshot
        .entry(id)
        .is_some_and(|entry| entry.kind == Some(Kind::Instrument));
    let mut found: Vec<Target> = match is_instrument {
        // Instruments stand in lines that keep no names, so these are read.
        true => spots::of_card(snapshot, id)
            .into_iter()
            .filter(|spot| !spot.gives)
            .map(|spot| spot.target)
            .collect(),
        false => snapshot
            .uses_of(id)
            .into_iter()
            .map(|(id, name)| Target { id, span: name.span })
            .collect(),
    };
    found.sort_unstable();
    found.dedup();
    found
}

/// The cards that use a card, by kind.
fn users(snapshot: &Snapshot, id: EntryId) -> BTreeMap<&'static str, usize> {
    let mut cards: Vec<EntryId> = places(snapshot, id).into_iter().map(|target| target.id).collect();
    cards.dedup();
    let mut by_kind = BTreeMap::new();
    for user in cards.into_iter().filter(|user| *user != id) {
        if let Some(kind) = snapshot.entry(user).and_then(|entry| entry.kind) {
            *by_kind.entry(kind.word()).or_insert(0) += 1;
        }
    }
    by_kind
}

fn counted(users: BTreeMap<&'static str, usize>, kinds: &[Kind]) -> Vec<String> {
    kinds
        .iter()
        .filter_map(|kind| {
            let number = users.get(kind.word())?;
            Some(match kind {
                Kind::Handbook => "the handbook".to_owned(),
                _ => sentences::counted(*number, kind.word()),
            })
        })
        .collect()
}

fn of_program(snapshot: &Snapshot, concert: &Concert) -> Option<String> {
    if concert.program.is_empty() {
        return None;
    }
    let pieces = sentences::counted(concert.program.len(), "piece");
    let ends = ends(snapshot, concert);
    Some(match ends.last() {
        Some(Some(end)) if ends.len() == concert.program.len() => format!("{pieces}, {} in all", Clock(*end)),
        _ => pieces,
    })
}

/// For each piece of a program, the second at which it ends, the time between pieces counted; none from the
/// first piece on whose length nobody knows.
pub(super) fn ends(snapshot: &Snapshot, concert: &Concert) -> Vec<Option<u32>> {
    let between = concert
        .between
        .as_ref()
        .map_or(0, |between| between.value.low.seconds());
    let mut at = Some(0u32);
    let mut found = Vec::new();
    for (place, listed) in concert.program.iter().enumerate() {
        let gap = if place == 0 { 0 } else { between };
        at = at
            .zip(seconds(snapshot, listed))
            .map(|(at, seconds)| at.saturating_add(gap).saturating_add(seconds));
        found.push(at);
    }
    found
}

/// How long a piece of the program takes: what its card says, else what its measures come to; or the movements
/// that are played.
fn seconds(snapshot: &Snapshot, listed: &ProgramPiece) -> Option<u32> {
    let title = &listed.title.value;
    let found = snapshot.pieces_titled(&title.name, title.by.as_deref());
    let piece = snapshot.entry(*found.first()?)?.piece()?;
    if listed.movements.is_empty() {
        return length_of(piece);
    }
    listed
        .movements
        .iter()
        .map(|number| {
            let played = piece
                .movements
                .iter()
                .find(|movement| movement.number == *number)?;
            length_of(&played.piece)
        })
        .try_fold(0u32, |sum, seconds| Some(sum.saturating_add(seconds?)))
}

fn length_of(piece: &Piece) -> Option<u32> {
    let said = piece.lasts.as_ref().map(|lasts| lasts.value.low.seconds());
    said.or_else(|| Some(Course::of(piece).lasting().ok()?.lasting.clocks().0.seconds()))
}
