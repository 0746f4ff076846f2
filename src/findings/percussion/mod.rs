//! Percussion: how many players, and which instruments.

pub mod instrument_without_a_player;
mod kettles;
pub mod move_too_quick;
pub mod needs_at_odds;
pub mod needs_fewer_than_sound;
pub mod not_in_the_cupboard;
pub mod one_instrument_for_two;
pub mod page_without_its_part;
pub mod row_written_twice;
pub mod short_of_percussionists;
mod sounding;
