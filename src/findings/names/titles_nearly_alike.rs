//! Two titles a letter apart, of which one has no writer.

use std::sync::Arc;

use crate::catalogue::{Entry, EntryId};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::two_cards_for_one_piece::earlier;
use super::writers::{Writers, compare};

rule! {
    /// Two titles that are a letter or two apart, where one of the cards does not say who wrote the piece.
    ///
    /// # Why it matters
    ///
    /// It may be one piece written down twice, and only you can tell.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Snowball Polka"
    ///   by              Dot Hanrahan
    ///
    /// piece "Snowball Polkas"
    ///        ^^^^^^^^^^^^^^^
    ///   style           polka
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Snowball Polka"
    ///   by              Dot Hanrahan
    ///
    /// piece "Snowball Polkas"
    ///   by              Lew Sandoval
    /// ```
    ///
    /// # What to do
    ///
    /// Say on both cards who wrote the piece, or make one card of the two.
    TitlesNearlyAlike: "titles nearly alike", Names, Hint, reads Catalogue, looks at Piece
}

impl Notice for TitlesNearlyAlike {
    type What = (EntryId, Arc<Entry>);

    fn notice(card: &Card<'_>) -> Vec<Noticed<(EntryId, Arc<Entry>)>> {
        let other = earlier(card, false)
            .find(|(_, entry, _)| compare(&card.entry.face.by, &entry.face.by) == Writers::NotSaid);
        other
            .into_iter()
            .map(|(id, entry, _)| Noticed::new(card.head_span(), (id, Arc::clone(entry))))
            .collect()
    }

    fn say((_, what): &(EntryId, Arc<Entry>), card: &Card<'_>) -> Saying {
        Saying {
            place: String::new(),
            says: format!("\"{}\" and \"{}\" are nearly alike.", card.entry.name, what.name),
            why: "It may be one piece written down twice.".to_owned(),
            todo: "Say on both cards who wrote the piece, or make one card of the two.".to_owned(),
        }
    }

    fn related((id, what): &(EntryId, Arc<Entry>), card: &Card<'_>) -> Vec<Related> {
        vec![card.beside_card(*id, what.name_span, "Here is the other title.")]
    }
}
