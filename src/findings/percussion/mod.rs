//! Percussion: how many players, and which instruments.

pub mod assigned_to_nobody;
pub mod entrances_overlap;
pub mod instrument_without_a_player;
mod kettles;
pub mod move_too_quick;
pub mod needs_disagree;
pub mod needs_fewer_than_sound;
pub mod not_in_the_closet;
pub mod one_instrument_for_two;
pub mod page_without_its_part;
pub mod retune_too_quick;
pub mod row_written_twice;
pub mod seat_written_twice;
pub mod short_of_percussionists;
pub(crate) mod sounding;
pub mod two_parts_for_one_player;
