//! A flexible part that is called for and is not among the parts.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::RowName;
use crate::rule;
use crate::text::sentences::joined;

use super::instruments::is_known;

rule! {
    /// A flexible piece that is complete with parts of which one is not among its parts.
    ///
    /// # Why it matters
    ///
    /// You would look for players for a part that does not exist, or leave out the one that was meant.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Any Three"
    ///   parts
    ///     part 1          for flute or oboe
    ///     part 2          for clarinet or trumpet
    ///     part 3          for trombone or tuba
    ///     complete with 1, 2 and 4
    ///                   ^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Any Three"
    ///   parts
    ///     part 1-3        for any instrument
    ///     complete with 1 and 3
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score how the parts are numbered.
    PartNotThere: "part not there", Notation, Error, reads Card, looks at Piece
}

/// A part that is not there, and those that are.
pub struct Absent {
    number: u32,
    parts: Vec<String>,
}

impl Notice for PartNotThere {
    type What = Absent;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Absent>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let names = piece.parts.iter().flat_map(|row| &row.names);
        let flexible: Vec<(u32, u32)> = names
            .filter(|name| name.text.eq_ignore_ascii_case("part") || name.text.eq_ignore_ascii_case("parts"))
            .filter_map(|name| name.numbers)
            .collect();
        let Some(said) = piece.complete_with.as_ref().filter(|said| said.is_certain()) else {
            return Vec::new();
        };
        let there = |number: &u32| {
            flexible
                .iter()
                .any(|(first, last)| (*first..=*last).contains(number))
        };
        let absent = said.value.iter().find(|number| !there(number));
        // A name that nobody knows may be the part, with a slip.
        let names = piece.parts.iter().flat_map(|row| &row.names);
        let unknown = |name: &RowName| !is_known(card, &name.text);
        let strange = names.into_iter().any(unknown);
        let absent = absent.filter(|_| !flexible.is_empty() && !strange).into_iter();
        absent
            .map(|number| {
                let parts = flexible.iter().map(|(first, last)| match first == last {
                    true => first.to_string(),
                    false => format!("{first}-{last}"),
                });
                let parts = parts.collect();
                Noticed::new(
                    said.span,
                    Absent {
                        number: *number,
                        parts,
                    },
                )
            })
            .collect()
    }

    fn say(what: &Absent, _card: &Card<'_>) -> Saying {
        Saying {
            place: "parts".to_owned(),
            says: format!(
                "There is no part {}: the parts are {}.",
                what.number,
                joined(&what.parts)
            ),
            why: "You would look for players for a part that does not exist.".to_owned(),
            todo: "Look in the score how the parts are numbered.".to_owned(),
        }
    }
}
