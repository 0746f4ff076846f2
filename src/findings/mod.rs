//! Findings: the rules, what they say, how it is mended, how it is let stand.

pub mod card;
pub mod concert;
pub mod coverage;
mod finding;
pub mod grade;
mod judging;
pub mod keys;
pub mod library;
pub mod names;
pub mod notation;
pub mod page;
pub mod percussion;
pub mod ranges;
mod rule;
mod run;
mod slips;
mod stet;
mod table;
pub mod time;
mod words;

pub use card::Card;
pub use finding::{Finding, Related, Repair, Saying, Severity};
pub use rule::{Family, Notice, Noticed, Reads, Rule, run as run_rule};
pub use run::{Kept, of_card};
pub use table::{RULES, find, nearest};
