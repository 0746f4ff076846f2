//! Every door through which text comes in, with texts that nobody would write: bytes, cards, edits, conditions,
//! roads, messages. Nothing may panic, a tree prints what was read, the one form stays the one form, and edits
//! leave what reading afresh gives.
//!
//! A short try is part of every test run, and so are the texts that were once too much (`tests/doors/kept`). A long
//! one is run by hand, a door at a time or all of them; what it stumbles over is kept:
//!
//! ```sh
//! LEVARE_SECONDS=600 LEVARE_SEED=1 LEVARE_DOOR=roads cargo test --release --test doors -- --nocapture
//! ```

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]
#![allow(dead_code, reason = "what it shares with other tests is not all used")]

#[path = "desk/client.rs"]
mod client;
#[path = "doors/made.rs"]
mod made;
#[path = "doors/through.rs"]
mod through;

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use made::Dice;
use through::DOORS;

fn kept() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/doors/kept")
}

fn said(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

/// A few texts at every door; for as long as is wished where that is said.
#[test]
fn every_door_bears_what_nobody_would_write() {
    if let Some(seconds) = said("LEVARE_SECONDS") {
        return long(Duration::from_secs(seconds));
    }
    for door in DOORS.iter() {
        for seed in [1, 2] {
            let mut dice = Dice(seed);
            for _ in 0..door.rounds {
                let text = (door.make)(&mut dice);
                (door.go)(&text);
            }
        }
    }
}

#[test]
fn what_was_once_too_much() {
    let mut tried = 0;
    for door in DOORS.iter() {
        for entry in std::fs::read_dir(kept().join(door.name))
            .into_iter()
            .flatten()
            .flatten()
        {
            (door.go)(&std::fs::read(entry.path()).unwrap());
            tried += 1;
        }
    }
    assert!(tried > 0, "none are kept");
}

fn long(seconds: Duration) {
    let chosen = std::env::var("LEVARE_DOOR").ok();
    for door in DOORS
        .iter()
        .filter(|door| chosen.as_deref().is_none_or(|name| name == door.name))
    {
        let mut dice = Dice(said("LEVARE_SEED").unwrap_or(1));
        let (start, mut tried, mut slowest) = (Instant::now(), 0u64, Duration::ZERO);
        while start.elapsed() < seconds {
            let text = (door.make)(&mut dice);
            let begun = Instant::now();
            let went = std::panic::catch_unwind(|| (door.go)(&text));
            if went.is_err() || begun.elapsed() > Duration::from_secs(20) {
                let folder = kept().join(door.name);
                std::fs::create_dir_all(&folder).unwrap();
                let path = folder.join(format!("{:016x}", dice.0));
                std::fs::write(&path, &text).unwrap();
                println!(
                    "{}: stumbled or took {:?}; kept as {}",
                    door.name,
                    begun.elapsed(),
                    path.display()
                );
            }
            slowest = slowest.max(begun.elapsed());
            tried += 1;
        }
        println!("{}: {tried} tried, the slowest took {slowest:?}", door.name);
    }
}
