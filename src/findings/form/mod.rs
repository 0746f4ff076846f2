//! The form of a piece.

pub mod place_not_in_the_form;
