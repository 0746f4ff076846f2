//! Skills that wait for each other.

use crate::catalogue::EntryId;
use crate::catalogue::model::Facts;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;

use crate::catalogue::Ladder;

rule! {
    /// Skills whose cards say that each comes after the other, directly or by way of others. It is reported once,
    /// on the first card of the circle.
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
    SkillsInACircle: "skills in a circle", Skills, Warning, reads Catalogue, looks at Skill
}

/// The skills of the circle, this card's first.
pub struct Circle {
    names: Vec<String>,
    cards: Vec<EntryId>,
    /// How many skills wait for each other in all.
    size: usize,
}

/// Of so many skills at most the shortest way around is told; of more, which are no plan for teaching, only their
/// number and some names. Looking for the shortest way from every one of them takes the square of their number.
const MOST: usize = 64;

impl Notice for SkillsInACircle {
    type What = Circle;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Circle>> {
        let Facts::Skill(skill) = card.facts else {
            return Vec::new();
        };
        if card.kind() != Some(Kind::Skill) || skill.after.is_empty() {
            return Vec::new();
        }
        let ladder = card.snapshot.ladder();
        let own = ladder.one_name(&card.entry.name);
        // A second card of the same name is another finding.
        if ladder.card(&own) != Some(card.id) {
            return Vec::new();
        }
        let Some(all) = ladder.circle(&own) else {
            return Vec::new();
        };
        let mut after = skill.after.iter().filter(|after| after.is_certain());
        if all.size > MOST {
            let inside = |name: &str| {
                let other = ladder.circle(&ladder.one_name(name));
                other.is_some_and(|other| other.first == all.first)
            };
            let after = after.find(|after| all.first == card.id && inside(&after.value.name));
            let circle = Circle {
                names: all.some.iter().map(|name| ladder.written(name)).collect(),
                cards: Vec::new(),
                size: all.size,
            };
            return after
                .map(|after| Noticed::new(after.span, circle))
                .into_iter()
                .collect();
        }
        after
            .find_map(|after| {
                let circle = way(ladder, &ladder.one_name(&after.value.name), &own)?;
                let cards: Vec<EntryId> = circle.iter().filter_map(|name| ladder.card(name)).collect();
                // Only the first card of the circle tells it.
                if cards.iter().any(|id| *id < card.id) {
                    return None;
                }
                let names = circle.iter().map(|name| ladder.written(name)).collect();
                Some(Noticed::new(
                    after.span,
                    Circle {
                        names,
                        cards,
                        size: all.size,
                    },
                ))
            })
            .into_iter()
            .collect()
    }

    fn say(what: &Circle, card: &Card<'_>) -> Saying {
        let says = match what.names.as_slice() {
            names if what.size > MOST => format!(
                "{} is one of {} skills that wait for each other in a circle: {} and {} more.",
                card.entry.name,
                what.size,
                names.join(", "),
                what.size.saturating_sub(names.len())
            ),
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
    // A way back never leaves the circle.
    let circle = ladder.circle(to)?;
    let inside = |name: &str| {
        ladder
            .circle(name)
            .is_some_and(|other| other.first == circle.first)
    };
    let mut ways: Vec<(&str, usize)> = vec![(from, 0)];
    let mut seen: Vec<&str> = vec![from];
    let mut next = 0;
    while let Some(&(last, _)) = ways.get(next).filter(|(last, _)| inside(last)) {
        if last == to {
            let mut way = vec![last.to_owned()];
            let mut at = next;
            while let Some(&(_, before)) = ways.get(at).filter(|_| at > 0) {
                way.extend(ways.get(before).map(|(name, _)| (*name).to_owned()));
                at = before;
            }
            way.reverse();
            return Some(way);
        }
        for after in ladder.after_by_card(last) {
            if !seen.contains(&after.as_str()) && inside(after) {
                seen.push(after);
                ways.push((after, next));
            }
        }
        next += 1;
    }
    None
}
