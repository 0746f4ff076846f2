//! Pieces that follow each other in the program of a concert to come.

use crate::catalogue::conditions::{Evaluator, Subject};
use crate::catalogue::model::{Concert, ProgramPiece};
use crate::findings::card::Card;

/// Two neighbors, each with its place in the program.
pub(super) struct Neighbors<'s> {
    pub(super) first: (&'s ProgramPiece, Subject<'s>),
    pub(super) second: (&'s ProgramPiece, Subject<'s>),
}

/// The neighbors that have cards and are played by the same bands, with the concert; none of a concert that is
/// over.
pub(super) fn neighbors<'s>(card: &Card<'s>) -> Option<(&'s Concert, Vec<Neighbors<'s>>)> {
    let concert = card.entry.concert()?;
    let over = concert.on.as_ref().and_then(|on| on.value.day.last());
    if over.is_some_and(|day| day < card.snapshot.today) {
        return None;
    }
    let pieces = Evaluator::new(card.snapshot).pieces_of(concert);
    let rows: Vec<_> = concert.program.iter().zip(pieces).collect();
    let found = rows
        .windows(2)
        .filter_map(|two| {
            let [(first, Some(one)), (second, Some(other))] = two else {
                return None;
            };
            (first.bands == second.bands && one.id != other.id).then_some(Neighbors {
                first: (first, *one),
                second: (second, *other),
            })
        })
        .collect();
    Some((concert, found))
}
