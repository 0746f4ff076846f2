//! What is asked against what is taught, and in which order.

pub mod longer_than_the_weeks_left;
pub mod more_to_teach_than_weeks;
pub mod not_taught_yet;
pub mod skills_in_a_circle;
mod standing;
pub mod taught_in_the_wrong_order;
pub mod taught_too_late;
pub mod two_new_skills_at_once;

pub use standing::taught;
