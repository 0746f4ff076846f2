//! The open files: opened, changed, saved and closed.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Instant;

use tower_lsp::gen_lsp_types::{TextDocumentContentChangeEvent, TextDocumentItem, Uri};

use crate::catalogue::CardFile;
use crate::notation;
use crate::text::Sheet;

use super::super::from_protocol::position;
use super::super::home::Home;
use super::super::moment::{Paper, WAIT};
use super::super::shelf;
use super::super::uri::Key;
use super::{OpenFile, Session, State, apart, locked, name_of};

impl Session {
    pub(in super::super) async fn open(self: &Arc<Self>, document: TextDocumentItem) {
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
        // Until its text is taken in whole, nothing is known of it, even when a panic comes between.
        state.lost.insert(key.clone());
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
        state.lost.remove(&key);
        let old = state.open.insert(key, file);
        if let Some(old) = old.filter(|old| old.home != home) {
            state.next(&old.home);
        }
        state.next(&home);
        drop(state);
        self.bump();
    }

    /// Applies changes in the order they are given, each to the text that the one before left.
    pub(in super::super) fn change(
        self: &Arc<Self>,
        uri: &Uri,
        version: i32,
        changes: Vec<TextDocumentContentChangeEvent>,
    ) {
        let key = Key::new(uri);
        let mut state = locked(&self.state);
        let encoding = state.can.encoding;
        let State { open, lost, .. } = &mut *state;
        let Some(file) = open.get_mut(&key) else {
            lost.insert(key);
            self.log(format!(
                "{uri} was changed but never opened; the change was passed over."
            ));
            return;
        };
        if file.paper.version.is_some_and(|known| version < known) {
            drop(state);
            self.log(format!(
                "{uri} went back to version {version}; the change was passed over."
            ));
            self.lose(Some(uri));
            return;
        }
        // A text that is out of step is taken up again with the next whole one.
        let is_whole = |change: &TextDocumentContentChangeEvent| {
            matches!(
                change,
                TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(_)
            )
        };
        if lost.contains(&key) && !changes.iter().any(is_whole) {
            return;
        }
        // Until all changes are made, it is out of step, even when a panic comes between.
        lost.insert(key.clone());
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
        state.lost.remove(&key);
        state.next_after(&key);
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
    pub(in super::super) fn saved(&self, uri: &Uri) {
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

    pub(in super::super) async fn close(self: &Arc<Self>, uri: &Uri) {
        let _turn = self.turn.lock().await;
        let key = Key::new(uri);
        if locked(&self.state).lost.remove(&key) {
            self.bump();
            self.refresh();
        }
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
            (Some(root), Some(path)) => apart(move || Some((path.clone(), shelf::read(&root, path)))).await,
            _ => None,
        };
        {
            let mut state = locked(&self.state);
            state.open.remove(&key);
            if let (Some((path, read)), Some(shelf)) = (read, state.shelves.get_mut(&home)) {
                self.tell(read.1.as_slice());
                shelf.put(&name, &path, read);
            }
            state.tidy();
            state.next(&home);
        }
        locked(&self.said).remove(&key);
        locked(&self.colored).remove(&key);
        self.bump();
        self.refresh();
    }
}

impl OpenFile {
    /// Moves the file to another catalogue.
    pub(super) fn rehome(&mut self, home: Home) {
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
