//! A stet without its reason.

use crate::findings::card::Card;
use crate::findings::find;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;

rule! {
    /// A `stet` on a card that does not say why. The handbook's own need no reason.
    ///
    /// # Why it matters
    ///
    /// Next year nobody remembers why you let it stand, and it looks the same as one that was
    /// overlooked.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   tonal center    Bb major
    ///   key signature   3 flats
    ///   stet            signature against center
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// A remark alone is no reason.
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   tonal center    Bb major
    ///   key signature   3 flats
    ///   stet            signature against center because (say why)
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   tonal center    Bb major
    ///   key signature   3 flats
    ///   stet            signature against center because the score has it so
    /// ```
    ///
    /// # What to do
    ///
    /// Write `because` and the reason after the phrase.
    ReasonMissing: "reason missing", Names, Information, reads Card, looks at Any
}

/// Whether words are a reason: a remark alone, such as `(say why)`, is none.
fn says_why(reason: &str) -> bool {
    let remark = reason.starts_with('(') && reason.find(')') == Some(reason.len().saturating_sub(1));
    !reason.is_empty() && !remark
}

impl Notice for ReasonMissing {
    type What = String;

    fn notice(card: &Card<'_>) -> Vec<Noticed<String>> {
        if card.kind() == Some(Kind::Handbook) {
            return Vec::new();
        }
        let stets = card.facts.stets().iter();
        stets
            .filter(|said| {
                !said.stet.reason.as_deref().is_some_and(says_why) && find(&said.stet.phrase).is_some()
            })
            .map(|said| Noticed::new(said.span, said.stet.phrase.clone()))
            .collect()
    }

    fn say(what: &String, _card: &Card<'_>) -> Saying {
        Saying {
            place: "stet".to_owned(),
            says: format!("The card lets \"{what}\" stand and does not say why."),
            why: "Next year nobody will know whether the reason still holds.".to_owned(),
            todo: "Write because and the reason after it.".to_owned(),
        }
    }
}
