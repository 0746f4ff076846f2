//! A borrowed instrument that is not there on the day of the concert.

use crate::catalogue::EntryId;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Days;
use crate::rule;

rule! {
    /// A percussion instrument that a piece of the program plays, which the band only borrows, for days
    /// that do not hold the day of the concert.
    ///
    /// # Why it matters
    ///
    /// The instrument is back in the other school's room by then.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   percussionists  6
    ///   owns            bass drum
    ///   borrowed        chimes from the high school, 2027-03-01 to 2027-05-15
    /// piece "Procession of Lamps"
    ///   percussion      chimes, bass drum
    /// concert "Last week"
    ///   on              2027-06-03
    ///   program
    ///     "Procession of Lamps"
    ///     ^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   percussionists  6
    ///   owns            bass drum
    ///   borrowed        chimes from the high school, 2027-03-01 to 2027-06-15
    /// piece "Procession of Lamps"
    ///   percussion      chimes, bass drum
    /// concert "Last week"
    ///   on              2027-06-03
    ///   program
    ///     "Procession of Lamps"
    /// ```
    ///
    /// # What to do
    ///
    /// Ask for the loan to be longer, or plan the piece without the instrument.
    LoanOver: "loan over by then", Concert, Warning, reads Catalogue, looks at Concert
}

/// A piece, the instrument it lacks, and the loan.
pub struct Loan {
    title: String,
    instrument: String,
    days: Days,
    band: EntryId,
    at: usize,
}

impl Notice for LoanOver {
    type What = Loan;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Loan>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let Some(day) = concert
            .on
            .as_ref()
            .filter(|on| on.is_certain())
            .and_then(|on| on.value.day.first())
        else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for listed in &concert.program {
            let title = &listed.title.value;
            for id in card.snapshot.pieces_titled(&title.name, title.by.as_deref()) {
                let listings = card
                    .snapshot
                    .listings_of(id)
                    .iter()
                    .filter(|listing| listing.concert == card.id);
                for band in listings.flat_map(|listing| &listing.bands) {
                    if let Some(loan) = missing(card, id, *band, day) {
                        found.push(Noticed::new(listed.title.span, loan));
                    }
                }
            }
        }
        found.dedup_by(|a, b| a.span == b.span);
        found
    }

    fn say(what: &Loan, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "\"{}\" plays {}, which the band has only {}{}.",
                what.title,
                what.instrument,
                if what.days.from.is_some() { "from " } else { "" },
                what.days
            ),
            why: "On the day of the concert the instrument is back where it came from.".to_owned(),
            todo: "Ask for the loan to be longer, or plan the piece without the instrument.".to_owned(),
        }
    }

    fn related(what: &Loan, card: &Card<'_>) -> Vec<Related> {
        let Some(entry) = card.snapshot.entry(what.band) else {
            return Vec::new();
        };
        let said = entry.ensemble().and_then(|band| band.borrowed.get(what.at));
        said.map(|said| card.beside(entry, said.span, "the loan"))
            .into_iter()
            .collect()
    }
}

/// The first instrument of a piece that a band borrows for other days only.
fn missing(card: &Card<'_>, piece: EntryId, band: EntryId, day: jiff::civil::Date) -> Option<Loan> {
    let entry = card.snapshot.entry(piece)?;
    let ensemble = card.snapshot.entry(band)?.ensemble()?;
    let played: Vec<&str> = entry
        .piece()?
        .percussion
        .iter()
        .flat_map(|row| &row.names)
        .filter_map(|name| Some(&*card.instrument(&name.text)?.name))
        .collect();
    let owned = |name: &str| {
        ensemble.owns.iter().any(|said| {
            card.instrument(&said.value.name)
                .is_some_and(|known| known.name == name)
        })
    };
    ensemble.borrowed.iter().enumerate().find_map(|(at, said)| {
        let days = said.value.days?.ending(card.snapshot.today);
        let name = &*card.instrument(&said.value.name)?.name;
        (played.contains(&name) && !owned(name) && !days.holds(day)).then(|| Loan {
            title: entry.name.clone(),
            instrument: name.to_owned(),
            days,
            band,
            at,
        })
    })
}
