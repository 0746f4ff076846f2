//! A loan that is due back before it was lent.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Day;
use crate::rule;

use crate::catalogue::loans::loans;

rule! {
    /// A set in the library that is due back on a day before the day it was lent.
    ///
    /// # Why it matters
    ///
    /// Nobody asks for a set back by a date that cannot be.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Chorale for the Last Day"
    ///   library
    ///     lent            2026-04-10 to the high school, due 2026-03-10
    ///                                                    ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Chorale for the Last Day"
    ///   library
    ///     lent            2026-04-10 to the high school, due 2026-05-10, back 2026-05-02
    /// ```
    ///
    /// # What to do
    ///
    /// Fix one of the two days.
    DueBeforeLent: "due before it was lent", Library, Warning, reads Card, looks at Piece
}

/// The two days.
pub struct Loan {
    lent: Day,
    due: Day,
}

impl Notice for DueBeforeLent {
    type What = Loan;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Loan>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        loans(piece)
            .into_iter()
            .filter(|loan| loan.certain)
            .filter_map(|loan| {
                let (lent, (due, span)) = (loan.lent?, loan.due?);
                let backwards = due.last()? < lent.first()?;
                backwards.then(|| Noticed::new(span, Loan { lent, due }))
            })
            .collect()
    }

    fn say(what: &Loan, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "The set was lent on {} and is due on {}, which is before that.",
                what.lent, what.due
            ),
            why: "Nobody asks for a set back by a day that cannot be, and it stays away.".to_owned(),
            todo: "Fix one of the two days.".to_owned(),
        }
    }
}
