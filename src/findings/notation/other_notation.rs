//! A handbook written for another version of the notation.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Edit;

/// The version of the notation that this program reads.
const VERSION: u32 = 1;

rule! {
    /// A handbook that says the catalog is written in another version of the notation than the one read here.
    ///
    /// # Why it matters
    ///
    /// A newer notation may say things that are taken for slips here, or the other way around, and then the
    /// warnings about your band cannot be trusted.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   notation        2
    ///                   ^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// handbook
    ///   notation        1
    /// ```
    ///
    /// # What to do
    ///
    /// Install the newer Levare, or write 1.
    OtherNotation: "other notation", Notation, Warning, reads Card, looks at Handbook
}

impl Notice for OtherNotation {
    type What = u32;

    fn notice(card: &Card<'_>) -> Vec<Noticed<u32>> {
        let said = card
            .entry
            .handbook()
            .and_then(|handbook| handbook.notation.as_ref());
        said.into_iter()
            .filter(|said| said.value != VERSION)
            .map(|said| Noticed::new(said.span, said.value))
            .collect()
    }

    fn say(what: &u32, _card: &Card<'_>) -> Saying {
        Saying {
            place: "notation".to_owned(),
            says: format!("The handbook says notation {what}; this Levare reads notation {VERSION}."),
            why: "Lines may mean something else there, so what is said about your band may be wrong."
                .to_owned(),
            todo: match *what > VERSION {
                true => "Install a newer Levare.".to_owned(),
                false => format!("Write {VERSION}."),
            },
        }
    }

    fn repairs(noticed: &Noticed<u32>, _card: &Card<'_>) -> Vec<Repair> {
        vec![Repair::to_decide(
            format!("Write {VERSION}"),
            vec![Edit::replace(noticed.span, VERSION.to_string())],
        )]
    }
}
