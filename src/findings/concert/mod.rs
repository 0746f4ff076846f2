//! Programs of concerts.

pub mod absent_player;
pub mod all_in_one_key;
pub mod concert_on_a_day_off;
pub mod few_rehearsals;
pub mod high_brass_twice_in_a_row;
pub mod holiday_piece_out_of_season;
pub mod loan_over;
pub mod morning_or_evening;
pub mod movement_not_there;
mod neighbors;
pub mod not_a_condition;
pub mod nothing_to_play_all_evening;
pub mod one_composer_twice;
pub mod one_key_three_in_a_row;
pub mod one_piece_twice;
pub mod one_soloist_twice_running;
pub mod order_date_too_near;
pub mod over_length;
pub mod performed_too_recently;
pub mod player_not_on_the_roster;
pub mod program_far_too_short;
pub mod program_lacks;
pub mod slow_opener_or_closer;
pub mod three_alike_in_a_row;
pub mod two_of_a_kind_in_a_row;
mod who;
