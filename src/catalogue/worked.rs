//! What follows from the bands, the skills and the handbook: worked out when somebody asks, and kept as long as
//! none of those cards changes.

use std::any::Any;
use std::collections::HashMap;
use std::hash::Hash;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use jiff::civil::Date;

use crate::music::skills;
use crate::notation::Kind;

use super::conditions::Truth;
use super::doubt::{Doubts, UnreadRanges};
use super::ladder::Ladder;
use super::model::{Ensemble, Facts, Handbook};
use super::names::key;
use super::sections::Sections;
use super::{EntryId, Snapshot};

/// The bands that play together, and the day.
type Gathering = (Vec<EntryId>, Option<Date>);

/// Questions that were answered before, by a digest of all that the answer rests on beside the instruments.
#[derive(Debug, Default)]
pub struct Answers {
    known: Mutex<HashMap<u64, bool>>,
}

/// So many answers are kept; then they are found anew.
const MOST_ANSWERS: usize = 100_000;

impl Answers {
    /// The answer to a question, worked out where it is asked for the first time.
    pub fn to(&self, question: u64, work: impl FnOnce() -> bool) -> bool {
        let kept = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept().get(&question) {
            return *known;
        }
        let found = work();
        let mut known = kept();
        if known.len() >= MOST_ANSWERS {
            known.clear();
        }
        known.insert(question, found);
        found
    }
}

/// What sharing out parts has told, by a digest of all that the answer rests on.
#[derive(Debug, Default)]
pub struct Shared {
    known: Mutex<HashMap<u64, Truth>>,
}

impl Shared {
    /// What is told, worked out where it is asked for the first time.
    pub fn to(&self, question: u64, work: impl FnOnce() -> Truth) -> Truth {
        let kept = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept().get(&question) {
            return known.clone();
        }
        let found = work();
        let mut known = kept();
        if known.len() >= MOST_ANSWERS {
            known.clear();
        }
        known.insert(question, found.clone());
        found
    }
}

/// What somebody above has worked out of a concert and its pieces. Only who put it there knows what it is.
pub type OfConcert = Arc<dyn Any + Send + Sync>;

/// A concert with a word for what is kept of it, digests of what that rests on, and the thing itself, worked out by
/// whoever asks first.
type KeptConcert = ((EntryId, &'static str), Vec<u64>, Arc<OnceLock<OfConcert>>);

/// So many things that are worked out of concerts are kept.
const MOST_OF_CONCERTS: usize = 80;

/// What has been worked out so far.
#[derive(Debug, Default)]
pub(super) struct Worked {
    shared: Shared,
    players: Answers,
    closet: Answers,
    ladder: OnceLock<Ladder>,
    together: OnceLock<Vec<Vec<String>>>,
    usual_bands: OnceLock<Vec<EntryId>>,
    skills: OnceLock<Vec<(String, String)>>,
    sections: Mutex<HashMap<Gathering, Arc<Sections>>>,
    ranges: Mutex<HashMap<EntryId, Arc<UnreadRanges>>>,
    owned: Mutex<HashMap<Vec<EntryId>, Arc<Doubts>>>,
    concerts: Mutex<Vec<KeptConcert>>,
}

/// What is kept of a thing, worked out where it is asked for the first time.
fn kept<K: Eq + Hash, T>(known: &Mutex<HashMap<K, Arc<T>>>, of: K, work: impl FnOnce() -> T) -> Arc<T> {
    let known = || known.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(found) = known().get(&of) {
        return Arc::clone(found);
    }
    let found = Arc::new(work());
    known().insert(of, Arc::clone(&found));
    found
}

impl Worked {
    /// The bands that play where nothing else is said.
    pub(super) fn usual_bands(&self, work: impl FnOnce() -> Vec<EntryId>) -> &[EntryId] {
        self.usual_bands.get_or_init(work)
    }
}

impl Snapshot {
    /// The skills with what each stands on.
    pub fn ladder(&self) -> &Ladder {
        self.worked().ladder.get_or_init(|| Ladder::of(self))
    }

    /// The names of all skills that are known, those of the catalogue's own cards first, each as compared and as
    /// written.
    pub fn known_skills(&self) -> &[(String, String)] {
        self.worked().skills.get_or_init(|| {
            let mut known = Vec::new();
            for (_, id) in self.names().all(Kind::Skill) {
                let Some(entry) = self.entry(id) else { continue };
                known.push(entry.name.clone());
                if let Facts::Skill(skill) = entry.facts() {
                    known.extend(skill.also.iter().map(|also| also.value.clone()));
                }
            }
            // The index has no order of its own.
            known.sort();
            let usual = skills::SKILLS.iter();
            known.extend(
                usual
                    .flat_map(|skill| std::iter::once(&skill.name).chain(skill.also))
                    .map(|name| (*name).to_owned()),
            );
            known.into_iter().map(|name| (key(&name), name)).collect()
        })
    }

    /// The groups of percussion instruments that one player covers together, by the handbook.
    pub fn covered_together(&self) -> &[Vec<String>] {
        let of = || {
            self.handbook()
                .map(Handbook::covered_together)
                .unwrap_or_default()
        };
        self.worked().together.get_or_init(of)
    }

    /// What is known of what a closet lacks.
    pub fn known_of_the_closet(&self) -> &Answers {
        &self.worked().closet
    }

    /// What sharing out parts has told.
    pub fn shared_out(&self) -> &Shared {
        &self.worked().shared
    }

    /// What is known of who plays what.
    pub fn who_plays(&self) -> &Answers {
        &self.worked().players
    }

    /// Digests of the cards of a concert's pieces, in the order of its program.
    pub fn digests_of_program(&self, concert: EntryId) -> Vec<u64> {
        let card = self.entry(concert).and_then(|entry| entry.concert());
        let titles = card.into_iter().flat_map(|card| &card.program);
        let pieces = titles.flat_map(|listed| {
            let title = &listed.title.value;
            self.pieces_titled(&title.name, title.by.as_deref())
        });
        pieces
            .filter_map(|piece| Some(self.entry(piece)?.digest))
            .collect()
    }

    /// What is worked out of a concert, called by a word; anew when it rests on something else than before.
    pub fn kept_of_concert(
        &self,
        what: (EntryId, &'static str),
        rests_on: Vec<u64>,
        work: &dyn Fn() -> OfConcert,
    ) -> OfConcert {
        let concerts = &self.worked().concerts;
        let mut kept = concerts.lock().unwrap_or_else(PoisonError::into_inner);
        let known = kept.iter().find(|(of, then, _)| (*of, then) == (what, &rests_on));
        let place = match known {
            Some((.., place)) => Arc::clone(place),
            None => {
                // What it was before an edit is asked for no more.
                kept.retain(|(of, ..)| *of != what);
                if kept.len() >= MOST_OF_CONCERTS {
                    kept.remove(0);
                }
                let place = Arc::new(OnceLock::new());
                kept.push((what, rests_on, Arc::clone(&place)));
                place
            }
        };
        drop(kept);
        Arc::clone(place.get_or_init(work))
    }

    /// The wind players of bands that play together, on a day where one is given.
    pub fn sections(&self, bands: &[EntryId], day: Option<Date>) -> Arc<Sections> {
        kept(&self.worked().sections, (bands.to_vec(), day), || {
            let ensembles: Vec<&Ensemble> = self.ensembles_at(bands).collect();
            Sections::on(&ensembles, self.instruments(), day)
        })
    }

    /// The ranges on a band's card that nobody could read.
    pub fn unread_ranges(&self, band: EntryId) -> Arc<UnreadRanges> {
        kept(&self.worked().ranges, band, || {
            let band = self.entry(band).and_then(|entry| entry.ensemble());
            let of = |band| UnreadRanges::of(band, self.instruments());
            band.map(of).unwrap_or_default()
        })
    }

    /// Names among what bands and the school own and borrow that nobody understood.
    pub fn doubts_of_the_closet(&self, bands: &[EntryId]) -> Arc<Doubts> {
        kept(&self.worked().owned, bands.to_vec(), || {
            let ensembles: Vec<&Ensemble> = self.ensembles_at(bands).collect();
            let shared = self.handbook().into_iter();
            let own = ensembles
                .iter()
                .flat_map(|band| band.owns.iter().chain(&band.borrowed));
            let owned = own.chain(shared.clone().flat_map(|handbook| &handbook.owns));
            let unread = ensembles.iter().flat_map(|band| &band.unread);
            let unread = unread.chain(shared.flat_map(|handbook| &handbook.unread));
            let unread = unread.filter(|unread| matches!(unread.field, "owns" | "borrowed"));
            let names = owned
                .map(|said| said.value.name.as_str())
                .chain(unread.map(|unread| unread.words.as_str()));
            Doubts::of(names, self.instruments())
        })
    }

    fn ensembles_at<'s>(&'s self, bands: &'s [EntryId]) -> impl Iterator<Item = &'s Ensemble> {
        bands.iter().filter_map(|band| self.entry(*band)?.ensemble())
    }
}
