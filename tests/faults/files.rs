//! Files that are not what they should be, and folders that hold too many.

use std::ffi::OsStr;
use std::os::unix::ffi::OsStrExt;

use crate::bench::{ALDER, Bench, WEIR};

const MESSY: &str = "piece \"A\"\n  key signature 2 flats\n";
const NEAT: &str = "piece \"A\"\n  key signature   2 flats\n";

/// What is said, on one line.
fn said(ended: &crate::bench::Ended) -> String {
    format!("{}{}", ended.out, ended.err).replace('\n', " ")
}

#[test]
fn line_endings_and_marks_at_the_start_are_kept() {
    for (mark, ending) in [
        ("", "\n"),
        ("", "\r\n"),
        ("", "\r"),
        ("\u{feff}", "\n"),
        ("\u{feff}", "\r\n"),
    ] {
        let form = |text: &str| format!("{mark}{}", text.replace('\n', ending));
        let bench = Bench::with(&[("a.levare", &form(MESSY))]);
        let ended = bench.run(&["recopy", "a.levare"]);
        assert_eq!(ended.status, 0, "{}", ended.err);
        assert_eq!(bench.read("a.levare"), form(NEAT));
    }
}

#[test]
fn texts_of_another_kind_are_told_and_left_alone() {
    let wide = |mark: &[u8], little: bool| -> Vec<u8> {
        let letters = MESSY.encode_utf16().flat_map(|unit| {
            if little {
                unit.to_le_bytes()
            } else {
                unit.to_be_bytes()
            }
        });
        mark.iter().copied().chain(letters).collect()
    };
    let table: [(&str, Vec<u8>, &str); 7] = [
        ("UTF-16 with its mark", wide(b"\xff\xfe", true), "UTF-16"),
        ("the same the other way round", wide(b"\xfe\xff", false), "UTF-16"),
        ("UTF-16 without a mark", wide(b"", true), "UTF-16"),
        (
            "the same the other way round, without",
            wide(b"", false),
            "UTF-16",
        ),
        (
            "a zero byte",
            MESSY.replace("2 flats", "2\0flats").into_bytes(),
            "no text has",
        ),
        (
            "Latin-1",
            [MESSY.as_bytes(), b"  notes Caf\xe9\n"].concat(),
            "UTF-8",
        ),
        (
            "a picture",
            (0..=255u8).cycle().take(5000).collect(),
            "was not read",
        ),
    ];
    for (name, bytes, words) in table {
        let bench = Bench::with(&[]);
        bench.write("a.levare", &bytes);
        for arguments in [&["recopy"][..], &["proofread", "--correct"], &["proofread"]] {
            let ended = bench.run(arguments);
            assert_eq!(ended.status, 2, "{name}");
            assert!(said(&ended).contains(words), "{name}: {}", said(&ended));
        }
        assert_eq!(
            std::fs::read(bench.path("a.levare")).expect("there"),
            bytes,
            "{name}"
        );
    }
}

#[test]
fn a_line_of_a_megabyte_is_read_like_any_other() {
    let text = format!("{MESSY}  notes           {}\n", "a word ".repeat(140_000));
    let bench = Bench::with(&[("a.levare", &text)]);
    assert_eq!(bench.run(&["proofread"]).status, 0);
    assert_eq!(bench.run(&["recopy"]).status, 0);
    assert!(bench.read("a.levare").starts_with(NEAT));
}

#[test]
fn names_of_files_that_are_no_text() {
    let bench = Bench::with(&[]);
    let name = |number: u8| {
        bench.path("").join(OsStr::from_bytes(&[
            b'b', 0xe9, number, b'.', b'l', b'e', b'v', b'a', b'r', b'e',
        ]))
    };
    std::fs::write(name(b'1'), MESSY).expect("written");
    std::fs::write(name(b'2'), MESSY.replace("\"A\"", "\"B\"")).expect("written");
    assert_eq!(bench.run(&["recopy"]).status, 0);
    assert_eq!(std::fs::read_to_string(name(b'1')).expect("there"), NEAT);
    assert_eq!(
        std::fs::read_to_string(name(b'2')).expect("there"),
        NEAT.replace("\"A\"", "\"B\"")
    );
    // Broken, they are two, and told by what can be shown of their names.
    std::fs::write(name(b'1'), ALDER).expect("written");
    let ended = bench.run(&["proofread"]);
    assert_eq!(ended.status, 1);
    assert!(ended.out.contains("b\u{fffd}1.levare"), "{}", ended.out);
}

#[test]
fn pipes_and_devices_keep_nobody_waiting() {
    let bench = Bench::with(&[("a.levare", WEIR)]);
    let made = std::process::Command::new("mkfifo")
        .arg(bench.path("pipe.levare"))
        .status();
    assert!(made.expect("mkfifo").success());
    std::os::unix::fs::symlink("ring.levare", bench.path("ring.levare")).expect("a link");
    std::fs::create_dir(bench.path("folder.levare")).expect("a folder");
    let ended = bench.run(&["proofread"]);
    assert!(
        said(&ended).contains("a link that leads back to itself"),
        "{}",
        said(&ended)
    );
    assert!(!said(&ended).contains("os error"), "{}", said(&ended));
    for (name, words) in [
        ("pipe.levare", "not an ordinary file"),
        ("ring.levare", "a link to a file that is not there"),
    ] {
        for command in ["proofread", "recopy"] {
            let ended = bench.run(&[command, name]);
            assert_eq!(ended.status, 2, "{command} {name}");
            assert!(said(&ended).contains(words), "{command} {name}: {}", said(&ended));
            assert!(
                !said(&ended).contains("all are in the one form"),
                "{}",
                said(&ended)
            );
        }
    }
}

#[test]
fn what_could_not_be_read_is_not_counted_as_looked_at() {
    let bench = Bench::bare(&[("big.levare", &"x".repeat(3000))]);
    bench.write("handbook.levare", "handbook\n  largest file 2 KB\n");
    let ended = bench.run(&["recopy", "big.levare"]);
    assert_eq!(ended.status, 2);
    assert!(!said(&ended).contains("in the one form"), "{}", said(&ended));
    let ended = bench.run(&["proofread", "big.levare"]);
    assert!(ended.out.ends_with("No card was read.\n"), "{}", ended.out);
    let bench = Bench::with(&[("a.levare", WEIR)]);
    bench.write("known-findings.json", b"\xff");
    let ended = bench.run(&["proofread"]);
    assert!(
        !said(&ended).contains("Its pieces are missing"),
        "{}",
        said(&ended)
    );
    assert!(
        said(&ended).contains("all findings are reported"),
        "{}",
        said(&ended)
    );
}

#[test]
fn a_hundred_thousand_files_are_not_all_read_and_that_is_told() {
    let bench = Bench::with(&[("a.levare", WEIR)]);
    let folder = bench.path("many");
    std::fs::create_dir(&folder).expect("a folder");
    for number in 0..100_000 {
        let name = folder.join(format!("f{number}.levare"));
        match number % 50_000 {
            0 => std::fs::write(&name, "").expect("written"),
            // One file with many names is soon made.
            _ => std::fs::hard_link(
                folder.join(format!("f{}.levare", number / 50_000 * 50_000)),
                &name,
            )
            .expect("a name"),
        }
    }
    let ended = bench.run(&["proofread", "--as", "json"]);
    assert!(
        said(&ended).contains("more than 10000 catalog files"),
        "{}",
        said(&ended)
    );
}
