//! What requests work on: a document with its catalogue, or all catalogues.

use std::path::PathBuf;
use std::sync::Arc;

use tower_lsp::gen_lsp_types::Uri;

use super::super::moment::{Moment, View};
use super::super::uri::Key;
use super::{Session, locked};

impl Session {
    /// What a request about a document works on; none when the desk knows nothing of it, or not what it holds now.
    pub(in super::super) fn view(&self, uri: &Uri) -> Option<View> {
        match self.is_lost(&Key::new(uri)) {
            true => None,
            false => self.any_view(uri),
        }
    }

    /// The same even where the text is not what the editor holds.
    pub(in super::super) fn any_view(&self, uri: &Uri) -> Option<View> {
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
    pub(in super::super) fn moments(&self) -> Vec<Arc<Moment>> {
        let state = locked(&self.state);
        let shelves = state.shelves.values().rev();
        shelves.map(|shelf| Arc::clone(&shelf.moment)).collect()
    }

    /// The folder of the catalogue that a document is read with.
    pub(in super::super) fn root_of(&self, uri: &Uri) -> Option<PathBuf> {
        let key = Key::new(uri);
        let state = locked(&self.state);
        if let Some(file) = state.open.get(&key) {
            return file.home.folder().map(PathBuf::from);
        }
        let holds = state
            .shelves
            .iter()
            .rev()
            .find(|(_, shelf)| shelf.moment.papers.iter().any(|paper| paper.key == key));
        holds.and_then(|(home, _)| home.folder().map(PathBuf::from))
    }

    /// The version of an open document.
    pub(in super::super) fn version_of(&self, uri: &Uri) -> Option<i32> {
        locked(&self.state).open.get(&Key::new(uri))?.paper.version
    }

    /// All open files.
    pub(in super::super) fn open_views(&self) -> Vec<View> {
        let uris: Vec<Uri> = locked(&self.state)
            .open
            .values()
            .map(|file| file.paper.uri.clone())
            .collect();
        uris.iter().filter_map(|uri| self.view(uri)).collect()
    }

    /// All catalogues with their folders, the innermost first.
    pub(in super::super) fn rooted_moments(&self) -> Vec<(Option<PathBuf>, Arc<Moment>)> {
        let state = locked(&self.state);
        let shelves = state.shelves.iter().rev();
        shelves
            .map(|(home, shelf)| (home.folder().map(PathBuf::from), Arc::clone(&shelf.moment)))
            .collect()
    }
}
