//! Wind parts against each other.

pub mod brass_without_a_rest;
pub mod leans_on_a_missing_part;
pub mod low_lines_short_of_players;
pub mod one_player_cannot_divide;
pub mod part_number_skipped;
mod rows;
pub mod same_as_itself;
pub mod same_notes_in_two_ranges;
pub mod second_part_above_the_first;
pub mod silent_and_playing;
pub mod two_ranges_for_one_part;
