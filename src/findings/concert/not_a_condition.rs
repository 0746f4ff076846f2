//! Words in `calls for` that were meant as a condition and are none.

use crate::catalogue::conditions::{Condition, near, of_field, was_meant, was_understood};
use crate::catalogue::model::Facts;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// Words in `calls for` that look like a condition and cannot be checked: a slip of the hand in a known
    /// one, or a number of something that no card counts. Plain words are left alone.
    ///
    /// # Why it matters
    ///
    /// A condition that is not understood is never checked, so a program may seem to meet what it does not.
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
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// What can only be judged by ear is yours to judge.
    ///
    /// ```levare
    /// criteria "our concerts"
    ///   calls for       something the parents know, a closer, a bright ending
    /// ```
    ///
    /// # What to do
    ///
    /// Mend the word, or put the wish in `notes`, where nothing is checked.
    NotACondition: "not a condition", Concert, Information, reads Catalogue
}

/// The words, and what was perhaps meant.
pub struct Unread {
    words: String,
    meant: Option<(String, String)>,
}

impl Notice for NotACondition {
    type What = Unread;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Unread>> {
        let said = match &card.entry.facts {
            Facts::Concert(concert) => &concert.calls_for,
            Facts::Criteria(criteria) => &criteria.calls_for,
            Facts::List(list) => &list.calls_for,
            _ => return Vec::new(),
        };
        let conditions: Vec<Condition> = of_field(card.text(), said);
        conditions
            .iter()
            .filter_map(|condition| unread(condition, card))
            .collect()
    }

    fn say(what: &Unread, _card: &Card<'_>) -> Saying {
        let (says, todo) = match &what.meant {
            Some((word, form)) => (
                format!("\"{}\" is no condition that can be checked; \"{form}\" is.", what.words),
                format!("If that is what you meant, write \"{word}\"."),
            ),
            None => (
                format!("\"{}\" is no condition that can be checked.", what.words),
                "Say it in the words of the cards, such as \"at most 5 percussionists\" or \"up to 3 flats\", or put it in the notes."
                    .to_owned(),
            ),
        };
        Saying {
            place: "calls for".to_owned(),
            says,
            why: "What is not understood is never checked, so a program may seem to meet what it does not."
                .to_owned(),
            todo,
        }
    }

    fn repairs(noticed: &Noticed<Unread>, _card: &Card<'_>) -> Vec<Repair> {
        let meant = noticed.what.meant.iter();
        meant
            .map(|(word, _)| {
                Repair::to_decide(
                    format!("Write \"{word}\""),
                    vec![Edit::replace(noticed.span, word.clone())],
                )
            })
            .collect()
    }
}

fn unread(condition: &Condition, card: &Card<'_>) -> Option<Noticed<Unread>> {
    if was_understood(condition, card.snapshot) {
        return None;
    }
    let words = card.words(condition.span);
    if let Some(near) = near(words, card.snapshot) {
        let start = condition.span.start.saturating_add(near.span.start);
        let what = Unread {
            words: words.to_owned(),
            meant: Some((near.word, near.form)),
        };
        return Some(Noticed::new(Span::long(start, near.span.len()), what));
    }
    let meant = was_meant(words)
        || condition
            .unread()
            .iter()
            .any(|one| was_meant(card.words(one.span)));
    meant.then(|| {
        let what = Unread {
            words: words.to_owned(),
            meant: None,
        };
        Noticed::judged(condition.span, false, what)
    })
}
