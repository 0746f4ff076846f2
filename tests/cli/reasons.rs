//! `reason`: why something is found.

use expect_test::expect;

use crate::bench::Bench;

#[test]
fn one_page() {
    let bench = Bench::bare(&[]);
    let ended = bench.run(&["reason", "idle", "stet"]);
    expect![[r#"
        left over from before                                        names · information
        ────────────────────────────────────────────────────────────────────────────────

        A "stet" line that lets nothing stand, because the finding it names is not there
        anymore.

        Rosters change every fall. A stet left over from last year hides the same
        trouble when it comes back.

        On a card such as this it is said of the words in the ring.

            piece "Harbor Parade"
              tonal center    Bb major
              key signature   2 flats
                             ╭────────────────────────────────────────────────────╮
              stet            signature against center because the score has it so
                             ╰────────────────────────────────────────────────────╯

        This one may stand as it is.

            piece "Harbor Parade"
              tonal center    Bb major
              key signature   3 flats
              stet            signature against center because the score has it so

        ☐ Take the line out.

        If your card is right as it is, write on it: stet left over from before because
        ... and why. To hear it more quietly or more loudly everywhere, write a line
        such as this in the handbook: hint left over from before.

    "#]]
    .assert_eq(&ended.out);
    for other in [
        &["reason", "Idle  STET"][..],
        &["reason", "left over from before"],
    ] {
        assert_eq!(bench.run(other).out, ended.out);
    }
}

#[test]
fn all_of_them() {
    let bench = Bench::bare(&[]);
    let list = bench.run(&["reason"]);
    let json = bench.run(&["reason", "--as", "json"]);
    assert_eq!(json.out.lines().count(), levare::findings::RULES.len());
    for rule in levare::findings::RULES {
        let line = |line: &str| line.trim_start().starts_with(rule.phrase);
        assert!(list.out.lines().any(line), "{} is not in the list", rule.phrase);
        let page = bench.run(&["reason", rule.phrase]);
        assert_eq!(page.status, 0);
        assert!(page.out.contains('╭'), "{} marks nothing", rule.phrase);
        for heading in [
            "it is said of the words in the ring",
            "may stand as",
            "☐ ",
            "If your card is right",
        ] {
            assert!(page.out.contains(heading), "{}: {heading}", rule.phrase);
        }
    }
}

#[test]
fn a_phrase_nearly_right() {
    let bench = Bench::bare(&[]);
    let near = bench.run(&["reason", "signature", "agianst", "center"]);
    assert_eq!((near.status, near.out.as_str()), (2, ""));
    assert!(
        near.err
            .replace('\n', " ")
            .contains("Perhaps \"signature against center\"?"),
        "{}",
        near.err
    );
    let far = bench.run(&["reason", "weather"]);
    assert_eq!(far.status, 2);
    assert!(!far.err.contains("Did you mean"), "{}", far.err);
}
