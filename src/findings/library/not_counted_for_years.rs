//! A set that nobody has counted for years.

use jiff::civil::Date;

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

use super::concerts::coming;

/// After so many years a count is not to be relied on (common practice, no source).
const YEARS: i16 = 5;

rule! {
    /// A set in a coming program that was last counted five years ago or more (common practice, no source), by the
    /// day on its card. A set without a day of counting draws nothing.
    ///
    /// # Why it matters
    ///
    /// Parts go home in folders and do not come back; what the card counts may be long gone.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     copies          1 score, 8 flute
    ///     counted         2019-08-20
    ///                     ^^^^^^^^^^
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     copies          1 score, 8 flute
    ///     counted         2024-08-20
    /// piece "On the Shelf"
    ///   library
    ///     copies          1 score, 8 flute
    ///     counted         2012-08-20
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Count the set before the parts are handed out, and write the day under `counted`.
    NotCountedForYears: "not counted for years", Library, Hint, reads Catalogue, looks at Piece
}

/// The day of the last count.
pub struct Old {
    day: Date,
}

impl Notice for NotCountedForYears {
    type What = Old;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Old>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let library = &piece.library;
        let by_line = library.counted.iter().map(|said| (said.span, said.value));
        let by_part = library
            .copies
            .iter()
            .filter_map(|said| Some((said.span, said.value.as_of?)));
        let last: Option<(Span, Date)> = by_line
            .chain(by_part)
            .filter_map(|(span, day)| Some((span, day.last()?)))
            .max_by_key(|(_, day)| *day);
        let Some((span, day)) = last else {
            return Vec::new();
        };
        let concert = coming(card).first().map(|concert| concert.day);
        let old = concert.is_some_and(|concert| {
            let years = concert.year() - day.year();
            years > YEARS || (years == YEARS && (concert.month(), concert.day()) >= (day.month(), day.day()))
        });
        match old {
            true => vec![Noticed::new(span, Old { day })],
            false => Vec::new(),
        }
    }

    fn say(what: &Old, _card: &Card<'_>) -> Saying {
        Saying {
            place: "library".to_owned(),
            says: format!("The set was last counted in {}.", what.day.year()),
            why: "Parts go home in folders and do not come back; what the card counts may be long gone."
                .to_owned(),
            todo: "Count the set before the parts are handed out, and write the day under \"counted\"."
                .to_owned(),
        }
    }
}
