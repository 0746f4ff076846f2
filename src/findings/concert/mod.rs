//! Programs of concerts.

pub mod loan_over;
pub mod movement_not_there;
pub mod over_length;
pub mod seat_not_there;
