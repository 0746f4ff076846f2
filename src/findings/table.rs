//! The table of all rules, in the order of the manual.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::buying;
use super::concert;
use super::coverage;
use super::form;
use super::grade;
use super::keys;
use super::library;
use super::names;
use super::notation;
use super::percussion;
use super::privacy;
use super::ranges;
use super::records;
use super::renamed::RENAMED;
use super::rule::Rule;
use super::skills;
use super::time;
use super::voices;

/// Every rule.
pub static RULES: &[&Rule] = &[
    &notation::word_not_on_the_card::WordNotOnTheCard::RULE,
    &notation::said_twice::SaidTwice::RULE,
    &notation::not_understood::NotUnderstood::RULE,
    &notation::another_weekday::AnotherWeekday::RULE,
    &notation::which_year::WhichYear::RULE,
    &notation::day_or_month::DayOrMonth::RULE,
    &notation::name_without_quotes::NameWithoutQuotes::RULE,
    &notation::words_after_the_name::WordsAfterTheName::RULE,
    &notation::line_at_the_margin::LineAtTheMargin::RULE,
    &notation::line_in_the_wrong_column::LineInTheWrongColumn::RULE,
    &notation::line_above_the_first_card::LineAboveTheFirstCard::RULE,
    &notation::two_edits_met::TwoEditsMet::RULE,
    &notation::other_notation::OtherNotation::RULE,
    &notation::instrument_not_known::InstrumentNotKnown::RULE,
    &notation::which_instrument::WhichInstrument::RULE,
    &notation::range_backwards::RangeBackwards::RULE,
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
    &names::name_spelled_two_ways::NameSpelledTwoWays::RULE,
    &keys::signature_against_center::SignatureAgainstCenter::RULE,
    &keys::key_not_taught::KeyNotTaught::RULE,
    &keys::signature_not_taught::SignatureNotTaught::RULE,
    &keys::signature_too_sharp::SignatureTooSharp::RULE,
    &keys::signature_too_flat::SignatureTooFlat::RULE,
    &time::length_against_measures::LengthAgainstMeasures::RULE,
    &time::beat_against_meter::BeatAgainstMeter::RULE,
    &time::roadmap_breaks_off::RoadmapBreaksOff::RULE,
    &time::ending_without_a_repeat::EndingWithoutARepeat::RULE,
    &time::marks_out_of_order::MarksOutOfOrder::RULE,
    &time::measures_backwards::MeasuresBackwards::RULE,
    &time::movements_do_not_add_up::MovementsDoNotAddUp::RULE,
    &time::one_mark_in_two_places::OneMarkInTwoPlaces::RULE,
    &time::pickup_as_long_as_a_measure::PickupAsLongAsAMeasure::RULE,
    &time::same_step_twice::SameStepTwice::RULE,
    &time::tempo_out_of_reach::TempoOutOfReach::RULE,
    &time::ending_alone::EndingAlone::RULE,
    &time::endings_do_not_meet::EndingsDoNotMeet::RULE,
    &time::times_against_endings::TimesAgainstEndings::RULE,
    &time::repeats_cross::RepeatsCross::RULE,
    &time::sign_without_a_jump::SignWithoutAJump::RULE,
    &time::sign_on_the_wrong_side::SignOnTheWrongSide::RULE,
    &time::measure_never_reached::MeasureNeverReached::RULE,
    &time::odd_measure_with_no_return::OddMeasureWithNoReturn::RULE,
    &time::change_beside_the_others::ChangeBesideTheOthers::RULE,
    &time::tempo_word_against_figure::TempoWordAgainstFigure::RULE,
    &time::track_longer_than_the_piece::TrackLongerThanThePiece::RULE,
    &time::movement_numbers_out_of_order::MovementNumbersOutOfOrder::RULE,
    &time::long_way_without_a_mark::LongWayWithoutAMark::RULE,
    &form::place_not_in_the_form::PlaceNotInTheForm::RULE,
    &ranges::off_the_instrument::OffTheInstrument::RULE,
    &ranges::beyond_what_they_play::BeyondWhatTheyPlay::RULE,
    &ranges::over_the_break::OverTheBreak::RULE,
    &ranges::chart_not_known::ChartNotKnown::RULE,
    &ranges::part_off_its_register::PartOffItsRegister::RULE,
    &ranges::beyond_the_publishers_grade::BeyondThePublishersGrade::RULE,
    &percussion::short_of_percussionists::ShortOfPercussionists::RULE,
    &percussion::instrument_without_a_player::InstrumentWithoutAPlayer::RULE,
    &percussion::move_too_quick::MoveTooQuick::RULE,
    &percussion::needs_fewer_than_sound::NeedsFewerThanSound::RULE,
    &percussion::not_in_the_closet::NotInTheCloset::RULE,
    &percussion::needs_disagree::NeedsDisagree::RULE,
    &percussion::one_instrument_for_two::OneInstrumentForTwo::RULE,
    &percussion::page_without_its_part::PageWithoutItsPart::RULE,
    &percussion::row_written_twice::RowWrittenTwice::RULE,
    &percussion::entrances_overlap::EntrancesOverlap::RULE,
    &percussion::retune_too_quick::RetuneTooQuick::RULE,
    &percussion::assigned_to_nobody::AssignedToNobody::RULE,
    &percussion::seat_written_twice::SeatWrittenTwice::RULE,
    &percussion::two_parts_for_one_player::TwoPartsForOnePlayer::RULE,
    &coverage::nobody_plays_it::NobodyPlaysIt::RULE,
    &coverage::solo_without_a_cue::SoloWithoutACue::RULE,
    &coverage::part_short_of_players::PartShortOfPlayers::RULE,
    &coverage::more_than_the_section_has::MoreThanTheSectionHas::RULE,
    &coverage::section_out_of_balance::SectionOutOfBalance::RULE,
    &coverage::nobody_on_the_bass_line::NobodyOnTheBassLine::RULE,
    &coverage::fewer_instruments_than_players::FewerInstrumentsThanPlayers::RULE,
    &coverage::cue_nobody_has::CueNobodyHas::RULE,
    &coverage::treble_clef_player_without_a_part::TrebleClefPlayerWithoutAPart::RULE,
    &grade::beyond_its_grade::BeyondItsGrade::RULE,
    &grade::lists_disagree::ListsDisagree::RULE,
    &grade::far_above_the_band::FarAboveTheBand::RULE,
    &grade::grade_off_the_scale::GradeOffTheScale::RULE,
    &concert::program_lacks::ProgramLacks::RULE,
    &concert::not_a_condition::NotACondition::RULE,
    &concert::all_in_one_key::AllInOneKey::RULE,
    &concert::high_brass_twice_in_a_row::HighBrassTwiceInARow::RULE,
    &concert::two_of_a_kind_in_a_row::TwoOfAKindInARow::RULE,
    &concert::performed_too_recently::PerformedTooRecently::RULE,
    &concert::order_date_too_near::OrderDateTooNear::RULE,
    &concert::over_length::OverLength::RULE,
    &concert::movement_not_there::MovementNotThere::RULE,
    &concert::player_not_on_the_roster::PlayerNotOnTheRoster::RULE,
    &concert::loan_over::LoanOver::RULE,
    &concert::one_piece_twice::OnePieceTwice::RULE,
    &concert::holiday_piece_out_of_season::HolidayPieceOutOfSeason::RULE,
    &concert::morning_or_evening::MorningOrEvening::RULE,
    &concert::nothing_to_play_all_evening::NothingToPlayAllEvening::RULE,
    &concert::one_instrument_all_evening::OneInstrumentAllEvening::RULE,
    &concert::one_composer_twice::OneComposerTwice::RULE,
    &concert::one_key_three_in_a_row::OneKeyThreeInARow::RULE,
    &concert::one_soloist_twice_running::OneSoloistTwiceRunning::RULE,
    &concert::program_far_too_short::ProgramFarTooShort::RULE,
    &concert::slow_opener_or_closer::SlowOpenerOrCloser::RULE,
    &concert::three_alike_in_a_row::ThreeAlikeInARow::RULE,
    &concert::fewer_scores_than_judges::FewerScoresThanJudges::RULE,
    &concert::repair_before_the_concert::RepairBeforeTheConcert::RULE,
    &concert::absent_player::AbsentPlayer::RULE,
    &concert::concert_on_a_day_off::ConcertOnADayOff::RULE,
    &concert::few_rehearsals::FewRehearsals::RULE,
    &library::due_before_lent::DueBeforeLent::RULE,
    &library::fewer_copies_than_players::FewerCopiesThanPlayers::RULE,
    &library::lent_at_the_concert::LentAtTheConcert::RULE,
    &library::license_over::LicenseOver::RULE,
    &library::license_does_not_allow_it::LicenseDoesNotAllowIt::RULE,
    &library::not_counted_for_years::NotCountedForYears::RULE,
    &library::loan_not_back::LoanNotBack::RULE,
    &library::missing_part_in_a_program::MissingPartInAProgram::RULE,
    &library::score_missing::ScoreMissing::RULE,
    &library::loan_without_a_due_day::LoanWithoutADueDay::RULE,
    &library::more_copies_than_licensed::MoreCopiesThanLicensed::RULE,
    &voices::leans_on_a_missing_part::LeansOnAMissingPart::RULE,
    &voices::low_lines_short_of_players::LowLinesShortOfPlayers::RULE,
    &voices::one_player_cannot_divide::OnePlayerCannotDivide::RULE,
    &voices::part_number_skipped::PartNumberSkipped::RULE,
    &voices::same_as_itself::SameAsItself::RULE,
    &voices::same_notes_in_two_ranges::SameNotesInTwoRanges::RULE,
    &voices::silent_and_playing::SilentAndPlaying::RULE,
    &voices::two_ranges_for_one_part::TwoRangesForOnePart::RULE,
    &voices::second_part_above_the_first::SecondPartAboveTheFirst::RULE,
    &voices::brass_without_a_rest::BrassWithoutARest::RULE,
    &skills::longer_than_the_weeks_left::LongerThanTheWeeksLeft::RULE,
    &skills::more_to_teach_than_weeks::MoreToTeachThanWeeks::RULE,
    &skills::not_taught_yet::NotTaughtYet::RULE,
    &skills::skills_in_a_circle::SkillsInACircle::RULE,
    &skills::taught_in_the_wrong_order::TaughtInTheWrongOrder::RULE,
    &skills::taught_too_late::TaughtTooLate::RULE,
    &skills::two_new_skills_at_once::TwoNewSkillsAtOnce::RULE,
    &buying::bundle_costs_more_than_its_pieces::BundleCostsMoreThanItsPieces::RULE,
    &buying::listed_twice::ListedTwice::RULE,
    &buying::over_the_budget::OverTheBudget::RULE,
    &privacy::looks_like_a_full_name::LooksLikeAFullName::RULE,
    &records::performance_still_to_come::PerformanceStillToCome::RULE,
    &records::performance_written_twice::PerformanceWrittenTwice::RULE,
    &records::two_concerts_at_once::TwoConcertsAtOnce::RULE,
    &records::two_grades_from_one_source::TwoGradesFromOneSource::RULE,
    &records::concert_not_recorded::ConcertNotRecorded::RULE,
    &records::list_of_an_old_year::ListOfAnOldYear::RULE,
];

/// The place in the table of the rule that goes by a phrase, or went by it before.
pub(super) fn number(phrase: &str) -> Option<usize> {
    static NUMBERS: OnceLock<HashMap<&'static str, usize>> = OnceLock::new();
    let numbers = NUMBERS.get_or_init(|| {
        let of = |phrase| RULES.iter().position(|rule| rule.phrase == phrase);
        let old = RENAMED.iter().filter_map(|(old, new)| Some((*old, of(*new)?)));
        let own = RULES.iter().enumerate().map(|(at, rule)| (rule.phrase, at));
        old.chain(own).collect()
    });
    numbers.get(phrase).copied()
}

/// The rule of a phrase, whatever its capitals and blanks; a phrase that it went by before will do.
pub fn find(phrase: &str) -> Option<&'static Rule> {
    let mut folded = String::with_capacity(phrase.len());
    for word in phrase.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.push_str(word);
    }
    RULES.get(number(&folded.to_lowercase())?).copied()
}

/// The known phrase nearest to one that is not known.
pub fn nearest(phrase: &str) -> Option<&'static str> {
    crate::notation::nearest(phrase, RULES.iter().map(|rule| rule.phrase))
}
