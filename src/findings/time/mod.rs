//! Measures, meters, tempos, lengths and the roadmap.

pub mod beat_against_meter;
mod counted;
pub mod ending_without_a_repeat;
mod jumps;
pub mod length_against_measures;
pub mod marks_out_of_order;
pub mod measures_upside_down;
mod near;
pub mod road_breaks_off;
