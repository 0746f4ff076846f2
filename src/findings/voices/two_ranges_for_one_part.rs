//! One part with two ranges.

use std::collections::HashMap;

use crate::catalogue::sections::{is_optional, relates};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::music::PitchRange;
use crate::music::instruments::key;
use crate::notation::row::Relation;
use crate::rule;
use crate::text::Span;

use super::rows::whole_range;

rule! {
    /// A part that has two rows with two different ranges, both for the whole piece.
    ///
    /// # Why it matters
    ///
    /// Your players are judged by both, and one of the two is wrong. Often the second was meant for another
    /// part.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     clarinet 1      A3-C5
    ///     clarinet 1      G3-A4
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A part may have several rows, and a range of its own at one place.
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     clarinet 1-2
    ///     clarinet 1      A3-C5
    ///     clarinet 1      solo 33-40
    ///     clarinet 2      G3-A4, E3-G4 at trio
    ///   form            march, trio
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score whose range each of them is.
    TwoRangesForOnePart: "two ranges for one part", Voices, Warning, reads Card, looks at Parts
}

/// A part and its two ranges.
pub struct Two {
    place: String,
    part: String,
    first: (PitchRange, Span),
    second: PitchRange,
}

impl Notice for TwoRangesForOnePart {
    type What = Two;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Two>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            let mut seen: HashMap<String, (PitchRange, bool, Span)> = HashMap::new();
            for row in &level.parts {
                let ([name], Some(own)) = (row.names.as_slice(), whole_range(row)) else {
                    continue;
                };
                if is_optional(row) || relates(row, &[Relation::InsteadOf]) {
                    continue;
                }
                let part = key(&name.one_form());
                match seen.get(&part) {
                    None => {
                        seen.insert(part, (own.range, own.concert, own.span));
                    }
                    Some((range, concert, span)) if *concert == own.concert && *range != own.range => {
                        let what = Two {
                            place: place(movement, "parts"),
                            part: name.one_form(),
                            first: (*range, *span),
                            second: own.range,
                        };
                        found.push(Noticed::new(own.span, what));
                    }
                    Some(_) => {}
                }
            }
        }
        found
    }

    fn say(what: &Two, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} has two ranges, {} and {}.",
                what.part, what.first.0, what.second
            ),
            why: "Your players are judged by both, and one of the two belongs to another part or is wrong."
                .to_owned(),
            todo: "Look in the score whose range each of them is.".to_owned(),
        }
    }

    fn related(what: &Two, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first.1, "the range before it")]
    }
}
