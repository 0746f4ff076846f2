//! More copies in the folder than the license lets the school print.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::License;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::counted;

rule! {
    /// A license for so many printed copies, and more copies than that under `copies`, scores counted.
    ///
    /// # Why it matters
    ///
    /// Each copy beyond the license is a photocopy that the school has no right to.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     copies          1 score, 12 flute, 14 clarinet, 8 trumpet
    ///     license         30 printed copies until 2028-06-30
    ///                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     copies          1 score, 8 flute, 10 clarinet, 8 trumpet, about 12 horn
    ///     license         30 printed copies until 2028-06-30
    /// ```
    ///
    /// # What to do
    ///
    /// Buy the right to print the rest, or take the copies out of the folders.
    MoreCopiesThanLicensed: "more copies than the license allows", Library, Warning, reads Card,
        looks at Piece
}

/// How many copies there are, and how many may be.
pub struct Beyond {
    copies: u32,
    allowed: u32,
    place: Option<Span>,
}

impl Notice for MoreCopiesThanLicensed {
    type What = Beyond;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beyond>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let certain = piece.library.copies.iter().filter(|said| said.is_certain());
        let copies = certain
            .clone()
            .filter_map(|said| said.value.count)
            .fold(0u32, u32::saturating_add);
        let licenses = piece.library.license.iter().filter(|said| said.is_certain());
        let allowed = licenses.clone().filter_map(|said| match said.value {
            License::Prints { count, .. } => Some(count),
            _ => None,
        });
        // Two licenses add up.
        let allowed = allowed.fold(0u32, u32::saturating_add);
        let first = licenses
            .clone()
            .find(|said| matches!(said.value, License::Prints { .. }));
        match first.filter(|_| copies > allowed) {
            Some(said) => vec![Noticed::new(
                said.span,
                Beyond {
                    copies,
                    allowed,
                    place: certain.clone().next().map(|said| said.span),
                },
            )],
            None => Vec::new(),
        }
    }

    fn say(what: &Beyond, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "The license allows {}, and there are {}.",
                counted(what.allowed as usize, "printed copy"),
                what.copies
            ),
            why: "Each copy beyond the license is a photocopy that the school has no right to.".to_owned(),
            todo: "Buy the right to print the rest, or take the copies out of the folders.".to_owned(),
        }
    }

    fn related(what: &Beyond, card: &Card<'_>) -> Vec<Related> {
        what.place
            .map(|span| card.beside(card.entry, span, "the copies"))
            .into_iter()
            .collect()
    }
}
