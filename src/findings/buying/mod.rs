//! Prices, bundles and budgets.

pub mod bundle_dearer_than_its_pieces;
pub mod held_twice;
mod money;
pub mod over_the_budget;
