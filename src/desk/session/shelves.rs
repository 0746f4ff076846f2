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
use super::{Session, State, apart, locked, today};

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
                    let loaded = home
                        .folder()
                        .map(|folder| Loaded::from(folder, &reading))
                        .unwrap_or_default();
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
                match watching::watch(self, root) {
                    Ok(watch) => shelf.watch = Some(watch),
                    Err(problem) => self.tell(&[problem]),
                }
            }
        }
    }

    /// Makes sure that there is a shelf. The turn must be held.
    pub(super) async fn need(self: &Arc<Self>, home: &Home) {
        if locked(&self.state).shelves.contains_key(home) {
            return;
        }
        let wanted = home.clone();
        let reading = Reading::begin(self);
        let loaded = apart(move || {
            let loaded = wanted.folder().map(|folder| Loaded::from(folder, &reading));
            loaded.unwrap_or_default()
        })
        .await;
        self.tell(&loaded.problems);
        self.note(&loaded);
        let mut state = locked(&self.state);
        state
            .shelves
            .insert(home.clone(), Shelf::new(home, loaded, today()));
        self.watch(&mut state);
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
            true => format!("{text} Until then nothing is fixed on saving."),
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
            let text = "Reading the catalogue was stopped. Nothing is said about its cards until they are all read: \
                        save the handbook, or open the folder again.";
            self.runtime
                .spawn(async move { wire.show_message(MessageType::Info, text).await });
        }
    }
}
