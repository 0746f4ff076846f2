//! Pieces that follow each other in the program of a concert to come.

use crate::catalogue::conditions::{Evaluator, Subject};
use crate::catalogue::model::{Concert, ProgramPiece};
use crate::findings::card::Card;

/// Two neighbors, each with its place in the program.
pub(super) struct Neighbors<'s> {
    pub(super) first: (&'s ProgramPiece, Subject<'s>),
    pub(super) second: (&'s ProgramPiece, Subject<'s>),
}

/// A row of a program with the piece's facts; a row without a card has none.
pub(super) type Row<'s> = (&'s ProgramPiece, Option<Subject<'s>>);

/// The rows of a concert to come, warm-ups and other pieces that are not judged left out; nothing of one that
/// is over.
pub(super) fn coming<'s>(card: &Card<'s>) -> Option<(&'s Concert, Vec<Row<'s>>)> {
    let concert = card.entry.concert().filter(|_| !card.is_over())?;
    let pieces = Evaluator::new(card.snapshot).pieces_of(concert);
    let rows = concert.program.iter().zip(pieces);
    let judged = rows.filter(|(_, piece)| piece.is_none_or(|piece| piece.piece.is_judged()));
    Some((concert, judged.collect()))
}

/// Every three rows in a row that have cards and are played by the same bands, with where the first of them stands.
pub(super) fn threes<'r, 's>(
    rows: &'r [Row<'s>],
) -> impl Iterator<Item = (usize, [(&'s ProgramPiece, Subject<'s>); 3])> + 'r {
    rows.windows(3).enumerate().filter_map(|(at, three)| {
        let [(a, Some(one)), (b, Some(two)), (c, Some(three))] = three else {
            return None;
        };
        (a.bands == b.bands && b.bands == c.bands).then_some((at, [(*a, *one), (*b, *two), (*c, *three)]))
    })
}

/// The neighbors that have cards and are played by the same bands, with the concert; none of a concert that is
/// over.
pub(super) fn neighbors<'s>(card: &Card<'s>) -> Option<(&'s Concert, Vec<Neighbors<'s>>)> {
    let (concert, rows) = coming(card)?;
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
