//! `start`: a new catalogue.

use std::collections::BTreeSet;
use std::path::Path;

use crate::bench::Bench;

/// All files below a folder, with `/` between folders.
fn files_below(folder: &Path) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(at) = open.pop() {
        for entry in std::fs::read_dir(&at).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else {
                let inner = path.strip_prefix(folder).expect("below");
                let parts: Vec<_> = inner.iter().map(|part| part.to_string_lossy()).collect();
                found.insert(parts.join("/"));
            }
        }
    }
    found
}

#[test]
fn the_demo_in_the_program_is_the_whole_demo() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    let there: BTreeSet<String> = files_below(&folder)
        .into_iter()
        .filter(|name| name.ends_with(".levare"))
        .collect();
    let inside: BTreeSet<String> = levare::cli::demo::FILES
        .iter()
        .map(|(name, _)| (*name).to_owned())
        .collect();
    assert_eq!(inside, there);
}

#[test]
fn a_catalogue_to_fill_in_has_nothing_wrong_with_it() {
    let bench = Bench::bare(&[]);
    let ended = bench.run(&["start", "my band"]);
    expect_test::expect![[r#"
        4 files are written to my band:
          handbook.levare
          band.levare
          pieces.levare
          concerts.levare

        What to do next:
          1. Open band.levare and write your own numbers over ours.
          2. Open pieces.levare and type the five lines that it asks for.
          3. levare proofread "my band"
          4. levare assign "Drum Hill" --in "my band" --as door --to door.html
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(ended.status, 0);
    assert_eq!(files_below(&bench.path("my band")).len(), 4);
    let read = bench.run(&["proofread", "my band", "--least", "hint"]);
    assert_eq!(
        (read.status, read.out.as_str()),
        (0, "Nothing found on 4 cards.\n")
    );
    // A smaller number, and what is there already is too much.
    let band = bench
        .read("my band/band.levare")
        .replace("    P2              mallets, snare, accessories\n", "")
        .replace("    P3 P4 ", "    P3 ")
        .replace("    P5 P6           bass drum, cymbals, accessories\n", "");
    bench.write("my band/band.levare", &band);
    let pieces = bench.read("my band/pieces.levare");
    bench.write("my band/pieces.levare", format!("{pieces}    tom-toms 1-24\n"));
    let read = bench.run(&["proofread", "my band"]);
    assert_eq!(read.status, 1);
    assert!(
        read.out.contains("short of percussionists (warning)"),
        "{}",
        read.out
    );
}

/// A start that was stopped midway leaves whole files or none; the next one says what is there, writes the
/// rest, and clears away what was left under a hidden name.
#[test]
fn a_start_that_was_stopped_is_finished_by_the_next() {
    let whole = Bench::bare(&[]);
    assert_eq!(whole.run(&["start", "band"]).status, 0);
    let names = files_below(&whole.path("band"));
    for there in ["band.levare", "handbook.levare"] {
        let bench = Bench::bare(&[(there, &whole.read(&format!("band/{there}")))]);
        bench.write(".levare-start/half.levare", "pie");
        let ended = bench.run(&["start"]);
        assert_eq!(ended.status, 0, "{}{}", ended.out, ended.err);
        let told = ended.out.replace("\r\n", "\n");
        assert!(
            told.starts_with(&format!(
                "1 file is in this folder already:\n  {there}\n\n3 files are written"
            )),
            "{told}"
        );
        assert_eq!(files_below(&bench.path("")), names);
        let again = bench.run(&["start"]);
        assert_eq!(again.status, 0);
        assert!(
            again.out.starts_with("4 files are in this folder already:"),
            "{}",
            again.out
        );
        for name in &names {
            assert_eq!(bench.read(name), whole.read(&format!("band/{name}")));
        }
    }
}

/// The same with a program that is really stopped, at many moments.
#[test]
fn a_start_that_is_killed_leaves_whole_files_only() {
    let whole = Bench::bare(&[]);
    assert_eq!(whole.run(&["start", "--demo", "band"]).status, 0);
    let names = files_below(&whole.path("band"));
    let mut stopped = 0;
    for microseconds in (0..16).map(|step| step * 1500) {
        for folder in [".", "new"] {
            let bench = Bench::bare(&[]);
            let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_levare"))
                .args(["start", "--demo", folder])
                .current_dir(bench.path(""))
                .stdout(std::process::Stdio::null())
                .stderr(std::process::Stdio::null())
                .spawn()
                .expect("the program starts");
            std::thread::sleep(std::time::Duration::from_micros(microseconds));
            let _ = child.kill();
            let _ = child.wait();
            let there = match bench.path(folder).is_dir() {
                true => files_below(&bench.path(folder)),
                false => BTreeSet::new(),
            };
            let shown: BTreeSet<String> = there.into_iter().filter(|name| !name.starts_with('.')).collect();
            stopped += usize::from(shown.len() < names.len());
            assert!(shown.is_subset(&names));
            assert!(
                folder == "." || shown.is_empty() || shown == names,
                "a new folder comes whole"
            );
            for name in &shown {
                assert_eq!(
                    bench.read(&format!("{folder}/{name}")),
                    whole.read(&format!("band/{name}"))
                );
            }
            let ended = bench.run(&["start", "--demo", folder]);
            assert_eq!(ended.status, 0, "{}{}", ended.out, ended.err);
            let mut left: BTreeSet<String> = files_below(&bench.path(folder));
            assert_eq!(left, names);
            left = files_below(&bench.path(""));
            assert_eq!(left.len(), names.len(), "nothing is left beside it: {left:?}");
        }
    }
    assert!(stopped > 0, "nothing was stopped in time");
}

#[test]
fn nothing_is_written_over() {
    let bench = Bench::bare(&[("pieces.levare", "piece \"Mine\"\n")]);
    let ended = bench.run(&["start"]);
    assert_eq!((ended.status, ended.out.as_str()), (2, ""));
    assert!(ended.err.contains("pieces.levare"), "{}", ended.err);
    assert_eq!(
        files_below(&bench.path("")).len(),
        1,
        "and nothing is written beside it"
    );
    assert_eq!(bench.read("pieces.levare"), "piece \"Mine\"\n");
    let inside = Bench::with(&[]).run(&["start", "below"]);
    assert_eq!(inside.status, 2, "no catalog inside another");
}

#[test]
fn the_demo_reads_the_same_on_the_disk_and_in_the_program() {
    let bench = Bench::bare(&[]);
    assert_eq!(bench.run(&["start", "--demo", "demo"]).status, 0);
    let written = bench.run(&["proofread", "demo", "--today", "2026-10-20", "--least", "hint"]);
    let built_in = bench.run(&["proofread", "--demo", "--least", "hint"]);
    assert_eq!(written.out, built_in.out);
}

#[test]
fn the_handbook_says_how_large_a_file_may_be() {
    let long = format!("piece \"Long\"\n  notes {}\n", "word ".repeat(600));
    let bench = Bench::bare(&[
        ("handbook.levare", "handbook\n  largest file 2 KB\n"),
        ("long.levare", &long),
    ]);
    let ended = bench.run(&["proofread"]);
    assert_eq!(ended.status, 2, "{}{}", ended.out, ended.err);
    assert!(format!("{}{}", ended.out, ended.err).contains("long.levare"));
    bench.write("handbook.levare", "handbook\n  largest file 4 KB\n");
    assert_eq!(bench.run(&["proofread"]).status, 0);
}
