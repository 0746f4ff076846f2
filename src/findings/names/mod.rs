//! Titles and other names.

pub mod idle_card;
pub mod idle_stet;
pub mod name_spelled_two_ways;
pub mod nearly_a_skill;
pub mod open_question;
pub mod phrase_not_known;
pub mod reason_missing;
pub mod title_not_found;
pub mod titles_nearly_alike;
pub mod two_cards_for_one_piece;
pub mod two_cards_of_one_name;
pub mod which_piece;
pub(super) mod writers;
