//! The invented demo year that is part of the program.

pub use crate::catalogue::ready::{DEMO as FILES, demo_day as day};
