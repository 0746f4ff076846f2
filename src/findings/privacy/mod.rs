//! Names of students.

pub mod looks_like_a_full_name;
