//! Telling clients that do not ask: open files first, then the rest in slices.
//!
//! One task tells everything, so two tellings of one file never overtake one another. A change that comes
//! while it is at work makes it start again; what it has found until then is kept and not looked for twice.

use std::collections::{HashMap, HashSet, VecDeque};
use std::sync::Arc;

use tokio::sync::watch;
use tokio::task::{Id, JoinSet};
use tower_lsp::gen_lsp_types::Uri;

use crate::catalogue::CardFile;
use crate::catalogue::known::Known;

use super::diagnostics::{self, Told};
use super::moment::{Stop, View};
use super::session::Session;
use super::uri::Key;

/// How many closed files are looked at before a newer change is asked for.
const SLICE: usize = 16;

/// What was last told of a file.
struct Before {
    uri: Uri,
    digest: u64,
    is_empty: bool,
    /// The cards and the context it rested on, when it rested on nothing else.
    rests_on: Option<Rests>,
}

/// What the findings of a file of pieces rest on: its cards, the known findings, and a digest of the rest of the
/// catalogue.
type Rests = (Arc<CardFile>, Arc<Known>, u64);

/// The fewest and the most files that are looked at beside one another.
const HANDS: (usize, usize) = (2, 8);

/// Tells what is found, until the session is over.
pub(super) async fn run(session: Arc<Session>, mut rounds: watch::Receiver<u64>) {
    let mut publisher = Publisher {
        session,
        before: HashMap::new(),
        at_work: JoinSet::new(),
        busy: HashMap::new(),
        hands: std::thread::available_parallelism()
            .map_or(HANDS.0, usize::from)
            .clamp(HANDS.0, HANDS.1),
    };
    while rounds.changed().await.is_ok() {
        let number = *rounds.borrow_and_update();
        // A round that a newer change interrupts is taken up again by the loop: the change is unseen yet.
        if publisher.session.can().pulls || publisher.round(number, &rounds).await {
            publisher.session.is_done(number);
        }
    }
}

/// What was found of some files, and the round for which they were looked at.
type Found = (u64, Vec<(View, Told)>);

/// Who tells: what was told, and who is at work. A card that is slow to look at keeps only its own file waiting.
/// What an interrupted round has begun goes on, since no rule can be stopped midway; its file is not looked at by
/// a second hand meanwhile, and what it finds is kept for the next round.
struct Publisher {
    session: Arc<Session>,
    before: HashMap<Key, Before>,
    at_work: JoinSet<Found>,
    busy: HashMap<Id, Vec<Key>>,
    hands: usize,
}

impl Publisher {
    /// Tells all there is to tell; false when a newer change has interrupted it.
    async fn round(&mut self, number: u64, rounds: &watch::Receiver<u64>) -> bool {
        let mut newer = rounds.clone();
        let (mut open, mut closed) = self.files().await;
        loop {
            if newer.has_changed().unwrap_or(true) {
                return false;
            }
            while self.at_work.len() < self.hands {
                let mut batch = self.take(&mut open, 1);
                if batch.is_empty() {
                    batch = self.take(&mut closed, SLICE);
                }
                if batch.is_empty() {
                    break;
                }
                self.look(number, batch);
            }
            if self.at_work.is_empty() {
                // Nobody is busy, so nothing is left that waits for anybody.
                return true;
            }
            let done = tokio::select! {
                done = self.at_work.join_next_with_id() => done,
                _ = newer.changed() => return false,
            };
            // A rule that panics has been noted by the panic hook; the other files are told all the same.
            let (id, found) = match done {
                Some(Ok((id, found))) => (id, Some(found)),
                Some(Err(error)) => (error.id(), None),
                None => continue,
            };
            self.busy.remove(&id);
            for (view, told) in found
                .filter(|(round, _)| *round == number)
                .map_or_else(Vec::new, |(_, found)| found)
            {
                if newer.has_changed().unwrap_or(true) && view.paper.version.is_some() {
                    return false;
                }
                self.tell(&view, told).await;
            }
        }
    }

    /// All files, the open ones apart. Of those that are gone it is told that nothing is to be said.
    async fn files(&mut self) -> (VecDeque<View>, VecDeque<View>) {
        let moments = self.session.moments();
        let mut seen: HashSet<&Key> = HashSet::new();
        let (mut open, mut closed) = (VecDeque::new(), VecDeque::new());
        for moment in &moments {
            for (file, paper) in moment.papers.iter().enumerate() {
                if !seen.insert(&paper.key) {
                    continue;
                }
                let view = View {
                    moment: Arc::clone(moment),
                    file,
                    paper: Arc::clone(paper),
                };
                match paper.version {
                    Some(_) => open.push_back(view),
                    None => closed.push_back(view),
                }
            }
        }
        let gone: Vec<Key> = self
            .before
            .keys()
            .filter(|key| !seen.contains(key))
            .cloned()
            .collect();
        for key in gone {
            if let Some(old) = self.before.remove(&key) {
                self.session.has_said(&key, HashSet::new());
                if !old.is_empty {
                    self.session
                        .wire
                        .publish_diagnostics(old.uri, Vec::new(), None)
                        .await;
                }
            }
        }
        (open, closed)
    }

    /// The next files that nobody is at work on.
    fn take(&self, waiting: &mut VecDeque<View>, most: usize) -> Vec<View> {
        let busy: HashSet<&Key> = self.busy.values().flatten().collect();
        let mut taken = Vec::new();
        let mut later = Vec::new();
        while taken.len() < most
            && let Some(view) = waiting.pop_front()
        {
            match busy.contains(&view.paper.key) {
                true => later.push(view),
                false => taken.push(view),
            }
        }
        for view in later.into_iter().rev() {
            waiting.push_front(view);
        }
        taken
    }

    fn look(&mut self, number: u64, batch: Vec<View>) {
        let keys: Vec<Key> = batch.iter().map(|view| view.paper.key.clone()).collect();
        let work: Vec<_> = batch
            .into_iter()
            .map(|view| {
                let before = self.before.get(&view.paper.key);
                let rests_on = before.and_then(|old| old.rests_on.clone());
                (view, rests_on)
            })
            .collect();
        let session = Arc::clone(&self.session);
        let task = self.at_work.spawn_blocking(move || {
            let found = work
                .into_iter()
                .filter_map(|(view, rests_on)| look(&session, view, rests_on));
            (number, found.collect())
        });
        self.busy.insert(task.id(), keys);
    }

    async fn tell(&mut self, view: &View, told: Told) {
        let key = &view.paper.key;
        let digest = told.digest();
        let nothing = told.diagnostics.is_empty();
        let unchanged = match self.before.get(key) {
            Some(old) => old.digest == digest && old.uri == view.paper.uri,
            // Of a closed file about which there is nothing to say, nothing is said.
            None => nothing && view.paper.version.is_none(),
        };
        self.session.has_said(key, told.sayings);
        self.before.insert(
            key.clone(),
            Before {
                uri: view.paper.uri.clone(),
                digest,
                is_empty: nothing,
                rests_on: rests_on(view).filter(|_| told.is_own),
            },
        );
        if !unchanged {
            let uri = view.paper.uri.clone();
            self.session
                .wire
                .publish_diagnostics(uri, told.diagnostics, view.paper.version)
                .await;
        }
    }
}

/// Looks at a file, unless nothing that its findings rest on has changed.
fn look(session: &Session, view: View, rests_on: Option<Rests>) -> Option<(View, Told)> {
    if let Some((cards, known, context)) = rests_on
        && Arc::ptr_eq(&cards, &view.paper.cards)
        && Arc::ptr_eq(&known, &view.moment.known)
        && context == view.moment.snapshot().context()
        && !session.is_lost(&view.paper.key)
    {
        return None;
    }
    let told = diagnostics::told(session, &view, &Stop::default())?;
    Some((view, told))
}

fn rests_on(view: &View) -> Option<Rests> {
    (view.paper.only_pieces() && view.paper.fresh.is_none()).then(|| {
        (
            Arc::clone(&view.paper.cards),
            Arc::clone(&view.moment.known),
            view.moment.snapshot().context(),
        )
    })
}
