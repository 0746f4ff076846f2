//! A day in figures of which the month may be the first or the second.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{EitherWay, is_british};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A day such as 12/11/22 on a card that is written as the British write. Levare reads the month first; there the
    /// day comes first.
    ///
    /// # Why it matters
    ///
    /// A set that is due in November is looked for in December.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Millpond Air"
    ///   tempo           crotchet = 88
    ///   library
    ///     bought          12/11/22 from Rivermark Editions
    ///                     ^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Millpond Air"
    ///   tempo           quarter = 88
    ///   library
    ///     bought          12/11/22 from Rivermark Editions
    /// ```
    ///
    /// # What to do
    ///
    /// Write the year first: 2022-11-12.
    DayOrMonth: "day or month first", Notation, Warning, reads Card, looks at Any
}

/// A day and where it is said.
pub struct Figures {
    place: String,
    written: String,
    day: EitherWay,
}

impl Notice for DayOrMonth {
    type What = Figures;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Figures>> {
        let mut found = Vec::new();
        for level in card.levels() {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                for item in field.items() {
                    let named = item.value.as_ref().is_some_and(|value| !value.days().is_empty());
                    let Some(day) = EitherWay::find(card.words(item.span)).filter(|_| named) else {
                        continue;
                    };
                    let span = Span::long(item.span.start + day.start as u32, day.length as u32);
                    let what = Figures {
                        place: level.at(spec.name),
                        written: card.words(span).to_owned(),
                        day,
                    };
                    found.push(Noticed::new(span, what));
                }
            }
        }
        // Few cards have such a day, and looking for words that the British write reads the whole card.
        if !found.is_empty() && !is_british(card.text()) {
            found.clear();
        }
        found
    }

    fn say(what: &Figures, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "\"{}\" is read as {}, and may be {}.",
                what.written, what.day.month_first, what.day.day_first
            ),
            why: "The card is written as in Britain, where the day stands before the month.".to_owned(),
            todo: "Write the year first, then the month.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Figures>, _card: &Card<'_>) -> Vec<Repair> {
        [noticed.what.day.day_first, noticed.what.day.month_first]
            .into_iter()
            .map(|day| {
                let edits = vec![Edit::replace(noticed.span, day.to_string())];
                Repair::to_decide(format!("Write {day}"), edits)
            })
            .collect()
    }
}
