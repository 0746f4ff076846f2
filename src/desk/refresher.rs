//! Telling a client that what it shows of an open file has changed because of another file: lenses, hints,
//! word colors. Folds rest on their own file alone, so they never change this way.

use std::collections::HashMap;
use std::sync::Arc;
use std::time::Duration;

use tokio::sync::watch;
use xxhash_rust::xxh3::xxh3_64;

use crate::assist::{lens, tokens};

use super::moment::View;
use super::session::Session;
use super::uri::Key;

/// How long it is quiet before anything is looked at.
const QUIET: Duration = Duration::from_millis(150);

/// What is shown of an open file, by digests, and of which text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Shown {
    version: Option<i32>,
    /// What lenses and hints rest on.
    facts: u64,
    colors: u64,
}

/// Watches the rounds until the session is over.
pub(super) async fn run(session: Arc<Session>, mut rounds: watch::Receiver<u64>) {
    let mut before: HashMap<Key, Shown> = HashMap::new();
    while rounds.changed().await.is_ok() {
        // While somebody types, every keystroke is a round.
        let mut several = false;
        while tokio::time::timeout(QUIET, rounds.changed())
            .await
            .is_ok_and(|changed| changed.is_ok())
        {
            several = true;
        }
        rounds.borrow_and_update();
        let can = session.can();
        if !(can.refreshes_lenses || can.refreshes_hints || can.refreshes_colors) {
            continue;
        }
        let views = session.open_views();
        let looked = tokio::task::spawn_blocking(move || {
            views
                .into_iter()
                .map(|view| (view.paper.key.clone(), look(&view)))
                .collect::<HashMap<Key, Shown>>()
        });
        let Ok(now) = looked.await else { continue };
        // A file whose own text changed is asked about by the client without being told.
        let others: Vec<(Shown, Shown)> = now
            .iter()
            .filter_map(|(key, now)| Some((*before.get(key)?, *now)))
            .filter(|(before, now)| before.version == now.version)
            .collect();
        // What a file that is looked at for the first time showed before the last of several rounds is not
        // known, and the client may have asked by then.
        let unknown = several && now.keys().any(|key| !before.contains_key(key));
        let changed =
            |what: fn(&Shown) -> u64| unknown || others.iter().any(|(before, now)| what(before) != what(now));
        // A client that cannot after all will ask in its own time.
        if can.refreshes_lenses && changed(|shown| shown.facts) {
            let _ = session.wire.code_lens_refresh().await;
        }
        if can.refreshes_hints && changed(|shown| shown.facts) {
            let _ = session.wire.inlay_hint_refresh().await;
        }
        if can.refreshes_colors && changed(|shown| shown.colors) {
            let _ = session.wire.semantic_tokens_refresh().await;
        }
        before = now;
    }
}

/// Looks at what is shown, as cheaply as can be: this runs after each pause in typing.
fn look(view: &View) -> Shown {
    let snapshot = view.moment.snapshot();
    let rests: Vec<u64> = view.ids().map(|id| lens::rests_on(snapshot, id)).collect();
    let colors = tokens::of_file(snapshot, view.file, None, &|| false);
    let digest = |text: String| xxh3_64(text.as_bytes());
    Shown {
        version: view.paper.version,
        facts: digest(format!("{rests:?}")),
        colors: digest(format!("{colors:?}")),
    }
}
