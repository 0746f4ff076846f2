//! Noticing that other programs change a catalogue's files.

use super::belongs::{Folder, below};
use super::gather::list_from;
use super::{Belongs, DiskProblem, HANDBOOK, Rules, Trouble, belongs, list};
use notify::event::{AccessKind, AccessMode};
use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant, SystemTime};

/// How long nothing has to happen before changes are told. Programs write in several steps.
const QUIET: Duration = Duration::from_millis(200);
/// Changes are told after this long even if they never stop.
const PATIENCE: Duration = Duration::from_secs(2);

/// What has changed since the last time, each path once, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changes {
    /// Files of the catalogue that are new or were written. One that is now too big is here too; reading it says so.
    pub changed: Vec<PathBuf>,
    /// Files that are gone or no longer belong to the catalogue.
    pub removed: Vec<PathBuf>,
    /// Whether an ignore file or an inner handbook has come, gone or changed. Then files may belong elsewhere than
    /// before without having been touched, open ones and new catalogues among them.
    pub which: bool,
}

/// A watch on a catalogue's folder. It ends when this is dropped.
#[derive(Debug)]
pub struct Watch {
    over: Arc<AtomicBool>,
    /// Dropping it closes the channel, which ends the thread that listens.
    _watcher: RecommendedWatcher,
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.over.store(true, Ordering::Relaxed);
    }
}

/// Watches the catalogue in `root` and calls `tell`, on a thread of its own, when files that belong to it
/// change. New folders are looked through; when an ignore file or an inner handbook comes, goes or
/// changes, all is looked through again, so files may come or go without having been touched. Ignore
/// files above `root`, and what a link leads to outside it, are not watched.
///
/// # Errors
/// [`Trouble::CannotWatch`] when the system refuses, usually because there are too many folders.
pub fn watch(
    root: &Path,
    rules: Rules,
    tell: impl FnMut(Changes) + Send + 'static,
) -> Result<Watch, DiskProblem> {
    let refused =
        |why: String| DiskProblem::new(root, Trouble::CannotWatch(why.trim_end_matches('.').into()));
    let (send, receive) = channel();
    let mut watcher = notify::recommended_watcher(move |event| {
        // The listener is gone only when the watch is over.
        let _ = send.send(event);
    })
    .map_err(|error| refused(error.to_string()))?;
    watcher
        .watch(root, RecursiveMode::Recursive)
        .map_err(|error| refused(error.to_string()))?;

    let over = Arc::new(AtomicBool::new(false));
    let mut known = Known::new(root, rules, Arc::clone(&over));
    let mut tell = tell;
    std::thread::Builder::new()
        .name("levare watch".into())
        .spawn(move || {
            while let Some(events) = next(&receive) {
                let changes = known.take(&events);
                if known.over.load(Ordering::Relaxed) {
                    break;
                }
                if changes != Changes::default() {
                    tell(changes);
                }
            }
        })
        .map_err(|error| refused(error.to_string()))?;
    Ok(Watch {
        over,
        _watcher: watcher,
    })
}

/// Waits for something to happen and then for quiet; nothing when the watch is over.
fn next(receive: &Receiver<notify::Result<Event>>) -> Option<Vec<notify::Result<Event>>> {
    let mut events = Vec::new();
    while events.is_empty() {
        events.extend(Some(receive.recv().ok()?).filter(matters));
    }
    let first = Instant::now();
    while first.elapsed() < PATIENCE {
        match receive.recv_timeout(QUIET) {
            Ok(event) => events.extend(Some(event).filter(matters)),
            Err(RecvTimeoutError::Timeout) => break,
            Err(RecvTimeoutError::Disconnected) => return None,
        }
    }
    Some(events)
}

/// Whether the event can be a change. Reading is none, and our own reading must not wake us.
fn matters(event: &notify::Result<Event>) -> bool {
    match event {
        Ok(event) => match event.kind {
            EventKind::Access(AccessKind::Close(AccessMode::Write)) => true,
            EventKind::Access(_) => event.need_rescan(),
            _ => true,
        },
        Err(_) => true,
    }
}

/// When a file was last written, and its size.
type Stamp = (Option<SystemTime>, u64);

struct Known {
    root: PathBuf,
    /// The folder with links followed: some systems name changed files that way.
    real_root: PathBuf,
    rules: Rules,
    files: BTreeMap<PathBuf, Option<Stamp>>,
    over: Arc<AtomicBool>,
}

impl Known {
    fn new(root: &Path, rules: Rules, over: Arc<AtomicBool>) -> Self {
        let root = super::root::settled(root);
        let mut known = Known {
            real_root: fs::canonicalize(&root).unwrap_or_else(|_| root.clone()),
            root,
            rules,
            files: BTreeMap::new(),
            over,
        };
        known.files = known.look();
        known
    }

    fn look(&self) -> BTreeMap<PathBuf, Option<Stamp>> {
        let listed = list(&self.root, &self.rules, &self.over);
        let big = listed.problems.into_iter().filter_map(|problem| {
            let is_there = matches!(problem.trouble, Trouble::TooBig { .. } | Trouble::LeadsOut);
            is_there.then_some(problem.path)
        });
        listed
            .files
            .into_iter()
            .chain(big)
            .map(|path| {
                let stamp = stamp(&path);
                (path, stamp)
            })
            .collect()
    }

    /// Turns what the system told into what it means for the catalogue.
    fn take(&mut self, events: &[notify::Result<Event>]) -> Changes {
        let mut paths = BTreeSet::new();
        let mut all_again = false;
        for event in events {
            match event {
                Ok(event) => {
                    all_again |= event.need_rescan();
                    paths.extend(event.paths.iter().map(|path| self.named(path)));
                }
                Err(_) => all_again = true,
            }
        }
        let which = paths.iter().any(|path| self.turns_all(path));
        all_again |= which;
        let mut changed = BTreeSet::new();
        let mut removed = BTreeSet::new();
        for path in &paths {
            self.one(path, &mut changed, &mut removed);
        }
        if all_again {
            let now = self.look();
            if self.over.load(Ordering::Relaxed) {
                return Changes::default();
            }
            let new = now
                .iter()
                .filter(|(path, stamp)| self.files.get(*path) != Some(*stamp));
            changed.extend(new.map(|(path, _)| path.clone()));
            removed.extend(self.files.keys().filter(|path| !now.contains_key(*path)).cloned());
            self.files = now;
        }
        changed.retain(|path| self.files.contains_key(path));
        removed.retain(|path| !self.files.contains_key(path));
        Changes {
            changed: changed.into_iter().collect(),
            removed: removed.into_iter().collect(),
            which,
        }
    }

    /// The path as a path under the root that was asked for.
    fn named(&self, path: &Path) -> PathBuf {
        match path.strip_prefix(&self.real_root) {
            Ok(inner) if !path.starts_with(&self.root) => self.root.join(inner),
            _ => path.to_path_buf(),
        }
    }

    /// Whether a change of this file can change which others belong.
    fn turns_all(&self, path: &Path) -> bool {
        let Some(name) = path.file_name() else {
            return false;
        };
        let handbook = name.eq_ignore_ascii_case(HANDBOOK) && path.parent() != Some(&self.root);
        handbook || name == ".gitignore" || name == ".ignore"
    }

    fn one(&mut self, path: &Path, changed: &mut BTreeSet<PathBuf>, removed: &mut BTreeSet<PathBuf>) {
        if path.is_dir() && !path.is_symlink() {
            for file in self.in_folder(path) {
                if !self.files.contains_key(&file) {
                    self.files.insert(file.clone(), stamp(&file));
                    changed.insert(file);
                }
            }
            return;
        }
        let there = path.symlink_metadata().is_ok();
        let verdict = belongs(&self.root, path, &self.rules);
        if there && matches!(verdict, Belongs::Yes | Belongs::TooBig { .. } | Belongs::LeadsOut) {
            self.files.insert(path.to_path_buf(), stamp(path));
            changed.insert(path.to_path_buf());
            return;
        }
        // It is gone, or no longer belongs; if it was a folder, so is all that was in it.
        let gone: Vec<PathBuf> = self
            .files
            .range(path.to_path_buf()..)
            .map(|(file, _)| file)
            .take_while(|file| file.starts_with(path))
            .cloned()
            .collect();
        for file in gone {
            self.files.remove(&file);
            removed.insert(file);
        }
    }

    /// The files of the catalogue in one of its folders and below.
    fn in_folder(&self, path: &Path) -> Vec<PathBuf> {
        let Some(inner) = below(&self.root, path) else {
            return Vec::new();
        };
        let start = Ok(Folder::root(&self.root));
        let folder = inner
            .iter()
            .fold(start, |folder: Result<Arc<Folder>, Belongs>, name| {
                folder?.enter(name)
            });
        match folder {
            Ok(folder) => list_from(&self.root, folder, &self.rules, &self.over).files,
            Err(_) => Vec::new(),
        }
    }
}

fn stamp(path: &Path) -> Option<Stamp> {
    let about = fs::metadata(path).ok()?;
    Some((about.modified().ok(), about.len()))
}

#[cfg(test)]
mod tests;
