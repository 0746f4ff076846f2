//! Two bands, lists, skills or instruments of one name, and two handbooks.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;

use super::two_cards_for_one_piece::file_of;

rule! {
    /// Two cards of one kind and one name: two ensembles, two skills, two lists, two instruments, two criteria,
    /// two bundles, or two handbooks. Concerts may share a name from year to year.
    ///
    /// # Why it matters
    ///
    /// Other cards mean a band by its name. With two of the name, only the first is asked, and the players on the
    /// second are not counted.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   season          2025-26
    ///
    /// ensemble "Seventh Grade Band"
    ///           ^^^^^^^^^^^^^^^^^^
    ///   season          2026-27
    ///
    /// handbook
    ///   for             "Seventh Grade Band"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              2025-12-11
    ///
    /// concert "Winter evening"
    ///   on              2026-12-10
    /// ```
    ///
    /// # What to do
    ///
    /// Make one card of the two, or give one of them another name.
    TwoCardsOfOneName: "two cards of one name", Names, Warning, reads Catalogue, looks at Any
}

/// The first card of the name.
pub struct First {
    kind: Kind,
    entry: Arc<Entry>,
    file: String,
}

impl Notice for TwoCardsOfOneName {
    type What = First;

    fn notice(card: &Card<'_>) -> Vec<Noticed<First>> {
        let snapshot = card.snapshot;
        let first = match card.kind() {
            None | Some(Kind::Piece | Kind::Concert) => None,
            Some(Kind::Handbook) => snapshot.handbook_card().map(|(id, _)| id),
            Some(_) if card.entry.name.is_empty() => None,
            Some(kind) => snapshot.names().of(kind, &card.entry.name).min(),
        };
        let first = first.filter(|id| *id < card.id);
        let what = first.and_then(|id| {
            Some(First {
                kind: card.kind()?,
                entry: Arc::clone(snapshot.entry(id)?),
                file: file_of(card, id),
            })
        });
        what.into_iter()
            .map(|what| Noticed::new(card.head_span(), what))
            .collect()
    }

    fn say(what: &First, card: &Card<'_>) -> Saying {
        let place = match what.file.as_str() {
            "" => "above".to_owned(),
            file => format!("in {file}"),
        };
        Saying {
            place: String::new(),
            says: match what.kind {
                Kind::Handbook => format!("There is another handbook {place}."),
                kind => format!(
                    "There is another {kind} card for \"{}\" {place}.",
                    card.entry.name
                ),
            },
            why: "Only the first of the two counts, and what this one says is ignored.".to_owned(),
            todo: match what.kind {
                Kind::Handbook => "Make one handbook of the two.".to_owned(),
                _ => "Make one card of the two, or give this one another name.".to_owned(),
            },
        }
    }

    fn related(what: &First, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(&what.entry, what.entry.name_span, "Here is the first card.")]
    }
}
