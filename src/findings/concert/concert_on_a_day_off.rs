//! A concert on a day on which the band has off.

use jiff::civil::Date;

use crate::catalogue::EntryId;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, the};

use super::who::bands;

rule! {
    /// A concert on a day within days that a band of it has off by its `meets` line. One day off alone is taken
    /// for the concert's own.
    ///
    /// # Why it matters
    ///
    /// Families are away, buses do not run, and the building may be locked.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   season          2026-27
    ///   meets           every other day, not 2026-11-23 to 2026-11-27
    /// concert "Thanks"
    ///   on              2026-11-25, 19:00
    ///                   ^^^^^^^^^^^^^^^^^
    ///   for             "Seventh Grade Band"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   season          2026-27
    ///   meets           every other day, not 2026-11-23 to 2026-11-27, not 2026-12-10
    /// concert "Winter evening"
    ///   on              2026-12-10, 19:00
    ///   for             "Seventh Grade Band"
    /// concert "Saturday in the park"
    ///   on              2027-05-15, 14:00
    ///   for             "Seventh Grade Band"
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the school's calendar and move the concert, or correct the days off on the band's card.
    ConcertOnADayOff: "concert on a day off", Concert, Warning, reads Catalogue, looks at Concert
}

/// The band, its days off, and where they stand.
pub struct DayOff {
    band: EntryId,
    days: String,
    span: Span,
}

impl Notice for ConcertOnADayOff {
    type What = DayOff;

    fn notice(card: &Card<'_>) -> Vec<Noticed<DayOff>> {
        let concert = card.entry.concert().filter(|_| !card.is_over());
        let Some((concert, day)) = concert.and_then(|concert| Some((concert, concert.day()?))) else {
            return Vec::new();
        };
        let Some(on) = concert.on.as_ref() else {
            return Vec::new();
        };
        let off = bands(card, concert)
            .into_iter()
            .find_map(|(id, _)| day_off(card, id, day));
        off.map(|off| Noticed::new(on.span, off)).into_iter().collect()
    }

    fn say(what: &DayOff, card: &Card<'_>) -> Saying {
        let entry = card.snapshot.entry(what.band);
        let band = entry.map_or_else(|| "The band".to_owned(), |entry| capital(&the(&entry.name)));
        Saying {
            place: "on".to_owned(),
            says: format!("{band} is off that day: its card says \"{}\".", what.days),
            why: "Families are away, buses do not run, and the building may be locked.".to_owned(),
            todo: "Look at the school's calendar and move the concert, or correct the days off on the band's card."
                .to_owned(),
        }
    }

    fn related(what: &DayOff, card: &Card<'_>) -> Vec<Related> {
        let entry = card.snapshot.entry(what.band);
        entry
            .map(|entry| card.beside(entry, what.span, "the days off"))
            .into_iter()
            .collect()
    }
}

/// The days off around a day, where they are more than that day.
fn day_off(card: &Card<'_>, id: EntryId, day: Date) -> Option<DayOff> {
    let entry = card.snapshot.entry(id)?;
    let band = entry.ensemble()?;
    let around = [day.yesterday().ok()?, day.tomorrow().ok()?];
    let meeting = band.meeting();
    if !meeting.is_off(day) || !around.into_iter().any(|near| meeting.is_off(near)) {
        return None;
    }
    let season = band.season.as_ref().map(|season| season.value.first);
    let said = band.meets.iter().find(|said| {
        said.value
            .not
            .is_some_and(|days| season.map_or(days, |first| days.in_season(first)).holds(day))
    })?;
    Some(DayOff {
        band: id,
        days: said.span.slice(&entry.text).to_owned(),
        span: said.span,
    })
}
