//! Tests of `disk::gather`.

use super::*;
use tempfile::TempDir;

fn shelf(files: &[(&str, &[u8])]) -> TempDir {
    let place = tempfile::tempdir().expect("a folder to test in");
    for (name, bytes) in files {
        let path = place.path().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        fs::write(&path, bytes).expect("a file");
    }
    place
}

fn many() -> TempDir {
    let names: Vec<String> = (0..30).map(|n| format!("{}/{n:02}.levare", n / 10)).collect();
    let files: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), &b""[..])).collect();
    shelf(&files)
}

fn names(gathered: &Gathered) -> Vec<String> {
    gathered
        .files
        .iter()
        .filter_map(|file| Some(file.path.file_stem()?.to_string_lossy().into_owned()))
        .collect()
}

#[test]
fn one_bad_file_keeps_no_other_away() {
    let place = shelf(&[
        ("handbook.levare", b"handbook\n"),
        ("a/latin.levare", b"piece \"Caf\xe9\"\n"),
        ("b/marked.levare", b"\xef\xbb\xbfpiece \"Air\"\n"),
    ]);
    let found = gather(
        place.path(),
        &Rules::default(),
        &mut |_| {},
        &AtomicBool::new(false),
    );
    let texts: Vec<(&str, bool)> = found.files.iter().map(|f| (&*f.text, f.bom)).collect();
    assert_eq!(texts, [("piece \"Air\"\n", true), ("handbook\n", false)]);
    let trouble: Vec<&Trouble> = found.problems.iter().map(|p| &p.trouble).collect();
    assert_eq!(trouble, [&Trouble::NotUtf8 { byte: 10, line: 1 }]);
    let left = fs::read(place.path().join("a/latin.levare")).expect("still there");
    assert_eq!(
        left, b"piece \"Caf\xe9\"\n",
        "a file that is not UTF-8 is left alone"
    );
}

#[test]
fn a_folder_that_is_not_there() {
    let place = tempfile::tempdir().expect("a folder to test in");
    let gone = place.path().join("gone");
    let found = gather(&gone, &Rules::default(), &mut |_| {}, &AtomicBool::new(false));
    assert!(found.files.is_empty());
    assert_eq!(
        found.problems,
        [DiskProblem::new(
            &gone,
            Trouble::CannotRead("it is not there".into())
        )]
    );
}

#[test]
fn limits_end_the_walk_and_are_told() {
    let place = many();
    let table = [
        // most files, most looked at, files found, what is told
        (30, 33, 30, None),
        (12, 33, 12, Some(Trouble::TooManyFiles(12))),
        (30, 32, 20, Some(Trouble::TooMuchToLookAt(32))),
    ];
    for (most_files, most_looked_at, count, told) in table {
        let rules = Rules {
            most_files,
            most_looked_at,
            ..Rules::default()
        };
        let found = gather(place.path(), &rules, &mut |_| {}, &AtomicBool::new(false));
        let all: Vec<String> = (0..count).map(|n| format!("{n:02}")).collect();
        assert_eq!(names(&found), all);
        let told: Vec<DiskProblem> = told
            .into_iter()
            .map(|trouble| DiskProblem::new(place.path(), trouble))
            .collect();
        assert_eq!(found.problems, told);
    }
}

#[test]
fn progress_and_cancelling() {
    let place = many();
    let mut steps = Vec::new();
    let found = gather(
        place.path(),
        &Rules::default(),
        &mut |step| steps.push(step),
        &AtomicBool::new(false),
    );
    assert!(!found.cancelled);
    assert_eq!(
        steps.last(),
        Some(&Progress {
            looked_at: 33,
            found: 30,
            read: 30
        })
    );
    assert!(
        steps
            .windows(2)
            .all(|s| s[0].read <= s[1].read && s[0].found <= s[1].found)
    );

    let cancel = AtomicBool::new(false);
    let mut stop = |step: Progress| cancel.store(step.read == 4, Ordering::Relaxed);
    let part = gather(place.path(), &Rules::default(), &mut stop, &cancel);
    assert!(part.cancelled);
    assert_eq!(names(&part), ["00", "01", "02", "03"]);
    let none = gather(
        place.path(),
        &Rules::default(),
        &mut |_| {},
        &AtomicBool::new(true),
    );
    assert!(none.cancelled && none.files.is_empty());
}
