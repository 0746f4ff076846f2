//! What only sharing out the parts can say, asked through a door that planning opens: conditions know no planning.

use std::fmt;

use crate::catalogue::{EntryId, Snapshot};

use super::subject::Subject;
use super::term::Coverage;
use super::truth::Truth;

/// Answers from sharing out the parts of a piece.
pub trait Planned: fmt::Debug + Sync {
    /// The fewest percussionists for all parts; none where the card does not tell measures and tempos.
    fn percussionists(&self, snapshot: &Snapshot, subject: &Subject<'_>) -> Option<u64>;

    /// Whether the bands (where none is named, those that the catalogue says play it) have a player for every
    /// part that is needed.
    fn covers(&self, snapshot: &Snapshot, subject: &Subject<'_>, bands: &[EntryId], which: Coverage)
    -> Truth;
}
