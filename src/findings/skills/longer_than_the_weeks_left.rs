//! A skill that takes longer to teach than there is time before the concert.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::joined;

use super::standing::{Asked, Trouble, troubles};

rule! {
    /// Something that a piece of a coming concert asks, which the band does not know and which takes more weeks
    /// to teach than are left. The weeks come from the `takes` of the skill's card and of the skills before it
    /// that the band does not know either, one after the other.
    ///
    /// # Why it matters
    ///
    /// It cannot be ready on the evening, however well the rehearsals go.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// skill "triplets"
    ///   takes           3 weeks
    /// ensemble "Seventh Grade Band"
    ///   taught          eighth pairs
    ///
    /// piece "Creek Bridge"
    ///   asks            triplets
    ///                   ^^^^^^^^
    /// concert "Autumn evening"
    ///   on              2026-11-05
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// skill "triplets"
    ///   takes           3 weeks
    /// ensemble "Seventh Grade Band"
    ///   taught          eighth pairs
    ///   introduced      triplets
    ///
    /// piece "Creek Bridge"
    ///   asks            triplets
    /// concert "Autumn evening"
    ///   on              2026-11-05
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Choose another piece for this concert, or simplify the place where it is asked.
    LongerThanTheWeeksLeft: "longer than the weeks left", Skills, Warning, reads Catalogue, looks at Piece
}

/// What is asked.
pub struct Long(Asked);

impl Notice for LongerThanTheWeeksLeft {
    type What = Long;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Long>> {
        troubles(card, |trouble| matches!(trouble, Trouble::TooLong { .. }))
            .into_iter()
            .map(|noticed| Noticed {
                span: noticed.span,
                hint: noticed.hint,
                what: Long(noticed.what),
            })
            .collect()
    }

    fn say(what: &Long, _card: &Card<'_>) -> Saying {
        let weeks = |number: u32| match number {
            1 => "1 week".to_owned(),
            number => format!("{number} weeks"),
        };
        let says = match &what.0.trouble {
            Trouble::TooLong { takes, left, before } => {
                let with = match before.is_empty() {
                    true => String::new(),
                    false => format!(" with {} before it", joined(before)),
                };
                format!(
                    "The {} does not know {} yet; it takes {}{with}, and the concert is {} away.",
                    what.0.band,
                    what.0.skill,
                    weeks(*takes),
                    weeks(*left)
                )
            }
            _ => format!("The {} does not know {} yet.", what.0.band, what.0.skill),
        };
        Saying {
            place: "asks".to_owned(),
            says,
            why: "It cannot be ready on the evening, however well the rehearsals go.".to_owned(),
            todo: "Choose another piece for this concert, or simplify the place where it is asked."
                .to_owned(),
        }
    }
}
