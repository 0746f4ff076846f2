//! One rehearsal mark at two measures.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

rule! {
    /// A rehearsal mark at two different measures.
    ///
    /// # Why it matters
    ///
    /// "From D" starts half of the band in one place and half in another.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   rehearsal marks A 9, B 17, trio 33, trio 49
    ///                                       ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   rehearsal marks A 9, B 17, C 33, trio 33
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score which mark is at each of the measures.
    OneMarkInTwoPlaces: "one mark in two places", Time, Warning, reads Card, looks at Marks
}

/// A mark and its two measures.
pub struct Twice {
    place: String,
    mark: String,
    first: (u32, Span),
    second: u32,
}

impl Notice for OneMarkInTwoPlaces {
    type What = Twice;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Twice>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            let marks: Vec<_> = level
                .marks
                .iter()
                .filter(|mark| mark.is_certain())
                .take(200)
                .collect();
            for (at, mark) in marks.iter().enumerate() {
                let before = marks.iter().take(at).find(|before| {
                    before.value.name == mark.value.name && before.value.measure != mark.value.measure
                });
                if let Some(before) = before {
                    let what = Twice {
                        place: place(movement, "rehearsal marks"),
                        mark: mark.value.name.clone(),
                        first: (before.value.measure, before.span),
                        second: mark.value.measure,
                    };
                    found.push(Noticed::new(mark.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Twice, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} is at measure {} and at measure {}.",
                what.mark, what.first.0, what.second
            ),
            why: "\"From there\" starts half of the band in one place and half in another.".to_owned(),
            todo: "Look in the score which mark is at each of the two measures.".to_owned(),
        }
    }

    fn related(what: &Twice, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first.1, "the same mark before it")]
    }
}
