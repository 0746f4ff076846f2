//! The bands a piece is judged for, those that play together taken as one.

use std::cell::OnceCell;
use std::sync::Arc;

use jiff::civil::Date;

use crate::catalogue::doubt::UnreadRanges;
use crate::catalogue::model::{Concert, Ensemble, Piece};
use crate::catalogue::percussion::Course;
use crate::catalogue::sections::Sections;
use crate::catalogue::{Entry, EntryId, Ladder};
use crate::text::Span;

use super::card::Card;
use super::finding::Related;
use super::rule::Noticed;
use super::skills::standing::Taught;
use crate::text::sentences::{joined, the};

/// One band, or several that play a piece together, and the concert they play it in.
pub(crate) struct Judging<'s> {
    /// The concert that makes it earnest; none when the piece is only on the shelf.
    pub concert: Option<&'s Concert>,
    /// The bands with their cards.
    pub bands: Vec<(&'s Arc<Entry>, &'s Ensemble)>,
    /// Where their cards stand.
    ids: Vec<EntryId>,
    /// Their wind players, once somebody has asked.
    sections: OnceCell<Arc<Sections>>,
    /// The ranges on their cards that nobody could read, once somebody has asked.
    unread_ranges: OnceCell<Vec<Arc<UnreadRanges>>>,
    /// The skills that they have or will have, once somebody has asked.
    taught: OnceCell<Taught>,
    /// The movements that are played; empty for all.
    pub movements: Vec<u32>,
    /// Whether the shelf is left in peace; see [`crate::catalogue::Snapshot::shelf_is_quiet`].
    pub shelf_is_quiet: bool,
}

impl<'s> Judging<'s> {
    /// Whether somebody is about to play the piece.
    pub fn earnest(&self) -> bool {
        self.concert.is_some()
    }

    /// Whether what does not fit is told in full strength, and not as a hint.
    pub fn in_full(&self) -> bool {
        self.earnest() || !self.shelf_is_quiet
    }

    /// The bands' names inside a sentence: `the Concert Band and Jazz Lab`.
    pub fn name(&self) -> String {
        let names: Vec<String> = self.bands.iter().map(|(entry, _)| entry.name.clone()).collect();
        the(&joined(&names))
    }

    /// The bands without their cards.
    pub fn ensembles(&self) -> Vec<&'s Ensemble> {
        self.bands.iter().map(|(_, band)| *band).collect()
    }

    /// The day on which they play it, where a concert says so.
    pub fn day(&self) -> Option<Date> {
        self.concert?.day()
    }

    /// Their wind players.
    pub fn sections(&self, card: &Card<'_>) -> &Sections {
        self.sections
            .get_or_init(|| card.snapshot.sections(&self.ids, self.day()))
    }

    /// Where the bands' cards stand.
    pub fn ids(&self) -> &[EntryId] {
        &self.ids
    }

    /// For each of the bands the ranges on its card that nobody could read.
    pub fn unread_ranges(&self, card: &Card<'_>) -> &[Arc<UnreadRanges>] {
        self.unread_ranges.get_or_init(|| {
            let ids = self.ids.iter();
            ids.map(|id| card.snapshot.unread_ranges(*id)).collect()
        })
    }

    /// The skills that the bands have, and those that are taught too late for the concert.
    pub fn taught(&self, ladder: &Ladder) -> &Taught {
        self.taught.get_or_init(|| Taught::of(self, ladder))
    }

    /// Whether a movement of this number is played.
    pub fn plays(&self, movement: u32) -> bool {
        self.movements.is_empty() || self.movements.contains(&movement)
    }

    /// Whether the movement of a course is played; the piece's own rows are.
    pub fn plays_course(&self, piece: &Piece, course: &Course) -> bool {
        course
            .movement
            .and_then(|at| piece.movements.get(at))
            .is_none_or(|movement| self.plays(movement.number))
    }

    /// A place on one of the bands' cards.
    pub fn beside(&self, card: &Card<'_>, band: usize, span: Span, says: impl Into<String>) -> Vec<Related> {
        self.ids
            .get(band)
            .map(|band| card.beside_card(*band, span, says))
            .into_iter()
            .collect()
    }
}

/// Who judges a piece: the bands of each concert to come that lists it; else each of the usual bands.
pub(super) fn judgings<'s>(card: &Card<'s>) -> Vec<Judging<'s>> {
    let judging = |concert, bands: Vec<EntryId>, movements, shelf_is_quiet| {
        let band = |id: EntryId| {
            let entry = card.snapshot.entry(id)?;
            Some((id, (entry, entry.ensemble()?)))
        };
        let (ids, bands) = bands.into_iter().filter_map(band).unzip();
        Judging {
            concert,
            bands,
            ids,
            sections: OnceCell::new(),
            unread_ranges: OnceCell::new(),
            taught: OnceCell::new(),
            movements,
            shelf_is_quiet,
        }
    };
    if !card.snapshot.is_judged(card.id) {
        return Vec::new();
    }
    let listings = card.snapshot.listings_of(card.id);
    if listings.is_empty() {
        let usual = card.snapshot.bands_of(card.id);
        return usual
            .into_iter()
            .map(|band| judging(None, vec![band], Vec::new(), card.snapshot.shelf_is_quiet()))
            .filter(|judging| !judging.bands.is_empty())
            .collect();
    }
    listings
        .iter()
        .map(|listing| {
            let concert = card
                .snapshot
                .entry(listing.concert)
                .and_then(|entry| entry.concert());
            let movements = concert
                .and_then(|concert| concert.program.get(listing.place))
                .map(|listed| listed.movements.clone())
                .unwrap_or_default();
            judging(concert, listing.bands.clone(), movements, true)
        })
        .filter(|judging: &Judging<'_>| !judging.bands.is_empty())
        .collect()
}

/// Looks at a piece for every band that judges it, and keeps one finding for a place. A piece on the shelf
/// that fits one of several usual bands draws nothing, for that band will play it.
pub(crate) fn for_each_band<T>(
    card: &Card<'_>,
    look: impl Fn(&Judging<'_>) -> Vec<Noticed<T>>,
) -> Vec<Noticed<T>> {
    let mut kept: Vec<Noticed<T>> = Vec::new();
    for (at, judging) in card.judgings().iter().enumerate() {
        if at > 0 && !judging.earnest() && kept.is_empty() {
            // Another of the usual bands plays it.
            continue;
        }
        let found = look(judging);
        if at == 0 {
            kept = found;
        } else if judging.earnest() {
            let before = kept.len();
            for noticed in found {
                let same = kept
                    .iter()
                    .take(before)
                    .position(|other| other.span == noticed.span);
                match same.and_then(|same| kept.get_mut(same)) {
                    Some(other) if other.hint && !noticed.hint => *other = noticed,
                    Some(_) => {}
                    None => kept.push(noticed),
                }
            }
        } else {
            kept.retain(|noticed| found.iter().any(|other| other.span == noticed.span));
        }
    }
    kept
}
