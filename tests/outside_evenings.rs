//! Evenings shared out, against the best that OR-Tools CP-SAT finds for the same hands.
//!
//! `tests/outside/evenings/compare.py` draws the evenings, asks the program, and says what each costs. Run with
//! `--features outside` after `tests/outside/percussion/prepare`; the folder is `$LEVARE_OUTSIDE` or `target/outside`.

use std::path::{Path, PathBuf};
use std::process::Command;

fn compared(more: &[&str]) -> (bool, String) {
    let folder = std::env::var_os("LEVARE_OUTSIDE").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/outside"),
        PathBuf::from,
    );
    let python = folder.join("percussion-python/bin/python");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/evenings/compare.py");
    let run = Command::new(&python)
        .arg(script)
        .args(more)
        .output()
        .unwrap_or_else(|why| {
            panic!(
                "{}: {why}; run tests/outside/percussion/prepare",
                python.display()
            )
        });
    let said = [run.stdout, run.stderr].concat();
    (run.status.success(), String::from_utf8_lossy(&said).into_owned())
}

/// Ten evenings with ten seconds each; thirty with a minute each are asked for by hand, with `compare.py`.
#[test]
fn no_evening_is_less_even_or_less_varied() {
    let (agrees, said) = compared(&["7", "10", env!("CARGO_BIN_EXE_levare"), "10"]);
    println!("{said}");
    assert!(agrees, "{said}");
}

#[test]
fn an_unfair_evening_is_seen() {
    let (seen, said) = compared(&["7", "4", env!("CARGO_BIN_EXE_levare"), "10", "--planted"]);
    println!("{said}");
    assert!(seen, "{said}");
}
