//! A shelf at one moment: what a request works on while the session goes on changing.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};
use std::time::Instant;

use jiff::civil::Date;
use tower_lsp::gen_lsp_types::Uri;

use crate::catalogue::known::Known;
use crate::catalogue::{CardFile, EntryId, Snapshot};
use crate::findings::Finding;
use crate::notation::{self, Kind};
use crate::text::Sheet;

use super::keeper::Keeper;
use super::uri::Key;

/// How long a finding at the end of the last edit waits.
pub(super) const WAIT: std::time::Duration = std::time::Duration::from_secs(1);

/// A file as a moment holds it.
#[derive(Debug)]
pub(super) struct Paper {
    /// The file's key.
    pub(super) key: Key,
    /// Its address as the client writes it.
    pub(super) uri: Uri,
    /// The version that the client gave it; none when it is not open.
    pub(super) version: Option<i32>,
    /// Its cards.
    pub(super) cards: Arc<CardFile>,
    /// Where the last edit ended, and when it was made, while that matters.
    pub(super) fresh: Option<(u32, Instant)>,
    sheet: OnceLock<Sheet>,
}

impl Paper {
    pub(super) fn open(
        key: Key,
        uri: Uri,
        version: i32,
        sheet: Sheet,
        cards: Arc<CardFile>,
        fresh: Option<(u32, Instant)>,
    ) -> Paper {
        Paper {
            key,
            uri,
            version: Some(version),
            cards,
            fresh,
            sheet: OnceLock::from(sheet),
        }
    }

    /// A file as it lies on the disk.
    pub(super) fn on_disk(path: &Path, cards: Arc<CardFile>) -> Option<Paper> {
        let uri = Uri::from_file_path(path).ok()?;
        Some(Paper {
            key: Key::new(&uri),
            uri,
            version: None,
            cards,
            fresh: None,
            sheet: OnceLock::new(),
        })
    }

    /// The file's text with its lines; made when it is first needed, as most files stay closed.
    pub(super) fn sheet(&self) -> &Sheet {
        self.sheet
            .get_or_init(|| Sheet::new(&self.cards.text(), notation::split))
    }

    /// Whether its findings rest on nothing but its own cards and the catalogue's context.
    pub(super) fn only_pieces(&self) -> bool {
        self.cards
            .entries
            .iter()
            .all(|entry| matches!(entry.kind, Some(Kind::Piece) | None))
    }
}

/// A shelf at one moment. Nothing in it changes.
#[derive(Debug)]
pub(super) struct Moment {
    /// The files in the order of their names, which is the snapshot's order.
    pub(super) papers: Vec<Arc<Paper>>,
    /// Whether cards are missing, because some files could not be read. Then nothing is mended unasked.
    pub(super) is_a_part: bool,
    /// Whether nothing is said about it unasked.
    pub(super) quiet: bool,
    /// The findings that were written down as known, which nobody is told of.
    pub(super) known: Arc<Known>,
    today: Date,
    snapshot: OnceLock<Arc<Snapshot>>,
    /// A snapshot from before, which the next one can be made from with less work.
    before: Option<Arc<Snapshot>>,
    keeper: Arc<Keeper>,
}

impl Moment {
    pub(super) fn new(quiet: bool, today: Date, known: Arc<Known>) -> Moment {
        Moment {
            papers: Vec::new(),
            is_a_part: false,
            quiet,
            known,
            today,
            snapshot: OnceLock::new(),
            before: None,
            keeper: Arc::default(),
        }
    }

    /// The moment after this one.
    pub(super) fn next(&self, papers: Vec<Arc<Paper>>, is_a_part: bool, today: Date) -> Moment {
        self.keeper.keep_only(&papers);
        Moment {
            papers,
            is_a_part,
            quiet: self.quiet,
            known: Arc::clone(&self.known),
            today,
            snapshot: OnceLock::new(),
            before: self.snapshot.get().or(self.before.as_ref()).map(Arc::clone),
            keeper: Arc::clone(&self.keeper),
        }
    }

    /// The same moment, with or without anything being said about it unasked, and with other known findings.
    pub(super) fn with(&self, quiet: bool, known: Arc<Known>) -> Moment {
        Moment {
            quiet,
            known,
            ..self.next(self.papers.clone(), self.is_a_part, self.today)
        }
    }

    /// The catalogue. It is put together when it is first asked for, so a burst of edits makes only one.
    pub(super) fn snapshot(&self) -> &Snapshot {
        self.snapshot.get_or_init(|| {
            let files = self.papers.iter().map(|paper| Arc::clone(&paper.cards)).collect();
            Arc::new(match &self.before {
                Some(before) => before.after(files, self.today),
                None => Snapshot::new(files, self.today),
            })
        })
    }

    /// The findings of a card. What did not change since they were last asked for is not looked at again.
    pub(super) fn findings(&self, id: EntryId) -> Arc<[Finding]> {
        self.keeper.findings(self, id)
    }

    /// Keeps a file's findings locked for a while, as a slow card does; for checks.
    pub(super) fn hold(&self, paper: &Paper, time: std::time::Duration) {
        self.keeper.hold(paper, time);
    }

    /// How many cards' findings are kept.
    pub(super) fn kept(&self) -> usize {
        self.keeper.len()
    }

    /// The file of a card.
    pub(super) fn paper_of(&self, id: EntryId) -> Option<&Arc<Paper>> {
        self.papers.get(id.file as usize)
    }
}

/// One file of a moment: what a request about a document works on.
#[derive(Debug, Clone)]
pub(super) struct View {
    /// The moment.
    pub(super) moment: Arc<Moment>,
    /// The file's number in it, which is also its number in the snapshot.
    pub(super) file: usize,
    /// The file.
    pub(super) paper: Arc<Paper>,
}

impl View {
    /// The cards of the file by their places in the snapshot.
    pub(super) fn ids(&self) -> impl Iterator<Item = EntryId> + '_ {
        let file = u32::try_from(self.file).unwrap_or(u32::MAX);
        (0..self.paper.cards.entries.len()).filter_map(move |entry| {
            Some(EntryId {
                file,
                entry: u32::try_from(entry).ok()?,
            })
        })
    }
}

/// Set when nobody waits for an answer any more.
#[derive(Debug, Clone, Default)]
pub(super) struct Stop(Arc<AtomicBool>);

impl Stop {
    pub(super) fn is_set(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// Sets its [`Stop`] when it is dropped, which a cancelled request is.
pub(super) struct Waiting(pub(super) Stop);

impl Drop for Waiting {
    fn drop(&mut self) {
        self.0.0.store(true, Ordering::Relaxed);
    }
}
