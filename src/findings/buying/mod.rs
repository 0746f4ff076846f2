//! Prices, bundles and budgets.

pub mod bundle_costs_more_than_its_pieces;
pub mod listed_twice;
mod money;
pub mod over_the_budget;
