//! What the desk knows while it runs: the editor's folders, the open files, and a shelf for each catalogue.
//!
//! Everything that changes it goes through here. What waits for the disk takes the `turn`, so that two such
//! changes never mix; the state itself is locked only for as long as it takes to swap something in it.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use jiff::civil::Date;
use tokio::runtime::Handle;
use tokio::sync::watch;
use tower_lsp::Client as Wire;
use tower_lsp::gen_lsp_types::{ConfigurationItem, MessageType, SemanticToken, Uri};

use super::capabilities::Client;
use super::home::{Home, name_below};
use super::moment::Paper;
use super::settings::{self, Settings};
use super::shelf::Shelf;
use super::uri::Key;

mod papers;
mod shelves;
mod step;
mod views;

/// A file that the editor has open. Its text is the editor's, whatever the disk says.
#[derive(Debug)]
pub(super) struct OpenFile {
    pub(super) home: Home,
    /// What it is called on its shelf.
    pub(super) name: String,
    pub(super) paper: Arc<Paper>,
}

#[derive(Debug, Default)]
struct State {
    can: Client,
    folders: Vec<(Key, PathBuf)>,
    open: BTreeMap<Key, OpenFile>,
    shelves: BTreeMap<Home, Shelf>,
    /// Documents whose text is not known as the editor has it.
    lost: BTreeSet<Key>,
}

/// The conversation with one editor.
#[derive(Debug)]
pub(super) struct Session {
    pub(super) wire: Wire,
    state: Mutex<State>,
    turn: tokio::sync::Mutex<()>,
    /// Counts changes; whoever listens knows that there is something new to say.
    rounds: watch::Sender<u64>,
    /// The last round after which all was told.
    done: watch::Sender<u64>,
    /// What was last said of each file, by digests of the sayings.
    said: Mutex<HashMap<Key, HashSet<u64>>>,
    /// The tokens last told of a file, by the name they were told under.
    colored: Mutex<HashMap<Key, (String, Vec<SemanticToken>)>>,
    /// How much the editor wants shown.
    settings: Mutex<Settings>,
    /// Work that the user can stop, by the name it is told under.
    stops: Mutex<HashMap<String, Arc<AtomicBool>>>,
    tokens: AtomicU64,
    /// Troubles with files that the user has been told of.
    told: Mutex<HashSet<String>>,
    runtime: Handle,
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // Whoever panicked with it changed it by whole steps only.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}

/// Runs what waits for the disk on a thread that may wait. A panic there gives the default.
async fn apart<T: Default + Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
    tokio::task::spawn_blocking(work).await.unwrap_or_default()
}

impl Session {
    /// A new session; must be called inside the runtime it is to run in.
    pub(super) fn new(wire: Wire) -> Session {
        Session {
            wire,
            state: Mutex::default(),
            turn: tokio::sync::Mutex::default(),
            rounds: watch::Sender::new(0),
            done: watch::Sender::new(0),
            said: Mutex::default(),
            colored: Mutex::default(),
            settings: Mutex::default(),
            stops: Mutex::default(),
            tokens: AtomicU64::new(1),
            told: Mutex::default(),
            runtime: Handle::current(),
        }
    }

    pub(super) fn can(&self) -> Client {
        locked(&self.state).can
    }

    pub(super) fn rounds(&self) -> watch::Receiver<u64> {
        self.rounds.subscribe()
    }

    /// Notes that all is told that was to be told in this round.
    pub(super) fn is_done(&self, round: u64) {
        self.done.send_replace(round);
    }

    /// Waits until nothing is left to tell.
    pub(super) async fn settled(&self) {
        let wanted = *self.rounds.borrow();
        // The sender lives as long as the session.
        let _ = self.done.subscribe().wait_for(|done| *done >= wanted).await;
    }

    pub(super) fn runtime(&self) -> &Handle {
        &self.runtime
    }

    /// Says that there may be something new to tell.
    pub(super) fn bump(&self) {
        self.rounds.send_modify(|round| *round = round.wrapping_add(1));
    }

    /// Has a client that asks for diagnostics ask again.
    pub(super) fn refresh(&self) {
        let can = self.can();
        if can.pulls && can.refreshes {
            let wire = self.wire.clone();
            self.runtime.spawn(async move {
                // A client that cannot after all will ask in its own time.
                let _ = wire.workspace_diagnostic_refresh().await;
            });
        }
    }

    /// Tells the user something that was asked for.
    pub(super) async fn say(&self, text: String) {
        self.wire.show_message(MessageType::Info, text).await;
    }

    pub(super) fn settings(&self) -> Settings {
        *locked(&self.settings)
    }

    /// Takes what the editor wants shown, and tells once of what is not understood.
    pub(super) fn set(&self, said: &serde_json::Value) {
        let (settings, strange) = Settings::read(said);
        let before = std::mem::replace(&mut *locked(&self.settings), settings);
        let mut told = locked(&self.told);
        for text in strange {
            if told.insert(text.clone()) {
                self.log(text);
            }
        }
        drop(told);
        if before != settings {
            self.show_again();
        }
    }

    /// Has the client ask again for what the settings decide.
    fn show_again(&self) {
        let can = self.can();
        let wire = self.wire.clone();
        self.runtime.spawn(async move {
            // A client that cannot after all will ask in its own time.
            if can.refreshes_lenses {
                let _ = wire.code_lens_refresh().await;
            }
            if can.refreshes_hints {
                let _ = wire.inlay_hint_refresh().await;
            }
        });
    }

    /// Asks the editor for its settings, if it has any to give.
    pub(super) fn ask_settings(self: &Arc<Self>) {
        if !self.can().has_settings {
            return;
        }
        let session = Arc::clone(self);
        self.runtime.spawn(async move {
            let wanted = ConfigurationItem {
                scope_uri: None,
                section: Some(settings::SECTION.to_owned()),
            };
            if let Ok(said) = session.wire.configuration(vec![wanted]).await
                && let Some(said) = said.first()
            {
                session.set(said);
            }
        });
    }

    /// A new name for work to be told under.
    pub(super) fn new_token(&self) -> String {
        format!("levare-{}", self.tokens.fetch_add(1, Ordering::Relaxed))
    }

    /// From now on the user can stop this work.
    pub(super) fn may_cancel(&self, name: String, stop: Arc<AtomicBool>) {
        locked(&self.stops).insert(name, stop);
    }

    pub(super) fn stop_of(&self, name: &str) -> Option<Arc<AtomicBool>> {
        locked(&self.stops).get(name).map(Arc::clone)
    }

    /// The work is over.
    pub(super) fn over(&self, name: &str) {
        locked(&self.stops).remove(name);
    }

    pub(super) fn log(&self, message: String) {
        let wire = self.wire.clone();
        self.runtime
            .spawn(async move { wire.log_message(MessageType::Warning, message).await });
    }

    pub(super) fn begin(&self, can: Client, folders: Vec<Uri>) {
        let mut state = locked(&self.state);
        state.can = can;
        state.folders = folders.iter().filter_map(with_path).collect();
    }

    /// Takes folders away and puts others in.
    pub(super) async fn change_folders(self: &Arc<Self>, added: Vec<Uri>, removed: Vec<Uri>) {
        {
            let mut state = locked(&self.state);
            let removed: Vec<Key> = removed.iter().map(Key::new).collect();
            state.folders.retain(|(key, _)| !removed.contains(key));
            for (key, path) in added.iter().filter_map(with_path) {
                if !state.folders.iter().any(|(known, _)| *known == key) {
                    state.folders.push((key, path));
                }
            }
        }
        self.settle().await;
    }

    /// Digests of what was last said of a file.
    pub(super) fn said_of(&self, key: &Key) -> HashSet<u64> {
        locked(&self.said).get(key).cloned().unwrap_or_default()
    }

    pub(super) fn has_said(&self, key: &Key, sayings: HashSet<u64>) {
        let mut said = locked(&self.said);
        match sayings.is_empty() {
            true => said.remove(key),
            false => said.insert(key.clone(), sayings),
        };
    }

    /// Keeps the tokens told of a file and gives those told before, if they were told under that name.
    pub(super) fn color(
        &self,
        key: &Key,
        name: String,
        tokens: Vec<SemanticToken>,
        before: Option<&str>,
    ) -> Option<Vec<SemanticToken>> {
        let old = locked(&self.colored).insert(key.clone(), (name, tokens));
        old.filter(|(name, _)| Some(name.as_str()) == before)
            .map(|(_, tokens)| tokens)
    }
}

impl State {
    fn next(&mut self, home: &Home) {
        let State { open, shelves, .. } = self;
        if let Some(shelf) = shelves.get_mut(home) {
            shelf.next(open.values().filter(|file| file.home == *home), today());
        }
    }

    /// The same after an edit of one open file, for which nothing else needs to be looked at.
    fn next_after(&mut self, key: &Key) {
        let State { open, shelves, .. } = self;
        let Some(file) = open.get(key) else { return };
        let shelf = shelves.get_mut(&file.home);
        if !shelf.is_some_and(|shelf| shelf.next_with(file, today())) {
            let home = file.home.clone();
            self.next(&home);
        }
    }

    fn next_all(&mut self) {
        let homes: Vec<Home> = self.shelves.keys().cloned().collect();
        for home in homes {
            self.next(&home);
        }
    }

    /// Lets go of shelves that hold no open file and belong to none of the editor's folders.
    fn tidy(&mut self) {
        let State {
            open,
            shelves,
            folders,
            ..
        } = self;
        shelves.retain(|home, _| {
            let holds_open = open.values().any(|file| file.home == *home);
            let in_folders = home.folder().is_some_and(|root| {
                folders
                    .iter()
                    .any(|(_, folder)| folder.starts_with(root) || root.starts_with(folder))
            });
            holds_open || in_folders
        });
    }
}

fn name_of(home: &Home, key: &Key) -> String {
    match (home.folder(), key.path()) {
        (Some(root), Some(path)) => name_below(root, &path),
        _ => key.as_str().to_owned(),
    }
}

fn with_path(uri: &Uri) -> Option<(Key, PathBuf)> {
    let key = Key::new(uri);
    let path = key.path()?;
    // A folder may be written with a slash at its end.
    let path: PathBuf = path.components().collect();
    Some((key, path))
}
