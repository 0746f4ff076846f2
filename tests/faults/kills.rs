//! Killed at any moment, a command leaves every file as it was or as it is to be.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::bench::Bench;
use crate::writers::{WRITERS, catalogue, shown, undisturbed};

#[test]
fn killed_at_any_moment_a_file_is_old_or_new_and_never_half() {
    let mut stopped = 0;
    for writer in &WRITERS {
        let new = undisturbed(writer);
        let start = Instant::now();
        catalogue().run(writer.arguments);
        // Making the catalogue takes longer than the command, so this is longer than it needs.
        let whole = start.elapsed();
        for step in 1..12u32 {
            let bench = catalogue();
            let old = shown(&bench.path(""));
            let mut child = Command::new(env!("CARGO_BIN_EXE_levare"))
                .args(writer.arguments)
                .current_dir(bench.path(""))
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .expect("the program starts");
            std::thread::sleep(whole * step / 24);
            stopped += usize::from(child.try_wait().expect("a process").is_none());
            let _ = child.kill();
            let _ = child.wait();
            for (name, text) in shown(&bench.path("")) {
                assert!(
                    old.get(&name) == Some(&text) || new.get(&name) == Some(&text),
                    "{} has left {name} half written",
                    writer.name
                );
            }
            for name in old.keys() {
                assert!(bench.path(name).exists(), "{} has lost {name}", writer.name);
            }
            // Done again, it comes to its end.
            bench.run(writer.arguments);
            assert_eq!(shown(&bench.path("")), new, "{}", writer.name);
        }
    }
    assert!(stopped > 0, "nothing was stopped in time");
}

#[test]
fn what_a_killed_write_leaves_is_cleared_by_a_later_one() {
    let bench = Bench::with(&[("a.levare", "piece \"A\"\n  key signature 2 flats\n")]);
    let left = |age: u64, name: &str| {
        bench.write(name, "half");
        let then = std::time::SystemTime::now() - Duration::from_secs(age);
        let file = std::fs::File::options()
            .write(true)
            .open(bench.path(name))
            .expect("a file");
        file.set_modified(then).expect("a time");
    };
    left(7200, ".levare-unfinished-abcdef");
    // Another program may be at work on this one, and the others are none of ours.
    left(60, ".levare-unfinished-ghijkl");
    left(7200, ".levare-notes");
    left(7200, "levare-unfinished-abcdef");
    assert_eq!(bench.run(&["recopy"]).status, 0);
    let there = |name: &str| bench.path(name).exists();
    assert!(!there(".levare-unfinished-abcdef"));
    assert!(
        there(".levare-unfinished-ghijkl") && there(".levare-notes") && there("levare-unfinished-abcdef")
    );
}
