//! Who plays a piece, and what of it: found out from the catalogue.

use jiff::civil::Date;

use crate::catalogue::model::{Concert, Ensemble};
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};

use crate::planning::winds::is_away;

use super::ask::{Asked, Question, Seat, seats};
use super::assigned::next_listing;
use super::clock::Pace;
use super::gear::{Lacking, lacking, things};
use super::pins::Pins;
use super::skill::Players;

/// A piece as it is asked about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// The piece.
    pub piece: EntryId,
    /// The movements that are played, by number; empty for all.
    pub movements: Vec<u32>,
    /// The bands that play it.
    pub bands: Vec<EntryId>,
    /// The concert for which it is played; what that borrows is there.
    pub concert: Option<EntryId>,
    /// Its place in that concert's program, counted from 0.
    pub place: Option<usize>,
    /// The percussionists; none where no card says how many there are.
    pub seats: Option<Vec<Seat>>,
}

impl Setting {
    /// A piece by itself: for a band that is named, else for those of the next concert that lists it, else
    /// for the handbook's, else for the only one there is.
    pub fn of_piece(snapshot: &Snapshot, piece: EntryId, band: Option<EntryId>) -> Setting {
        let listed = next_listing(snapshot, piece);
        let bands = match (band, listed) {
            (Some(band), _) => vec![band],
            (None, Some(listing)) if !listing.bands.is_empty() => listing.bands.clone(),
            // Bands of a handbook do not play together.
            (None, _) => snapshot.bands_of(piece).into_iter().take(1).collect(),
        };
        let listed = listed.filter(|_| band.is_none());
        let concert = listed.map(|listing| listing.concert);
        let mut setting = Setting {
            concert,
            place: listed.map(|listing| listing.place),
            ..Setting::new(snapshot, piece, bands)
        };
        if let Some(card) = concert.and_then(|id| snapshot.entry(id)?.concert()) {
            setting.leave_at_home(&absent_percussionists(card, snapshot));
            setting.without_those_not_there(card.day());
        }
        setting
    }

    /// A piece for bands that play it together.
    pub fn new(snapshot: &Snapshot, piece: EntryId, bands: Vec<EntryId>) -> Setting {
        let cards = ensembles(snapshot, &bands);
        Setting {
            piece,
            movements: Vec::new(),
            concert: None,
            place: None,
            seats: seats(&cards),
            bands,
        }
    }

    /// The seats with the band each belongs to.
    pub fn by_band(&self, snapshot: &Snapshot) -> Vec<(EntryId, Seat)> {
        let mut bands = Vec::new();
        for id in &self.bands {
            let card = snapshot.entry(*id).and_then(|entry| entry.ensemble());
            let count = card
                .and_then(|card| seats(&[card]))
                .map_or(0, |seats| seats.len());
            bands.extend(std::iter::repeat_n(*id, count));
        }
        bands
            .into_iter()
            .zip(self.seats.iter().flatten().cloned())
            .collect()
    }

    /// Marks as absent who joins after a day or has left by then.
    pub fn without_those_not_there(&mut self, day: Option<Date>) {
        let Some(day) = day else { return };
        for seat in self.seats.iter_mut().flatten() {
            seat.absent |= !seat.can.is_there(day);
        }
    }

    /// Marks players as absent, by seat; tells in a sentence about each seat that is not in the roster.
    pub fn leave_at_home(&mut self, absent: &[String]) -> Vec<String> {
        let mut amiss = Vec::new();
        for words in absent {
            let wanted = key(words);
            let seats = self.seats.iter_mut().flatten();
            let mut found = false;
            for seat in seats.filter(|seat| key(&seat.name) == wanted) {
                seat.absent = true;
                found = true;
            }
            if !found {
                let there: Vec<&str> = self
                    .seats
                    .iter()
                    .flatten()
                    .map(|seat| seat.name.as_str())
                    .collect();
                amiss.push(match there.is_empty() {
                    true => format!("\"{words}\" cannot be left out: the band's card names no percussionists."),
                    false => format!(
                        "No percussionist in the band is called \"{words}\"; the band has {}. So nobody was left out for that.",
                        there.join(", ")
                    ),
                });
            }
        }
        amiss
    }

    /// The instruments of which there are too few; empty where no card says what is owned.
    pub fn lacking(&self, snapshot: &Snapshot, question: &Question) -> Vec<Lacking> {
        things(snapshot, &self.bands, self.concert)
            .map_or(Vec::new(), |things| lacking(snapshot, question, &things))
    }

    /// Who of the winds is away, by the concert's card, by the band's, and besides.
    pub fn winds_absent(&self, snapshot: &Snapshot, without: &[String]) -> Vec<String> {
        let concert = self
            .concert
            .and_then(|id| snapshot.entry(id))
            .and_then(|entry| entry.concert());
        let day = concert.and_then(Concert::day);
        let bands = self.bands.iter().filter_map(|id| snapshot.entry(*id)?.ensemble());
        let later = bands.flat_map(|band| day.map_or(Vec::new(), |day| band.winds_not_there(day)));
        concert
            .into_iter()
            .flat_map(|card| card.absent_words())
            .chain(later)
            .chain(without.iter().cloned())
            .collect()
    }

    /// The question for the solver; none where the card is no piece.
    pub fn question(&self, snapshot: &Snapshot) -> Option<Question> {
        let entry = snapshot.entry(self.piece)?;
        let piece = entry.piece()?;
        let bands = ensembles(snapshot, &self.bands);
        Some(Question::of(&Asked {
            piece,
            pins: Pins::of(
                (&entry.name, piece),
                self.concert.and_then(|id| snapshot.entry(id)?.concert()),
                &bands,
                snapshot.handbook(),
            ),
            movements: &self.movements,
            seats: self.seats.as_deref(),
            handbook: snapshot.handbook(),
            instruments: snapshot.instruments(),
            who: Players::of(snapshot),
            pace: Pace::Fastest,
            memory: true,
        }))
    }
}

/// The cards of ensembles.
pub fn ensembles<'s>(snapshot: &'s Snapshot, bands: &[EntryId]) -> Vec<&'s Ensemble> {
    bands
        .iter()
        .filter_map(|id| snapshot.entry(*id)?.ensemble())
        .collect()
}

/// Percussionists whom the concert's card calls absent, by seat or initials: `P3`.
pub(super) fn absent_percussionists(card: &Concert, snapshot: &Snapshot) -> Vec<String> {
    let mut absent = card.absent_seats();
    absent.retain(|words| !is_away(words, snapshot.instruments()));
    absent
}
