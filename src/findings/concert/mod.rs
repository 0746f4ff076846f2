//! Programs of concerts.

pub mod all_in_one_key;
pub mod high_brass_twice_in_a_row;
pub mod loan_over;
pub mod movement_not_there;
mod neighbors;
pub mod not_a_condition;
pub mod one_piece_twice;
pub mod order_date_too_near;
pub mod over_length;
pub mod performed_too_recently;
pub mod program_lacks;
pub mod seat_not_there;
pub mod two_of_a_kind_in_a_row;
