//! What an editor can do with a card: from a snapshot and a place to plain data.
//!
//! One feature a file. Nothing here knows a protocol, a file system or a clock. A place in a file is a
//! byte offset of that file ([`Place::at`]); results that may lie in other files are [`Target`]s, whose
//! spans count from the start of their card, all others are spans of the file that was asked about.

pub mod answers;
pub mod completion;
pub mod definition;
pub mod drafts;
pub mod fixes;
pub mod folding;
pub mod formatting;
pub mod hints;
pub mod hover;
pub mod inventory;
pub mod lens;
mod line;
pub mod lines;
pub mod links;
pub mod markdown;
mod marks;
mod offers;
pub mod on_type;
pub mod paged;
pub mod paired;
mod place;
pub mod planned;
pub mod programmed;
pub mod reason;
pub mod recorded;
pub mod refactor;
pub mod references;
pub mod rename;
pub mod seasoned;
pub mod selection;
pub mod sharing;
pub mod signature;
pub mod spots;
pub mod symbols;
pub mod tokens;
pub mod told;
mod words;

pub use place::{NameHere, Place, Target};
