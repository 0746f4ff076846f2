//! The table of all rules, in the order of the manual.

use super::concert;
use super::keys;
use super::library;
use super::names;
use super::rule::Rule;
use super::time;

/// Every rule.
pub static RULES: &[&Rule] = &[
    &names::idle_stet::IdleStet::RULE,
    &keys::signature_against_center::SignatureAgainstCenter::RULE,
    &keys::key_not_taught::KeyNotTaught::RULE,
    &keys::signature_too_sharp::SignatureTooSharp::RULE,
    &time::length_against_measures::LengthAgainstMeasures::RULE,
    &time::beat_against_meter::BeatAgainstMeter::RULE,
    &time::road_breaks_off::RoadBreaksOff::RULE,
    &time::ending_without_a_repeat::EndingWithoutARepeat::RULE,
    &time::marks_out_of_order::MarksOutOfOrder::RULE,
    &time::measures_upside_down::MeasuresUpsideDown::RULE,
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
