//! Where a piece stands: against criteria, condition by condition, and on lists.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::grade::show_hundredths;
use crate::planning::standing::{in_short, standing};

use super::super::markdown::words;

/// The most criteria and lists that a small window holds.
const MOST: usize = 8;

/// Where a piece stands; none where the card is no piece or nothing can be said.
pub(super) fn of(snapshot: &Snapshot, id: EntryId) -> Option<String> {
    let found = standing(snapshot, id, &[])?;
    let computed = found
        .computed
        .map(|grade| format!("meets our grade {}", show_hundredths(grade)));
    let criteria = found
        .criteria
        .iter()
        .take(MOST)
        .map(|one| format!("{}: {}", words(&one.name), words(&in_short(one))));
    let lists = found.lists.iter().take(MOST).map(|(list, grade)| match grade {
        Some(grade) => format!("on {}: grade {}", words(list), words(grade)),
        None => format!("on {}", words(list)),
    });
    let lines: Vec<String> = computed.into_iter().chain(criteria).chain(lists).collect();
    (!lines.is_empty()).then(|| lines.join("  \n"))
}
