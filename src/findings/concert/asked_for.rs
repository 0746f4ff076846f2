//! The percussion that the pieces of a program ask of the one band that plays them.

use crate::catalogue::EntryId;
use crate::catalogue::model::Ensemble;
use crate::catalogue::percussion::courses;
use crate::findings::card::Card;
use crate::findings::finding::Related;
use crate::text::Span;

use super::neighbors::coming;

/// What a program asks of its percussionists.
pub(super) struct AskedFor<'s> {
    /// The band that plays all of it.
    pub id: EntryId,
    /// Its card.
    pub band: &'s Ensemble,
    /// The instruments of each piece, as the cards name them.
    pub pieces: Vec<Vec<String>>,
}

/// What a concert to come asks; none unless one band plays all of it and every piece has percussion on its card:
/// which of several bands plays a piece is another matter, and a piece whose percussion is not on its card may have
/// a part for anybody.
pub(super) fn asked_for<'s>(card: &Card<'s>) -> Option<AskedFor<'s>> {
    let (concert, rows) = coming(card)?;
    let named: Vec<_> = concert
        .bands
        .iter()
        .filter_map(|band| card.snapshot.ensemble_named(&band.value.name))
        .collect();
    let bands = match concert.bands.is_empty() {
        true => card.snapshot.usual_bands(),
        false => named,
    };
    let ([id], true) = (
        bands.as_slice(),
        rows.iter().all(|(listed, _)| listed.bands.is_empty()),
    ) else {
        return None;
    };
    let band = card.snapshot.entry(*id)?.ensemble()?;
    let pieces: Vec<Vec<String>> = rows
        .iter()
        .map(|(_, subject)| {
            let courses = subject
                .as_ref()
                .map(|subject| courses(subject.piece, card.instruments(), &[]));
            let parts = courses.into_iter().flatten().flat_map(|course| course.parts);
            parts.flat_map(|part| part.names).collect()
        })
        .collect();
    let known = !pieces.is_empty() && pieces.iter().all(|names: &Vec<String>| !names.is_empty());
    known.then_some(AskedFor {
        id: *id,
        band,
        pieces,
    })
}

/// Where the band's card says what each of these players plays.
pub(super) fn what_they_play<'p>(
    card: &Card<'_>,
    band: EntryId,
    players: impl Iterator<Item = (&'p String, Span)>,
) -> Vec<Related> {
    let Some(entry) = card.snapshot.entry(band) else {
        return Vec::new();
    };
    players
        .map(|(seat, span)| card.beside(entry, span, format!("what {seat} plays")))
        .collect()
}
