//! What an editor can do with a card: from a snapshot and a place to plain data.
//!
//! One feature a file. Nothing here knows a protocol, a file system or a clock. A place in a file is a
//! byte offset of that file ([`Place::at`]); results that may lie in other files are [`Target`]s, whose
//! spans count from the start of their card, all others are spans of the file that was asked about.

pub mod completion;
pub mod definition;
pub mod fixes;
pub mod folding;
pub mod formatting;
pub mod hover;
mod line;
mod offers;
mod place;
pub mod references;
pub mod sharing;
pub mod symbols;

pub use place::{NameHere, Place, Target};
