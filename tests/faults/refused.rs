//! Where writing is refused, nothing is lost, it is said, and the exit status says so too.

use std::os::unix::fs::{PermissionsExt, chown};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Command, Output};

use crate::bench::Bench;
use crate::writers::{WRITERS, before, catalogue, shown, undisturbed};

/// The user and group that own nothing.
const NOBODY: u32 = 65_534;

fn on_one_line(said: &[u8]) -> String {
    String::from_utf8_lossy(said).replace('\n', " ")
}

/// A file that may grow to this many blocks only stands for a drive that is full.
#[test]
fn a_full_drive_leaves_everything_as_it_was() {
    for writer in &WRITERS {
        let bench = before(writer);
        let old = shown(&bench.path(""));
        let new = undisturbed(writer);
        let quoted: Vec<String> = writer.arguments.iter().map(|word| format!("'{word}'")).collect();
        let script = format!(
            "trap '' XFSZ; ulimit -f 1; exec '{}' {}",
            env!("CARGO_BIN_EXE_levare"),
            quoted.join(" ")
        );
        let output = Command::new("sh")
            .args(["-c", &script])
            .current_dir(bench.path(""))
            .output()
            .expect("a shell");
        let said = on_one_line(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{}: {said}", writer.name);
        assert!(said.contains("could not be saved"), "{}: {said}", writer.name);
        assert!(!said.contains("os error"), "{}: {said}", writer.name);
        for (name, text) in &old {
            // Small files still fit; what does not is as it was, and never the beginning of what it was to be.
            let now = std::fs::read(bench.path(name)).expect("the file");
            let whole = now == *text || new.get(name) == Some(&now);
            assert!(whole, "{}: {name}", writer.name);
        }
        let hidden = std::fs::read_dir(bench.path("")).expect("a folder").flatten();
        let left: Vec<_> = hidden
            .map(|entry| entry.file_name())
            .filter(|name| name.to_string_lossy().starts_with(".levare-unfinished"))
            .collect();
        assert!(left.is_empty(), "{}: {left:?}", writer.name);
    }
}

/// Runs the command as somebody who may not do everything.
fn as_nobody(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_levare"));
    command.args(arguments).current_dir(folder);
    if is_root() {
        command.uid(NOBODY).gid(NOBODY);
    }
    let output = command.output();
    output.unwrap_or_else(|why| {
        panic!(
            "The program cannot be run as another user ({why}). Whoever may do everything cannot test what happens to others: run the tests as an ordinary user, or let everybody read {}.",
            env!("CARGO_BIN_EXE_levare")
        )
    })
}

/// Whether this process may do everything: it may give files away.
fn is_root() -> bool {
    let place = tempfile::tempdir().expect("a folder");
    chown(place.path(), Some(NOBODY), None).is_ok()
}

fn mode(path: &Path, mode: u32) {
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).expect("a mode");
}

/// Gives all of a folder to whoever the program is run as.
fn give(bench: &Bench) {
    if is_root() {
        for name in shown(&bench.path("")).keys() {
            chown(bench.path(name), Some(NOBODY), Some(NOBODY)).expect("given away");
        }
        chown(bench.path(""), Some(NOBODY), Some(NOBODY)).expect("given away");
    }
}

#[test]
fn a_folder_that_may_not_be_written_to_is_left_as_it_is() {
    for writer in &WRITERS {
        let bench = before(writer);
        give(&bench);
        let old = shown(&bench.path(""));
        mode(&bench.path(""), 0o555);
        let output = as_nobody(&bench.path(""), writer.arguments);
        mode(&bench.path(""), 0o755);
        let said = on_one_line(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{}: {said}", writer.name);
        assert!(said.contains("you are not allowed to"), "{}: {said}", writer.name);
        assert_eq!(shown(&bench.path("")), old, "{}", writer.name);
    }
}

#[test]
fn a_file_that_may_not_be_read_is_told_and_nothing_rests_on_its_absence() {
    let bench = catalogue();
    give(&bench);
    mode(&bench.path("shelf 3.levare"), 0o000);
    mode(&bench.path(""), 0o755);
    let old_of = |name: &str| std::fs::read(bench.path(name)).expect("the file");
    let old = old_of("shelf 1.levare");
    let output = as_nobody(&bench.path(""), &["proofread", "--correct"]);
    let said = on_one_line(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(
        said.contains("Nothing was corrected: \"shelf 3.levare\""),
        "{said}"
    );
    assert_eq!(old_of("shelf 1.levare"), old);
    // A folder that may not be looked into is told as well.
    std::fs::create_dir(bench.path("shut")).expect("a folder");
    mode(&bench.path("shut"), 0o000);
    let output = as_nobody(&bench.path(""), &["proofread"]);
    let told = on_one_line(&output.stdout);
    mode(&bench.path("shut"), 0o755);
    assert!(told.contains("shut\" could not be read"), "{told}");
}
