//! A piece that is still to be bought, in a concert that is near.

use jiff::ToSpan;

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;

rule! {
    /// A piece that its card says is `wanted`, with no set in the library, in the program of a concert less
    /// than eight weeks away: a hint, and a warning from three weeks. (Three weeks for order and delivery, five
    /// more to learn it: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// The parts have to come and be learned; a concert does not wait for them.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Drum Hill"
    ///   wanted          for the fall concert
    ///
    /// concert "Fall concert"
    ///   on              2026-11-01
    ///   program
    ///     "Drum Hill"
    ///     ^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A card that says nothing of the library proves nothing.
    ///
    /// ```levare
    /// piece "Drum Hill"
    ///
    /// piece "Harbor Parade"
    ///   wanted          a second set for the parade
    ///   library
    ///     copies          1 score, 8 flute
    ///
    /// concert "Fall concert"
    ///   on              2026-11-01
    ///   program
    ///     "Drum Hill"
    ///     "Harbor Parade"
    /// ```
    ///
    /// # What to do
    ///
    /// Order today, or play something that is on the shelf. If the set has come, write it under `library`
    /// and take the `wanted` line out.
    OrderDateTooNear: "order date too near", Concert, Warning, reads Catalogue, looks at Concert
}

/// From how many days before the concert it is worth a hint.
const HINTED: i32 = 56;
/// From how many days before the concert it presses.
const PRESSING: i32 = 21;

/// The piece and the days left.
pub struct Near {
    title: String,
    days: i32,
    piece: crate::catalogue::EntryId,
    span: Span,
}

impl Notice for OrderDateTooNear {
    type What = Near;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Near>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let today = card.snapshot.today;
        let day = concert
            .on
            .as_ref()
            .filter(|on| on.is_certain())
            .and_then(|on| on.value.day.last());
        let limit = today.checked_add(HINTED.days());
        let (Some(day), Ok(limit)) = (day, limit) else {
            return Vec::new();
        };
        if day < today || day >= limit {
            return Vec::new();
        }
        let days = today.until(day).map_or(0, |span| span.get_days());
        let mut found = Vec::new();
        for listed in &concert.program {
            let title = &listed.title.value;
            let pieces = card.snapshot.pieces_titled(&title.name, title.by.as_deref());
            let [id] = pieces.as_slice() else { continue };
            let Some(piece) = card.snapshot.entry(*id).and_then(|entry| entry.piece()) else {
                continue;
            };
            let wanted = piece.wanted.first().filter(|said| said.is_certain());
            if let Some(wanted) = wanted.filter(|_| piece.has_set() != Some(true)) {
                found.push(Noticed::judged(
                    listed.title.span,
                    days < PRESSING,
                    Near {
                        title: title.name.clone(),
                        days,
                        piece: *id,
                        span: wanted.span,
                    },
                ));
            }
        }
        found
    }

    fn say(what: &Near, _card: &Card<'_>) -> Saying {
        let days = match what.days {
            0 => "The concert is today".to_owned(),
            1 => "The concert is tomorrow".to_owned(),
            days => format!("The concert is in {days} days"),
        };
        Saying {
            place: "program".to_owned(),
            says: format!("{days}, and the card of \"{}\" says that it is still wanted.", what.title),
            why: "The parts have to come and be learned, and a concert does not wait for them.".to_owned(),
            todo: "Order today or play something from the shelf; if the set has come, write it under library and take the wanted line out."
                .to_owned(),
        }
    }

    fn related(what: &Near, card: &Card<'_>) -> Vec<Related> {
        let entry = card.snapshot.entry(what.piece);
        entry
            .map(|entry| card.beside(entry, what.span, "still wanted"))
            .into_iter()
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use crate::catalogue::{CardFile, Snapshot};
    use crate::findings::Severity;

    #[test]
    fn it_presses_more_as_the_day_comes() {
        let told = |day: &str| {
            let text = format!(
                "piece \"A\"\n  wanted  for the fall\nconcert \"Fall\"\n  on  {day}\n  program\n    \"A\"\n"
            );
            let file = std::sync::Arc::new(CardFile::read("a.levare", &text));
            let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
            let all = snapshot
                .entries()
                .flat_map(|(id, _)| crate::findings::of_card(&snapshot, id));
            let mut found = all.filter(|found| found.phrase == "order date too near");
            found.next().map(|found| found.severity)
        };
        for (day, severity) in [
            ("2026-10-20", Some(Severity::Warning)),
            ("2026-11-09", Some(Severity::Warning)),
            ("2026-11-10", Some(Severity::Hint)),
            ("2026-12-14", Some(Severity::Hint)),
            ("2026-12-15", None),
            ("2026-10-19", None),
        ] {
            assert_eq!(told(day), severity, "{day}");
        }
    }
}
