//! Findings: the rules, what they say, how it is mended, how it is let stand.

pub mod buying;
pub mod card;
pub mod concert;
pub mod coverage;
mod finding;
pub mod form;
pub mod grade;
#[cfg(test)]
mod hostile_tests;
mod judging;
pub mod keys;
pub mod library;
mod looks;
mod mend;
pub mod names;
pub mod notation;
pub mod page;
pub mod percussion;
mod pieces;
pub mod privacy;
pub mod ranges;
pub mod records;
pub mod renamed;
mod rule;
mod run;
pub mod skills;
mod slips;
mod standing;
mod stet;
mod table;
pub mod time;
pub mod voices;

pub use card::Card;
pub use finding::{Finding, Related, Repair, Saying, Severity};
pub use looks::Looks;
pub use rule::{Family, Notice, Noticed, Reads, Rule, run as run_rule};
pub use run::{Kept, Look, Looked, Round, of_card};
pub use table::{RULES, find, nearest};
