//! The one condition language: what a concert, criteria or a list calls for, and what a search looks for.
//!
//! The comma binds loosest, then `or`, then `not`. In a program `a`, a number and `at least N` count pieces
//! or different values; every other condition holds for each piece. A condition on an unknown fact is
//! neither true nor false.

mod amount;
mod card_facts;
mod card_words;
mod judge;
mod lowest;
mod music_facts;
mod music_words;
mod near;
mod part_facts;
mod program;
mod read;
pub mod styles;
pub mod subject;
mod term;
mod truth;
mod words;

pub use amount::Amount;
pub use judge::Evaluator;
pub use lowest::{Step, grade_cards, lowest_met};
pub use music_facts::slow_throughout;
pub use near::{Near, near, was_meant, was_understood};
pub use program::{Lack, Verdict};
pub use read::{of_field, read};
pub use subject::Subject;
pub use term::{Condition, Facet, MeterSort, Term, When};
pub use truth::Truth;

#[cfg(test)]
mod tests;
