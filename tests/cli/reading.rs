//! `proofread` to read: what is shown, and which files are read.

use expect_test::expect;

use crate::bench::{ALDER, Bench, PARADE, WEIR};

type Words = &'static [&'static str];
type Pairs = &'static [(&'static str, &'static str)];

#[test]
fn a_finding_as_a_person_reads_it() {
    let bench = Bench::with(&[("pieces/all.levare", &format!("{WEIR}\n{ALDER}\n{PARADE}"))]);
    let ended = bench.run(&["proofread"]);
    expect![[r#"
        Night Train to Alder                                           pieces/all.levare
        ────────────────────────────────────────────────────────────────────────────────

          Key signature: G minor has 2 flats, but the card says 3 flats.

                             ╭───────╮
              key signature   3 flats
                             ╰───────╯
          Players read the signature while you warm them up in the center, so one of the
          two would be wrong in rehearsal.
          ☐ Look at the score: 3 flats can be Eb major or C minor.
                                             line 6 · signature against center (warning)

        Harbor Parade                                                  pieces/all.levare
        ────────────────────────────────────────────────────────────────────────────────

          Stet: Levare no longer says "signature against center" about this card, so
          there is nothing to let stand.

                             ╭────────────────────────────────────────────────────╮
              stet            signature against center because the score has it so
                             ╰────────────────────────────────────────────────────╯
          An old stet would hide the same trouble if it came back with next year's band.
          ☐ Take the line out.
                                           line 10 · left over from before (information)

        2 findings on 2 cards. Next: start at the top; levare reason signature against
        center tells more about the first.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!((ended.status, ended.err.as_str()), (1, ""));
}

#[test]
fn how_it_ends() {
    const HINTS: &str = "handbook\n  notation        1\n  hint            signature against center\n";
    let table: [(Pairs, Words, i32, &str); 7] = [
        (
            &[("a.levare", WEIR)],
            &["proofread"],
            0,
            "Nothing found on 2 cards.\n",
        ),
        (
            &[("handbook.levare", HINTS), ("a.levare", ALDER)],
            &["proofread"],
            0,
            "Nothing found on 2 cards; 1 hint more. To read the hints too: --least hint.\n",
        ),
        (
            &[("a.levare", PARADE)],
            &["proofread", "--least", "warning"],
            0,
            "Nothing found on 2 cards. 1 finding was left out as weaker.\n",
        ),
        (&[], &["proofread", "nowhere"], 2, ""),
        (&[], &["proofread", "--today", "soon"], 2, ""),
        (&[], &["proofread", "--as", "poem"], 2, ""),
        (&[], &["sing"], 2, ""),
    ];
    for (files, arguments, status, out) in table {
        let bench = Bench::with(&[]);
        for (name, text) in files {
            bench.write(name, text);
        }
        let ended = bench.run(arguments);
        assert_eq!(
            (ended.status, ended.out.as_str()),
            (status, out),
            "{arguments:?} {}",
            ended.err
        );
        assert_eq!(ended.err.is_empty(), status < 2, "{}", ended.err);
    }
}

#[test]
fn hints_are_shown_when_asked_for_and_still_do_not_count() {
    let bench = Bench::bare(&[("a.levare", ALDER)]);
    bench.write(
        "handbook.levare",
        "handbook\n  hint            signature against center\n",
    );
    let ended = bench.run(&["proofread", "--least", "hint"]);
    assert!(
        ended.out.contains("signature against center (hint)"),
        "{}",
        ended.out
    );
    assert_eq!(ended.status, 0);
}

#[test]
fn which_files_are_read() {
    let files = [
        ("fall/alder.levare", ALDER),
        ("fall/notes.txt", "no cards here"),
        ("spring/parade.levare", PARADE),
        (".old/alder.levare", ALDER),
        ("weir.levare", WEIR),
    ];
    let bench = Bench::with(&files);
    bench.write("other/handbook.levare", "handbook\n");
    bench.write("other/alder.levare", ALDER);
    let table: [(&str, &[&str], i32, usize); 8] = [
        ("all", &[], 1, 2),
        ("a folder", &["fall"], 1, 1),
        ("a file", &["weir.levare"], 0, 0),
        ("a file said twice", &["fall/alder.levare", "fall"], 1, 1),
        ("two catalogues", &["fall", "other/alder.levare"], 1, 2),
        ("a hidden file is passed over", &[".old/alder.levare"], 0, 0),
        ("no cards", &["fall/notes.txt"], 2, 0),
        ("one is there and one is not", &["fall", "winter"], 2, 1),
    ];
    for (what, paths, status, found) in table {
        let mut arguments = vec!["proofread", "--as", "json"];
        arguments.extend(paths);
        let ended = bench.run(&arguments);
        assert_eq!(
            (ended.status, ended.out.lines().count()),
            (status, found),
            "{what}: {}{}",
            ended.out,
            ended.err
        );
    }
}

#[test]
fn the_catalogue_is_found_from_a_folder_inside_it() {
    let bench = Bench::with(&[("fall/weir.levare", WEIR), ("spring/alder.levare", ALDER)]);
    let ended = crate::bench::run(&bench.path("fall"), &["proofread", "--as", "json"], b"", &[]);
    assert_eq!(ended.status, 1, "{}", ended.out);
}

#[test]
fn a_folder_without_a_handbook_is_read_by_itself() {
    let bench = Bench::bare(&[("alder.levare", ALDER), ("weir.levare", WEIR)]);
    for (paths, found) in [(vec!["proofread"], 1), (vec!["proofread", "weir.levare"], 0)] {
        let ended = bench.run(&paths);
        assert_eq!(ended.status, found, "{paths:?} {}", ended.out);
    }
    let empty = Bench::bare(&[]).run(&["proofread"]);
    assert_eq!(empty.status, 2);
    assert!(empty.err.contains("levare start"), "{}", empty.err);
}

#[test]
fn one_bad_file_does_not_hide_the_others() {
    let bench = Bench::with(&[("alder.levare", ALDER)]);
    bench.write("bad.levare", b"piece \"Caf\xe9\"\n");
    bench.write("handbook.levare", "handbook\n  notation 1\n  largest file 1 MB\n");
    bench.write("big.levare", " ".repeat((1 << 20) + 1));
    let ended = bench.run(&["proofread"]);
    assert_eq!(ended.status, 2);
    for words in ["Night Train to Alder", "bad.levare", "big.levare", "UTF-8"] {
        assert!(ended.out.contains(words), "{words}: {}", ended.out);
    }
}

#[test]
fn standard_input_stands_in_for_a_file() {
    let bench = Bench::with(&[("alder.levare", ALDER), ("parade.levare", PARADE)]);
    let stdin = |arguments: &[&str], input: &str| {
        let mut all = vec!["proofread", "--instead-of", "alder.levare"];
        all.extend(arguments);
        bench.run_with(&all, input, &[])
    };
    // Only the file named is told about, and what stands on the disk does not count.
    let mended = ALDER.replace("3 flats", "2 flats");
    assert_eq!(stdin(&[], &mended).status, 0);
    let ended = stdin(&["--as", "json"], ALDER);
    assert_eq!((ended.status, ended.out.lines().count()), (1, 1), "{}", ended.out);
    // Mending prints the text, unchanged where nothing can be mended.
    assert_eq!(stdin(&["--correct"], ALDER).out, ALDER);
    let twice = "piece \"Harbor Parade\"\n  key signature   2 flats\n  key signature   2 flats\n";
    let once = "piece \"Harbor Parade\"\n  key signature   2 flats\n";
    assert_eq!(stdin(&["--correct"], twice).out, once);
    assert_eq!(bench.read("alder.levare"), ALDER);
    let bad = crate::bench::run(
        &bench.path(""),
        &["proofread", "--instead-of", "x.levare"],
        b"\xff\xfe",
        &[],
    );
    assert_eq!(bad.status, 2);
}

#[test]
fn colors_only_where_they_are_wanted() {
    let bench = Bench::with(&[("alder.levare", ALDER)]);
    let table: [(Words, Pairs, bool); 8] = [
        (&[], &[], false),
        (&["--color", "always"], &[], true),
        (&["--color", "always"], &[("NO_COLOR", "1")], true),
        (&["--color", "never"], &[("CLICOLOR_FORCE", "1")], false),
        (&[], &[("CLICOLOR_FORCE", "1")], true),
        (&[], &[("CLICOLOR_FORCE", "0")], false),
        (&[], &[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")], false),
        (&[], &[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "")], true),
    ];
    let plain = bench.run(&["proofread"]).out;
    for (arguments, variables, colored) in table {
        let mut all = vec!["proofread"];
        all.extend(arguments);
        let ended = bench.run_with(&all, "", variables);
        assert_eq!(
            ended.out.contains('\u{1b}'),
            colored,
            "{arguments:?} {variables:?}"
        );
        assert_eq!(without_ink(&ended.out), plain);
    }
}

/// The words without ECMA-48's color sequences.
fn without_ink(words: &str) -> String {
    let mut plain = String::new();
    let mut rest = words;
    while let Some((before, after)) = rest.split_once("\u{1b}[") {
        plain.push_str(before);
        rest = after.split_once('m').map_or("", |(_, rest)| rest);
    }
    plain + rest
}

#[test]
fn a_card_cannot_write_on_the_terminal() {
    let nasty = ALDER
        .replace("Alder", "Al\u{1b}[2Jder\u{202e}")
        .replace("3 flats", "3 flats (\u{1b}]0;x\u{7}\u{2028})");
    let bench = Bench::with(&[("alder.levare", &nasty)]);
    let ended = bench.run(&["proofread"]);
    assert_eq!(ended.status, 1, "{}", ended.out);
    let bad = |c: char| c.is_control() && c != '\n' || matches!(c, '\u{2028}' | '\u{202e}');
    assert!(!ended.out.contains(bad), "{:?}", ended.out);
}

#[cfg(unix)]
#[test]
fn a_reader_that_leaves_is_no_accident() {
    use std::process::{Command, Stdio};
    let many: String = (0..3000)
        .map(|number| ALDER.replace("Alder", &format!("Alder, evening {number}x")))
        .collect();
    let bench = Bench::with(&[("alder.levare", &many)]);
    let mut child = Command::new(env!("CARGO_BIN_EXE_levare"))
        .arg("proofread")
        .current_dir(bench.path(""))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}

#[test]
fn the_demo_is_read_on_its_own_day() {
    let bench = Bench::bare(&[]);
    let ended = bench.run(&["proofread", "--demo"]);
    assert_eq!(ended.status, 1);
    assert!(
        ended.out.contains("demo/pieces/concert-works.levare"),
        "{}",
        ended.out
    );
    let again = bench.run(&["proofread", "--demo", "--today", "2026-10-20"]);
    assert_eq!(again.out, ended.out);
}
