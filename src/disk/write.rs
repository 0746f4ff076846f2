//! Writing a file so that it is never half written.

use super::problem::reason;
use super::{DiskProblem, Trouble};
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Writes `bytes` to `path` whole or not at all: first beside it under a hidden name, then moved into
/// place. Permissions are kept; a link stays a link and what it leads to is written; a file that may not
/// be changed is left alone. The folder has to exist.
///
/// # Errors
/// When it could not be written; the file is then as it was.
pub fn write_atomically(path: &Path, bytes: &[u8]) -> Result<(), DiskProblem> {
    write(path, bytes, &|_| Ok(true))
}

/// Like [`write_atomically`], but only if the file still holds `expected`, byte order mark and all. A
/// program that writes in the moment between the look and the move is not noticed.
///
/// # Errors
/// [`Trouble::ChangedMeanwhile`] when it holds something else or is gone, and when it could not be written.
pub fn write_if_unchanged(path: &Path, expected: &[u8], bytes: &[u8]) -> Result<(), DiskProblem> {
    let unchanged = |target: &Path| match fs::read(target) {
        Ok(found) => Ok(found == expected),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    };
    write(path, bytes, &unchanged)
}

/// Makes the folder and those it is in, where they are not there yet.
///
/// # Errors
/// When it could not be made.
pub fn make_folder(path: &Path) -> Result<(), DiskProblem> {
    fs::create_dir_all(path).map_err(|error| DiskProblem::write(path, &error))
}

fn write(path: &Path, bytes: &[u8], may: &dyn Fn(&Path) -> io::Result<bool>) -> Result<(), DiskProblem> {
    let attempt = || -> io::Result<bool> {
        let target = target(path)?;
        let folder = match target.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let old = match fs::metadata(&target) {
            Ok(about) if about.is_dir() => return Err(ErrorKind::IsADirectory.into()),
            Ok(about) if about.permissions().readonly() => {
                return Err(ErrorKind::PermissionDenied.into());
            }
            Ok(about) => Some(about.permissions()),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(error),
        };
        let mut beside = beside(folder)?;
        beside.write_all(bytes)?;
        if let Some(permissions) = old {
            beside.as_file().set_permissions(permissions)?;
        }
        beside.as_file().sync_all()?;
        if !may(&target)? {
            return Ok(false);
        }
        beside.persist(&target).map_err(|error| error.error)?;
        // The move itself outlives a power cut only when the folder is written out too. Not every system
        // can do that, and the file is in place all the same.
        if let Ok(folder) = File::open(folder) {
            let _ = folder.sync_all();
        }
        Ok(true)
    };
    match attempt() {
        Ok(true) => Ok(()),
        Ok(false) => Err(DiskProblem::new(path, Trouble::ChangedMeanwhile)),
        Err(error) => Err(DiskProblem::new(path, Trouble::CannotWrite(reason(&error)))),
    }
}

/// A new file in `folder`, hidden so that nothing takes it for a part of the catalogue, that others may
/// read as far as the user's settings let them.
fn beside(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".levare-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
        builder.tempfile_in(folder)
    }
    #[cfg(not(unix))]
    builder.tempfile_in(folder)
}

/// Follows links, to a file that need not exist. Forty in a row are taken for a ring, as Linux does.
fn target(path: &Path) -> io::Result<PathBuf> {
    let mut at = path.to_path_buf();
    for _ in 0..40 {
        match fs::read_link(&at) {
            Ok(next) => at = at.parent().map_or(next.clone(), |folder| folder.join(&next)),
            Err(_) => return Ok(at),
        }
    }
    Err(io::Error::other("it is a link that leads back to itself"))
}

#[cfg(test)]
mod tests;
