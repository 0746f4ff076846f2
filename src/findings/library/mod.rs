//! Copies, loans and what else the library keeps.

pub mod due_before_lent;
