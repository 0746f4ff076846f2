//! Tests of `disk::belongs`.

use super::*;
use crate::disk::{gather, list};
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::sync::atomic::AtomicBool;
use tempfile::TempDir;

/// Makes a folder with these files in it. A name that ends in `/` is a folder.
fn shelf(files: &[(&str, &str)]) -> TempDir {
    let place = tempfile::tempdir().expect("a folder to test in");
    for (name, text) in files {
        let path = place.path().join(name);
        if name.ends_with('/') {
            fs::create_dir_all(&path).expect("a folder");
            continue;
        }
        fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        fs::write(&path, text).expect("a file");
    }
    place
}

fn small() -> Rules {
    Rules {
        largest: 40,
        ..Rules::default()
    }
}

#[test]
fn which_files_belong() {
    let place = shelf(&[
        (".git/", ""),
        (".gitignore", "drafts/\n*.old.levare\n/band/attic.levare\n"),
        ("band/handbook.levare", ""),
        ("band/.gitignore", "private/\n!kept.old.levare\nhandbook.levare\n"),
        ("band/.ignore", "!private/\nlocal*.levare\n"),
        ("band/fall.levare", ""),
        ("band/FALL.LEVARE", ""),
        ("band/fall.txt", ""),
        ("band/levare", ""),
        ("band/.hidden.levare", ""),
        ("band/.cache/x.levare", ""),
        ("band/attic.levare", ""),
        ("band/deep/attic.levare", ""),
        ("band/deep/er/x.levare", ""),
        ("band/drafts/x.levare", ""),
        ("band/private/x.levare", ""),
        ("band/a.old.levare", ""),
        ("band/kept.old.levare", ""),
        ("band/local 2.levare", ""),
        ("band/big.levare", "0123456789012345678901234567890123456789x"),
        (
            "band/just right.levare",
            "0123456789012345678901234567890123456789",
        ),
        ("band/grade 8/handbook.levare", ""),
        ("band/grade 8/x.levare", ""),
        ("band/folder.levare/x.levare", ""),
        ("other/x.levare", ""),
    ]);
    let root = place.path().join("band");
    let table = [
        ("handbook.levare", Belongs::Yes),
        ("fall.levare", Belongs::Yes),
        ("FALL.LEVARE", Belongs::Yes),
        ("fall.txt", Belongs::NotLevare),
        ("levare", Belongs::NotLevare),
        (".hidden.levare", Belongs::Hidden),
        (".cache/x.levare", Belongs::Hidden),
        // The ignore file of the folder under version control counts too.
        ("attic.levare", Belongs::Ignored),
        ("deep/attic.levare", Belongs::Yes),
        ("deep/er/x.levare", Belongs::Yes),
        ("drafts/x.levare", Belongs::Ignored),
        // `.ignore` has the last word over `.gitignore`.
        ("private/x.levare", Belongs::Yes),
        ("a.old.levare", Belongs::Ignored),
        ("kept.old.levare", Belongs::Yes),
        ("local 2.levare", Belongs::Ignored),
        ("big.levare", Belongs::TooBig { bytes: 41 }),
        ("just right.levare", Belongs::Yes),
        ("grade 8/x.levare", Belongs::OtherCatalogue),
        ("folder.levare/x.levare", Belongs::Yes),
        ("folder.levare", Belongs::NotLevare),
        // Files that are not there yet.
        ("new.levare", Belongs::Yes),
        ("new/new.levare", Belongs::Yes),
        ("drafts/new.levare", Belongs::Ignored),
        ("../other/x.levare", Belongs::Outside),
        ("deep/../fall.levare", Belongs::Yes),
        ("", Belongs::NotLevare),
    ];
    for (path, expected) in table {
        assert_eq!(belongs(&root, &root.join(path), &small()), expected, "{path}");
    }
    let yes: BTreeSet<PathBuf> = table
        .iter()
        .filter(|(path, verdict)| *verdict == Belongs::Yes && !path.contains("new") && !path.contains(".."))
        .map(|(path, _)| root.join(path))
        .collect();
    let walked = list(&root, &small(), &AtomicBool::new(false));
    assert_eq!(walked.files.into_iter().collect::<BTreeSet<_>>(), yes);
    let read = gather(&root, &small(), &mut |_| {}, &AtomicBool::new(false));
    assert_eq!(
        read.files
            .into_iter()
            .map(|file| file.path)
            .collect::<BTreeSet<_>>(),
        yes
    );
    let problems: Vec<PathBuf> = read.problems.into_iter().map(|p| p.path).collect();
    assert_eq!(problems, [root.join("big.levare")]);
}

#[cfg(unix)]
#[test]
fn links() {
    use std::os::unix::fs::symlink;
    let place = shelf(&[
        ("band/handbook.levare", ""),
        ("band/fall.levare", ""),
        ("elsewhere/x.levare", "skill \"ties\"\n"),
    ]);
    let root = place.path().join("band");
    let links = [
        ("ring", "../band"),
        ("self", "."),
        ("away", "../elsewhere"),
        ("again.levare", "fall.levare"),
        ("borrowed.levare", "../elsewhere/x.levare"),
        ("folder.levare", "../elsewhere"),
        ("nowhere.levare", "../gone"),
    ];
    for (name, target) in links {
        symlink(target, root.join(name)).expect("a link");
    }
    let table = [
        ("ring/fall.levare", Belongs::Linked),
        ("self/self/fall.levare", Belongs::Linked),
        ("away/x.levare", Belongs::Linked),
        ("again.levare", Belongs::Linked),
        ("borrowed.levare", Belongs::LeadsOut),
        ("folder.levare", Belongs::LeadsOut),
        ("nowhere.levare", Belongs::LeadsOut),
    ];
    for (path, expected) in table {
        assert_eq!(belongs(&root, &root.join(path), &small()), expected, "{path}");
    }
    let read = gather(&root, &small(), &mut |_| {}, &AtomicBool::new(false));
    let names: Vec<_> = read
        .files
        .iter()
        .filter_map(|file| file.path.file_name())
        .collect();
    assert_eq!(names, ["fall.levare", "handbook.levare"]);
    let problems: Vec<PathBuf> = read.problems.into_iter().map(|p| p.path).collect();
    let told = ["borrowed.levare", "folder.levare", "nowhere.levare"];
    assert_eq!(problems, told.map(|name| root.join(name)));
    // The catalogue's own folder may be reached through a link.
    symlink("band", place.path().join("ours")).expect("a link");
    let ours = place.path().join("ours");
    assert_eq!(belongs(&ours, &root.join("fall.levare"), &small()), Belongs::Yes);
    assert_eq!(belongs(&root, &ours.join("fall.levare"), &small()), Belongs::Yes);
    assert_eq!(
        belongs(&ours, &ours.join("again.levare"), &small()),
        Belongs::Linked
    );
}

#[test]
fn a_line_that_is_no_pattern_is_told() {
    let place = shelf(&[
        ("handbook.levare", ""),
        (".gitignore", "ok.levare\nx[z-a]\nalso.levare\n"),
        ("also.levare", ""),
    ]);
    let found = list(place.path(), &small(), &AtomicBool::new(false));
    let trouble: Vec<Trouble> = found.problems.into_iter().map(|p| p.trouble).collect();
    let text = Some("x[z-a]".to_string());
    assert_eq!(trouble, [Trouble::IgnoreLine { line: Some(2), text }]);
    assert_eq!(found.files.len(), 1, "the other lines still hold");
}

/// Every path under a folder, found without any of our own steps.
fn everything(folder: &Path, paths: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        paths.push(entry.path());
        if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            everything(&entry.path(), paths);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// Asking about each path and walking agree on any shelf.
    #[test]
    fn both_doors_agree(files in proptest::collection::vec((
        proptest::collection::vec(prop_oneof![Just("a"), Just("b"), Just(".c"), Just("d.levare")], 0..3),
        prop_oneof![
            Just("x.levare"), Just("y.LEVARE"), Just(".z.levare"), Just("x.txt"), Just(".gitignore"),
            Just(".ignore"), Just("handbook.levare"),
        ],
        prop_oneof![
            Just("a/\n"), Just("x.*\n"), Just("!x.levare\n"), Just("*\n!y.*\n"), Just("/b/x.levare\n"),
            Just("**/a/*.levare"), Just("0123456789012345678901234567890123456789\nx"),
        ],
    ), 0..14)) {
        let place = tempfile::tempdir().expect("a folder to test in");
        for (folders, name, text) in &files {
            let folder = place.path().join(folders.join("/"));
            fs::create_dir_all(&folder).expect("folders");
            fs::write(folder.join(name), text).expect("a file");
        }
        let mut paths = Vec::new();
        everything(place.path(), &mut paths);
        let asked: BTreeSet<PathBuf> = paths
            .into_iter()
            .filter(|path| belongs(place.path(), path, &small()) == Belongs::Yes)
            .collect();
        let walked = list(place.path(), &small(), &AtomicBool::new(false));
        prop_assert_eq!(walked.files.into_iter().collect::<BTreeSet<_>>(), asked);
    }
}

#[test]
fn the_handbook_says_how_large_a_file_may_be() {
    let folder = tempfile::tempdir().expect("a folder");
    let said = |text: &str| text.trim().parse().ok();
    let largest = || Rules::of(folder.path(), said).largest;
    assert_eq!(largest(), Rules::default().largest, "no handbook");
    for (text, bytes) in [
        ("2048", 2048),
        ("1", 1 << 10),
        ("999999999999", 1 << 26),
        ("much", 1 << 26),
    ] {
        std::fs::write(folder.path().join(HANDBOOK), text).expect("written");
        assert_eq!(largest(), bytes, "{text}");
    }
}
