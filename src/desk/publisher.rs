//! Telling clients that do not ask: open files first, then the rest in slices.
//!
//! One task tells everything, so two tellings of one file never overtake one another. A change that comes
//! while it is at work makes it start again; what it has found until then is kept and not looked for twice.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use tokio::sync::watch;
use tower_lsp::gen_lsp_types::Uri;

use crate::catalogue::CardFile;
use crate::catalogue::known::Known;

use super::diagnostics::{self, Told};
use super::moment::{Moment, Paper, Stop, View};
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

/// Tells what is found, until the session is over.
pub(super) async fn run(session: Arc<Session>, mut rounds: watch::Receiver<u64>) {
    let mut before: HashMap<Key, Before> = HashMap::new();
    while rounds.changed().await.is_ok() {
        let number = *rounds.borrow_and_update();
        // A round that a newer change interrupts is taken up again by the loop: the change is unseen yet.
        if session.can().pulls || round(&session, &rounds, &mut before).await {
            session.is_done(number);
        }
    }
}

/// Tells all there is to tell; false when a newer change has interrupted it.
async fn round(
    session: &Arc<Session>,
    rounds: &watch::Receiver<u64>,
    before: &mut HashMap<Key, Before>,
) -> bool {
    // What is open is looked at before anything else is so much as counted.
    for view in session.open_views() {
        if !look_and_tell(session, rounds, vec![view], before).await {
            return false;
        }
    }
    let moments = session.moments();
    // Putting a large catalogue together takes a while, which nobody else should have to wait for.
    let together = moments.clone();
    let put_together = move || together.iter().for_each(|moment| _ = moment.snapshot());
    let _ = tokio::task::spawn_blocking(put_together).await;
    let mut seen: HashSet<&Key> = HashSet::new();
    let mut closed: Vec<View> = Vec::new();
    for moment in &moments {
        for (file, paper) in moment.papers.iter().enumerate() {
            if !seen.insert(&paper.key) || paper.version.is_some() {
                continue;
            }
            let old = before.get(&paper.key).and_then(|old| old.rests_on.as_ref());
            if !old.is_some_and(|old| still_rests(old, moment, paper)) {
                closed.push(View {
                    moment: Arc::clone(moment),
                    file,
                    paper: Arc::clone(paper),
                });
            }
        }
    }
    let gone: Vec<Key> = before.keys().filter(|key| !seen.contains(key)).cloned().collect();
    for key in gone {
        if let Some(old) = before.remove(&key) {
            session.has_said(&key, HashSet::new());
            if old.is_empty {
                continue;
            }
            session.wire.publish_diagnostics(old.uri, Vec::new(), None).await;
        }
    }
    for slice in closed.chunks(SLICE) {
        if !look_and_tell(session, rounds, slice.to_vec(), before).await {
            return false;
        }
    }
    let last = moments.clone();
    let _ = tokio::task::spawn_blocking(move || last.iter().for_each(|moment| moment.forget())).await;
    true
}

/// Looks at some files on a thread of their own and tells of them; false when a newer change has come.
async fn look_and_tell(
    session: &Arc<Session>,
    rounds: &watch::Receiver<u64>,
    views: Vec<View>,
    before: &mut HashMap<Key, Before>,
) -> bool {
    if rounds.has_changed().unwrap_or(true) {
        return false;
    }
    let work: Vec<(View, Option<Rests>)> = views
        .into_iter()
        .map(|view| {
            let rests_on = before.get(&view.paper.key).and_then(|old| old.rests_on.clone());
            (view, rests_on)
        })
        .collect();
    let at_work = Arc::clone(session);
    let found = tokio::task::spawn_blocking(move || {
        work.into_iter()
            .filter_map(|(view, rests_on)| look(&at_work, view, rests_on))
            .collect::<Vec<_>>()
    })
    .await;
    // A rule that panics has been noted by the panic hook; the other files are told all the same.
    for (view, told) in found.unwrap_or_default() {
        if rounds.has_changed().unwrap_or(true) && view.paper.version.is_some() {
            return false;
        }
        tell(session, &view, told, before).await;
    }
    true
}

/// Looks at a file, unless nothing that its findings rest on has changed.
fn look(session: &Session, view: View, rests_on: Option<Rests>) -> Option<(View, Told)> {
    if rests_on.is_some_and(|old| still_rests(&old, &view.moment, &view.paper)) {
        return None;
    }
    let said = session.said_of(&view.paper.key);
    let told = diagnostics::of(&view, &session.can(), &said, &Stop::default())?;
    Some((view, told))
}

/// Whether a file's findings rest on what they rested on before.
fn still_rests(old: &Rests, moment: &Moment, paper: &Paper) -> bool {
    let (cards, known, context) = old;
    Arc::ptr_eq(cards, &paper.cards)
        && Arc::ptr_eq(known, &moment.known)
        && *context == moment.snapshot().context()
}

async fn tell(session: &Session, view: &View, told: Told, before: &mut HashMap<Key, Before>) {
    let key = &view.paper.key;
    let digest = told.digest();
    let nothing = told.diagnostics.is_empty();
    let unchanged = match before.get(key) {
        Some(old) => old.digest == digest && old.uri == view.paper.uri,
        // Of a closed file about which there is nothing to say, nothing is said.
        None => nothing && view.paper.version.is_none(),
    };
    session.has_said(key, told.sayings);
    before.insert(
        key.clone(),
        Before {
            uri: view.paper.uri.clone(),
            digest,
            is_empty: nothing,
            rests_on: rests_on(&view.moment, view),
        },
    );
    if !unchanged {
        let uri = view.paper.uri.clone();
        session
            .wire
            .publish_diagnostics(uri, told.diagnostics, view.paper.version)
            .await;
    }
}

fn rests_on(moment: &Moment, view: &View) -> Option<Rests> {
    (view.paper.only_pieces() && view.paper.fresh.is_none()).then(|| {
        (
            Arc::clone(&view.paper.cards),
            Arc::clone(&moment.known),
            moment.snapshot().context(),
        )
    })
}
