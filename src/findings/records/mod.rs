//! What has been performed, graded and counted.

pub mod performance_still_to_come;
pub mod performance_written_twice;
pub mod two_concerts_at_once;
pub mod two_grades_from_one_source;
