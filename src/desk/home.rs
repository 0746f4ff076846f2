//! Which catalogue a file is read with.

use std::path::{Path, PathBuf};

use crate::disk::{Belongs, Rules, belongs, catalogue_root};

use super::uri::Key;

/// The catalogue that a file is read with.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Home {
    /// The catalogue in a folder.
    Folder(PathBuf),
    /// The file is a catalogue of its own: it has never been saved, or lies in no catalogue.
    Alone(Key),
    /// The same for a file that its folder leaves out, about which nothing is said unasked.
    LeftOut(Key),
}

impl Home {
    /// The home of a file: the nearest folder above it with a handbook; else the innermost of the
    /// editor's `folders` that holds it; else the file alone. Looks at the disk.
    pub(super) fn of(key: &Key, folders: &[PathBuf]) -> Home {
        let Some(path) = key.path() else {
            return Home::Alone(key.clone());
        };
        let root = match catalogue_root(&path) {
            Some(root) => root,
            None => match innermost(&path, folders) {
                Some(folder) if !is_all(folder) => folder.to_path_buf(),
                _ => return Home::Alone(key.clone()),
            },
        };
        match belongs(&root, &path, &Rules::of(&root, crate::catalogue::largest_file)) {
            Belongs::Yes => Home::Folder(root),
            Belongs::NotLevare | Belongs::Outside => Home::Alone(key.clone()),
            _ => Home::LeftOut(key.clone()),
        }
    }

    /// The folder, if it is one.
    pub(super) fn folder(&self) -> Option<&Path> {
        match self {
            Home::Folder(folder) => Some(folder),
            _ => None,
        }
    }
}

/// Whether a folder is a whole drive or somebody's home: without a handbook that is no catalogue, and looking
/// through it would take minutes.
fn is_all(folder: &Path) -> bool {
    folder.parent().is_none() || std::env::home_dir().is_some_and(|home| home == folder)
}

/// The longest of the folders that hold the path.
fn innermost<'f>(path: &Path, folders: &'f [PathBuf]) -> Option<&'f Path> {
    folders
        .iter()
        .map(PathBuf::as_path)
        .filter(|folder| path.starts_with(folder))
        .max_by_key(|folder| folder.components().count())
}

/// What a file is called below its catalogue's folder, with `/` between folders.
pub(super) fn name_below(root: &Path, path: &Path) -> String {
    let inner = path.strip_prefix(root).unwrap_or(path);
    inner
        .components()
        .map(|part| part.as_os_str().to_string_lossy())
        .collect::<Vec<_>>()
        .join("/")
}
