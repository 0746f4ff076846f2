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
          1. Open band.levare and write how many players you have.
          2. Open pieces.levare and write down one piece you know well.
          3. levare proofread "my band"
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(ended.status, 0);
    assert_eq!(files_below(&bench.path("my band")).len(), 4);
    let read = bench.run(&["proofread", "my band", "--least", "hint"]);
    assert_eq!(
        (read.status, read.out.as_str()),
        (0, "Nothing found on 4 cards.\n")
    );
    // The first number that a director fills in draws the first true warning.
    let band = bench
        .read("my band/band.levare")
        .replace("  percussionists ", "  percussionists 5 ");
    bench.write("my band/band.levare", &band);
    let read = bench.run(&["proofread", "my band"]);
    assert_eq!(read.status, 1);
    assert!(
        read.out.contains("short of percussionists (warning)"),
        "{}",
        read.out
    );
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
    assert_eq!(inside.status, 2, "no catalogue inside another");
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
