//! A license to print that ends before the concert.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Day;
use crate::rule;
use crate::text::Span;

use super::concerts::coming;

rule! {
    /// A license to print parts that ends before a concert that plays the piece.
    ///
    /// # Why it matters
    ///
    /// On the evening the school has no right to the copies on the stands.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     license         30 printed copies until 2026-11-30
    ///                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     license         30 printed copies until 2028-06-30
    /// piece "On the Shelf"
    ///   library
    ///     license         30 printed copies until 2026-11-30
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Renew the license with the publisher, or play another piece.
    LicenseOver: "license over at the concert", Library, Warning, reads Catalogue, looks at Piece
}

/// The license and the concert.
pub struct Over {
    until: Day,
    concert: Arc<Entry>,
    on: Span,
    day: String,
}

impl Notice for LicenseOver {
    type What = Over;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Over>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let coming = coming(card);
        let said = piece.library.license.iter().filter(|said| said.is_certain());
        said.filter_map(|said| {
            let until = said.value.ends()?;
            let concert = coming
                .iter()
                .find(|concert| until.last().is_some_and(|until| until < concert.day))?;
            let what = Over {
                until,
                concert: Arc::clone(concert.entry),
                on: concert.span,
                day: concert.day.to_string(),
            };
            Some(Noticed::new(said.span, what))
        })
        .collect()
    }

    fn say(what: &Over, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "The license ends on {}, and \"{}\" plays the piece on {}.",
                what.until, what.concert.name, what.day
            ),
            why: "On the evening the school has no right to the copies on the stands.".to_owned(),
            todo: "Renew the license with the publisher, or play another piece.".to_owned(),
        }
    }

    fn related(what: &Over, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(&what.concert, what.on, "the concert that plays it")]
    }
}
