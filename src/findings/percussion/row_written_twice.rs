//! One percussion part in two rows that sound together.

use crate::catalogue::percussion::{Part, When};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::key;
use crate::notation::values::Stretch;
use crate::rule;
use crate::text::Span;

use super::sounding::place_of;

rule! {
    /// A percussion part with two rows whose measures overlap.
    ///
    /// # Why it matters
    ///
    /// The two rows count as two players, and one of them looks for an instrument that is taken.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare           1-32
    ///     bass drum       1-72
    ///     snare           25-48
    ///     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare           1-32
    ///     snare           41-48, brushes
    ///     easy snare      1-32, instead of snare
    /// ```
    ///
    /// # What to do
    ///
    /// Put the measures into one row, or number the two parts (`snare 1`, `snare 2`).
    RowWrittenTwice: "row written twice", Percussion, Warning, reads Catalogue, looks at Percussion
}

/// A part and where its rows meet.
pub struct Meeting {
    place: String,
    part: String,
    at: u32,
    before: Span,
}

impl Notice for RowWrittenTwice {
    type What = Meeting;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Meeting>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for course in card.percussion() {
            for (at, part) in course.parts.iter().enumerate().take(200) {
                let before = course.parts.iter().take(at).find_map(|before| {
                    let same = key(&before.name()) == key(&part.name());
                    let both = part.instead_of.is_empty() && before.instead_of.is_empty();
                    let meet = meeting(before, part).filter(|_| same && both)?;
                    Some((before, meet))
                });
                if let Some((before, measure)) = before {
                    let what = Meeting {
                        place: place_of(piece, course),
                        part: part.name(),
                        at: measure,
                        before: before.name_span,
                    };
                    found.push(Noticed::new(part.name_span, what));
                }
            }
        }
        found
    }

    fn say(what: &Meeting, _card: &Card<'_>) -> Saying {
        Saying {
            place: format!("{}, measure {}", what.place, what.at),
            says: format!(
                "{} has two rows, and both play in measure {}.",
                what.part, what.at
            ),
            why: "They count as two players, and one of them looks for an instrument that is taken."
                .to_owned(),
            todo: format!(
                "Put the measures into one row, or number the parts, as in \"{0} 1\" and \"{0} 2\".",
                what.part
            ),
        }
    }

    fn related(what: &Meeting, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "its other row")]
    }
}

/// The first measure in which both parts play.
pub(super) fn meeting(one: &Part, other: &Part) -> Option<u32> {
    let (When::Measures(one), When::Measures(other)) = (&one.when, &other.when) else {
        return None;
    };
    let meets = |a: &Stretch, b: &Stretch| {
        let first = a.first.max(b.first);
        (first <= a.last.min(b.last)).then_some(first)
    };
    one.iter()
        .take(500)
        .flat_map(|a| other.iter().take(500).filter_map(move |b| meets(a, b)))
        .min()
}
