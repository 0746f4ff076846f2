//! Which bands play at a concert, and what each of them plays.

use crate::catalogue::conditions::{Evaluator, Subject};
use crate::catalogue::model::{Concert, Ensemble, ProgramPiece};
use crate::catalogue::{EntryId, Snapshot};
use crate::findings::card::Card;

/// A row of a program with its piece and the bands that play it.
pub(super) struct Played<'s> {
    /// The row.
    pub listed: &'s ProgramPiece,
    /// The piece.
    pub subject: Subject<'s>,
    /// The bands.
    pub bands: Vec<EntryId>,
}

/// The rows of a concert's program that have one card and are judged, each with its bands.
pub(super) fn played<'s>(snapshot: &'s Snapshot, id: EntryId, concert: &'s Concert) -> Vec<Played<'s>> {
    let pieces = Evaluator::new(snapshot).pieces_of(concert);
    let rows = concert.program.iter().zip(pieces).enumerate();
    rows.filter_map(|(place, (listed, subject))| {
        let subject = subject.filter(|subject| subject.piece.is_judged())?;
        let listings = snapshot.listings_at(subject.id, id, place).iter();
        let bands = listings
            .flat_map(|listing| listing.bands.iter().copied())
            .collect();
        Some(Played {
            listed,
            subject,
            bands,
        })
    })
    .collect()
}

/// The bands of a concert: those its card names, else those that play its pieces.
pub(super) fn bands<'s>(card: &Card<'s>, concert: &'s Concert) -> Vec<(EntryId, &'s Ensemble)> {
    let snapshot = card.snapshot;
    let mut found: Vec<EntryId> = concert
        .bands
        .iter()
        .filter_map(|band| snapshot.ensemble_named(&band.value.name))
        .collect();
    found.extend(
        played(snapshot, card.id, concert)
            .into_iter()
            .flat_map(|row| row.bands),
    );
    let mut once: Vec<EntryId> = Vec::new();
    for id in found {
        if !once.contains(&id) {
            once.push(id);
        }
    }
    once.into_iter()
        .filter_map(|id| Some((id, snapshot.entry(id)?.ensemble()?)))
        .collect()
}
