//! The catalogue: cards with their facts, over many files, and how they hang together by name.
//!
//! The unit is the card. An edit touches one or two, and all places count from a card's own start.

pub mod conditions;
pub mod copies;
pub mod course;
pub mod cupboard;
pub mod doubt;
mod entry;
mod file;
pub mod high_brass;
mod instruments;
pub mod keys;
pub mod known;
mod ladder;
pub mod loans;
pub mod model;
pub mod names;
mod nearly;
pub mod percussion;
pub mod quotes;
pub mod ready;
pub mod sections;
mod snapshot;
mod worked;

pub use entry::{Entry, NameUse, Wants};
pub use file::{CardFile, largest_file};
pub use instruments::{family_named, instrument_named};
pub use ladder::{Circle, Ladder};
pub use nearly::{Nearly, nearly};
pub use snapshot::{EntryId, Judge, Listing, Snapshot};
pub use worked::{Answers, OfConcert, Shared};
