//! Fresh instances written as cards, read and answered by the program itself, and compared by
//! `tests/outside/percussion/fresh.py` with what others prove.

use std::path::Path;
use std::process::Command;
use std::time::{SystemTime, UNIX_EPOCH};

use super::folder;

/// The seed: other instances at each run, or those of `$LEVARE_SEED` again.
fn seed() -> String {
    std::env::var("LEVARE_SEED").unwrap_or_else(|_| {
        let now = SystemTime::now().duration_since(UNIX_EPOCH);
        now.map_or(0, |now| now.as_secs()).to_string()
    })
}

/// Runs the comparison, and hands back whether it agrees and all it says.
fn compared(seed: &str, more: &[&str]) -> (bool, String) {
    let python = folder().join("percussion-python/bin/python");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/percussion/fresh.py");
    let run = Command::new(&python)
        .arg(script)
        .arg(seed)
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

#[test]
fn every_answer_to_fresh_cards_is_the_optimum() {
    let seed = seed();
    println!("LEVARE_SEED={seed}");
    let (agrees, said) = compared(&seed, &["60", env!("CARGO_BIN_EXE_levare")]);
    println!("{said}");
    assert!(agrees, "LEVARE_SEED={seed}\n{said}");
}

#[test]
fn planted_mistakes_are_seen() {
    let (seen, said) = compared("5", &["20", env!("CARGO_BIN_EXE_levare"), "--planted"]);
    println!("{said}");
    assert!(seen, "{said}");
}
