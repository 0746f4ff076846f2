//! Copies, loans and what else the library keeps.

mod concerts;
pub mod due_before_lent;
pub mod fewer_copies_than_players;
pub mod lent_at_the_concert;
pub mod license_does_not_allow_it;
pub mod license_over;
pub mod loan_not_back;
pub mod loan_without_a_due_day;
pub mod missing_part_in_a_program;
pub mod more_copies_than_licensed;
pub mod not_counted_for_years;
pub mod score_missing;
