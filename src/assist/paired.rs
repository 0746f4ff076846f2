//! The places of a name in one file: shown together, and edited together where that is all of them.

use crate::text::Span;

use super::Place;
use super::spots::{self, Thing};

/// The places of the name under the cursor in this file, in bytes of the file, and whether the name is given
/// there.
pub fn highlights(place: &Place<'_>) -> Vec<(Span, bool)> {
    let Some((thing, _)) = spots::thing(place) else {
        return Vec::new();
    };
    let Some(cards) = place.snapshot.file_of(place.id) else {
        return Vec::new();
    };
    spots::of(place, &thing)
        .into_iter()
        .filter(|spot| spot.target.id.file == place.id.file)
        .map(|spot| {
            (
                cards.in_file(spot.target.id.entry as usize, spot.target.span),
                spot.gives,
            )
        })
        .collect()
}

/// The places that are typed together with the one under the cursor, in bytes of the file. Only a name that is
/// given on a card of this file, is written alike everywhere and stands nowhere else can be typed so.
pub fn linked(place: &Place<'_>) -> Vec<Span> {
    let Some((thing, here)) = spots::thing(place) else {
        return Vec::new();
    };
    if matches!(thing, Thing::Several(_) | Thing::Missing(..)) {
        return Vec::new();
    }
    let found = spots::of(place, &thing);
    let words = here.slice(place.text());
    let alike = found.iter().all(|spot| {
        spot.target.id.file == place.id.file
            && place
                .snapshot
                .entry(spot.target.id)
                .is_some_and(|entry| spot.target.span.slice(&entry.text) == words)
    });
    let given = found.iter().filter(|spot| spot.gives).count();
    if !alike || given != 1 || found.len() < 2 {
        return Vec::new();
    }
    highlights(place).into_iter().map(|(span, _)| span).collect()
}
