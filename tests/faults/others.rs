//! Other programs at the same files.

use std::os::unix::fs::{MetadataExt, PermissionsExt, chown, symlink};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crate::bench::{self, Bench};
use crate::writers::{WRITERS, catalogue, shown, undisturbed};

/// Another program writes a file over and over, as editors do: whole, and moved into place. None of its texts is
/// ever lost to ours.
#[test]
fn what_another_program_writes_meanwhile_is_never_written_over() {
    let text = |number: usize| {
        format!(
            "piece \"A\"\n  key signature 2 flats\n(number {number})\n{}",
            "  notes x\n".repeat(300)
        )
    };
    let bench = Bench::with(&[("a.levare", &text(0))]);
    let is_over = AtomicBool::new(false);
    let (path, beside) = (bench.path("a.levare"), bench.path("theirs.tmp"));
    std::thread::scope(|scope| {
        scope.spawn(|| {
            for _ in 0..8 {
                bench.run(&["recopy"]);
            }
            is_over.store(true, Ordering::SeqCst);
        });
        let mut number = 0;
        while !is_over.load(Ordering::SeqCst) {
            number += 1;
            std::fs::write(&beside, text(number)).expect("written");
            std::fs::rename(&beside, &path).expect("moved");
            std::thread::sleep(Duration::from_micros(700));
            let now = std::fs::read_to_string(&path).expect("there");
            assert!(
                now.contains(&format!("(number {number})")),
                "number {number} is lost:\n{}",
                &now[..80]
            );
        }
        assert!(number > 10, "the other program had no time");
    });
}

#[test]
fn two_of_us_at_once_leave_whole_files() {
    for writer in &WRITERS[..4] {
        let new = undisturbed(writer);
        let bench = catalogue();
        let ended: Vec<bench::Ended> = std::thread::scope(|scope| {
            let both: Vec<_> = (0..2)
                .map(|_| scope.spawn(|| bench.run(writer.arguments)))
                .collect();
            both.into_iter().map(|one| one.join().expect("it ends")).collect()
        });
        assert_eq!(shown(&bench.path("")), new, "{}", writer.name);
        for one in ended {
            assert!(
                one.status != 2 || one.err.contains("changed it in the meantime"),
                "{}: {}",
                writer.name,
                one.err
            );
        }
    }
}

#[test]
fn modes_and_groups_are_kept() {
    let bench = Bench::with(&[("a.levare", "piece \"A\"\n  key signature 2 flats\n")]);
    let path = bench.path("a.levare");
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o664)).expect("a mode");
    // Whoever may not give files to another group keeps the own one, which is kept as well.
    let _ = chown(&path, None, Some(65_534));
    let before = std::fs::metadata(&path).expect("there");
    assert_eq!(bench.run(&["recopy"]).status, 0);
    let after = std::fs::metadata(&path).expect("there");
    assert_ne!(before.ino(), after.ino(), "it was written");
    assert_eq!(
        (before.mode(), before.gid(), before.uid()),
        (after.mode(), after.gid(), after.uid())
    );
}

#[test]
fn a_file_with_a_second_name_is_left_alone_and_that_is_said() {
    let text = "piece \"A\"\n  key signature 2 flats\n";
    let bench = Bench::with(&[("a.levare", text)]);
    std::fs::hard_link(bench.path("a.levare"), bench.path("second.txt")).expect("a second name");
    let ended = bench.run(&["recopy"]);
    assert_eq!(ended.status, 2, "{}", ended.err);
    assert!(ended.err.contains("second name"), "{}", ended.err);
    assert_eq!(
        (bench.read("a.levare"), bench.read("second.txt")),
        (text.to_owned(), text.to_owned())
    );
}

#[test]
fn links_out_of_the_folder_are_neither_read_nor_written_through() {
    let text = "piece \"Elsewhere\"\n  key signature 2 flats\n  key signature 2 flats\n";
    let elsewhere = Bench::bare(&[("theirs.levare", text), ("theirs.json", "theirs")]);
    let bench = Bench::with(&[("a.levare", "piece \"A\"\n  key signature   2 flats\n")]);
    symlink(elsewhere.path("theirs.levare"), bench.path("s.levare")).expect("a link");
    for arguments in [
        &["recopy"][..],
        &["proofread", "--correct"],
        &["recopy", "s.levare"],
        &["proofread", "--as", "json"],
    ] {
        let ended = bench.run(arguments);
        assert_eq!(ended.status, 2, "{arguments:?}");
        let said = format!("{}{}", ended.out, ended.err).replace('\n', " ");
        assert!(
            said.contains("s.levare") && said.contains("outside the catalog's"),
            "{arguments:?}: {said}"
        );
        assert!(!said.contains("Elsewhere"), "{arguments:?}: {said}");
        assert_eq!(elsewhere.read("theirs.levare"), text, "{arguments:?}");
    }
    std::fs::remove_file(bench.path("s.levare")).expect("removed");
    symlink(elsewhere.path("theirs.json"), bench.path("known-findings.json")).expect("a link");
    for arguments in [&["proofread", "--record-known"][..], &["proofread", "--correct"]] {
        let ended = bench.run(arguments);
        assert_eq!(ended.status, 2, "{arguments:?}");
        let said = ended.err.replace('\n', " ");
        assert!(said.contains("outside the catalog's"), "{arguments:?}: {said}");
        assert_eq!(elsewhere.read("theirs.json"), "theirs");
    }
    std::fs::remove_file(bench.path("known-findings.json")).expect("removed");
    // What a link is to make elsewhere is not made.
    symlink(elsewhere.path("new.json"), bench.path("known-findings.json")).expect("a link");
    assert_eq!(bench.run(&["proofread", "--record-known"]).status, 2);
    assert!(!elsewhere.path("new.json").exists());
    std::fs::remove_file(bench.path("known-findings.json")).expect("removed");
    // The folder itself may be a link, and links inside it lead to what is read anyway.
    symlink(bench.path("a.levare"), bench.path("again.levare")).expect("a link");
    let other = Bench::bare(&[]);
    symlink(bench.path(""), other.path("here")).expect("a link");
    let ended = other.run(&["recopy", "here"]);
    assert_eq!(ended.status, 0, "{}", ended.err);
}

#[test]
fn a_page_is_written_over_nothing_but_our_own_pages() {
    let bench = catalogue();
    let page = |to: &str| bench.run(&["assign", "Drum Day", "--as", "door", "--to", to]);
    assert!(page("door.html").status < 2, "our own page is made anew");
    bench.write("theirs.html", "<!DOCTYPE html>\n<p>Parents' evening</p>\n");
    let ended = page("theirs.html");
    assert_eq!(ended.status, 2);
    assert!(ended.err.contains("is there already"), "{}", ended.err);
    assert!(bench.read("theirs.html").contains("Parents"));
    let made = std::process::Command::new("mkfifo")
        .arg(bench.path("pipe.html"))
        .status();
    assert!(made.expect("mkfifo").success());
    let ended = page("pipe.html");
    assert_eq!(ended.status, 2, "{}", ended.err);
    use std::os::unix::fs::FileTypeExt;
    let kind = std::fs::metadata(bench.path("pipe.html"))
        .expect("there")
        .file_type();
    assert!(kind.is_fifo(), "it is still a pipe");
}

/// An editor that closes our input and reads nothing more leaves no process behind.
#[test]
fn an_editor_that_is_gone_without_reading_leaves_no_process() {
    use std::io::Write;
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_levare"))
        .arg("desk")
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::null())
        .spawn()
        .expect("the program starts");
    let mut to = child.stdin.take().expect("its input");
    let mut send = |body: String| {
        // It may stop taking what it cannot answer.
        let _ = write!(to, "Content-Length: {}\r\n\r\n{body}", body.len());
    };
    send(r#"{"jsonrpc":"2.0","id":0,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}}"#.to_owned());
    send(r#"{"jsonrpc":"2.0","method":"initialized","params":{}}"#.to_owned());
    let piece = "piece \\\"A\\\"\\n  key signature 3 flats\\n  tonal center C major\\n\\n".repeat(60);
    send(format!(
        r#"{{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{{"textDocument":{{"uri":"untitled:a","languageId":"levare","version":1,"text":"{piece}"}}}}}}"#
    ));
    for id in 1..400 {
        send(format!(
            r#"{{"jsonrpc":"2.0","id":{id},"method":"textDocument/documentSymbol","params":{{"textDocument":{{"uri":"untitled:a"}}}}}}"#
        ));
        send(format!(r#"{{"jsonrpc":"2.0","id":"b{id}","method":5}}"#));
    }
    drop(to);
    let start = std::time::Instant::now();
    while child.try_wait().expect("a process").is_none() {
        assert!(start.elapsed() < Duration::from_secs(40), "it is still there");
        std::thread::sleep(Duration::from_millis(20));
    }
}
