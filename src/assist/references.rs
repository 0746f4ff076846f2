//! Every place where a card's name is used.

use super::{Place, Target};

/// The uses of the name under the cursor, in the order of the catalogue; with the cards' own heads when
/// `heads` is set.
pub fn of(place: &Place<'_>, heads: bool) -> Vec<Target> {
    let snapshot = place.snapshot;
    let mut found = Vec::new();
    for id in place.meant() {
        if heads && let Some(entry) = snapshot.entry(id) {
            found.push(Target {
                id,
                span: entry.name_span,
            });
        }
        found.extend(
            snapshot
                .uses_of(id)
                .into_iter()
                .map(|(id, name)| Target { id, span: name.span }),
        );
    }
    // A name that has no card is still used in several places.
    if found.is_empty()
        && let Some(super::NameHere::Use(wanted)) = place.name()
    {
        let key = crate::catalogue::names::key(&wanted.name);
        for (id, entry) in snapshot.entries() {
            found.extend(
                entry
                    .uses
                    .iter()
                    .filter(|name| {
                        name.wants == wanted.wants && crate::catalogue::names::key(&name.name) == key
                    })
                    .map(|name| Target { id, span: name.span }),
            );
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}
