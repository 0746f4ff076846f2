//! A performance on a day that has not come.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Day;
use crate::rule;

rule! {
    /// A performance that is recorded for a day that has not come yet.
    ///
    /// # Why it matters
    ///
    /// A piece that was just performed is not proposed again, so this one drops out of next year's choice, and
    /// the year is likely the slip.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   performed       2062-05-12 "Seventh Grade Band"
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   performed       2026-05-12 "Seventh Grade Band"
    ///   performed       2026
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the day; a concert to come has a card of its own.
    PerformanceStillToCome: "performance still to come", Records, Warning, reads Catalogue, looks at Piece
}

impl Notice for PerformanceStillToCome {
    type What = Day;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Day>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let today = card.snapshot.today;
        piece
            .performed
            .iter()
            .filter(|said| said.is_certain())
            .filter_map(|said| {
                let day = said.value.day?;
                let to_come = day.first().is_some_and(|first| first > today);
                to_come.then(|| Noticed::new(said.span, day))
            })
            .collect()
    }

    fn say(what: &Day, _card: &Card<'_>) -> Saying {
        Saying {
            place: "performed".to_owned(),
            says: format!("The performance of {what} has not happened yet."),
            why:
                "A piece that was just performed is not proposed again, so this one drops out of the choice."
                    .to_owned(),
            todo: "Fix the day; a concert to come has a card of its own.".to_owned(),
        }
    }
}
