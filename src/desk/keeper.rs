//! The findings that are kept from one moment to the next, each file's behind a lock of its own: while a slow
//! card of one file is looked at, the cards of the others are not kept waiting.

use std::collections::{HashMap, HashSet};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use crate::catalogue::EntryId;
use crate::cores;
use crate::findings::{Finding, Kept, Look};

use super::moment::{Moment, Paper, Stop, View};
use super::uri::Key;

/// How many cards more than one and a half times those that stand are kept of a file, so that an undo finds its
/// findings again.
const SPARE: usize = 64;
/// How many files that are gone are kept.
const SPARE_FILES: usize = 16;
/// From how many cards on it pays to look at them on all cores.
const MANY: usize = 48;

/// What is kept of the files of one catalogue.
#[derive(Debug, Default)]
pub(super) struct Keeper {
    files: Mutex<HashMap<Key, Arc<Mutex<Kept>>>>,
}

/// What is kept is changed by whole steps only, so it is right even after a panic.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Lets go of cards that have long been replaced.
fn let_go(kept: &mut Kept, paper: &Paper) {
    let cards = paper.cards.entries.len();
    if kept.len() > cards.saturating_add(cards / 2).saturating_add(SPARE) {
        kept.keep_only(&paper.cards.entries);
    }
}

impl Keeper {
    /// The findings of a card of a moment. What has long been replaced is let go on the way, so that what is kept
    /// never grows, whoever asks and however seldom there is a pause.
    pub(super) fn findings(&self, moment: &Moment, id: EntryId) -> Arc<[Finding]> {
        let Some(paper) = moment.paper_of(id) else {
            return Arc::from([]);
        };
        let snapshot = moment.snapshot();
        let kept = self.of_file(paper);
        let mut kept = locked(&kept);
        let found = kept.of_card(snapshot, id);
        let_go(&mut kept, paper);
        found
    }

    /// The findings of all cards of a file; none when `stop` was set on the way. Nobody is kept waiting while
    /// cards are looked at, and many are looked at on all cores.
    pub(super) fn findings_of_all(
        &self,
        moment: &Moment,
        view: &View,
        stop: &Stop,
    ) -> Option<Vec<Arc<[Finding]>>> {
        let snapshot = moment.snapshot();
        let kept = self.of_file(&view.paper);
        let mut found: Vec<Arc<[Finding]>> = Vec::new();
        let mut looks: Vec<(usize, Look)> = Vec::new();
        let round = {
            let mut kept = locked(&kept);
            for (number, id) in view.ids().enumerate() {
                found.push(match kept.known(snapshot, id) {
                    Ok(known) => known,
                    Err(look) => {
                        looks.push((number, look));
                        Arc::from([])
                    }
                });
            }
            kept.round(snapshot)
        };
        let look = |(number, look): &(usize, Look)| {
            let looked = (!stop.is_set()).then(|| look.clone().run(&round))?;
            Some((*number, looked))
        };
        let looked: Vec<_> = match looks.len() < MANY {
            true => looks.iter().map(look).collect(),
            false => cores::spread_all(&looks, look),
        };
        let mut kept = locked(&kept);
        let mut all = true;
        for looked in looked {
            match looked {
                Some((number, Some(looked))) => {
                    let findings = kept.keep(looked);
                    if let Some(place) = found.get_mut(number) {
                        *place = findings;
                    }
                }
                Some((_, None)) => {}
                None => all = false,
            }
        }
        let_go(&mut kept, &view.paper);
        all.then_some(found)
    }

    /// Keeps a file's findings locked for a while, as a slow card does.
    pub(super) fn hold(&self, paper: &Paper, time: Duration) {
        let kept = self.of_file(paper);
        let _held = locked(&kept);
        std::thread::sleep(time);
    }

    fn of_file(&self, paper: &Paper) -> Arc<Mutex<Kept>> {
        let mut files = locked(&self.files);
        match files.get(&paper.key) {
            Some(kept) => Arc::clone(kept),
            None => Arc::clone(files.entry(paper.key.clone()).or_default()),
        }
    }

    /// Lets go of files that are gone.
    pub(super) fn keep_only(&self, papers: &[Arc<Paper>]) {
        let mut files = locked(&self.files);
        if files.len() > papers.len().saturating_add(SPARE_FILES) {
            let there: HashSet<&Key> = papers.iter().map(|paper| &paper.key).collect();
            files.retain(|key, _| there.contains(key));
        }
    }

    /// How many cards are kept.
    pub(super) fn len(&self) -> usize {
        let files: Vec<Arc<Mutex<Kept>>> = locked(&self.files).values().map(Arc::clone).collect();
        files.iter().map(|kept| locked(kept).len()).sum()
    }
}
