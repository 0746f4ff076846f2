//! The `git` program, for tests.

use std::path::Path;
use std::process::{Command, Output};

/// Runs it in a folder, with nobody's settings but these.
pub fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new("git")
        .args([
            "-c",
            "user.name=Test",
            "-c",
            "user.email=test@localhost",
            "-c",
            "init.defaultBranch=main",
        ])
        .args(arguments)
        .current_dir(folder)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .output()
        .expect("git, which these checks need")
}

/// What `git merge-file` makes of three texts, and whether it clashes.
pub fn merge_file(folder: &Path, base: &str, ours: &str, theirs: &str) -> (String, bool) {
    for (name, text) in [("base", base), ("ours", ours), ("theirs", theirs)] {
        std::fs::write(folder.join(name), text).expect("a file");
    }
    let out = run(folder, &["merge-file", "-p", "ours", "base", "theirs"]);
    (
        String::from_utf8_lossy(&out.stdout).into_owned(),
        !out.status.success(),
    )
}
