//! What the rules about voices read in a row.

use crate::music::PitchRange;
use crate::notation::row::{Fact, RowItem};
use crate::notation::values::Place;
use crate::text::Span;

/// A certain range that holds for the whole part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Whole {
    /// The range.
    pub range: PitchRange,
    /// Whether it is given in concert pitch.
    pub concert: bool,
    /// Where it stands.
    pub span: Span,
}

/// The range of a row, where it has exactly one for the whole part and gives it for certain.
pub(super) fn whole_range(row: &RowItem) -> Option<Whole> {
    let mut ranges = row.facts.iter().filter_map(|fact| match &fact.what {
        Fact::Range {
            range,
            concert,
            place: None | Some(Place::Throughout),
        } if fact.is_certain() => Some(Whole {
            range: *range,
            concert: *concert,
            span: fact.span,
        }),
        _ => None,
    });
    let range = ranges.next()?;
    // A second range for the whole part divides it, and nobody knows which player has which.
    ranges.next().is_none().then_some(range)
}
