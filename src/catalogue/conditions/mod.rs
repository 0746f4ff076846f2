//! The one condition language: what a concert, criteria or a list calls for, and what a search looks for.
//!
//! The comma binds loosest, then `or`, then `not`. In a program `a`, a number and `at least N` count pieces
//! or different values; every other condition holds for each piece. A condition on an unknown fact is
//! neither true nor false.

mod amount;
mod card_facts;
mod card_words;
mod cursor;
mod fit_facts;
mod fit_words;
mod judge;
mod lexicon;
mod lowest;
mod music_facts;
mod music_words;
mod near;
mod part_facts;
mod part_words;
mod planned;
mod program;
mod read;
mod record_facts;
mod record_words;
mod say_facts;
mod show;
pub mod styles;
pub mod subject;
mod term;
mod time_words;
mod truth;
mod words;

pub use amount::Amount;
pub use fit_facts::NewSkills;
pub use judge::Evaluator;
pub use lexicon::{Lexicon, Sort};
pub(super) use lowest::grade_cards;
pub use lowest::{Step, lowest_met};
pub use music_facts::{different, seconds as lasts, slow_throughout};
pub use near::{Expected, Leftover};
pub use planned::Planned;
pub use program::{Lack, Verdict};
pub use read::{of_field, read, unheard};
pub use record_facts::lines_of;
pub use subject::Subject;
pub use term::{Condition, Coverage, Facet, MeterSort, Saying, Term, When};
pub use truth::{Truth, alone, behind};

#[cfg(test)]
mod tests;
#[cfg(test)]
mod typed;
