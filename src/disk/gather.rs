//! Walking a catalogue's folder.

use super::belongs::Folder;
use super::{Belongs, DiskProblem, FileRead, Rules, Trouble, read_file};
use std::ffi::{OsStr, OsString};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What walking a catalogue's folder found and read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Gathered {
    /// The files that could be read, in the order of their paths.
    pub files: Vec<FileRead>,
    /// What could not be used, and the limits that were met.
    pub problems: Vec<DiskProblem>,
    /// Folders below that have a handbook of their own, and so are other catalogues.
    pub inner: Vec<PathBuf>,
    /// Whether the walk was stopped by the cancel flag; what is here is then only a part.
    pub cancelled: bool,
}

/// What walking a catalogue's folder found, unread.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listed {
    /// The files that belong to the catalogue, in the order of their paths.
    pub files: Vec<PathBuf>,
    /// What could not be used, and the limits that were met.
    pub problems: Vec<DiskProblem>,
    /// Folders below that have a handbook of their own, and so are other catalogues.
    pub inner: Vec<PathBuf>,
    /// Whether the walk was stopped by the cancel flag; what is here is then only a part.
    pub cancelled: bool,
}

/// How far a gathering is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Files and folders of all sorts looked at.
    pub looked_at: usize,
    /// Catalogue files found.
    pub found: usize,
    /// Catalogue files read, with or without success. Reading begins when all are found.
    pub read: usize,
}

/// Finds and reads every file that belongs to the catalogue in `root`, by the same steps as
/// [`belongs`](super::belongs). `progress` is called after each folder and each file; `cancel` is looked
/// at as often.
pub fn gather(
    root: &Path,
    rules: &Rules,
    progress: &mut dyn FnMut(Progress),
    cancel: &AtomicBool,
) -> Gathered {
    let mut walk = Walk::new(root, rules);
    walk.run(vec![Folder::root(root)], progress, cancel);
    let Walk { listed, mut done, .. } = walk;
    let mut gathered = Gathered {
        files: Vec::with_capacity(listed.files.len()),
        problems: listed.problems,
        inner: listed.inner,
        cancelled: listed.cancelled,
    };
    for path in &listed.files {
        if cancel.load(Ordering::Relaxed) {
            gathered.cancelled = true;
            break;
        }
        match read_file(path, rules) {
            Ok(file) => gathered.files.push(file),
            Err(problem) => gathered.problems.push(problem),
        }
        done.read += 1;
        progress(done);
    }
    gathered
}

/// Finds every file that belongs to the catalogue in `root` without reading any. Paths come out absolute.
pub fn list(root: &Path, rules: &Rules, cancel: &AtomicBool) -> Listed {
    list_from(root, Folder::root(root), rules, cancel)
}

/// The same for one folder of the catalogue and all below it.
pub(super) fn list_from(root: &Path, folder: Arc<Folder>, rules: &Rules, cancel: &AtomicBool) -> Listed {
    let mut walk = Walk::new(root, rules);
    walk.run(vec![folder], &mut |_| {}, cancel);
    walk.listed
}

struct Walk<'r> {
    root: &'r Path,
    rules: &'r Rules,
    listed: Listed,
    done: Progress,
}

impl<'r> Walk<'r> {
    fn new(root: &'r Path, rules: &'r Rules) -> Self {
        Walk {
            root,
            rules,
            listed: Listed::default(),
            done: Progress::default(),
        }
    }

    fn run(&mut self, mut open: Vec<Arc<Folder>>, progress: &mut dyn FnMut(Progress), cancel: &AtomicBool) {
        while let Some(folder) = open.pop() {
            if cancel.load(Ordering::Relaxed) {
                self.listed.cancelled = true;
                break;
            }
            if let Err(limit) = self.folder(&folder, &mut open) {
                self.listed.problems.push(DiskProblem::new(self.root, limit));
                break;
            }
            self.done.found = self.listed.files.len();
            progress(self.done);
        }
        self.listed.files.sort();
    }

    /// Looks through one folder; its inner folders are left in `open`. The error is the limit that was met.
    fn folder(&mut self, folder: &Arc<Folder>, open: &mut Vec<Arc<Folder>>) -> Result<(), Trouble> {
        self.listed.problems.extend(folder.problems.iter().cloned());
        let entries = match fs::read_dir(&folder.path) {
            Ok(entries) => entries,
            Err(error) => {
                self.listed.problems.push(DiskProblem::read(&folder.path, &error));
                return Ok(());
            }
        };
        let mut names: Vec<(OsString, bool)> = Vec::new();
        for entry in entries {
            self.done.looked_at += 1;
            if self.done.looked_at > self.rules.most_looked_at {
                return Err(Trouble::TooMuchToLookAt(self.rules.most_looked_at));
            }
            match entry {
                Ok(entry) => {
                    let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
                    names.push((entry.file_name(), is_folder));
                }
                Err(error) => {
                    let problem = DiskProblem::read(&folder.path, &error);
                    self.listed.problems.push(problem);
                }
            }
        }
        // In the order of names, so that a limit always leaves out the same files.
        names.sort();
        for (name, _) in names.iter().filter(|(_, is_folder)| !is_folder) {
            self.file(folder, name)?;
        }
        // The last one pushed is taken first.
        for (name, _) in names.iter().rev().filter(|(_, is_folder)| *is_folder) {
            match folder.enter(name) {
                Ok(inside) => open.push(inside),
                Err(Belongs::OtherCatalogue) => self.listed.inner.push(folder.path.join(name)),
                Err(_) => {}
            }
        }
        Ok(())
    }

    fn file(&mut self, folder: &Folder, name: &OsStr) -> Result<(), Trouble> {
        let path = folder.path.join(name);
        match folder.file(name, self.rules) {
            Belongs::Yes if self.listed.files.len() >= self.rules.most_files => {
                return Err(Trouble::TooManyFiles(self.rules.most_files));
            }
            Belongs::Yes => self.listed.files.push(path),
            left_out => self.listed.problems.extend(left_out.problem(&path, self.rules)),
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
