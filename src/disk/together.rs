//! Putting several files into a folder together, so that a stop midway leaves little behind and a second
//! attempt finishes it.

use super::problem::reason;
use super::{DiskProblem, Trouble, make_folder, write_atomically};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// The hidden folder in which the files are made ready.
const READY: &str = ".levare-start";

/// Puts files, by their paths below the folder, into it, none over one that is there. All are written out
/// under a hidden name first. A folder that is not there yet then comes whole; into one that is there the
/// files are moved one after the other, in their order, so that a stop between two of them leaves whole
/// files, and doing the same again with those that are missing finishes it. What an attempt that was
/// stopped has left under the hidden name is cleared away.
///
/// # Errors
/// When something could not be written, or a file has come to be there meanwhile.
pub fn put_together(folder: &Path, files: &[(&str, &[u8])]) -> Result<(), DiskProblem> {
    clear_left_behind(folder)?;
    if files.is_empty() {
        return Ok(());
    }
    let is_new = folder.symlink_metadata().is_err();
    let ready = match is_new {
        true => beside(folder),
        false => folder.join(READY),
    };
    let failed = |path: &Path, error: &io::Error| DiskProblem::new(path, Trouble::CannotWrite(reason(error)));
    for (name, bytes) in files {
        let path = ready.join(name);
        make_folder(path.parent().unwrap_or(&ready))?;
        write_atomically(&path, bytes)?;
    }
    if is_new {
        return fs::rename(&ready, folder).map_err(|error| failed(folder, &error));
    }
    for (name, _) in files {
        let path = folder.join(name);
        make_folder(path.parent().unwrap_or(folder))?;
        move_to_free_place(&ready.join(name), &path).map_err(|error| failed(&path, &error))?;
    }
    clear_left_behind(folder)
}

/// Clears away what an attempt that was stopped has left.
fn clear_left_behind(folder: &Path) -> Result<(), DiskProblem> {
    for left in [beside(folder), folder.join(READY)] {
        // A link of that name is nothing that was left here.
        if left.symlink_metadata().is_ok_and(|about| about.is_dir()) {
            fs::remove_dir_all(&left).map_err(|error| DiskProblem::write(&left, &error))?;
        }
    }
    Ok(())
}

/// The hidden name beside a folder that is not there yet.
fn beside(folder: &Path) -> PathBuf {
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    folder.with_file_name(format!("{READY}-{name}"))
}

/// Moves a file to where none is. A second name for it never takes a place that is taken; where the disk
/// knows no second names, a look before the move has to do.
fn move_to_free_place(from: &Path, to: &Path) -> io::Result<()> {
    match fs::hard_link(from, to) {
        Ok(()) => fs::remove_file(from),
        Err(error) if error.kind() == ErrorKind::AlreadyExists => Err(error),
        Err(_) if to.symlink_metadata().is_ok() => Err(ErrorKind::AlreadyExists.into()),
        Err(_) => fs::rename(from, to),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("a folder")
            .map(|entry| {
                entry
                    .expect("an entry")
                    .file_name()
                    .to_string_lossy()
                    .into_owned()
            })
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_new_folder_comes_whole_and_nothing_is_left_beside_it() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = place.path().join("band");
        // As if an attempt had been stopped.
        fs::create_dir(place.path().join(".levare-start-band")).expect("made");
        fs::write(place.path().join(".levare-start-band/half"), "ha").expect("written");
        put_together(&folder, &[("a/b.levare", b"b"), ("c.levare", b"c")]).expect("put");
        assert_eq!(names(place.path()), ["band"]);
        assert_eq!(names(&folder), ["a", "c.levare"]);
        assert_eq!(fs::read(folder.join("a/b.levare")).expect("read"), b"b");
    }

    #[test]
    fn in_a_folder_that_is_there_nothing_is_written_over() {
        let place = tempfile::tempdir().expect("a folder");
        fs::create_dir(place.path().join(READY)).expect("made");
        fs::write(place.path().join(READY).join("half"), "ha").expect("written");
        fs::write(place.path().join("c.levare"), "mine").expect("written");
        put_together(place.path(), &[("a.levare", b"a")]).expect("put");
        assert_eq!(
            names(place.path()),
            ["a.levare", "c.levare"],
            "and what was left is cleared away"
        );
        assert!(put_together(place.path(), &[("b.levare", b"b"), ("c.levare", b"c")]).is_err());
        assert_eq!(fs::read(place.path().join("c.levare")).expect("read"), b"mine");
        assert_eq!(
            fs::read(place.path().join("b.levare")).expect("read"),
            b"b",
            "what came first is whole"
        );
        put_together(place.path(), &[]).expect("put");
        assert_eq!(names(place.path()), ["a.levare", "b.levare", "c.levare"]);
    }
}
