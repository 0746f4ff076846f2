//! What the desk knows while it runs: the editor's folders, the open files, and a shelf for each catalogue.
//!
//! Everything that changes it goes through here. What waits for the disk takes the `turn`, so that two such
//! changes never mix; the state itself is locked only for as long as it takes to swap something in it.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Instant;

use jiff::civil::Date;
use tokio::runtime::Handle;
use tokio::sync::watch;
use tower_lsp::Client as Wire;
use tower_lsp::gen_lsp_types::{MessageType, TextDocumentContentChangeEvent, TextDocumentItem, Uri};

use crate::catalogue::CardFile;
use crate::disk::{self, DiskProblem, Trouble};
use crate::notation;
use crate::text::Sheet;

use super::capabilities::Client;
use super::from_protocol::position;
use super::home::{Home, name_below};
use super::moment::{Moment, Paper, View, WAIT};
use super::shelf::{self, Loaded, Shelf};
use super::uri::Key;

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

    /// Finds every open file's home anew and reads all shelves from the disk again.
    pub(super) async fn settle(self: &Arc<Self>) {
        let _turn = self.turn.lock().await;
        let (folders, keys, shelves) = {
            let state = locked(&self.state);
            let folders: Vec<PathBuf> = state.folders.iter().map(|(_, path)| path.clone()).collect();
            let keys: Vec<Key> = state.open.keys().cloned().collect();
            let shelves: Vec<Home> = state.shelves.keys().cloned().collect();
            (folders, keys, shelves)
        };
        let (homes, loaded) = apart(move || {
            let homes: Vec<(Key, Home)> = keys
                .into_iter()
                .map(|key| {
                    let home = Home::of(&key, &folders);
                    (key, home)
                })
                .collect();
            let of_folders = folders
                .iter()
                .filter_map(|folder| disk::catalogue_root(folder))
                .map(Home::Folder);
            let mut wanted: Vec<Home> = homes.iter().map(|(_, home)| home.clone()).collect();
            wanted.extend(of_folders);
            wanted.extend(shelves);
            wanted.sort();
            wanted.dedup();
            let loaded: Vec<(Home, Loaded)> = wanted
                .into_iter()
                .map(|home| {
                    let loaded = home.folder().map(Loaded::from).unwrap_or_default();
                    (home, loaded)
                })
                .collect();
            (homes, loaded)
        })
        .await;
        {
            let mut state = locked(&self.state);
            for (key, home) in homes {
                if let Some(file) = state.open.get_mut(&key) {
                    file.rehome(home);
                }
            }
            for (home, loaded) in loaded {
                self.tell(&loaded.problems);
                match state.shelves.get_mut(&home) {
                    Some(shelf) => shelf.reload(loaded),
                    None => {
                        state
                            .shelves
                            .insert(home.clone(), Shelf::new(&home, loaded, today()));
                    }
                }
            }
            state.tidy();
            state.next_all();
            self.watch(&mut state);
        }
        self.bump();
        self.refresh();
    }

    /// Watches the folders of all shelves, when the client does not.
    fn watch(self: &Arc<Self>, state: &mut State) {
        if state.can.watches {
            return;
        }
        for (home, shelf) in &mut state.shelves {
            if let (Some(root), None) = (home.folder(), &shelf.watch) {
                match super::watching::watch(self, root) {
                    Ok(watch) => shelf.watch = Some(watch),
                    Err(problem) => self.tell(&[problem]),
                }
            }
        }
    }

    /// Makes sure that there is a shelf. The turn must be held.
    async fn need(self: &Arc<Self>, home: &Home) {
        if locked(&self.state).shelves.contains_key(home) {
            return;
        }
        let wanted = home.clone();
        let loaded = apart(move || wanted.folder().map(Loaded::from).unwrap_or_default()).await;
        self.tell(&loaded.problems);
        let mut state = locked(&self.state);
        state
            .shelves
            .insert(home.clone(), Shelf::new(home, loaded, today()));
        self.watch(&mut state);
    }

    pub(super) async fn open(self: &Arc<Self>, document: TextDocumentItem) {
        let _turn = self.turn.lock().await;
        let key = Key::new(&document.uri);
        let folders: Vec<PathBuf> = {
            let state = locked(&self.state);
            state.folders.iter().map(|(_, path)| path.clone()).collect()
        };
        let asked = key.clone();
        let home = tokio::task::spawn_blocking(move || Home::of(&asked, &folders))
            .await
            .unwrap_or_else(|_| Home::Alone(key.clone()));
        self.need(&home).await;

        let name = name_of(&home, &key);
        let sheet = Sheet::new(&document.text, notation::split);
        let mut state = locked(&self.state);
        if state.open.contains_key(&key) {
            self.log(format!(
                "{} was opened twice; the later text is used.",
                document.uri
            ));
        }
        let before = state.open.get(&key).map(|file| Arc::clone(&file.paper.cards));
        let cards = Arc::new(CardFile::from_sheet(&name, &sheet, before.as_deref()));
        let paper = Paper::open(key.clone(), document.uri, document.version, sheet, cards, None);
        let file = OpenFile {
            home: home.clone(),
            name,
            paper: Arc::new(paper),
        };
        let old = state.open.insert(key, file);
        if let Some(old) = old.filter(|old| old.home != home) {
            state.next(&old.home);
        }
        state.next(&home);
        drop(state);
        self.bump();
    }

    /// Applies changes in the order they are given, each to the text that the one before left.
    pub(super) fn change(
        self: &Arc<Self>,
        uri: &Uri,
        version: i32,
        changes: Vec<TextDocumentContentChangeEvent>,
    ) {
        let key = Key::new(uri);
        let mut state = locked(&self.state);
        let encoding = state.can.encoding;
        let Some(file) = state.open.get_mut(&key) else {
            self.log(format!(
                "{uri} was changed but never opened; the change was passed over."
            ));
            return;
        };
        if file.paper.version.is_some_and(|known| version < known) {
            self.log(format!(
                "{uri} went back to version {version}; the change was passed over."
            ));
            return;
        }
        let mut sheet = file.paper.sheet().clone();
        let mut end = None;
        for change in changes {
            match change {
                TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                    let from = sheet.offset(position(part.range.start), encoding);
                    sheet.replace_between(
                        position(part.range.start),
                        position(part.range.end),
                        encoding,
                        &part.text,
                    );
                    let length = u32::try_from(part.text.len()).unwrap_or(u32::MAX);
                    end = Some(from.saturating_add(length));
                }
                TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                    sheet = Sheet::new(&whole.text, notation::split);
                    end = None;
                }
            }
        }
        let now = Instant::now();
        let cards = CardFile::from_sheet(&file.name, &sheet, Some(&file.paper.cards));
        file.paper = Arc::new(Paper::open(
            key.clone(),
            file.paper.uri.clone(),
            version,
            sheet,
            Arc::new(cards),
            end.map(|end| (end, now)),
        ));
        let home = file.home.clone();
        state.next(&home);
        drop(state);
        self.bump();
        if end.is_some() {
            self.wake(key, now);
        }
    }

    /// After a second, says what waited at the end of this edit, if it still is the last one.
    fn wake(self: &Arc<Self>, key: Key, edited: Instant) {
        let session = Arc::clone(self);
        self.runtime.spawn(async move {
            tokio::time::sleep(WAIT).await;
            let still = locked(&session.state)
                .open
                .get(&key)
                .is_some_and(|file| file.paper.fresh.is_some_and(|(_, at)| at == edited));
            if still {
                session.bump();
                session.refresh();
            }
        });
    }

    /// A saved file has nothing half written.
    pub(super) fn saved(&self, uri: &Uri) {
        let key = Key::new(uri);
        let mut state = locked(&self.state);
        let Some(file) = state.open.get_mut(&key) else {
            return;
        };
        if file.paper.fresh.is_some() {
            let paper = &file.paper;
            file.paper = Arc::new(Paper::open(
                key,
                paper.uri.clone(),
                paper.version.unwrap_or_default(),
                paper.sheet().clone(),
                Arc::clone(&paper.cards),
                None,
            ));
            let home = file.home.clone();
            state.next(&home);
        }
        drop(state);
        self.bump();
        self.refresh();
    }

    pub(super) async fn close(self: &Arc<Self>, uri: &Uri) {
        let _turn = self.turn.lock().await;
        let key = Key::new(uri);
        let Some((home, name)) = locked(&self.state)
            .open
            .get(&key)
            .map(|file| (file.home.clone(), file.name.clone()))
        else {
            self.log(format!("{uri} was closed but never opened."));
            return;
        };
        // From here on the disk says what the file holds.
        let root = home.folder().map(PathBuf::from);
        let read = match (root, key.path()) {
            (Some(root), Some(path)) => apart(move || Some(shelf::read(&root, path))).await,
            _ => None,
        };
        {
            let mut state = locked(&self.state);
            state.open.remove(&key);
            if let (Some((paper, problem)), Some(shelf)) = (read, state.shelves.get_mut(&home)) {
                shelf.put(&name, paper);
                self.tell(problem.as_slice());
            }
            state.tidy();
            state.next(&home);
        }
        locked(&self.said).remove(&key);
        self.bump();
        self.refresh();
    }

    /// Takes in what other programs did to files.
    pub(super) async fn on_disk(self: &Arc<Self>, paths: Vec<PathBuf>) {
        let ordinary = |path: &PathBuf| {
            let is_handbook = path
                .file_name()
                .is_some_and(|name| name.eq_ignore_ascii_case(disk::HANDBOOK));
            path.extension()
                .is_some_and(|end| end.eq_ignore_ascii_case("levare"))
                && !is_handbook
        };
        // A handbook or an ignore file decides about other files, and a folder holds them.
        if !paths.iter().all(ordinary) {
            self.settle().await;
            return;
        }
        let _turn = self.turn.lock().await;
        let roots: Vec<(Home, PathBuf)> = {
            let state = locked(&self.state);
            let folders = state.shelves.keys().filter_map(|home| {
                let root = home.folder()?.to_path_buf();
                Some((home.clone(), root))
            });
            folders.collect()
        };
        let read = apart(move || {
            let mut read = Vec::new();
            for path in paths {
                for (home, root) in roots.iter().filter(|(_, root)| path.starts_with(root)) {
                    let name = name_below(root, &path);
                    read.push((home.clone(), name, shelf::read(root, path.clone())));
                }
            }
            read
        })
        .await;
        {
            let mut state = locked(&self.state);
            let mut touched: Vec<Home> = Vec::new();
            for (home, name, (paper, problem)) in read {
                self.tell(problem.as_slice());
                if let Some(shelf) = state.shelves.get_mut(&home) {
                    shelf.put(&name, paper);
                    touched.push(home);
                }
            }
            touched.sort();
            touched.dedup();
            for home in touched {
                state.next(&home);
            }
        }
        self.bump();
        self.refresh();
    }

    /// Tells the user, once, of files that could not be used.
    fn tell(&self, problems: &[DiskProblem]) {
        let mut told = locked(&self.told);
        for problem in problems {
            let text = problem.to_string();
            if !told.insert(text.clone()) {
                continue;
            }
            if matches!(problem.trouble, Trouble::IgnoreLine { .. }) {
                self.log(text);
                continue;
            }
            let wire = self.wire.clone();
            self.runtime
                .spawn(async move { wire.show_message(MessageType::Warning, text).await });
        }
    }

    /// What a request about a document works on; none when the desk knows nothing of it.
    pub(super) fn view(&self, uri: &Uri) -> Option<View> {
        let key = Key::new(uri);
        let state = locked(&self.state);
        if let Some(file) = state.open.get(&key) {
            let moment = Arc::clone(&state.shelves.get(&file.home)?.moment);
            let number = moment
                .papers
                .binary_search_by(|paper| (*paper.cards.path).cmp(file.name.as_str()))
                .ok()?;
            let paper = Arc::clone(moment.papers.get(number)?);
            return Some(View {
                moment,
                file: number,
                paper,
            });
        }
        // The longest folder first: it is the nearest to the file.
        state.shelves.values().rev().find_map(|shelf| {
            let number = shelf.moment.papers.iter().position(|paper| paper.key == key)?;
            let paper = Arc::clone(shelf.moment.papers.get(number)?);
            Some(View {
                moment: Arc::clone(&shelf.moment),
                file: number,
                paper,
            })
        })
    }

    /// All catalogues, the innermost folders first.
    pub(super) fn moments(&self) -> Vec<Arc<Moment>> {
        let state = locked(&self.state);
        let shelves = state.shelves.values().rev();
        shelves.map(|shelf| Arc::clone(&shelf.moment)).collect()
    }

    /// Digests of what was last said of a file.
    pub(super) fn said_of(&self, key: &Key) -> HashSet<u64> {
        locked(&self.said).get(key).cloned().unwrap_or_default()
    }

    pub(super) fn has_said(&self, key: &Key, sayings: HashSet<u64>) {
        locked(&self.said).insert(key.clone(), sayings);
    }
}

impl OpenFile {
    /// Moves the file to another catalogue.
    fn rehome(&mut self, home: Home) {
        if self.home == home {
            return;
        }
        let paper = &self.paper;
        self.name = name_of(&home, &paper.key);
        self.home = home;
        let cards = CardFile::from_sheet(&self.name, paper.sheet(), Some(&paper.cards));
        self.paper = Arc::new(Paper::open(
            paper.key.clone(),
            paper.uri.clone(),
            paper.version.unwrap_or_default(),
            paper.sheet().clone(),
            Arc::new(cards),
            paper.fresh,
        ));
    }
}

impl State {
    fn next(&mut self, home: &Home) {
        let State { open, shelves, .. } = self;
        if let Some(shelf) = shelves.get_mut(home) {
            shelf.next(open.values().filter(|file| file.home == *home), today());
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
