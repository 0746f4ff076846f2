//! Rules about grades.

pub mod beyond_its_grade;
pub mod far_above_the_band;
pub mod grade_off_the_scale;
pub mod lists_disagree;
