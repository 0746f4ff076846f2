//! A bundle or a list that holds a piece twice.

use crate::catalogue::model::Facts;
use crate::catalogue::names::key;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::mend;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

rule! {
    /// A bundle or a list that names one piece twice.
    ///
    /// # Why it matters
    ///
    /// In a bundle the other piece that was meant is forgotten; on a list one piece may get two grades.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    /// bundle "Two bridges"
    ///   holds           "Creek Bridge", "Creek Bridge"
    ///                                   ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Air"
    ///   by              Ida Quell
    /// piece "Air"
    ///   by              Tam Lindqvist
    /// list "Airs"
    ///   holds           "Air" by Quell, "Air" by Lindqvist
    /// ```
    ///
    /// # What to do
    ///
    /// Write the piece that is meant, or take one of the two out.
    ListedTwice: "listed twice", Buying, Warning, reads Card, looks at Bundle | List
}

/// The piece and where it stands before.
pub struct Held {
    title: String,
    before: Span,
}

impl Notice for ListedTwice {
    type What = Held;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Held>> {
        let holds = match card.facts {
            Facts::Bundle(bundle) => &bundle.holds,
            Facts::List(list) => &list.holds,
            _ => return Vec::new(),
        };
        let mut seen = std::collections::HashMap::new();
        let mut found = Vec::new();
        for held in holds {
            let by = held.value.by.as_deref().map(key);
            match seen.entry((key(&held.value.name), by)) {
                std::collections::hash_map::Entry::Vacant(free) => {
                    free.insert(held.span);
                }
                std::collections::hash_map::Entry::Occupied(before) => {
                    let what = Held {
                        title: held.value.name.clone(),
                        before: *before.get(),
                    };
                    found.push(Noticed::new(held.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Held, _card: &Card<'_>) -> Saying {
        Saying {
            place: "holds".to_owned(),
            says: format!("\"{}\" is here twice.", what.title),
            why:
                "Another piece that was meant may be forgotten, and the prices and grades are counted twice."
                    .to_owned(),
            todo: "Write the piece that is meant, or take one of the two out.".to_owned(),
        }
    }

    fn related(what: &Held, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "the same piece before it")]
    }

    fn repairs(noticed: &Noticed<Held>, card: &Card<'_>) -> Vec<Repair> {
        let edit = mend::take_out(card.text(), noticed.span);
        vec![Repair::to_decide("Take the second one out", vec![edit])]
    }
}
