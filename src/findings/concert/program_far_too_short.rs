//! A program that fills less than half of its time.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::over_length::{Long, add_up, clock};

rule! {
    /// A program of a concert to come whose pieces all have a known length, and that fills less than half of the
    /// concert's `length`. A concert that calls for something is a festival, whose time is a limit. (Half: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// Families drive a long way for ten minutes, and the hall was booked for more.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   lasts           3:10
    /// piece "Drum Hill"
    ///   lasts           2:20
    /// concert "Winter evening"
    ///   length          30 minutes
    ///                   ^^^^^^^^^^
    ///   program
    ///     "Harbor Parade"
    ///     "Drum Hill"
    /// ```
    ///
    /// # Does not
    ///
    /// One piece alone is a program that is still being made, and of a piece without a length nobody knows.
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   lasts           3:10
    /// piece "Creek Bridge"
    /// concert "Winter evening"
    ///   length          30 minutes
    ///   program
    ///     "Harbor Parade"
    /// concert "Spring concert"
    ///   length          30 minutes
    ///   program
    ///     "Harbor Parade"
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Add a piece, or write the length that is meant.
    ProgramFarTooShort: "program far too short", Concert, Hint, reads Catalogue, looks at Concert
}

impl Notice for ProgramFarTooShort {
    type What = Long;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Long>> {
        let concert = card.entry.concert().filter(|_| !card.is_over());
        let Some(concert) =
            concert.filter(|concert| concert.program.len() > 1 && concert.calls_for.is_empty())
        else {
            return Vec::new();
        };
        let Some(length) = concert.length.as_ref().filter(|length| length.is_certain()) else {
            return Vec::new();
        };
        let filled = add_up(card.snapshot, concert, length.value.low.seconds(), None);
        let short = filled.unknown == 0
            && filled.music.saturating_add(filled.gaps).saturating_mul(2) < filled.allowed;
        short
            .then(|| Noticed::new(length.span, filled))
            .into_iter()
            .collect()
    }

    fn say(what: &Long, _card: &Card<'_>) -> Saying {
        Saying {
            place: "length".to_owned(),
            says: format!(
                "The program takes {}, and the concert is supposed to last {}.",
                clock(what.music.saturating_add(what.gaps)),
                clock(what.allowed)
            ),
            why: "Families drive a long way for so little, and the hall was booked for more.".to_owned(),
            todo: "Add a piece, or write the length that is meant.".to_owned(),
        }
    }
}
