//! A skill that is taught only after the concert that asks it.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::capital;

use super::standing::{Asked, Trouble, troubles};

rule! {
    /// Something that a piece of a coming concert asks, which the band will be taught only by a day after the
    /// concert. A day belongs to the skill before it; `all by` and a day covers the whole line.
    ///
    /// # Why it matters
    ///
    /// The plan for teaching and the plan for the concert do not meet.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          ties, triplets by 2027-02-01
    ///   introduced      eighth pairs
    ///
    /// piece "Creek Bridge"
    ///   asks            triplets
    ///                   ^^^^^^^^
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          ties, triplets by 2027-02-01
    ///
    /// piece "Creek Bridge"
    ///   asks            ties
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Teach it earlier, or play the piece at a later concert.
    TaughtTooLate: "taught too late", Skills, Warning, reads Catalogue, looks at Piece
}

/// What is asked.
pub struct Late(Asked);

impl Notice for TaughtTooLate {
    type What = Late;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Late>> {
        troubles(card, |trouble| matches!(trouble, Trouble::TooLate { .. }))
            .into_iter()
            .map(|noticed| Noticed {
                span: noticed.span,
                hint: noticed.hint,
                what: Late(noticed.what),
            })
            .collect()
    }

    fn say(what: &Late, _card: &Card<'_>) -> Saying {
        let days = match &what.0.trouble {
            Trouble::TooLate { by, concert, .. } => format!("by {by}, and the concert is on {concert}"),
            _ => "after the concert".to_owned(),
        };
        Saying {
            place: "asks".to_owned(),
            says: format!(
                "{} will be taught {} {days}.",
                capital(&what.0.band),
                what.0.skill
            ),
            why: "The plan for teaching and the plan for the concert do not meet.".to_owned(),
            todo: "Teach it earlier, or play the piece at a later concert.".to_owned(),
        }
    }

    fn related(what: &Late, card: &Card<'_>) -> Vec<Related> {
        match (&what.0.trouble, &what.0.entry) {
            (Trouble::TooLate { span, .. }, Some(entry)) => {
                vec![card.beside(entry, *span, "when it is taught")]
            }
            _ => Vec::new(),
        }
    }
}
