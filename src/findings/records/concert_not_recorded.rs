//! A concert that is over, and no card says how it went.

use jiff::ToSpan;

use crate::catalogue::EntryId;
use crate::catalogue::conditions::Evaluator;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::{agree, joined};

rule! {
    /// A concert of the last year that is over, where cards of its pieces have no line under `performed` of that
    /// time.
    ///
    /// # Why it matters
    ///
    /// In three years nobody will remember when a piece was played, by whom, and what it took to learn.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   performed       2026-05-14 "Seventh Grade Band"
    /// piece "Drum Hill"
    /// ensemble "Seventh Grade Band"
    /// concert "Spring concert"
    ///   on              2026-05-14
    ///                   ^^^^^^^^^^
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Harbor Parade"
    ///     "Drum Hill"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   performed       2026-05 "Seventh Grade Band"
    /// piece "Drum Hill"
    /// ensemble "Seventh Grade Band"
    /// concert "Spring concert"
    ///   on              2026-05-14
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Harbor Parade"
    /// concert "Long ago"
    ///   on              2024-05-14
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Drum Hill"
    /// ```
    ///
    /// # What to do
    ///
    /// Write the day, the band and what you learned under `performed` on each card.
    ConcertNotRecorded: "concert not recorded", Records, Hint, reads Catalogue, looks at Concert
}

/// The pieces without a line.
pub struct Unwritten {
    pieces: Vec<(EntryId, String)>,
}

impl Notice for ConcertNotRecorded {
    type What = Unwritten;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Unwritten>> {
        let Some(concert) = card.entry.concert().filter(|_| card.is_over()) else {
            return Vec::new();
        };
        let Some(on) = concert.on.as_ref().filter(|on| on.is_certain()) else {
            return Vec::new();
        };
        let day = on.value.day;
        let (Some(first), Some(last), Ok(oldest)) =
            (day.first(), day.last(), card.snapshot.today.checked_sub(1.year()))
        else {
            return Vec::new();
        };
        if last < oldest {
            return Vec::new();
        }
        let pieces: Vec<(EntryId, String)> = Evaluator::new(card.snapshot)
            .pieces_of(concert)
            .into_iter()
            .flatten()
            .filter(|subject| {
                !subject.piece.is_unread("performed")
                    && !subject.piece.performed.iter().any(|said| {
                        let day = said.value.day;
                        // A line without a day may be of any day.
                        day.is_none_or(|day| {
                            let then = day.first().is_none_or(|from| from <= last)
                                && day.last().is_none_or(|to| to >= first);
                            // A day that is still to come is a slip for some other day.
                            then || day.first().is_some_and(|from| from > card.snapshot.today)
                        })
                    })
            })
            .map(|subject| (subject.id, subject.entry.name.clone()))
            .collect();
        match pieces.is_empty() {
            true => Vec::new(),
            false => vec![Noticed::new(on.span, Unwritten { pieces })],
        }
    }

    fn say(what: &Unwritten, _card: &Card<'_>) -> Saying {
        let titles: Vec<String> = what
            .pieces
            .iter()
            .map(|(_, title)| format!("\"{title}\""))
            .collect();
        Saying {
            place: "on".to_owned(),
            says: format!(
                "The concert is over, and {} {} no line about it under performed.",
                joined(&titles),
                agree(titles.len(), "has", "have")
            ),
            why: "In three years nobody will remember when it was played and what it took to learn."
                .to_owned(),
            todo: "Write the day, the band and what you learned under performed on each card.".to_owned(),
        }
    }

    fn related(what: &Unwritten, card: &Card<'_>) -> Vec<Related> {
        what.pieces
            .iter()
            .filter_map(|(id, _)| card.snapshot.entry(*id))
            .map(|entry| card.beside(entry, entry.name_span, "a piece of that evening"))
            .collect()
    }
}
