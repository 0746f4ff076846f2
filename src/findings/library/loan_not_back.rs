//! A loan that should be back by now.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use crate::catalogue::loans::loans;

rule! {
    /// A set whose loan was due on a day that is over, with no word that it came back.
    ///
    /// # Why it matters
    ///
    /// The longer a set is away, the fewer parts come home.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     lent            2026-05-01 to the high school, due 2026-09-01
    ///                                                    ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     lent            2026-05-01 to the high school, due 2026-09-01, back 2026-09-03
    ///     lent            2026-10-01 to the church, due 2026-12-01
    /// ```
    ///
    /// # What to do
    ///
    /// Ask for it, count the parts, and write when it came back (`back 2026-10-20`).
    LoanNotBack: "loan not back", Library, Warning, reads Catalogue, looks at Piece
}

/// A loan.
pub struct Overdue {
    words: String,
    due: crate::notation::values::Day,
}

impl Notice for LoanNotBack {
    type What = Overdue;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Overdue>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let today = card.snapshot.today;
        loans(piece)
            .into_iter()
            .filter(|loan| loan.certain && !loan.back)
            .filter_map(|loan| {
                let (due, span) = loan.due?;
                let due = due.ending(today);
                // Due before it was lent is another finding.
                let possible = loan.lent.is_none_or(|lent| lent.first() <= due.last());
                let over = due.last().is_some_and(|day| day < today) && possible;
                over.then(|| {
                    Noticed::new(
                        span,
                        Overdue {
                            words: loan.words,
                            due,
                        },
                    )
                })
            })
            .collect()
    }

    fn say(what: &Overdue, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!(
                "The set was lent ({}), was due on {}, and the card does not say that it came back.",
                what.words, what.due
            ),
            why: "The longer a set is away, the fewer parts come home.".to_owned(),
            todo: "Ask for it, count the parts, and write \"back\" and the day after it.".to_owned(),
        }
    }
}
