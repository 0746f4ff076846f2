//! The findings that are kept from one moment to the next, each file's behind a lock of its own: while a slow
//! card of one file is looked at, the cards of the others are not kept waiting.

use std::collections::{HashMap, HashSet};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use crate::catalogue::EntryId;
use crate::findings::{Finding, Kept};

use super::moment::{Moment, Paper};
use super::uri::Key;

/// How many cards more than one and a half times those that stand are kept of a file, so that an undo finds its
/// findings again.
const SPARE: usize = 64;
/// How many files that are gone are kept.
const SPARE_FILES: usize = 16;

/// What is kept of the files of one catalogue.
#[derive(Debug, Default)]
pub(super) struct Keeper {
    files: Mutex<HashMap<Key, Arc<Mutex<Kept>>>>,
}

/// What is kept is changed by whole steps only, so it is right even after a panic.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
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
        let cards = paper.cards.entries.len();
        if kept.len() > cards.saturating_add(cards / 2).saturating_add(SPARE) {
            kept.keep_only(&paper.cards.entries);
        }
        found
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
