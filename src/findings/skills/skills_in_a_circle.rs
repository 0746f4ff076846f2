//! Skills that wait for each other.

use crate::catalogue::EntryId;
use crate::catalogue::model::Facts;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;

use super::ladder::Ladder;

rule! {
    /// Skills whose cards say that each comes after the other, directly or by way of more. It is told once, on
    /// the card of the circle that stands first.
    ///
    /// # Why it matters
    ///
    /// There is no day on which any of them can be begun, so no plan for teaching can be made.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// skill "ties"
    ///   after           dotted quarter-eighth
    ///                   ^^^^^^^^^^^^^^^^^^^^^
    /// skill "dotted quarter-eighth"
    ///   after           single eighths, ties
    /// ensemble "Seventh Grade Band"
    ///   taught          ties, dotted quarter-eighth
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// skill "ties"
    ///   after           half notes
    /// skill "dotted quarter-eighth"
    ///   after           single eighths, ties
    /// ensemble "Seventh Grade Band"
    ///   taught          ties, dotted quarter-eighth
    /// ```
    ///
    /// # What to do
    ///
    /// Decide which of them is taught first, and take the other out of its `after`.
    SkillsInACircle: "skills in a circle", Skills, Warning, reads Catalogue
}

/// The skills of the circle, this card's first.
pub struct Circle {
    names: Vec<String>,
    cards: Vec<EntryId>,
}

impl Notice for SkillsInACircle {
    type What = Circle;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Circle>> {
        let Facts::Skill(skill) = &card.entry.facts else {
            return Vec::new();
        };
        if card.kind() != Some(Kind::Skill) || skill.after.is_empty() {
            return Vec::new();
        }
        let ladder = Ladder::of(card.snapshot);
        let own = ladder.one_name(&card.entry.name);
        // A second card of the same name is another finding.
        if ladder.card(&own) != Some(card.id) {
            return Vec::new();
        }
        skill
            .after
            .iter()
            .filter(|after| after.is_certain())
            .find_map(|after| {
                let circle = way(&ladder, &ladder.one_name(&after.value.name), &own)?;
                let cards: Vec<EntryId> = circle.iter().filter_map(|name| ladder.card(name)).collect();
                // Only the first card of the circle tells it.
                if cards.iter().any(|id| *id < card.id) {
                    return None;
                }
                let names = circle.iter().map(|name| ladder.written(name)).collect();
                Some(Noticed::new(after.span, Circle { names, cards }))
            })
            .into_iter()
            .collect()
    }

    fn say(what: &Circle, card: &Card<'_>) -> Saying {
        let says = match what.names.as_slice() {
            [] | [_] => format!("{} is said to come after itself.", card.entry.name),
            names => format!(
                "{} comes after {}, which comes after {} again.",
                card.entry.name,
                names
                    .iter()
                    .take(names.len().saturating_sub(1))
                    .cloned()
                    .collect::<Vec<_>>()
                    .join(", which comes after "),
                card.entry.name
            ),
        };
        Saying {
            place: "after".to_owned(),
            says,
            why: "There is no day on which any of them can be begun, so no plan for teaching can be made."
                .to_owned(),
            todo: "Decide which of them is taught first, and take the other out of its \"after\".".to_owned(),
        }
    }

    fn related(what: &Circle, card: &Card<'_>) -> Vec<Related> {
        what.cards
            .iter()
            .filter(|id| **id != card.id)
            .filter_map(|id| card.snapshot.entry(*id))
            .map(|entry| card.beside(entry, entry.name_span, "in the same circle"))
            .collect()
    }
}

/// The way by cards from one skill to another, both included; the shortest there is.
fn way(ladder: &Ladder, from: &str, to: &str) -> Option<Vec<String>> {
    let mut ways: Vec<Vec<String>> = vec![vec![from.to_owned()]];
    let mut seen: Vec<String> = vec![from.to_owned()];
    let mut next = 0;
    while let Some(way) = ways.get(next).cloned() {
        next += 1;
        let last = way.last()?;
        if last == to {
            return Some(way);
        }
        for after in ladder.after_by_card(last) {
            if !seen.contains(after) {
                seen.push(after.clone());
                let mut longer = way.clone();
                longer.push(after.clone());
                ways.push(longer);
            }
        }
    }
    None
}
