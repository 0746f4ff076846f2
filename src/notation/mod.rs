//! The notation: from text to a lossless tree, from the tree to values, and back to text in the one form.
//!
//! Reading never fails. What is not understood stays in the tree with its place, and a rule says so.

mod asides;
mod build;
pub mod facts;
pub mod fields;
pub mod heard;
pub mod items;
mod kind;
pub mod names;
mod nearest;
mod of;
mod one_bar;
pub mod pieces;
mod read;
pub mod recopy;
pub mod remarks;
pub mod row;
mod rows;
pub(crate) mod scan;
mod show;
mod spoken;
mod stays;
mod takers;
pub mod tree;
pub mod values;

pub use build::{kind_of, split, starts_entry, starts_indented, unknown_word};
pub use heard::{Expected, Unheard};
pub use kind::Kind;
pub use nearest::{nearest, slips_at_most};
pub use of::Of;
pub use read::{Body, FieldReading, Reading, TableRow, read, read_some};
pub use takers::takers;
