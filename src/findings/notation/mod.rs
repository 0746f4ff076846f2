//! How a card is written.

pub mod another_weekday;
pub mod day_or_month;
pub mod instrument_not_known;
pub(super) mod instruments;
pub mod line_above_the_first_card;
pub mod line_at_the_margin;
pub mod line_in_the_wrong_column;
pub mod mark_not_found;
pub mod measure_past_the_end;
pub mod name_without_quotes;
pub mod not_understood;
pub mod other_notation;
pub mod part_not_there;
pub(super) mod places;
pub mod range_backwards;
pub mod said_twice;
pub mod two_edits_met;
pub(super) mod walk;
pub mod which_instrument;
pub mod which_year;
pub mod word_not_on_the_card;
pub mod words_after_the_name;
