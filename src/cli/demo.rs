//! The invented demo year that is part of the program.

use jiff::civil::{Date, date};

macro_rules! files {
    ($($name:literal)*) => {
        &[$(($name, include_str!(concat!("../../demo/", $name)))),*]
    };
}

/// The demo's files: their paths below its folder, and their texts.
pub const FILES: &[(&str, &str)] = files!(
    "bundles.levare"
    "concerts.levare"
    "criteria.levare"
    "ensembles.levare"
    "handbook.levare"
    "instruments.levare"
    "lists.levare"
    "pieces/beginners.levare"
    "pieces/concert-works.levare"
    "pieces/lyrical.levare"
    "pieces/marches.levare"
    "pieces/winter.levare"
    "skills.levare"
);

/// The day on which the demo is read: in its fall, before its first concert.
pub fn day() -> Date {
    date(2026, 10, 20)
}
