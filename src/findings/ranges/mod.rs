//! Ranges and the clarinets' break.

pub mod beyond_the_publishers_grade;
pub mod beyond_what_they_play;
pub mod chart_not_known;
pub mod off_the_instrument;
pub mod over_the_break;
pub mod part_off_its_register;
mod register;
pub(super) mod written;
