//! What has been performed, graded and counted.

pub mod concert_not_recorded;
pub mod list_of_an_old_year;
pub mod performance_still_to_come;
pub mod performance_written_twice;
pub mod two_concerts_at_once;
pub mod two_grades_from_one_source;
