//! Every place where a name is used: a card's, a mark's, a part's.

use super::{Place, Target, spots};

/// The uses of the name under the cursor, in the order of the catalogue; with the places where it is given when
/// `heads` is set.
pub fn of(place: &Place<'_>, heads: bool) -> Vec<Target> {
    let Some((thing, _)) = spots::thing(place) else {
        return Vec::new();
    };
    spots::of(place, &thing)
        .into_iter()
        .filter(|spot| heads || !spot.gives)
        .map(|spot| spot.target)
        .collect()
}
