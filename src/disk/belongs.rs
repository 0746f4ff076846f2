//! The one decision which files belong to a catalogue.

use super::root::{holds_handbook, real, settled};
use super::{DiskProblem, HANDBOOK, Trouble};
use ignore::Match;
use ignore::gitignore::{Gitignore, GitignoreBuilder};
use std::ffi::OsStr;
use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// The limits of a catalogue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rules {
    /// The most bytes a file may have: 64 MiB unless said otherwise, which is some eighty thousand cards.
    pub largest: u64,
    /// The most files that are read: 10,000 unless said otherwise.
    pub most_files: usize,
    /// The most files and folders of all sorts that are looked at: 200,000 unless said otherwise. It ends
    /// the walk when a handbook lies in a home folder.
    pub most_looked_at: usize,
}

/// A file is read whole, so there is an end to how large it may be, whatever a handbook asks for: 64 MiB.
const LARGEST: u64 = 1 << 26;

impl Default for Rules {
    fn default() -> Self {
        Rules {
            largest: LARGEST,
            most_files: 10_000,
            most_looked_at: 200_000,
        }
    }
}

impl Rules {
    /// The limits of the catalogue in a folder: the usual ones, but the largest file is what its handbook
    /// says. `largest` reads that, in bytes, out of the handbook's text; a handbook that is itself too large
    /// says nothing.
    pub fn of(root: &Path, largest: impl Fn(&str) -> Option<u64>) -> Rules {
        let usual = Rules::default();
        let handbook = super::read_file(&root.join(HANDBOOK), &usual).ok();
        let said = handbook.and_then(|file| largest(&file.text));
        Rules {
            largest: said.map_or(usual.largest, |bytes| bytes.clamp(1 << 10, LARGEST)),
            ..usual
        }
    }
}

/// Whether a file belongs to a catalogue, and if not, why.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Belongs {
    /// It does.
    Yes,
    /// A `.gitignore` or `.ignore` file leaves it out.
    Ignored,
    /// Its name, or that of a folder it is in, starts with a dot.
    Hidden,
    /// It would, but has more bytes than [`Rules::largest`].
    TooBig {
        /// Its size in bytes.
        bytes: u64,
    },
    /// Its name does not end in `.levare`, or it is no ordinary file.
    NotLevare,
    /// It is in a folder below that has a handbook of its own.
    OtherCatalogue,
    /// It is reached through a link to a folder, or is a link to a file inside the catalogue, which is
    /// read under its own name.
    Linked,
    /// It is a link to a file outside the catalogue's folder, which is neither read nor written.
    LeadsOut,
    /// It is not in the catalogue's folder.
    Outside,
}

impl Belongs {
    /// Why the file is not read, as a sentence; nothing when it is.
    pub const fn why_not(self) -> Option<&'static str> {
        Some(match self {
            Belongs::Yes => return None,
            Belongs::Ignored => "A .gitignore or .ignore file leaves it out.",
            Belongs::Hidden => "Its name, or its folder's, starts with a dot, so it is hidden.",
            Belongs::TooBig { .. } => "It is too big for a catalog's file.",
            Belongs::NotLevare => "Only files whose names end in .levare are read.",
            Belongs::OtherCatalogue => {
                "It belongs to another catalog: a folder on the way to it has a handbook of its own."
            }
            Belongs::Linked => "It is only a link; what it leads to is read in its own place.",
            Belongs::LeadsOut => "It is a link to a file outside the catalog's folder.",
            Belongs::Outside => "It is not in the catalog's folder.",
        })
    }
}

/// Decides whether the file at `path` belongs to the catalogue in the folder `root`. The file need not
/// exist: a new one belongs if its name and place say so.
pub fn belongs(root: &Path, path: &Path, rules: &Rules) -> Belongs {
    let Some(inner) = below(root, path) else {
        return Belongs::Outside;
    };
    let mut folder = Folder::root(root);
    let mut names = inner.iter().peekable();
    while let Some(name) = names.next() {
        if names.peek().is_none() {
            return folder.file(name, rules);
        }
        folder = match folder.enter(name) {
            Ok(inside) => inside,
            Err(not) => return not,
        };
    }
    Belongs::NotLevare
}

/// The way from `root` to `path`, if `path` is in it. Where the names alone do not say, links are followed.
pub(super) fn below(root: &Path, path: &Path) -> Option<PathBuf> {
    let plain = |inner: &Path| {
        inner
            .components()
            .all(|part| matches!(part, Component::Normal(_)))
            .then(|| inner.to_path_buf())
    };
    if let Some(inner) = path.strip_prefix(root).ok().and_then(plain) {
        return Some(inner);
    }
    let (root, path) = (settled(root), settled(path));
    if let Some(inner) = path.strip_prefix(&root).ok().and_then(plain) {
        return Some(inner);
    }
    let (root, path) = (fs::canonicalize(&root).ok()?, real(&path)?);
    path.strip_prefix(&root).ok().and_then(plain)
}

/// A folder of a catalogue, with what the ignore files in it and above it say.
#[derive(Debug)]
pub(super) struct Folder {
    pub(super) path: PathBuf,
    /// The catalogue's own folder with every link followed, when it exists.
    real_root: Option<Arc<Path>>,
    ignore: Option<Gitignore>,
    above: Option<Arc<Folder>>,
    /// What could not be used in this folder's ignore files.
    pub(super) problems: Vec<DiskProblem>,
}

impl Folder {
    /// The catalogue's own folder. The ignore files above it count too, up to the folder that is under version control.
    pub(super) fn root(root: &Path) -> Arc<Folder> {
        let path = settled(root);
        let real_root: Option<Arc<Path>> = fs::canonicalize(&path).ok().map(Arc::from);
        let top = path.ancestors().position(|folder| folder.join(".git").exists());
        let outer: Vec<&Path> = path.ancestors().take(top.map_or(0, |top| top + 1)).collect();
        let above = outer.iter().skip(1).rev().fold(None, |above, folder| {
            Some(Arc::new(Folder::at(folder, above, real_root.clone())))
        });
        Arc::new(Folder::at(&path, above, real_root))
    }

    fn at(path: &Path, above: Option<Arc<Folder>>, real_root: Option<Arc<Path>>) -> Folder {
        let mut builder = GitignoreBuilder::new(path);
        let mut problems = Vec::new();
        let mut any = false;
        // Lines of `.ignore` come after those of `.gitignore`, and the last one that fits decides.
        for name in [".gitignore", ".ignore"] {
            let file = path.join(name);
            if file.is_file() {
                if matches!(leads(real_root.as_deref(), &file), Leads::Out) {
                    problems.push(DiskProblem::new(&file, Trouble::LeadsOut));
                    continue;
                }
                any = true;
                if let Some(error) = builder.add(&file) {
                    ignore_problems(&file, &error, None, &mut problems);
                }
            }
        }
        let ignore = if any { builder.build().ok() } else { None };
        Folder {
            path: path.to_path_buf(),
            real_root,
            ignore,
            above,
            problems,
        }
    }

    /// The folder `name` in this one, or why nothing in it belongs to the catalogue.
    pub(super) fn enter(self: &Arc<Self>, name: &OsStr) -> Result<Arc<Folder>, Belongs> {
        if hidden(name) {
            return Err(Belongs::Hidden);
        }
        let path = self.path.join(name);
        if self.ignores(&path, true) {
            return Err(Belongs::Ignored);
        }
        if path.is_symlink() {
            return Err(Belongs::Linked);
        }
        if holds_handbook(&path) {
            return Err(Belongs::OtherCatalogue);
        }
        let above = Some(Arc::clone(self));
        Ok(Arc::new(Folder::at(&path, above, self.real_root.clone())))
    }

    /// Whether the file `name` in this folder belongs to the catalogue.
    pub(super) fn file(&self, name: &OsStr, rules: &Rules) -> Belongs {
        if !levare(name) {
            return Belongs::NotLevare;
        }
        if hidden(name) {
            return Belongs::Hidden;
        }
        let path = self.path.join(name);
        // The handbook makes the folder a catalogue, so no ignore file can take it away.
        if !name.eq_ignore_ascii_case(HANDBOOK) && self.ignores(&path, false) {
            return Belongs::Ignored;
        }
        match leads(self.real_root.as_deref(), &path) {
            Leads::Inside => return Belongs::Linked,
            Leads::Out => return Belongs::LeadsOut,
            // What leads nowhere is told when it is read.
            Leads::Nowhere | Leads::IsNoLink => {}
        }
        match fs::metadata(&path) {
            Ok(about) if !about.is_file() => Belongs::NotLevare,
            Ok(about) if about.len() > rules.largest => Belongs::TooBig { bytes: about.len() },
            _ => Belongs::Yes,
        }
    }

    /// The innermost ignore file that says anything decides.
    fn ignores(&self, path: &Path, is_folder: bool) -> bool {
        let mut folder = Some(self);
        while let Some(here) = folder {
            match here.ignore.as_ref().map(|i| i.matched(path, is_folder)) {
                Some(Match::Ignore(_)) => return true,
                Some(Match::Whitelist(_)) => return false,
                Some(Match::None) | None => folder = here.above.as_deref(),
            }
        }
        false
    }
}

impl Belongs {
    /// What is to be told of a file that is left out although it is named like one of the catalogue's.
    pub fn problem(self, path: &Path, rules: &Rules) -> Option<DiskProblem> {
        let trouble = match self {
            Belongs::TooBig { bytes } => Trouble::TooBig {
                bytes,
                limit: rules.largest,
            },
            Belongs::LeadsOut => Trouble::LeadsOut,
            _ => return None,
        };
        Some(DiskProblem::new(path, trouble))
    }
}

/// Makes sure that a file of the catalogue in `root` is no link to somewhere else.
///
/// # Errors
/// [`Trouble::LeadsOut`] when it is.
pub fn stays_inside(root: &Path, path: &Path) -> Result<(), DiskProblem> {
    let real_root = fs::canonicalize(root).ok();
    match leads(real_root.as_deref(), path) {
        Leads::Out => Err(DiskProblem::new(path, Trouble::LeadsOut)),
        Leads::Inside | Leads::Nowhere | Leads::IsNoLink => Ok(()),
    }
}

/// Whether a file that is there lies in the folder, with every link followed.
pub fn lies_in(folder: &Path, path: &Path) -> bool {
    match (fs::canonicalize(folder), fs::canonicalize(path)) {
        (Ok(folder), Ok(path)) => path.starts_with(folder),
        _ => false,
    }
}

enum Leads {
    IsNoLink,
    Inside,
    Out,
    Nowhere,
}

/// Where a link leads, seen from the catalogue's own folder with every link followed.
fn leads(real_root: Option<&Path>, path: &Path) -> Leads {
    let Ok(next) = fs::read_link(path) else {
        return Leads::IsNoLink;
    };
    let folder = path.parent().unwrap_or(path);
    // What is not there yet would be made where the link says.
    let (target, is_there) = match fs::canonicalize(path) {
        Ok(target) => (Some(target), true),
        Err(_) => (real(&settled(&folder.join(next))), false),
    };
    match (target, real_root) {
        (Some(target), Some(root)) if !target.starts_with(root) => Leads::Out,
        (Some(_), Some(_)) if is_there => Leads::Inside,
        _ => Leads::Nowhere,
    }
}

/// Takes apart what the reader of ignore files says: it wraps paths and line numbers around each trouble.
fn ignore_problems(file: &Path, error: &ignore::Error, line: Option<u64>, problems: &mut Vec<DiskProblem>) {
    use ignore::Error;
    let trouble = match error {
        Error::Partial(all) => {
            for error in all {
                ignore_problems(file, error, line, problems);
            }
            return;
        }
        Error::WithLineNumber { line, err } => {
            return ignore_problems(file, err, Some(*line), problems);
        }
        Error::WithPath { err, .. } | Error::WithDepth { err, .. } => {
            return ignore_problems(file, err, line, problems);
        }
        Error::Io(error) => return problems.push(DiskProblem::read(file, error)),
        Error::Glob { glob, .. } => Trouble::IgnoreLine {
            line,
            text: glob.clone(),
        },
        _ => Trouble::IgnoreLine { line, text: None },
    };
    problems.push(DiskProblem::new(file, trouble));
}

/// Whether the name ends in `.levare`, in capitals or not.
pub(super) fn levare(name: &OsStr) -> bool {
    Path::new(name)
        .extension()
        .is_some_and(|end| end.eq_ignore_ascii_case("levare"))
}

fn hidden(name: &OsStr) -> bool {
    name.as_encoded_bytes().first() == Some(&b'.')
}

#[cfg(test)]
mod tests;
