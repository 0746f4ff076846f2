//! `merge`: two people's changes of one file.

use crate::bench::{ALDER, Bench, PARADE, WEIR};

const BASE: &str = "piece \"Harbor Parade\"\n  style           march\n  measures        88\n\npiece \"Barge Song\"\n  grade           1\n";

fn bench(ours: &str, theirs: &str) -> Bench {
    Bench::bare(&[("base", BASE), ("ours", ours), ("theirs", theirs)])
}

#[test]
fn what_goes_together_is_printed_or_written() {
    let bench = bench(&BASE.replace("march", "march, slow"), &BASE.replace("88", "90"));
    let wanted = BASE.replace("march", "march, slow").replace("88", "90");
    let ended = bench.run(&["merge", "base", "ours", "theirs"]);
    assert_eq!(
        (ended.status, ended.out.as_str(), ended.err.as_str()),
        (0, wanted.as_str(), "")
    );
    let ended = bench.run(&["merge", "base", "ours", "theirs", "--to", "ours"]);
    assert_eq!((ended.status, ended.out.as_str()), (0, ""));
    assert_eq!(bench.read("ours"), wanted);
}

#[test]
fn what_clashes_is_listed_and_stays_in_both_readings() {
    let bench = bench(
        &BASE.replace("88", "92"),
        &BASE
            .replace("88", "90")
            .replace("piece \"Barge Song\"\n  grade           1\n", ""),
    );
    let ended = bench.run(&[
        "merge",
        "base",
        "ours",
        "theirs",
        "--to",
        "ours",
        "--called",
        "shelf.levare",
    ]);
    assert_eq!((ended.status, ended.out.as_str()), (1, ""));
    expect_test::expect![[r#"
        You and somebody else changed the same thing in "shelf.levare" in different
        ways. Both versions are in the file between marks: keep the one that is right,
        and take out the other and the marks.
        Line 3: piece "Harbor Parade", measures: "measures 92" or "measures 90".
    "#]]
    .assert_eq(&ended.err);
    expect_test::expect![[r#"
        piece "Harbor Parade"
          style           march
        <<<<<<< ours
          measures        92
        =======
          measures        90
        >>>>>>> theirs
    "#]]
    .assert_eq(&bench.read("ours"));
    // Proofreading shows it, with both readings.
    bench.write("a.levare", bench.read("ours"));
    let found = bench.run(&["proofread", "a.levare", "--as", "json"]);
    assert!(
        found.out.contains("Keep the upper version") && found.out.contains("Keep the lower version"),
        "{}",
        found.out
    );
}

#[test]
fn line_ends_and_the_mark_at_the_start_stay_ours() {
    let ours = format!("\u{feff}{}", BASE.replace("march", "rag").replace('\n', "\r\n"));
    let bench = bench(&ours, &BASE.replace("88", "90"));
    let ended = bench.run(&["merge", "base", "ours", "theirs"]);
    assert_eq!(ended.out, ours.replace("88", "90"));
}

#[test]
fn what_cannot_be_read_leaves_everything_as_it_was() {
    let bench = bench(&BASE.replace("march", "rag"), BASE);
    bench.write("theirs", b"piece \"\xff\"\n");
    let ended = bench.run(&["merge", "base", "ours", "theirs", "--to", "ours"]);
    assert_eq!(ended.status, 2);
    assert!(ended.err.contains("UTF-8"), "{}", ended.err);
    assert_eq!(bench.read("ours"), BASE.replace("march", "rag"));
    assert_eq!(bench.run(&["merge", "base", "ours", "nowhere"]).status, 2);
}

#[test]
fn nothing_but_our_own_file_is_written_over() {
    let bench = bench(&BASE.replace("march", "rag"), &BASE.replace("88", "90"));
    bench.write("mine.levare", WEIR);
    let ended = bench.run(&["merge", "base", "ours", "theirs", "--to", "mine.levare"]);
    assert_eq!(ended.status, 2);
    assert!(ended.err.contains("mine.levare"), "{}", ended.err);
    assert_eq!(bench.read("mine.levare"), WEIR);
    let ended = bench.run(&["merge", "base", "ours", "theirs", "--to", "new.levare"]);
    assert_eq!(ended.status, 0, "{}", ended.err);
    assert_eq!(
        bench.read("new.levare"),
        BASE.replace("march", "rag").replace("88", "90")
    );
}

#[test]
fn known_findings_are_one_list() {
    let list = |cards: &[&str]| {
        let files: Vec<(String, &str)> = cards
            .iter()
            .enumerate()
            .map(|(at, card)| (format!("{at}.levare"), *card))
            .collect();
        let files: Vec<(&str, &str)> = files.iter().map(|(name, card)| (name.as_str(), *card)).collect();
        let bench = Bench::with(&files);
        bench.run(&["proofread", "--record-known"]);
        bench.read("known-findings.json")
    };
    let bench = Bench::bare(&[
        ("base", &list(&[ALDER])),
        ("ours", &list(&[ALDER, PARADE])),
        ("theirs", &list(&[WEIR])),
    ]);
    let ended = bench.run(&["merge", "base", "ours", "theirs"]);
    assert_eq!((ended.status, ended.out), (0, list(&[PARADE])));
}
