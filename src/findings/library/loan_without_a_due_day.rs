//! A loan that nobody said the end of.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use crate::catalogue::loans::loans;

rule! {
    /// A set that is lent, is not said to be back, and has no day by which it is due.
    ///
    /// # Why it matters
    ///
    /// A loan without a day is asked for when the parts are needed, and by then nobody knows where they are.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   library
    ///     lent            2026-09-15 to the high school
    ///                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   library
    ///     lent            2026-09-15 to the high school, due 2026-12-01
    /// piece "Drum Hill"
    ///   library
    ///     lent            2026-04-10 to the high school, back 2026-05-02
    /// ```
    ///
    /// # What to do
    ///
    /// Agree on a day and write it after the loan: `due 2026-12-01`.
    LoanWithoutADueDay: "loan without a due day", Library, Hint, reads Card, looks at Piece
}

impl Notice for LoanWithoutADueDay {
    type What = String;

    fn notice(card: &Card<'_>) -> Vec<Noticed<String>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        if piece.is_unread("lent") {
            return Vec::new();
        }
        loans(piece)
            .into_iter()
            .filter(|loan| loan.certain && !loan.back && loan.lent.is_some() && loan.due.is_none())
            .map(|loan| Noticed::new(loan.span, loan.words))
            .collect()
    }

    fn say(what: &String, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!("The set is lent ({what}), and no day is said by which it is due."),
            why: "It is asked for when the parts are needed, and by then nobody knows where they are."
                .to_owned(),
            todo: "Agree on a day and write it after the loan, as \"due 2026-12-01\".".to_owned(),
        }
    }
}
