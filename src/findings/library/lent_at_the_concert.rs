//! A set that is away on the day of a concert.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

use super::concerts::coming;
use crate::catalogue::loans::loans;

rule! {
    /// A set that is lent until after a concert that plays the piece.
    ///
    /// # Why it matters
    ///
    /// There is nothing to rehearse from.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     lent            2026-09-15 to the high school, due 2027-06-01
    ///                                                    ^^^^^^^^^^^^^^
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
    ///     lent            2026-09-15 to the high school, due 2026-11-01
    /// piece "On the Shelf"
    ///   library
    ///     lent            2026-09-15 to the high school, due 2027-06-01
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Ask for the set now, or borrow another.
    LentAtTheConcert: "lent at the concert", Library, Warning, reads Catalogue, looks at Piece
}

/// The loan and the concert.
pub struct Away {
    words: String,
    due: String,
    concert: Arc<Entry>,
    on: Span,
    day: String,
}

impl Notice for LentAtTheConcert {
    type What = Away;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Away>> {
        let Some(piece) = card.piece().filter(|piece| !piece.library.lent.is_empty()) else {
            return Vec::new();
        };
        let coming = coming(card);
        loans(piece)
            .into_iter()
            .filter(|loan| loan.certain && !loan.back)
            .filter_map(|loan| {
                let (due, span) = loan.due?;
                let due = due.ending(card.snapshot.today);
                let concert = coming.iter().find(|concert| {
                    let out = loan
                        .lent
                        .and_then(|lent| lent.first())
                        .is_none_or(|lent| lent <= concert.day);
                    out && due.first().is_some_and(|due| due > concert.day)
                })?;
                let what = Away {
                    words: loan.words,
                    due: due.to_string(),
                    concert: Arc::clone(concert.entry),
                    on: concert.span,
                    day: concert.day.to_string(),
                };
                Some(Noticed::new(span, what))
            })
            .collect()
    }

    fn say(what: &Away, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "The set is lent ({}) until {}, and \"{}\" plays the piece on {}.",
                what.words, what.due, what.concert.name, what.day
            ),
            why: "There is nothing to rehearse from.".to_owned(),
            todo: "Ask for the set now, or borrow another.".to_owned(),
        }
    }

    fn related(what: &Away, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(&what.concert, what.on, "the concert that plays it")]
    }
}
