//! A concert at an hour when nobody is at school.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Moment;
use crate::rule;
use crate::text::Edit;

rule! {
    /// A concert between midnight and eight in the morning: hours run to 24 here, so `7:00` is seven in the
    /// morning and an evening concert is at `19:00`. (Eight as the earliest hour: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// The hour is printed on the program and on the page for the door.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              2026-12-10, 7:00
    ///                   ^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              2026-12-10, 19:00
    /// concert "Assembly"
    ///   on              2026-12-11, 8:15
    /// ```
    ///
    /// # What to do
    ///
    /// Write the evening hour, as `19:00` for seven.
    MorningOrEvening: "morning or evening", Concert, Warning, reads Card
}

/// The earliest hour of a concert.
const EARLIEST: u8 = 8;

impl Notice for MorningOrEvening {
    type What = Moment;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Moment>> {
        let on = card.entry.concert().and_then(|concert| concert.on.as_ref());
        let early = on.filter(|on| on.is_certain() && on.value.time.is_some_and(|(hour, _)| hour < EARLIEST));
        early
            .map(|on| Noticed::new(on.span, on.value))
            .into_iter()
            .collect()
    }

    fn say(what: &Moment, _card: &Card<'_>) -> Saying {
        let (hour, minute) = what.time.unwrap_or_default();
        Saying {
            place: "on".to_owned(),
            says: format!("{hour}:{minute:02} is in the morning."),
            why: "The hour is printed on the program and on the page for the door.".to_owned(),
            todo: format!(
                "If the evening is meant, write {}:{minute:02}.",
                hour.saturating_add(12)
            ),
        }
    }

    fn repairs(noticed: &Noticed<Moment>, _card: &Card<'_>) -> Vec<Repair> {
        let Some((hour, minute)) = noticed.what.time else {
            return Vec::new();
        };
        let evening = Moment {
            time: Some((hour.saturating_add(12), minute)),
            ..noticed.what
        };
        vec![Repair::to_decide(
            format!("Write {}:{minute:02}", hour.saturating_add(12)),
            vec![Edit::replace(noticed.span, evening.to_string())],
        )]
    }
}
