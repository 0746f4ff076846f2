//! Tests of `disk::watch`.

use super::*;
use crate::disk::write_atomically;
use std::sync::mpsc::Receiver;
use tempfile::TempDir;

/// A watched catalogue, and what was told so far.
struct Shelf {
    place: TempDir,
    told: Receiver<Changes>,
    _watch: Watch,
}

impl Shelf {
    fn new(files: &[&str]) -> Self {
        let place = tempfile::tempdir().expect("a folder to test in");
        for name in files {
            let path = place.path().join(name);
            fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
            fs::write(path, "").expect("a file");
        }
        let (send, told) = channel();
        let tell = move |changes| {
            let _ = send.send(changes);
        };
        let watch = watch(place.path(), Rules::default(), tell).expect("a watch");
        Shelf {
            place,
            told,
            _watch: watch,
        }
    }

    fn at(&self, name: &str) -> PathBuf {
        self.place.path().join(name)
    }

    /// Waits until exactly these files have been told as changed and as removed, in however many tellings.
    /// What the system never tells makes this fail after a long wait.
    fn expect(&self, changed: &[&str], removed: &[&str]) {
        let set = |names: &[&str]| names.iter().map(|name| self.at(name)).collect::<BTreeSet<_>>();
        let (changed, removed) = (set(changed), set(removed));
        let mut seen = (BTreeSet::new(), BTreeSet::new());
        while (&seen.0, &seen.1) != (&changed, &removed) {
            let told = self.told.recv_timeout(Duration::from_secs(20));
            let told =
                told.unwrap_or_else(|_| panic!("only {seen:?} was told, not {changed:?} and {removed:?}"));
            seen.0.extend(told.changed);
            seen.1.extend(told.removed);
            assert!(
                seen.0.is_subset(&changed) && seen.1.is_subset(&removed),
                "{seen:?}"
            );
        }
    }
}

#[test]
fn files_come_change_and_go() {
    let shelf = Shelf::new(&["handbook.levare", "fall.levare"]);
    fs::write(shelf.at("notes.txt"), "not ours").expect("written");
    fs::write(shelf.at("fall.levare"), "new").expect("written");
    shelf.expect(&["fall.levare"], &[]);
    write_atomically(&shelf.at("spring.levare"), b"x").expect("written");
    shelf.expect(&["spring.levare"], &[]);
    fs::rename(shelf.at("spring.levare"), shelf.at("summer.levare")).expect("renamed");
    shelf.expect(&["summer.levare"], &["spring.levare"]);
    fs::remove_file(shelf.at("fall.levare")).expect("removed");
    shelf.expect(&[], &["fall.levare"]);
}

#[test]
fn folders_come_and_go() {
    let shelf = Shelf::new(&["handbook.levare"]);
    fs::create_dir_all(shelf.at("a/b")).expect("folders");
    fs::write(shelf.at("a/b/x.levare"), "").expect("written");
    fs::write(shelf.at("a/y.levare"), "").expect("written");
    shelf.expect(&["a/b/x.levare", "a/y.levare"], &[]);
    // A file in the new folder is noticed as well.
    fs::write(shelf.at("a/b/x.levare"), "more").expect("written");
    shelf.expect(&["a/b/x.levare"], &[]);
    fs::rename(shelf.at("a"), shelf.at("c")).expect("renamed");
    shelf.expect(&["c/b/x.levare", "c/y.levare"], &["a/b/x.levare", "a/y.levare"]);
    fs::remove_dir_all(shelf.at("c")).expect("removed");
    shelf.expect(&[], &["c/b/x.levare", "c/y.levare"]);
}

#[test]
fn ignore_files_and_inner_handbooks_change_what_belongs() {
    let shelf = Shelf::new(&["handbook.levare", "a/x.levare", "a/y.levare", "b/z.levare"]);
    fs::write(shelf.at(".gitignore"), "x.levare\n").expect("written");
    shelf.expect(&[], &["a/x.levare"]);
    fs::write(shelf.at(".gitignore"), "y.levare\n").expect("written");
    shelf.expect(&["a/x.levare"], &["a/y.levare"]);
    fs::remove_file(shelf.at(".gitignore")).expect("removed");
    shelf.expect(&["a/y.levare"], &[]);
    fs::write(shelf.at("b/handbook.levare"), "").expect("written");
    shelf.expect(&[], &["b/z.levare"]);
    fs::remove_file(shelf.at("b/handbook.levare")).expect("removed");
    shelf.expect(&["b/z.levare"], &[]);
}

#[test]
fn a_watch_that_was_dropped_says_nothing() {
    let Shelf { place, told, _watch } = Shelf::new(&["handbook.levare"]);
    drop(_watch);
    fs::write(place.path().join("x.levare"), "").expect("written");
    // The thread ends and lets go of its end, without having told anything.
    assert_eq!(
        told.recv_timeout(Duration::from_secs(20)),
        Err(RecvTimeoutError::Disconnected)
    );
}

#[test]
fn a_folder_that_is_not_there_cannot_be_watched() {
    let place = tempfile::tempdir().expect("a folder to test in");
    let found = watch(&place.path().join("gone"), Rules::default(), |_| {});
    assert!(matches!(
        found.map_err(|p| p.trouble),
        Err(Trouble::CannotWatch(_))
    ));
}
