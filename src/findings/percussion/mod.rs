//! Percussion: how many players, and which instruments.

mod kettles;
pub mod needs_fewer_than_sound;
pub mod not_in_the_cupboard;
pub mod short_of_percussionists;
mod sounding;
