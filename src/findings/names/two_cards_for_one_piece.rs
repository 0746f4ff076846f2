//! Two cards that are about one piece.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::EntryId;
use crate::catalogue::names::{key, nearly_alike};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::writers::{Writers, compare};

rule! {
    /// Two cards with one title, or with titles a letter apart, that nothing tells apart: the same writer, or
    /// one of them says no writer.
    ///
    /// # Why it matters
    ///
    /// What you learned stands on one card and the copies are counted on the other; a program that names the
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
    TwoCardsForOnePiece: "two cards for one piece", Names, Warning, reads Catalogue
}

/// The other card.
pub struct Other {
    entry: Arc<Entry>,
    file: String,
    not_said: bool,
}

impl Notice for TwoCardsForOnePiece {
    type What = Other;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Other>> {
        let pair = earlier(card).into_iter().find_map(|(id, entry)| {
            let writers = compare(card.piece()?, entry.piece()?);
            let one_title = key(&entry.name) == key(&card.entry.name);
            let one = writers == Writers::Same || (one_title && writers == Writers::NotSaid);
            one.then(|| {
                let other = Other {
                    file: file_of(card, id),
                    not_said: writers == Writers::NotSaid,
                    entry,
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
                (false, "") => format!("\"{other}\" above is by the same writer and one slip away."),
                (false, file) => format!("\"{other}\" in {file} is by the same writer and one slip away."),
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
        vec![card.beside(&what.entry, what.entry.name_span, "Here is the other card.")]
    }
}

/// The pieces above this one, or in files before its own, whose titles are the same or nearly.
pub(super) fn earlier(card: &Card<'_>) -> Vec<(EntryId, Arc<Entry>)> {
    if card.piece().is_none() || card.entry.name.is_empty() {
        return Vec::new();
    }
    let name = &card.entry.name;
    let names = card.snapshot.names();
    let mut ids: Vec<EntryId> = names.of(crate::notation::Kind::Piece, name).collect();
    ids.extend(names.near(name));
    ids.sort_unstable();
    ids.dedup();
    ids.into_iter()
        .filter(|id| *id < card.id)
        .filter_map(|id| Some((id, Arc::clone(card.snapshot.entry(id)?))))
        .filter(|(_, entry)| key(&entry.name) == key(name) || nearly_alike(&entry.name, name))
        .collect()
}

/// The file of another card; empty when it is this card's own.
pub(super) fn file_of(card: &Card<'_>, id: EntryId) -> String {
    let path = card.snapshot.file_of(id).map(|file| file.path.to_string());
    path.filter(|_| id.file != card.id.file).unwrap_or_default()
}
