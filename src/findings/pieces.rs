//! A piece and its movements, taken one after another.

use crate::catalogue::model::Piece;

/// The piece itself, then its movements with their numbers.
pub(crate) fn levels(piece: &Piece) -> Vec<(Option<u32>, &Piece)> {
    let movements = piece.movements.iter();
    std::iter::once((None, piece))
        .chain(movements.map(|movement| (Some(movement.number), &movement.piece)))
        .collect()
}

/// A place on one of these levels: `parts`, or `movement 2, parts`.
pub(crate) fn place(movement: Option<u32>, words: &str) -> String {
    match movement {
        Some(number) => format!("movement {number}, {words}"),
        None => words.to_owned(),
    }
}
