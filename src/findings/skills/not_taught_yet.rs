//! A skill that a coming concert asks and that is not among those taught.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::standing::{Asked, Trouble, troubles};

rule! {
    /// Something that a piece of a coming concert asks, which the band's card names neither as `taught` nor as
    /// `introduced`. Only for bands that list what they know. What a taught skill builds on counts as known,
    /// what the piece `teaches` is meant to be new, and words that are no skill are left alone. Which skill
    /// builds on which is taken from the skills' cards, else from the usual order of method books (from memory).
    ///
    /// # Why it matters
    ///
    /// It has to be taught before the first rehearsal, or the first rehearsal is spent on it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          dotted quarter-eighth
    ///
    /// piece "Creek Bridge"
    ///   asks            ties, triplets
    ///                         ^^^^^^^^
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
    ///   taught          dotted quarter-eighth
    ///   introduced      syncopation
    ///
    /// piece "Creek Bridge"
    ///   asks            ties, syncopation, balance to the low brass, triplets
    ///   teaches         triplets
    /// piece "On the Shelf"
    ///   asks            triplets
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Plan when it is taught and write it down (`taught  triplets by 2026-11-20`).
    NotTaughtYet: "not taught yet", Skills, Information, reads Catalogue, looks at Piece
}

/// What is asked.
pub struct NotYet(Asked);

impl Notice for NotTaughtYet {
    type What = NotYet;

    fn notice(card: &Card<'_>) -> Vec<Noticed<NotYet>> {
        troubles(card, |trouble| *trouble == Trouble::NotTaught)
            .into_iter()
            .map(|noticed| Noticed {
                span: noticed.span,
                hint: noticed.hint,
                what: NotYet(noticed.what),
            })
            .collect()
    }

    fn say(what: &NotYet, _card: &Card<'_>) -> Saying {
        Saying {
            place: "asks".to_owned(),
            says: format!(
                "This piece calls for {}, which is not among what {} has been taught.",
                what.0.skill, what.0.band
            ),
            why: "It has to be taught before the first rehearsal, or the first rehearsal is spent on it."
                .to_owned(),
            todo: format!(
                "Plan when to teach it and write it on the band's card, as in \"taught {} by\" and the day.",
                what.0.skill
            ),
        }
    }
}
