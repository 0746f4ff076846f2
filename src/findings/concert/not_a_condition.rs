//! Words in `calls for` that no condition is made of.

use crate::catalogue::conditions::{Condition, Leftover, of_field};
use crate::catalogue::model::Facts;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A word in `calls for` that is not understood: a typo, a name that no card uses, or a wish
    /// that no card can answer. The mark is under that very word; the other conditions are checked all the same.
    ///
    /// # Why it matters
    ///
    /// A condition with a word that is not understood is never checked, so a program may seem to meet what it
    /// does not.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// criteria "our concerts"
    ///   calls for       up to 3 flats, at most 6 percusionists
    ///                                            ^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   calls for       at most 7 wobbly corners
    ///                             ^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// What can only be judged by ear is yours to judge: in parentheses it is a remark.
    ///
    /// ```levare
    /// criteria "our concerts"
    ///   calls for       up to 3 flats (something the parents know, with a bright ending)
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the word, or put your own wish in parentheses or in `notes`, where nothing is checked.
    NotACondition: "not a condition", Concert, Information, reads Catalogue,
        looks at Concert | Criteria | List
}

/// The word, and what belongs there.
pub struct Unread {
    left: Leftover,
    whole: Span,
}

impl Notice for NotACondition {
    type What = Unread;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Unread>> {
        let said = match card.facts {
            Facts::Concert(concert) => &concert.calls_for,
            Facts::Criteria(criteria) => &criteria.calls_for,
            Facts::List(list) => &list.calls_for,
            _ => return Vec::new(),
        };
        let conditions: Vec<Condition> = of_field(card.snapshot, card.text(), said);
        conditions
            .iter()
            .flat_map(|condition| {
                let lefts = condition.leftovers();
                lefts.into_iter().map(|left| (condition.span, left.clone()))
            })
            .map(|(whole, left)| {
                let certain = left.expected.nearest.is_some();
                Noticed::judged(left.span, certain, Unread { left, whole })
            })
            .collect()
    }

    fn say(what: &Unread, _card: &Card<'_>) -> Saying {
        Saying {
            place: "calls for".to_owned(),
            says: what.left.says(),
            why: "A condition with a word that is not understood is never checked, so a program may seem to meet what it does not."
                .to_owned(),
            todo: what.left.todo(),
        }
    }

    fn repairs(noticed: &Noticed<Unread>, card: &Card<'_>) -> Vec<Repair> {
        let left = &noticed.what.left;
        let mut repairs: Vec<Repair> = left
            .expected
            .nearest
            .iter()
            .map(|word| {
                Repair::to_decide(
                    format!("Write \"{word}\""),
                    vec![Edit::replace(noticed.span, word.clone())],
                )
            })
            .collect();
        let whole = card.words(noticed.what.whole);
        // Parentheses inside parentheses would end too soon.
        if left.expected.nearest.is_none() && !whole.contains(['(', ')']) {
            repairs.push(Repair::to_decide(
                "Keep it as a remark in parentheses".to_owned(),
                vec![Edit::replace(noticed.what.whole, format!("({whole})"))],
            ));
        }
        repairs
    }
}
