//! Tests of `disk::write`.

use super::*;
use tempfile::TempDir;

fn place() -> TempDir {
    tempfile::tempdir().expect("a folder to test in")
}

fn left_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .flatten()
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn new_and_old_files_are_written() {
    let place = place();
    let path = place.path().join("fall.levare");
    write_atomically(&path, b"one").expect("written");
    write_atomically(&path, b"two, longer").expect("written");
    write_atomically(&path, b"3").expect("written");
    assert_eq!(fs::read(&path).expect("there"), b"3");
    assert_eq!(left_in(place.path()), ["fall.levare"]);
}

#[test]
fn only_what_is_unchanged_is_written_over() {
    let place = place();
    let path = place.path().join("fall.levare");
    fs::write(&path, "theirs").expect("a file");
    let changed = Err(DiskProblem::new(&path, Trouble::ChangedMeanwhile));
    assert_eq!(write_if_unchanged(&path, b"ours", b"new"), changed);
    assert_eq!(fs::read(&path).expect("there"), b"theirs");
    assert_eq!(write_if_unchanged(&path, b"theirs", b"new"), Ok(()));
    assert_eq!(fs::read(&path).expect("there"), b"new");
    fs::remove_file(&path).expect("removed");
    assert_eq!(write_if_unchanged(&path, b"new", b"again"), changed);
    assert!(left_in(place.path()).is_empty());
}

#[test]
fn what_cannot_be_written_is_left_alone() {
    let place = place();
    let path = place.path().join("fall.levare");
    fs::write(&path, "kept").expect("a file");
    let mut locked = fs::metadata(&path).expect("there").permissions();
    locked.set_readonly(true);
    fs::set_permissions(&path, locked).expect("locked");
    fs::create_dir(place.path().join("folder")).expect("a folder");
    let table = [
        ("fall.levare", "you are not allowed to"),
        ("folder", "it is a folder"),
        ("none/x.levare", "it is not there"),
        ("fall.levare/x.levare", "what should be its folder is a file"),
    ];
    for (name, why) in table {
        let found = write_atomically(&place.path().join(name), b"new").map_err(|p| p.trouble);
        assert_eq!(found, Err(Trouble::CannotWrite(why.into())), "{name}");
    }
    assert_eq!(fs::read(&path).expect("there"), b"kept");
    assert_eq!(left_in(place.path()), ["fall.levare", "folder"]);
    make_folder(&place.path().join("a/b")).expect("made");
    make_folder(&place.path().join("a/b")).expect("made already");
    write_atomically(&place.path().join("a/b/x.levare"), b"new").expect("written");
}

#[cfg(unix)]
#[test]
fn permissions_and_links_are_kept() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let place = place();
    let path = place.path().join("real/fall.levare");
    make_folder(&place.path().join("real")).expect("a folder");
    fs::write(&path, "one").expect("a file");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("set");
    let links = [
        ("first", "second"),
        ("second", "real/fall.levare"),
        ("ring", "ring"),
        ("new", "real/new.levare"),
    ];
    for (name, target) in links {
        symlink(target, place.path().join(name)).expect("a link");
    }
    write_atomically(&place.path().join("first"), b"two").expect("written");
    assert_eq!(fs::read(&path).expect("there"), b"two");
    assert_eq!(
        fs::metadata(&path).expect("there").permissions().mode() & 0o777,
        0o640
    );
    write_atomically(&place.path().join("new"), b"new").expect("written");
    assert_eq!(
        fs::read(place.path().join("real/new.levare")).expect("there"),
        b"new"
    );
    for (name, _) in links {
        assert!(place.path().join(name).is_symlink(), "{name} is still a link");
    }
    assert!(write_atomically(&place.path().join("ring"), b"x").is_err());
    // A new file gets the permissions that any program's new file gets here.
    let (ours, theirs) = (place.path().join("ours"), place.path().join("theirs"));
    write_atomically(&ours, b"").expect("written");
    fs::write(&theirs, b"").expect("written");
    let mode = |path: &Path| fs::metadata(path).map(|about| about.permissions().mode()).ok();
    assert_eq!(mode(&ours), mode(&theirs));
}
