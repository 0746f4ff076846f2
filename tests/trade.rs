//! Facts of the trade as their sources print them, typed here once more and held against the crate.
//!
//! Every table names its source. What the sources disagree on stays apart. "Common practice, no source" and
//! "from memory" mean what they say.

#[path = "trade/abbreviations.rs"]
mod abbreviations;
#[path = "trade/charts.rs"]
mod charts;
#[path = "trade/clarinet.rs"]
mod clarinet;
#[path = "trade/covers.rs"]
mod covers;
#[path = "trade/keys.rs"]
mod keys;
#[path = "trade/lengths.rs"]
mod lengths;
#[path = "trade/solved.rs"]
mod solved;
#[path = "trade/tempos.rs"]
mod tempos;
#[path = "trade/timpani.rs"]
mod timpani;
#[path = "trade/transposition.rs"]
mod transposition;

use levare::music::{Instrument, Instruments, Pitch};

/// A standard instrument by its own name.
fn instrument(name: &str) -> &'static Instrument {
    let found = Instruments::standard().find(name).exact();
    found
        .filter(|instrument| instrument.name == name)
        .unwrap_or_else(|| panic!("{name} is no standard name"))
}

/// A pitch that reads.
fn pitch(name: &str) -> Pitch {
    Pitch::read(name).unwrap_or_else(|| panic!("{name} is no pitch"))
}
