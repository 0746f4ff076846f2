//! Two cards that are about one piece.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::EntryId;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::writers::{Writers, compare};

rule! {
    /// Two cards with one title, or with titles a letter apart, that nothing tells apart: the same composer, or
    /// one of them says no composer.
    ///
    /// # Why it matters
    ///
    /// What you learned is on one card and the copies are counted on the other; a program that names the
    /// piece finds both.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Paper Gliders"
    ///   by              Corwin Hale
    ///
    /// piece "Paper Glider"
    ///        ^^^^^^^^^^^^
    ///   by              Corwin Hale
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Air"
    ///   by              Tam Lindqvist
    ///
    /// piece "Air"
    ///   by              R. Abara
    ///
    /// piece "Pond Round No. 1"
    ///   by              Nell Farrow
    ///
    /// piece "Pond Round No. 2"
    ///   by              Nell Farrow
    /// ```
    ///
    /// # What to do
    ///
    /// Move what the second card says to the first and take the second out. If they are two pieces, say on both
    /// who wrote them.
    TwoCardsForOnePiece: "two cards for one piece", Names, Warning, reads Catalogue, looks at Piece
}

/// The other card.
pub struct Other {
    id: EntryId,
    entry: Arc<Entry>,
    file: String,
    not_said: bool,
}

impl Notice for TwoCardsForOnePiece {
    type What = Other;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Other>> {
        let pair = earlier(card, true).find_map(|(id, entry, one_title)| {
            let writers = compare(&card.entry.face.by, &entry.face.by);
            let one = writers == Writers::Same || (one_title && writers == Writers::NotSaid);
            one.then(|| {
                let other = Other {
                    file: file_of(card, id),
                    not_said: writers == Writers::NotSaid,
                    entry: Arc::clone(entry),
                    id,
                };
                Noticed::new(card.head_span(), other)
            })
        });
        pair.into_iter().collect()
    }

    fn say(what: &Other, card: &Card<'_>) -> Saying {
        let (mine, other) = (&card.entry.name, &what.entry.name);
        Saying {
            place: String::new(),
            says: match (mine == other, what.file.as_str()) {
                (true, "") => format!("There is another card for \"{mine}\" above."),
                (true, file) => format!("There is another card for \"{mine}\" in {file}."),
                (false, "") => format!("\"{other}\" above is by the same composer and spelled almost the same."),
                (false, file) => format!("\"{other}\" in {file} is by the same composer and spelled almost the same."),
            },
            why: "What you know of the piece is spread over two cards, and a program that names it finds both or the wrong one."
                .to_owned(),
            todo: match what.not_said {
                true => "Make one card of the two, or say on both who wrote them.".to_owned(),
                false => "Make one card of the two.".to_owned(),
            },
        }
    }

    fn related(what: &Other, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside_card(what.id, what.entry.name_span, "Here is the other card.")]
    }
}

/// So many earlier cards are compared with one at most: more cards of nearly one title by as many writers are no
/// shelf, and comparing all with all would take the square of their number.
const MOST_COMPARED: usize = 200;

/// The earlier pieces with a title that may be a slip for this one, in order; those of the very same title too
/// where `same`. Each comes with whether the title is the same.
pub(super) fn earlier<'s>(
    card: &Card<'s>,
    same: bool,
) -> impl Iterator<Item = (EntryId, &'s Arc<Entry>, bool)> + use<'s> {
    let snapshot = card.snapshot;
    let titles = card.near_titles().iter();
    let mut titles: Vec<(&'s [EntryId], bool)> = titles.filter(|(_, one)| *one <= same).copied().collect();
    let own_id = card.id;
    let next = move || {
        let heads = titles.iter_mut().filter(|(pieces, _)| !pieces.is_empty());
        let (pieces, one_title) = heads.min_by_key(|(pieces, _)| pieces.first().copied())?;
        let (first, rest) = pieces.split_first()?;
        *pieces = rest;
        (*first < own_id).then_some((*first, *one_title))
    };
    std::iter::from_fn(next)
        .take(MOST_COMPARED)
        .filter_map(move |(id, one_title)| Some((id, snapshot.entry(id)?, one_title)))
}

/// The file of another card; empty when it is this card's own.
pub(super) fn file_of(card: &Card<'_>, id: EntryId) -> String {
    let path = card.snapshot.file_of(id).map(|file| file.path.to_string());
    path.filter(|_| id.file != card.id.file).unwrap_or_default()
}
