//! Fewer rehearsals before a concert than it has new pieces.

use jiff::civil::Date;

use crate::catalogue::EntryId;
use crate::catalogue::model::Ensemble;
use crate::catalogue::names::key;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, counted, the};

use super::who::{bands, played};

rule! {
    /// Fewer rehearsals between a band's concert before (or its first rehearsal) and this one than the program
    /// has pieces that are new. The rehearsals are counted from the band's `meets` line, days off left out. (One
    /// rehearsal a piece as the least: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// A vacation between two concerts takes the rehearsals away, and the calendar does not show it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   season          2026-27
    ///   meets           Thursdays, not 2026-12-21 to 2027-01-03
    /// piece "Creek Bridge"
    /// piece "Harbor Parade"
    /// piece "Drum Hill"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Harbor Parade"
    /// concert "New Year's assembly"
    ///   on              2027-01-08
    ///                   ^^^^^^^^^^
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Harbor Parade"
    ///     "Creek Bridge"
    ///     "Drum Hill"
    ///     "Evening Air"
    /// piece "Evening Air"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   season          2026-27
    ///   meets           daily, not 2026-12-21 to 2027-01-03, starts 2026-08-24
    /// piece "Creek Bridge"
    /// piece "Harbor Parade"
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Harbor Parade"
    /// concert "New Year's assembly"
    ///   on              2027-01-08
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Harbor Parade"
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Bring back pieces that the band knows, ask for an extra rehearsal, or move the concert.
    FewRehearsals: "few rehearsals before the concert", Concert, Information, reads Catalogue,
        looks at Concert
}

/// The band, how often it meets, and for how many pieces.
pub struct Few {
    band: String,
    rehearsals: u32,
    pieces: usize,
    since: Since,
    meets: Option<(EntryId, Span)>,
}

/// From when the rehearsals are counted.
enum Since {
    Concert(String),
    FirstDay,
}

impl Notice for FewRehearsals {
    type What = Few;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Few>> {
        let concert = card.entry.concert().filter(|_| !card.is_over());
        let Some((concert, day)) = concert.and_then(|concert| Some((concert, concert.day()?))) else {
            return Vec::new();
        };
        let Some(on) = concert.on.as_ref() else {
            return Vec::new();
        };
        let few = bands(card, concert)
            .into_iter()
            .find_map(|(id, band)| few(card, id, band, day));
        few.map(|few| Noticed::new(on.span, few)).into_iter().collect()
    }

    fn say(what: &Few, _card: &Card<'_>) -> Saying {
        let since = match &what.since {
            Since::Concert(name) => format!("after \"{name}\""),
            Since::FirstDay => "before this concert".to_owned(),
        };
        Saying {
            place: "on".to_owned(),
            says: format!(
                "{} has {} {since}, for {}.",
                capital(&what.band),
                counted(what.rehearsals as usize, "rehearsal"),
                counted(what.pieces, "new piece"),
            ),
            why: "A vacation between two concerts takes the rehearsals away, and the calendar does not show it."
                .to_owned(),
            todo: "Bring back pieces that the band knows, ask for an extra rehearsal, or move the concert."
                .to_owned(),
        }
    }

    fn related(what: &Few, card: &Card<'_>) -> Vec<Related> {
        let meets = what
            .meets
            .and_then(|(id, span)| Some((card.snapshot.entry(id)?, span)));
        meets
            .map(|(entry, span)| card.beside(entry, span, "when the band meets"))
            .into_iter()
            .collect()
    }
}

fn few(card: &Card<'_>, id: EntryId, band: &Ensemble, day: Date) -> Option<Few> {
    let snapshot = card.snapshot;
    let meeting = band.meeting();
    // The concert before this one, with its day and titles.
    let before = snapshot
        .entries()
        .filter_map(|(other, entry)| {
            let concert = entry.concert()?;
            let earlier = concert.day().filter(|earlier| *earlier < day)?;
            let named = concert
                .bands
                .iter()
                .any(|band| snapshot.ensemble_named(&band.value.name) == Some(id));
            let plays = named
                || played(snapshot, other, concert)
                    .iter()
                    .any(|row| row.bands.contains(&id));
            plays.then_some((earlier, entry.name.as_str(), concert))
        })
        .max_by_key(|(earlier, ..)| *earlier);
    let starts = meeting.starts.and_then(|starts| starts.first());
    let (from, since) = match (&before, starts) {
        (Some((earlier, name, _)), starts) if starts.is_none_or(|starts| starts <= *earlier) => {
            (earlier.tomorrow().ok()?, Since::Concert((*name).to_owned()))
        }
        (_, Some(starts)) => (starts, Since::FirstDay),
        (_, None) => return None,
    };
    let rehearsals = meeting.rehearsals(from, day.yesterday().ok()?)?;
    let known: Vec<String> = before
        .iter()
        .flat_map(|(_, _, concert)| &concert.program)
        .map(|listed| key(&listed.title.value.name))
        .collect();
    let concert = card.entry.concert()?;
    let pieces = played(snapshot, card.id, concert)
        .into_iter()
        .filter(|row| row.bands.contains(&id) && !known.contains(&key(&row.listed.title.value.name)))
        .count();
    let name = &snapshot.entry(id)?.name;
    ((rehearsals as usize) < pieces).then(|| Few {
        band: the(name),
        rehearsals,
        pieces,
        since,
        meets: band.meets.first().map(|said| (id, said.span)),
    })
}
