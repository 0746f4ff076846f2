//! Rules about grades.

pub mod beyond_its_grade;
pub mod lists_disagree;
