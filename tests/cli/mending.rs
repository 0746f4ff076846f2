//! Repairs that need no decision.

use crate::bench::{self, ALDER, Bench};

/// A card with a line that stands there twice, which can be mended without a decision.
const PARADE: &str = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  key signature   2 flats\n  key signature   2 flats\n";

const MENDED: &str = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  key signature   2 flats\n";

#[test]
fn mending_twice_is_mending_once() {
    let bench = Bench::with(&[("parade.levare", PARADE), ("alder.levare", ALDER)]);
    let first = bench.run(&["proofread", "--correct"]);
    assert_eq!(bench.read("parade.levare"), MENDED);
    // What needs a decision is left to the director.
    assert_eq!(bench.read("alder.levare"), ALDER);
    assert_eq!(first.err, "1 correction made in 1 file.\n");
    assert!(first.out.contains("1 finding on 1 card."), "{}", first.out);
    assert_eq!(first.status, 1);
    let second = bench.run(&["proofread", "--correct"]);
    assert_eq!((second.err.as_str(), &second.out), ("", &first.out));
    assert_eq!(bench.read("parade.levare"), MENDED);
}

#[test]
fn only_what_was_asked_about_is_mended() {
    let other = PARADE.replace("Harbor", "Garden");
    let bench = Bench::with(&[("parade.levare", PARADE), ("garden.levare", &other)]);
    bench.run(&["proofread", "--correct", "parade.levare"]);
    assert_eq!(bench.read("parade.levare"), MENDED);
    assert_eq!(bench.read("garden.levare"), other);
}

#[test]
fn the_file_stays_as_it_was_around_the_repair() {
    let marked = format!("\u{feff}{}", PARADE.replace('\n', "\r\n"));
    let bench = Bench::with(&[("parade.levare", &marked)]);
    bench.run(&["proofread", "--correct"]);
    assert_eq!(
        bench.read("parade.levare"),
        format!("\u{feff}{}", MENDED.replace('\n', "\r\n"))
    );
}

#[test]
fn mends_are_shown_and_nothing_is_written() {
    let bench = Bench::with(&[("parade.levare", PARADE)]);
    let ended = bench.run(&["proofread", "--correct", "--leave"]);
    expect_test::expect![[r#"
        parade.levare, line 2
               tonal center    Bb major
               key signature   2 flats
        was    key signature   2 flats
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(ended.status, 1);
    assert_eq!(bench.read("parade.levare"), PARADE);
    bench.run(&["proofread", "--correct"]);
    let nothing = bench.run(&["proofread", "--correct", "--leave"]);
    assert_eq!(
        (nothing.status, nothing.out.as_str()),
        (0, "There is nothing to correct without a decision from you.\n")
    );
}

#[cfg(unix)]
#[test]
fn a_file_that_may_not_be_changed_is_left_alone() {
    use std::os::unix::fs::PermissionsExt;
    let other = PARADE.replace("Harbor", "Garden");
    let bench = Bench::with(&[("parade.levare", PARADE), ("garden.levare", &other)]);
    let locked = std::fs::Permissions::from_mode(0o444);
    std::fs::set_permissions(bench.path("parade.levare"), locked).expect("a locked file");
    let ended = bench.run(&["proofread", "--correct"]);
    assert_eq!(bench.read("parade.levare"), PARADE);
    assert_eq!(bench.read("garden.levare"), MENDED.replace("Harbor", "Garden"));
    assert_eq!(ended.status, 2);
    assert!(ended.err.contains("parade.levare"), "{}", ended.err);
}

#[test]
fn a_file_that_cannot_be_read_is_left_alone() {
    let bench = Bench::with(&[("parade.levare", PARADE)]);
    let bad = [PARADE.as_bytes(), b"  notes  Caf\xe9\n"].concat();
    bench.write("bad.levare", &bad);
    for command in [&["proofread", "--correct"][..], &["recopy"]] {
        let ended = bench.run(command);
        assert_eq!(ended.status, 2);
        assert_eq!(std::fs::read(bench.path("bad.levare")).expect("the file"), bad);
    }
    let left: Vec<_> = std::fs::read_dir(bench.path(""))
        .expect("the folder")
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    assert_eq!(left.len(), 3, "nothing half written stays behind: {left:?}");
}

/// A stet holds the director's own reason, and what makes it idle may be a card that is not there just now.
#[test]
fn a_stet_is_never_taken_out_unasked() {
    let bench = Bench::with(&[("parade.levare", bench::PARADE)]);
    let ended = bench.run(&["proofread", "--correct"]);
    assert!(ended.out.contains("left over from before"), "{}", ended.out);
    assert_eq!(bench.read("parade.levare"), bench::PARADE);
    assert_eq!(
        bench.run(&["proofread", "--correct", "--leave"]).out,
        "There is nothing to correct without a decision from you.\n"
    );
}

#[test]
fn on_a_part_of_a_catalogue_nothing_is_mended_and_it_is_said() {
    let bench = Bench::with(&[("parade.levare", PARADE)]);
    bench.run(&["proofread", "--record-known"]);
    let known = bench.read("known-findings.json");
    bench.write("known-findings.json", "{\n  \"known findings\": [\n  ]\n}\n");
    let none = bench.read("known-findings.json");
    bench.write("band.levare", b"ensemble \"Band\"\n  notes  Caf\xe9\n");
    for command in [
        &["proofread", "--correct"][..],
        &["proofread", "--correct", "--leave"],
    ] {
        let ended = bench.run(command);
        assert_eq!(ended.status, 2, "{command:?}");
        assert!(
            ended
                .err
                .contains("Nothing was corrected: \"band.levare\" could not be read"),
            "{command:?}: {}",
            ended.err
        );
        assert_eq!(bench.read("parade.levare"), PARADE, "{command:?}");
    }
    let stdin = bench.run_with(
        &["proofread", "--correct", "--instead-of", "parade.levare"],
        PARADE,
        &[],
    );
    assert_eq!((stdin.status, stdin.out.as_str()), (2, PARADE));
    // Nor are the known findings of what could not be read forgotten.
    let ended = bench.run(&["proofread", "--record-known"]);
    assert_eq!(ended.status, 2);
    assert!(
        ended.err.contains("Nothing was written down as known"),
        "{}",
        ended.err
    );
    assert_eq!(bench.read("known-findings.json"), none);
    // With all of it there, both go on as ever.
    bench.write("band.levare", "ensemble \"Band\"\n");
    bench.run(&["proofread", "--record-known"]);
    assert_ne!(bench.read("known-findings.json"), none);
    bench.write("known-findings.json", &known[..known.len() / 2]);
    let ended = bench.run(&["proofread", "--correct"]);
    assert!(ended.err.contains("Nothing was corrected"), "{}", ended.err);
    assert_eq!(
        bench.read("parade.levare"),
        PARADE,
        "what was known is not known just now"
    );
    std::fs::remove_file(bench.path("known-findings.json")).expect("removed");
    bench.run(&["proofread", "--correct"]);
    assert_eq!(bench.read("parade.levare"), MENDED);
}
