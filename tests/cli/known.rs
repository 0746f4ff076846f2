//! Known findings: written down once, only new ones told.

use crate::bench::{ALDER, Bench, PARADE};

#[test]
fn only_new_ones_are_told() {
    let bench = Bench::with(&[("alder.levare", ALDER)]);
    let recorded = bench.run(&["proofread", "--record-known"]);
    assert_eq!(recorded.status, 0, "{}", recorded.err);
    expect_test::expect![[r#"
        {
          "known findings": [
            {"card":"piece \"Night Train to Alder\"","phrase":"signature against center","line":"key signature 3 flats"}
          ]
        }
    "#]]
    .assert_eq(&bench.read("known-findings.json"));

    let quiet = bench.run(&["proofread"]);
    assert_eq!(quiet.status, 0);
    assert!(
        quiet.out.contains("1 finding was left out as known"),
        "{}",
        quiet.out
    );
    let all = bench.run(&["proofread", "--all"]);
    assert_eq!(all.status, 1);
    assert!(
        all.out.contains("signature against center (warning, known)"),
        "{}",
        all.out
    );

    // Lines above it, another layout, and a card more change nothing; the new card's finding is told.
    let moved = format!("{PARADE}\n{}", ALDER.replace("   3 flats", " 3   flats"));
    bench.write("alder.levare", moved);
    let new = bench.run(&["proofread", "--as", "json"]);
    assert_eq!((new.status, new.out.lines().count()), (1, 1), "{}", new.out);
    assert!(new.out.contains("left over from before"), "{}", new.out);

    // Changed words are news.
    bench.write("alder.levare", ALDER.replace("3 flats", "4 flats"));
    assert_eq!(bench.run(&["proofread"]).status, 1);

    // Mended ones are gone, which is said.
    bench.write("alder.levare", ALDER.replace("3 flats", "2 flats"));
    let gone = bench.run(&["proofread"]);
    assert_eq!(gone.status, 0);
    assert!(gone.out.contains("1 known finding is gone"), "{}", gone.out);
}

#[test]
fn a_second_one_like_it_is_new() {
    let bench = Bench::with(&[("alder.levare", ALDER)]);
    bench.run(&["proofread", "--record-known"]);
    bench.write("again.levare", ALDER);
    let ended = bench.run(&["proofread", "--as", "json"]);
    let ours = ended
        .out
        .lines()
        .filter(|line| line.contains("signature against center"));
    assert_eq!(ours.count(), 1, "{}", ended.out);
}

#[test]
fn known_ones_are_not_mended() {
    let bench = Bench::with(&[("parade.levare", PARADE)]);
    bench.run(&["proofread", "--record-known"]);
    bench.run(&["proofread", "--correct"]);
    assert_eq!(bench.read("parade.levare"), PARADE);
}

#[test]
fn a_file_that_is_not_as_it_was_written_hides_nothing() {
    let bench = Bench::with(&[("alder.levare", ALDER)]);
    bench.write("known-findings.json", "{\n<<<<<<< ours\n");
    let ended = bench.run(&["proofread"]);
    assert_eq!(ended.status, 2);
    assert!(ended.out.contains("Night Train to Alder"), "{}", ended.out);
    assert!(ended.err.contains("line 2"), "{}", ended.err);
}
