//! The concerts to come that list a piece.

use std::sync::Arc;

use jiff::civil::Date;

use crate::catalogue::Entry;
use crate::findings::card::Card;
use crate::text::Span;

/// A concert whose day is known.
pub(super) struct Coming<'s> {
    /// Its card.
    pub entry: &'s Arc<Entry>,
    /// Where its day stands.
    pub span: Span,
    /// Its day.
    pub day: Date,
}

/// The concerts to come that list this piece and name their day, the first one first.
pub(super) fn coming<'s>(card: &Card<'s>) -> Vec<Coming<'s>> {
    let snapshot = card.snapshot;
    let mut found: Vec<Coming<'s>> = snapshot
        .listings_of(card.id)
        .iter()
        .filter_map(|listing| {
            let entry = snapshot.entry(listing.concert)?;
            let on = entry.concert()?.on.as_ref().filter(|on| on.is_certain())?;
            on.value.day.day?;
            Some(Coming {
                entry,
                span: on.span,
                day: on.value.day.first()?,
            })
        })
        .collect();
    found.sort_by_key(|concert| concert.day);
    found
}
