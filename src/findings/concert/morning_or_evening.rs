//! A concert at an hour that may be in the morning or in the evening.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::moment::{Hour, both_halves, show_time, without_venue};
use crate::notation::{Expected, Of, Unheard};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A concert at an hour that does not say which half of the day is meant. From one to eight it is after
    /// noon, since no concert starts before eight in the morning; `8:00` without a 0 in front may be either.
    /// (Eight as the earliest hour of the morning: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// The hour is printed on the program and on the page for the door.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              2026-12-10, 8:00
    ///                               ^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              2026-12-10, 19:00
    /// concert "Assembly"
    ///   on              2026-12-11, 08:15
    /// concert "Sunrise parade"
    ///   on              2027-05-31, 07:00
    /// ```
    ///
    /// # What to do
    ///
    /// Write the evening hour, as `20:00` for eight, or the morning hour with a 0 in front of it.
    MorningOrEvening: "morning or evening", Concert, Warning, reads Card, looks at Any
}

/// An hour as it was written, and the two it may be.
pub struct Doubt {
    written: String,
    halves: [Hour; 2],
}

/// The two hours that words may mean which were not understood as a concert's.
pub(crate) fn in_doubt(card: &Card<'_>, unheard: &Unheard) -> Option<[Hour; 2]> {
    let moment = unheard.expected == Expected::Item(Of::Moment);
    let halves = both_halves(without_venue(card.words(unheard.span))).filter(|_| moment)?;
    // Without a day the line is another matter.
    let on = card.entry.concert().and_then(|concert| concert.on.as_ref());
    on.filter(|on| on.value.time.is_none()).map(|_| halves)
}

impl Notice for MorningOrEvening {
    type What = Doubt;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Doubt>> {
        let doubtful = card.reading.unheard.iter().filter_map(|unheard| {
            // Only the hour is in doubt; the place behind it stays.
            let written = without_venue(card.words(unheard.span));
            let what = Doubt {
                written: written.to_owned(),
                halves: in_doubt(card, unheard)?,
            };
            let span = Span::long(unheard.span.start, written.len() as u32);
            Some(Noticed::new(span, what))
        });
        doubtful.collect()
    }

    fn say(what: &Doubt, _card: &Card<'_>) -> Saying {
        let [evening, morning] = what.halves.map(show_time);
        Saying {
            place: "on".to_owned(),
            says: format!("\"{}\" may be in the morning or in the evening.", what.written),
            why: "The hour is printed on the program and on the page for the door.".to_owned(),
            todo: format!("Write {evening} for the evening or {morning} for the morning."),
        }
    }

    fn repairs(noticed: &Noticed<Doubt>, _card: &Card<'_>) -> Vec<Repair> {
        let hours = noticed.what.halves.map(show_time).into_iter();
        hours
            .map(|hour| {
                let edits = vec![Edit::replace(noticed.span, hour.clone())];
                Repair::to_decide(format!("Write {hour}"), edits)
            })
            .collect()
    }
}
