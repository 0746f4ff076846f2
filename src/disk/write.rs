//! Writing a file so that it is never half written.

use super::problem::reason;
use super::{DiskProblem, Trouble};
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::NamedTempFile;

/// Writes `bytes` to `path` whole or not at all: first beside it under a hidden name, then moved into
/// place. Permissions are kept; a link stays a link and what it leads to is written; a file that may not
/// be changed is left alone. The folder has to exist.
///
/// # Errors
/// When it could not be written; the file is then as it was.
pub fn write_atomically(path: &Path, bytes: &[u8]) -> Result<(), DiskProblem> {
    write(path, bytes, None)
}

/// Like [`write_atomically`], but only if the file still holds `expected`, byte order mark and all. Where the
/// system can swap two files, the old one is looked at once more after it has been taken away, and put back if
/// another program has written it in between; elsewhere the moment between the look and the move is left.
///
/// # Errors
/// [`Trouble::ChangedMeanwhile`] when it holds something else or is gone, and when it could not be written.
pub fn write_if_unchanged(path: &Path, expected: &[u8], bytes: &[u8]) -> Result<(), DiskProblem> {
    // No link is read as one of the catalogue's files, so it has come since.
    if path.is_symlink() {
        return Err(DiskProblem::new(path, Trouble::ChangedMeanwhile));
    }
    write(path, bytes, Some(expected))
}

/// Takes a file away, but only if it still holds `expected`, byte order mark and all.
///
/// # Errors
/// [`Trouble::ChangedMeanwhile`] when it holds something else or is gone, and when it could not be taken away.
pub fn remove_if_unchanged(path: &Path, expected: &[u8]) -> Result<(), DiskProblem> {
    if path.is_symlink() || !holds(path, expected) {
        return Err(DiskProblem::new(path, Trouble::ChangedMeanwhile));
    }
    fs::remove_file(path).map_err(|error| DiskProblem::write(path, &error))
}

/// Writes a program's text where none is yet, so that it can be started.
///
/// # Errors
/// When something is there already, or it could not be written.
pub fn write_program(path: &Path, text: &str) -> Result<(), DiskProblem> {
    if path.symlink_metadata().is_ok() {
        return Err(DiskProblem::new(path, Trouble::ChangedMeanwhile));
    }
    if let Some(folder) = path.parent() {
        make_folder(folder)?;
    }
    write_atomically(path, text.as_bytes())?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(path, fs::Permissions::from_mode(0o755))
            .map_err(|error| DiskProblem::write(path, &error))?;
    }
    Ok(())
}

/// Makes the folder and those it is in, where they are not there yet.
///
/// # Errors
/// When it could not be made.
pub fn make_folder(path: &Path) -> Result<(), DiskProblem> {
    fs::create_dir_all(path).map_err(|error| DiskProblem::write(path, &error))
}

fn write(path: &Path, bytes: &[u8], expected: Option<&[u8]>) -> Result<(), DiskProblem> {
    let attempt = || -> io::Result<bool> {
        let target = target(path)?;
        let folder = match target.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let old = match fs::metadata(&target) {
            Ok(about) if about.is_dir() => return Err(ErrorKind::IsADirectory.into()),
            Ok(about) if !about.is_file() => return Err(io::Error::other("it is no ordinary file")),
            Ok(about) if about.permissions().readonly() => {
                return Err(ErrorKind::PermissionDenied.into());
            }
            Ok(about) if has_other_names(&about) => {
                return Err(io::Error::other(
                    "the same file has a second name elsewhere, under which it would stay as it is",
                ));
            }
            Ok(about) => Some(about),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(error),
        };
        clear_left_behind(folder);
        let mut beside = beside(folder)?;
        beside.write_all(bytes)?;
        if let Some(old) = old {
            keep_owners(beside.as_file(), &old)?;
            beside.as_file().set_permissions(old.permissions())?;
        }
        beside.as_file().sync_all()?;
        if let Some(expected) = expected {
            if !holds(&target, expected) {
                return Ok(false);
            }
            if swap(beside.path(), &target) {
                // What was there is now beside it, and goes with `beside`.
                if !holds(beside.path(), expected) && swap(beside.path(), &target) {
                    return Ok(false);
                }
            } else {
                beside.persist(&target).map_err(|error| error.error)?;
            }
        } else {
            beside.persist(&target).map_err(|error| error.error)?;
        }
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

/// Whether a file holds exactly these bytes.
fn holds(path: &Path, expected: &[u8]) -> bool {
    fs::read(path).is_ok_and(|found| found == expected)
}

/// Lets two files change places in one step. False where the system cannot do that; both are then as they were.
#[cfg(any(target_os = "linux", target_os = "macos"))]
fn swap(one: &Path, other: &Path) -> bool {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).is_ok()
}

#[cfg(not(any(target_os = "linux", target_os = "macos")))]
fn swap(_one: &Path, _other: &Path) -> bool {
    false
}

/// Whether a file has other names (hard links), which a move into its place would leave with the old text.
#[cfg(unix)]
fn has_other_names(about: &fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    about.nlink() > 1
}

#[cfg(not(unix))]
fn has_other_names(_about: &fs::Metadata) -> bool {
    false
}

/// Gives the new file the group of the old one, so that whoever could read or change it still can; and its owner,
/// where the user may give files away.
#[cfg(unix)]
fn keep_owners(new: &File, old: &fs::Metadata) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt, fchown};
    let now = new.metadata()?;
    if now.uid() != old.uid() && fchown(new, Some(old.uid()), Some(old.gid())).is_ok() {
        return Ok(());
    }
    match now.gid() == old.gid() {
        true => Ok(()),
        false => fchown(new, None, Some(old.gid())),
    }
}

#[cfg(not(unix))]
fn keep_owners(_new: &File, _old: &fs::Metadata) -> io::Result<()> {
    Ok(())
}

/// What a file is called while it is being written; six letters follow.
const UNFINISHED: &str = ".levare-unfinished-";
/// After this long, what is unfinished is nobody's work any more.
const ABANDONED: Duration = Duration::from_secs(60 * 60);

/// Clears away what writes that were stopped midway have left in a folder. It is in nobody's way, so that failing
/// is no trouble.
fn clear_left_behind(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let is_ours = entry.file_name().to_string_lossy().starts_with(UNFINISHED)
            && entry.file_type().is_ok_and(|kind| kind.is_file());
        let age = || entry.metadata().ok()?.modified().ok()?.elapsed().ok();
        if is_ours && age().is_some_and(|age| age > ABANDONED) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// A new file in `folder`, hidden so that nothing takes it for a part of the catalogue, that others may
/// read as far as the user's settings let them.
fn beside(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
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
