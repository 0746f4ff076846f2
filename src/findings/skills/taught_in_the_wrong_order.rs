//! A skill that is taught before what it stands on.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Day;
use crate::rule;
use crate::text::Span;

use super::standing::taught;

rule! {
    /// A skill that a band is taught by an earlier day than a skill it builds on. What builds on what is taken
    /// from the skills' cards (`after`), else from the usual order of method books (from memory).
    ///
    /// # Why it matters
    ///
    /// The weeks for the first one are lost when the second has to come before it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          syncopation by 2026-10-30
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^^
    ///   taught          single eighths, ties, all by 2026-12-01
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// skill "syncopation"
    ///   after           ties
    /// ensemble "Seventh Grade Band"
    ///   taught          ties by 2026-10-01
    ///   taught          syncopation by 2026-10-30
    ///   taught          single eighths by 2026-12-01
    /// ```
    ///
    /// # What to do
    ///
    /// Change the days around, or write on the skill's card what it really builds on.
    TaughtInTheWrongOrder: "taught in the wrong order", Skills, Warning, reads Catalogue, looks at Ensemble
}

/// Two skills and their days.
pub struct Order {
    skill: String,
    by: Day,
    needed: String,
    needed_by: Day,
    needed_span: Span,
}

impl Notice for TaughtInTheWrongOrder {
    type What = Order;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Order>> {
        let Some(band) = card.ensemble() else {
            return Vec::new();
        };
        let taught: Vec<_> = taught(band)
            .filter(|(said, _)| said.is_certain())
            .filter_map(|(said, by)| Some((said, by?)))
            .collect();
        if taught.len() < 2 {
            return Vec::new();
        }
        let ladder = card.snapshot.ladder();
        let named: Vec<String> = taught
            .iter()
            .map(|(said, _)| ladder.one_name(&said.value.name))
            .collect();
        let mut found = Vec::new();
        for ((said, by), name) in taught.iter().zip(&named) {
            let below = ladder.after(name);
            let later = taught
                .iter()
                .zip(&named)
                .find(|((_, needed), other)| below.contains(other) && by.last() < needed.first());
            if let Some(((needed, needed_by), _)) = later {
                let what = Order {
                    skill: said.value.name.clone(),
                    by: *by,
                    needed: needed.value.name.clone(),
                    needed_by: *needed_by,
                    needed_span: needed.span,
                };
                found.push(Noticed::new(said.span, what));
            }
        }
        found
    }

    fn say(what: &Order, _card: &Card<'_>) -> Saying {
        Saying {
            place: "taught".to_owned(),
            says: format!(
                "{} is taught by {}, and {}, which it builds on, only by {}.",
                what.skill, what.by, what.needed, what.needed_by
            ),
            why: "The weeks for the first one are lost when the other has to come before it.".to_owned(),
            todo: "Change the days around, or write on the skill's card what it really builds on.".to_owned(),
        }
    }

    fn related(what: &Order, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.needed_span, "what it builds on")]
    }
}
