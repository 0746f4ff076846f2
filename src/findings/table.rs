//! The table of all rules, in the order of the manual.

use super::concert;
use super::keys;
use super::library;
use super::names;
use super::rule::Rule;

/// Every rule.
pub static RULES: &[&Rule] = &[
    &names::idle_stet::IdleStet::RULE,
    &keys::signature_against_center::SignatureAgainstCenter::RULE,
    &concert::over_length::OverLength::RULE,
    &concert::movement_not_there::MovementNotThere::RULE,
    &concert::seat_not_there::SeatNotThere::RULE,
    &concert::loan_over::LoanOver::RULE,
    &library::due_before_lent::DueBeforeLent::RULE,
];

/// The rule of a phrase, whatever its capitals and blanks.
pub fn find(phrase: &str) -> Option<&'static Rule> {
    let phrase = phrase
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase();
    RULES.iter().copied().find(|rule| rule.phrase == phrase)
}

/// The known phrase nearest to one that is not known.
pub fn nearest(phrase: &str) -> Option<&'static str> {
    crate::notation::nearest(phrase, RULES.iter().map(|rule| rule.phrase))
}
