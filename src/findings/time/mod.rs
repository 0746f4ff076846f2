//! Measures, meters, tempos, lengths and the roadmap.

pub mod beat_against_meter;
mod counted;
pub mod ending_without_a_repeat;
mod jumps;
pub mod length_against_measures;
pub mod marks_out_of_order;
pub mod measures_upside_down;
pub mod movements_do_not_add_up;
mod near;
pub mod one_mark_in_two_places;
pub mod pickup_as_long_as_a_measure;
pub mod road_breaks_off;
pub mod same_step_twice;
pub mod tempo_out_of_reach;
