//! Who covers which wind part.

pub mod cue_nobody_has;
pub(crate) mod cues;
pub mod fewer_instruments_than_players;
pub mod more_than_the_section_has;
pub mod nobody_on_the_bass_line;
pub mod nobody_plays_it;
pub mod part_short_of_players;
pub mod section_out_of_balance;
pub mod solo_without_a_cue;
pub mod treble_clef_player_without_a_part;
