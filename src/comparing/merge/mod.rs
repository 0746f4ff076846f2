//! Two people's edits of one file or of a whole catalogue, put together by card, field, row and item.
//!
//! What each side added, took out or changed holds. Where both changed the same thing in different ways, both
//! readings stay on the card between marks that the notation knows, and a rule tells them. Each card that was put
//! together is read again: should it lack anything that either side says, both writings of the card are kept.

mod card;
mod check;
mod file;
mod folder;
mod lines;
mod parts;

pub(super) use file::likeness;
pub use file::{Clash, Merged, merge};
pub use folder::{Files, merge_all};

#[cfg(test)]
mod tests;
