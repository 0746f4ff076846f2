//! Two parts with the same notes and different ranges.

use std::cell::OnceCell;
use std::collections::HashMap;

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::music::PitchRange;
use crate::music::instruments::key;
use crate::notation::row::{Fact, Relation, RowName};
use crate::notation::values::Place;
use crate::rule;
use crate::text::Span;

use super::rows::{Whole, whole_range};

rule! {
    /// A part that is the same as another of the same instrument, where the two have different ranges.
    ///
    /// # Why it matters
    ///
    /// If the notes differ, the part cannot be left out, and the seconds may have to play as high as the firsts.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     trumpet 1       C4-E5
    ///     trumpet 2       C4-C5, same as trumpet 1
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Another instrument has the line in another octave; the same notes at one place only are no whole part.
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     flute           C5-E6
    ///     oboe            C4-E5, same as flute
    ///     trumpet 1       C4-E5
    ///     trumpet 2       C4-C5, same as trumpet 1 at 33-40
    /// ```
    ///
    /// # What to do
    ///
    /// Fix one of the ranges, or write `with` and where the two have the same line.
    SameNotesInTwoRanges: "same notes in two ranges", Voices, Warning, reads Catalogue, looks at Parts
}

/// Two parts and their ranges.
pub struct Differ {
    place: String,
    part: (String, PitchRange),
    other: (String, PitchRange, Span),
}

impl Notice for SameNotesInTwoRanges {
    type What = Differ;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Differ>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            // The first row of each name with a whole range, put together when a row is the same as another.
            let by_name: OnceCell<HashMap<String, (&RowName, Whole)>> = OnceCell::new();
            let named = |name: &str| {
                let by_name = by_name.get_or_init(|| {
                    let mut by_name = HashMap::new();
                    for row in &level.parts {
                        if let ([name], Some(range)) = (row.names.as_slice(), whole_range(row)) {
                            by_name.entry(key(&name.one_form())).or_insert((name, range));
                        }
                    }
                    by_name
                });
                by_name.get(name).copied()
            };
            for row in &level.parts {
                let ([name], Some(own)) = (row.names.as_slice(), whole_range(row)) else {
                    continue;
                };
                let target = row.facts.iter().find_map(|fact| match &fact.what {
                    Fact::Relation {
                        relation: Relation::SameAs,
                        target,
                        place: None | Some(Place::Throughout),
                        ..
                    } if fact.is_certain() => Some(key(target)),
                    _ => None,
                });
                let Some((other_name, other)) = target.as_deref().and_then(named) else {
                    continue;
                };
                let instrument = |name: &str| card.instrument(name).map(|found| &found.name);
                let same_instrument =
                    instrument(&name.text).is_some_and(|own| Some(own) == instrument(&other_name.text));
                if same_instrument && other.concert == own.concert && other.range != own.range {
                    let what = Differ {
                        place: place(movement, "parts"),
                        part: (name.one_form(), own.range),
                        other: (other_name.one_form(), other.range, other.span),
                    };
                    found.push(Noticed::new(own.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Differ, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} is the same as {}, but its range is {} and the other's is {}.",
                what.part.0, what.other.0, what.part.1, what.other.1
            ),
            why: "Either the notes differ and the part cannot be left out, or somebody is taken to play higher than the part goes.".to_owned(),
            todo: "Look in the score: fix one of the ranges, or write where the two have the same line.".to_owned(),
        }
    }

    fn related(what: &Differ, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(
            card.entry,
            what.other.2,
            "the range of the part that it is the same as",
        )]
    }
}
