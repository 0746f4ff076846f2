//! A long session in which everything happens that can happen to a catalogue, compared with a fresh start and with
//! the command line again and again. As long as is wished, by hand:
//!
//! ```sh
//! LEVARE_EDITS=100000 LEVARE_SEED=1 cargo test --test soak -- --nocapture
//! ```
//!
//! A short one is part of every test run.

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]
#![allow(dead_code, reason = "what it shares with other tests is not all used")]

#[path = "desk/client.rs"]
mod client;
#[path = "soak/compare.rs"]
mod compare;
#[path = "desk/places.rs"]
mod places;
#[path = "soak/walk.rs"]
mod walk;
#[path = "soak/world.rs"]
mod world;

use walk::{Manner, walk};

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

/// Some steps of a few kinds of client; as many as are wished of all kinds.
#[test]
fn a_session_of_everything_at_once_is_like_a_fresh_start() {
    let all = Manner::all();
    match number("LEVARE_EDITS") {
        None => {
            for (number, manner) in [all[1], all[6], all[11]].into_iter().enumerate() {
                walk(manner, 3 + number as u64, 60, 30);
            }
        }
        Some(edits) => {
            let (seed, every) = (
                number("LEVARE_SEED").unwrap_or(1),
                number("LEVARE_EVERY").unwrap_or(250),
            );
            let share = edits / all.len() as u64;
            for (number, manner) in all.into_iter().enumerate() {
                walk(manner, seed.wrapping_add(number as u64), share, every);
            }
        }
    }
}
