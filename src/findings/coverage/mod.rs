//! Who covers which wind part.

mod cues;
pub mod more_than_the_section_has;
pub mod nobody_plays_it;
pub mod part_short_of_players;
pub mod solo_without_a_cue;
