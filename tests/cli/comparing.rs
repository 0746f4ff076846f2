//! `compare`: what changed between two catalogues.

use std::path::Path;
use std::process::Command;

use crate::bench::Bench;

const OLD: &str = "ensemble \"Our Band\"
  percussionists  2

piece \"Harbor Parade\"
  style           march
  key signature   2 flats
  measures        88
  percussion
    snare           9-16, 41-48
    claves          5-20
  notes           The trio is soft.

piece \"Quarry Dance\"
  style           dance
  grade           2
  by              Nell Farrow

piece \"Barge Song\"
  grade           1

concert \"Winter\"
  on              2027-01-10
  for             \"Our Band\"
  program
    \"Harbor Parade\"
    \"Quarry Dance\"
    \"Barge Song\"
";

fn changed() -> String {
    let changes = [
        ("9-16, 41-48", "11-18, 43-50"),
        (
            "    claves          5-20\n",
            "    wood block      5-20\n    triangle        5-20\n",
        ),
        ("measures        88", "measures        90"),
        ("style           march", "style           march, holiday"),
        ("is soft.", "is loud."),
        (
            "\"Quarry Dance\"\n  style           dance",
            "\"Gravel Dance\"\n  style dance",
        ),
        ("piece \"Barge Song\"\n  grade           1\n\n", ""),
        ("    \"Barge Song\"\n", ""),
        (
            "    \"Harbor Parade\"\n    \"Quarry Dance\"\n",
            "    \"Gravel Dance\"\n    \"Harbor Parade\"\n",
        ),
        ("percussionists  2", "percussionists 2"),
    ];
    let mut text = OLD.to_owned();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    text + "\npiece \"Tin Drum\"\n  grade           1\n"
}

#[test]
fn card_by_card_and_fact_by_fact() {
    let bench = Bench::bare(&[("old/a.levare", OLD), ("new/a.levare", &changed())]);
    let ended = bench.run(&["compare", "old", "new", "--today", "2026-10-20"]);
    expect_test::expect![[r#"
        Harbor Parade                                                           a.levare
        ────────────────────────────────────────────────────────────────────────────────
          Style: holiday added.
          Measures: from 88 to 90.
          Percussion: triangle added (5-20).
          Percussion: claves is now called wood block.
          Percussion: 2 entrances of the snare moved: 9-16 is now 11-18, 41-48 is now
            43-50.
          Notes changed: it was "The trio is soft.", and is now "The trio is loud."
          New finding (short of percussionists, warning): Percussion, measures 11-18:
            Snare, wood block and triangle sound at once and take 3 players; Our Band
            has 2 percussionists.
            Give one player two neighboring instruments and write "one player", write
            "optional" after what may be left out, or ask a wind player to help.

        Gravel Dance                                                            a.levare
        ────────────────────────────────────────────────────────────────────────────────
          Renamed; it was called "Quarry Dance".

        Winter                                                                  a.levare
        ────────────────────────────────────────────────────────────────────────────────
          Program: "Barge Song" taken out.
          Program: "Quarry Dance" is now called "Gravel Dance".
          Program: "Harbor Parade" moved from number 1 to number 2.

        Tin Drum                                                                a.levare
        ────────────────────────────────────────────────────────────────────────────────
          A new piece.

        Barge Song                                                              a.levare
        ────────────────────────────────────────────────────────────────────────────────
          This piece was taken out.

        Only the layout changed: "Our Band".
        3 cards changed, 1 card added, 1 card taken out, 1 new finding.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!((ended.status, ended.err.as_str()), (1, ""));
}

#[test]
fn another_layout_is_one_line() {
    let bench = Bench::bare(&[
        ("old.levare", OLD),
        ("new.levare", &OLD.replace("           ", "  ")),
    ]);
    let ended = bench.run(&["compare", "old.levare", "new.levare", "--today", "2026-10-20"]);
    expect_test::expect![[r#"
        Only the layout changed: "Harbor Parade", "Quarry Dance", "Barge Song" and 1
        more.
        Nothing on the cards says anything else.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(ended.status, 0);
    let ended = bench.run(&["compare", "old.levare", "old.levare", "--today", "2026-10-20"]);
    assert_eq!(
        (ended.status, ended.out.as_str()),
        (0, "Nothing on the cards says anything else.\n")
    );
}

#[test]
fn for_programs_and_for_a_review() {
    let now = OLD.replace("88", "90").replace(
        "\"Barge Song\"\n  grade           1",
        "\"Barge Song\"\n  grade           1, 2 ours",
    );
    let bench = Bench::bare(&[("old.levare", OLD), ("new.levare", &now)]);
    let json = bench.run(&[
        "compare",
        "old.levare",
        "new.levare",
        "--as",
        "json",
        "--today",
        "2026-10-20",
    ]);
    expect_test::expect![[r#"
        {"about":"change","became":"changed","kind":"piece","name":"Harbor Parade","file":"new.levare","field":"measures","row":"","was":"88","now":"90","says":"Measures: from 88 to 90."}
        {"about":"change","became":"added","kind":"piece","name":"Barge Song","file":"new.levare","field":"grade","row":"","was":null,"now":"2 ours","says":"Grade: 2 ours added."}
    "#]].assert_eq(&json.out);
    let review = bench.run(&[
        "compare",
        "old.levare",
        "new.levare",
        "--as",
        "markdown",
        "--today",
        "2026-10-20",
    ]);
    expect_test::expect![[r#"
        ### Harbor Parade

        new.levare

        - Measures: from 88 to 90.

        ### Barge Song

        new.levare

        - Grade: 2 ours added.

        2 cards changed.
    "#]]
    .assert_eq(&review.out);
}

fn git(folder: &Path, arguments: &[&str]) {
    let settings = ["-c", "user.name=Test", "-c", "user.email=test@localhost"];
    let out = Command::new("git")
        .args(settings)
        .args(arguments)
        .current_dir(folder)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .output()
        .expect("git, which these checks need");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
}

#[test]
fn since_a_commit() {
    // The catalogue is one folder of the repository, with another catalogue inside it.
    let bench = Bench::bare(&[
        ("school/handbook.levare", "handbook\n  notation        1\n"),
        ("school/shelf/a.levare", OLD),
        ("school/other/handbook.levare", "handbook\n  notation        1\n"),
        ("school/other/b.levare", "piece \"Elsewhere\"\n"),
        ("notes.levare", "piece \"Nowhere\"\n"),
    ]);
    let top = bench.path("");
    git(&top, &["init", "--quiet"]);
    git(&top, &["add", "."]);
    git(&top, &["commit", "--quiet", "-m", "First"]);
    let nothing = bench.run(&["compare", "--since", "HEAD", "school", "--today", "2026-10-20"]);
    assert_eq!(
        (nothing.status, nothing.out.as_str()),
        (0, "Nothing on the cards says anything else.\n")
    );

    bench.write(
        "school/shelf/a.levare",
        OLD.replace("88", "90").replace("2\n  by", "3\n  by"),
    );
    bench.write("school/new.levare", "piece \"Tin Drum\"\n  grade           1\n");
    let all = bench.run(&[
        "compare",
        "--since",
        "HEAD",
        "school",
        "--as",
        "json",
        "--today",
        "2026-10-20",
    ]);
    assert_eq!(all.status, 1, "{}", all.err);
    let says: Vec<&str> = all
        .out
        .lines()
        .filter(|line| !line.contains("\"about\":\"finding\""))
        .collect();
    assert_eq!(says.len(), 3, "{}", all.out);
    let one = bench.run(&[
        "compare",
        "--since",
        "HEAD",
        "school/new.levare",
        "--as",
        "json",
        "--today",
        "2026-10-20",
    ]);
    assert!(
        one.out.contains("Tin Drum") && !one.out.contains("Harbor"),
        "{}",
        one.out
    );

    let unknown = bench.run(&["compare", "--since", "no-such", "school"]);
    assert_eq!(unknown.status, 2);
    assert!(
        unknown.err.contains("no commit called \"no-such\""),
        "{}",
        unknown.err
    );
    let option = bench.run(&["compare", "--since=--all", "school"]);
    assert_eq!(option.status, 2, "{}", option.out);
}

#[test]
fn what_cannot_be_compared_is_told() {
    let bench = Bench::bare(&[("a/a.levare", OLD), ("b.levare", OLD)]);
    for arguments in [
        &["compare"][..],
        &["compare", "a"],
        &["compare", "a", "b.levare"],
        &["compare", "a", "nowhere"],
        &["compare", "--since", "HEAD", "a", "b.levare"],
        &["compare", "--since", "HEAD", "a"],
    ] {
        let ended = bench.run(arguments);
        assert_eq!((ended.status, ended.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!ended.err.is_empty(), "{arguments:?}");
    }
}
