//! Catalogues that are part of the program: the invented demo year, and a small one to fill in.

use jiff::civil::{Date, date};

macro_rules! files {
    ($($name:literal)*) => {
        &[$(($name, include_str!(concat!("../../demo/", $name)))),*]
    };
}

/// The demo's files: their paths below its folder, and their texts.
pub const DEMO: &[(&str, &str)] = files!(
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
pub fn demo_day() -> Date {
    date(2026, 10, 20)
}

/// The small catalogue to fill in: paths below its folder, and texts.
pub const STARTER: &[(&str, &str)] = &[
    ("handbook.levare", include_str!("ready/handbook.levare")),
    ("band.levare", include_str!("ready/band.levare")),
    ("pieces.levare", include_str!("ready/pieces.levare")),
    ("concerts.levare", include_str!("ready/concerts.levare")),
];
