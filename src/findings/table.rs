//! The table of all rules, in the order of the manual.

use super::concert;
use super::coverage;
use super::grade;
use super::keys;
use super::library;
use super::names;
use super::notation;
use super::percussion;
use super::ranges;
use super::rule::Rule;
use super::time;

/// Every rule.
pub static RULES: &[&Rule] = &[
    &notation::word_not_on_the_card::WordNotOnTheCard::RULE,
    &notation::said_twice::SaidTwice::RULE,
    &notation::not_understood::NotUnderstood::RULE,
    &notation::name_without_quotes::NameWithoutQuotes::RULE,
    &notation::words_after_the_name::WordsAfterTheName::RULE,
    &notation::line_at_the_margin::LineAtTheMargin::RULE,
    &notation::line_above_the_first_card::LineAboveTheFirstCard::RULE,
    &notation::two_edits_met::TwoEditsMet::RULE,
    &notation::other_notation::OtherNotation::RULE,
    &notation::instrument_not_known::InstrumentNotKnown::RULE,
    &notation::which_instrument::WhichInstrument::RULE,
    &notation::range_upside_down::RangeUpsideDown::RULE,
    &notation::measure_past_the_end::MeasurePastTheEnd::RULE,
    &notation::mark_not_found::MarkNotFound::RULE,
    &notation::part_not_there::PartNotThere::RULE,
    &names::title_not_found::TitleNotFound::RULE,
    &names::which_piece::WhichPiece::RULE,
    &names::two_cards_for_one_piece::TwoCardsForOnePiece::RULE,
    &names::titles_nearly_alike::TitlesNearlyAlike::RULE,
    &names::two_cards_of_one_name::TwoCardsOfOneName::RULE,
    &names::nearly_a_skill::NearlyASkill::RULE,
    &names::idle_card::IdleCard::RULE,
    &names::open_question::OpenQuestion::RULE,
    &names::phrase_not_known::PhraseNotKnown::RULE,
    &names::reason_missing::ReasonMissing::RULE,
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
    &ranges::off_the_instrument::OffTheInstrument::RULE,
    &ranges::beyond_what_they_play::BeyondWhatTheyPlay::RULE,
    &ranges::over_the_break::OverTheBreak::RULE,
    &ranges::chart_not_known::ChartNotKnown::RULE,
    &percussion::short_of_percussionists::ShortOfPercussionists::RULE,
    &percussion::needs_fewer_than_sound::NeedsFewerThanSound::RULE,
    &percussion::not_in_the_cupboard::NotInTheCupboard::RULE,
    &coverage::nobody_plays_it::NobodyPlaysIt::RULE,
    &coverage::solo_without_a_cue::SoloWithoutACue::RULE,
    &coverage::part_short_of_players::PartShortOfPlayers::RULE,
    &grade::beyond_its_grade::BeyondItsGrade::RULE,
    &grade::lists_disagree::ListsDisagree::RULE,
    &concert::program_lacks::ProgramLacks::RULE,
    &concert::not_a_condition::NotACondition::RULE,
    &concert::all_in_one_key::AllInOneKey::RULE,
    &concert::two_of_a_kind_in_a_row::TwoOfAKindInARow::RULE,
    &concert::performed_too_recently::PerformedTooRecently::RULE,
    &concert::order_date_too_near::OrderDateTooNear::RULE,
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
