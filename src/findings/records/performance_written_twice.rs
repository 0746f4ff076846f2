//! One performance recorded twice.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Performance;
use crate::rule;
use crate::text::{Span, whole_lines};

rule! {
    /// A performance that is on the card twice: one day, the same bands, and the same words. An afternoon
    /// and an evening of one day differ in a word.
    ///
    /// # Why it matters
    ///
    /// The piece seems to be played twice as often as it was.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   performed       2026-05-12 "Seventh Grade Band"
    ///   performed       May 12, 2026 "Seventh Grade Band"
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   performed       2026-05-12 "Seventh Grade Band", in the afternoon
    ///   performed       2026-05-12 "Seventh Grade Band"
    ///   performed       2026-05-12 "Sixth Grade Band"
    ///   performed       2024 "Seventh Grade Band"
    ///   performed       2024 "Seventh Grade Band"
    /// ```
    ///
    /// # What to do
    ///
    /// Take one of the two out, or write what tells them apart.
    PerformanceWrittenTwice: "performance written twice", Records, Warning, reads Card, looks at Piece
}

/// The performance and where it stands before.
pub struct Repeated {
    performance: Performance,
    before: Span,
}

impl Notice for PerformanceWrittenTwice {
    type What = Repeated;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Repeated>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        // A year or a month holds many evenings.
        let dated: Vec<_> = piece
            .performed
            .iter()
            .filter(|said| said.is_certain() && said.value.day.is_some_and(|day| day.day.is_some()))
            .take(200)
            .collect();
        for (at, said) in dated.iter().enumerate() {
            if let Some(before) = dated.iter().take(at).find(|before| before.value == said.value) {
                let what = Repeated {
                    performance: said.value.clone(),
                    before: before.span,
                };
                found.push(Noticed::new(said.span, what));
            }
        }
        found
    }

    fn say(what: &Repeated, _card: &Card<'_>) -> Saying {
        Saying {
            place: "performed".to_owned(),
            says: format!("The performance {} is here twice.", what.performance),
            why: "The piece seems to be played twice as often as it was.".to_owned(),
            todo: "Take one of the two out, or write what tells them apart.".to_owned(),
        }
    }

    fn related(what: &Repeated, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "the same performance before it")]
    }

    fn repairs(noticed: &Noticed<Repeated>, card: &Card<'_>) -> Vec<Repair> {
        let lines = whole_lines(card.text(), noticed.span);
        let only = card.fields("performed").any(|field| {
            lines.start <= field.whole.start && field.whole.end <= lines.end && field.items().len() == 1
        });
        let edit = crate::text::Edit::remove(lines);
        only.then(|| Repair::to_decide("Take the second line out", vec![edit]))
            .into_iter()
            .collect()
    }
}
