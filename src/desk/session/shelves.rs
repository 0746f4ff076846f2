//! The catalogues of the session: read from the disk, kept up with it, and looked after.

use std::path::PathBuf;
use std::sync::Arc;

use tower_lsp::gen_lsp_types::MessageType;

use crate::disk::{self, DiskProblem, Trouble};

use super::super::home::{Home, name_below};
use super::super::progress::Reading;
use super::super::shelf::{self, Loaded, Shelf};
use super::super::uri::Key;
use super::super::watching;
use super::{Session, apart, locked, today};

impl Session {
    /// Finds every open file's home anew and reads all shelves from the disk again.
    pub(in super::super) async fn settle(self: &Arc<Self>) {
        let _turn = self.turn.lock().await;
        let (folders, keys, shelves) = {
            let state = locked(&self.state);
            let folders: Vec<PathBuf> = state.folders.iter().map(|(_, path)| path.clone()).collect();
            let keys: Vec<Key> = state.open.keys().cloned().collect();
            let shelves: Vec<Home> = state.shelves.keys().cloned().collect();
            (folders, keys, shelves)
        };
        let reading = Reading::begin(self);
        let session = Arc::clone(self);
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
            wanted.extend(shelves.into_iter().filter(|home| is_still(home, &folders)));
            let loaded = load(&session, wanted, &folders, &reading);
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
            // What is no catalogue any more, as its handbook is gone, has been read with another. A panic on the way
            // leaves nothing that was read, and all as it was.
            if !loaded.is_empty() {
                state
                    .shelves
                    .retain(|home, _| loaded.iter().any(|(loaded, _)| loaded == home));
            }
            for (home, loaded) in loaded {
                self.tell(&loaded.problems);
                self.note(&loaded);
                match state.shelves.get_mut(&home) {
                    Some(shelf) => shelf.reload(&home, loaded),
                    None => {
                        state
                            .shelves
                            .insert(home.clone(), Shelf::new(&home, loaded, today()));
                    }
                }
            }
            state.tidy();
            state.next_all();
        }
        self.bump();
        self.refresh();
    }

    /// Makes sure that there is a shelf. The turn must be held.
    pub(super) async fn need(self: &Arc<Self>, home: &Home) {
        if locked(&self.state).shelves.contains_key(home) {
            return;
        }
        let wanted = vec![home.clone()];
        let (folders, there) = {
            let state = locked(&self.state);
            let folders: Vec<PathBuf> = state.folders.iter().map(|(_, path)| path.clone()).collect();
            let there: Vec<Home> = state.shelves.keys().cloned().collect();
            (folders, there)
        };
        let reading = Reading::begin(self);
        let session = Arc::clone(self);
        let loaded = apart(move || load(&session, wanted, &folders, &reading)).await;
        let mut state = locked(&self.state);
        // A panic while it was read leaves the file a catalogue of its own.
        if !loaded.iter().any(|(loaded, _)| loaded == home) {
            let alone = Shelf::new(home, Loaded::default(), today());
            state.shelves.insert(home.clone(), alone);
        }
        for (home, loaded) in loaded.into_iter().filter(|(home, _)| !there.contains(home)) {
            self.tell(&loaded.problems);
            self.note(&loaded);
            let shelf = Shelf::new(&home, loaded, today());
            state.shelves.insert(home.clone(), shelf);
            state.next(&home);
        }
    }

    /// Takes in what other programs did to files.
    pub(in super::super) async fn on_disk(self: &Arc<Self>, paths: Vec<PathBuf>) {
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
                    read.push((home.clone(), name, path.clone(), shelf::read(root, path.clone())));
                }
            }
            read
        })
        .await;
        {
            let mut state = locked(&self.state);
            let mut touched: Vec<Home> = Vec::new();
            for (home, name, path, read) in read {
                self.tell(read.1.as_slice());
                if let Some(shelf) = state.shelves.get_mut(&home) {
                    shelf.put(&name, &path, read);
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
    pub(super) fn tell(&self, problems: &[DiskProblem]) {
        let mut told = locked(&self.told);
        let mut fresh: Vec<String> = Vec::new();
        for problem in problems {
            let text = problem.to_string();
            if !told.insert(text.clone()) {
                continue;
            }
            if matches!(problem.trouble, Trouble::IgnoreLine { .. }) {
                self.log(text);
                continue;
            }
            fresh.push(text);
        }
        // One message, however many files: nobody clicks three hundred of them away.
        let text = match fresh.as_slice() {
            [] => return,
            [one] => one.clone(),
            [first, rest @ ..] => {
                for text in &fresh {
                    self.log(text.clone());
                }
                let more = match rest.len() {
                    1 => "One more file could not be read either".to_owned(),
                    more => format!("{more} more files could not be read either"),
                };
                format!("{first} {more}; all are named in the log.")
            }
        };
        let is_a_part = problems.iter().any(DiskProblem::leaves_out_cards);
        let text = match is_a_part {
            true => format!("{text} Until then nothing is corrected on saving."),
            false => text,
        };
        let wire = self.wire.clone();
        self.runtime
            .spawn(async move { wire.show_message(MessageType::Warning, text).await });
    }

    /// Tells what is said of a reading beside the trouble with single files.
    fn note(&self, loaded: &Loaded) {
        if let Some(text) = loaded
            .amiss
            .clone()
            .filter(|text| locked(&self.told).insert(text.clone()))
        {
            let wire = self.wire.clone();
            self.runtime
                .spawn(async move { wire.show_message(MessageType::Warning, text).await });
        }
        if loaded.stopped {
            let wire = self.wire.clone();
            let text = "Reading the catalog was stopped. Nothing is said about its cards until they are all read: \
                        save the handbook, or open the folder again.";
            self.runtime
                .spawn(async move { wire.show_message(MessageType::Info, text).await });
        }
    }
}

/// Whether a folder is still read as a catalogue when none of its files is open: it has its own handbook, or the
/// editor has it as a folder.
fn is_still(home: &Home, folders: &[PathBuf]) -> bool {
    home.folder().is_some_and(|root| {
        let is_root = disk::catalogue_root(root).is_some_and(|found| found == *root);
        is_root || folders.iter().any(|folder| folder == root)
    })
}

/// Reads catalogues, and those that lie inside them as far as the editor shows their folders.
///
/// A folder that the client does not watch is watched before it is read, so that nothing is missed that changes while
/// it is.
fn load(
    session: &Arc<Session>,
    mut wanted: Vec<Home>,
    folders: &[PathBuf],
    reading: &Reading,
) -> Vec<(Home, Loaded)> {
    let watched: Option<Vec<Home>> = {
        let state = locked(&session.state);
        let shelves = state.shelves.iter();
        let watched = shelves.filter(|(_, shelf)| shelf.watch.is_some());
        (!state.can.watches).then(|| watched.map(|(home, _)| home.clone()).collect())
    };
    let mut loaded: Vec<(Home, Loaded)> = Vec::new();
    while let Some(home) = wanted.pop() {
        if loaded.iter().any(|(known, _)| *known == home) {
            continue;
        }
        let begins = watched.as_ref().is_some_and(|watched| !watched.contains(&home));
        let watch = home
            .folder()
            .filter(|_| begins)
            .map(|root| watching::watch(session, root));
        let mut found = home
            .folder()
            .map(|folder| Loaded::from(folder, reading))
            .unwrap_or_default();
        match watch {
            Some(Ok(watch)) => found.watch = Some(watch),
            Some(Err(problem)) => found.problems.push(problem),
            None => {}
        }
        let is_shown = |inner: &PathBuf| {
            let mut folders = folders.iter();
            folders.any(|folder| inner.starts_with(folder) || folder.starts_with(inner))
        };
        wanted.extend(
            found
                .inner
                .iter()
                .filter(|inner| is_shown(inner))
                .cloned()
                .map(Home::Folder),
        );
        loaded.push((home, found));
    }
    loaded
}
