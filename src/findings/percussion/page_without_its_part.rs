//! A printed page with an instrument that has no row.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::mend;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::music::groups::Group;
use crate::notation::row::{Fact, RowName};
use crate::rule;

rule! {
    /// A printed page that names a percussion instrument which is not among the percussion parts, though the
    /// other instruments of the pages are.
    ///
    /// # Why it matters
    ///
    /// The charts of who plays what are made from the parts, so nobody gets that instrument, and it stands in
    /// the music all the same.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare           1-88
    ///     bass drum       1-88
    ///   pages
    ///     percussion 1    snare, triangle
    ///                            ^^^^^^^^
    ///     percussion 2    bass drum
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Quarry Dances"
    ///   percussion
    ///     snare           1-88
    ///     bass drum       1-88
    ///   pages
    ///     percussion 1    snare, bass drum
    /// piece "Gravel Dances"
    ///   percussion        9 parts
    ///   pages
    ///     percussion 1    snare, triangle
    /// ```
    ///
    /// # What to do
    ///
    /// Add the instrument to the percussion parts with its measures.
    PageWithoutItsPart: "page without its part", Percussion, Warning, reads Catalogue, looks at Piece
}

/// The page and the instrument.
pub struct OnPage {
    page: String,
    instrument: String,
}

impl Notice for PageWithoutItsPart {
    type What = OnPage;

    fn notice(card: &Card<'_>) -> Vec<Noticed<OnPage>> {
        let Some(piece) = card.piece().filter(|piece| !piece.pages.is_empty()) else {
            return Vec::new();
        };
        // A number of parts is the whole of which the rows are a few.
        if piece.percussion.is_empty() || piece.percussion_count.is_some() {
            return Vec::new();
        }
        let movements = piece
            .movements
            .iter()
            .flat_map(|movement| &movement.piece.percussion);
        let names: Vec<&str> = piece
            .percussion
            .iter()
            .chain(movements)
            .flat_map(|row| &row.names)
            .map(|name| name.text.as_str())
            .collect();
        // A row for a grouping holds instruments that are not named.
        if names.iter().any(|name| Group::read(name).is_some()) {
            return Vec::new();
        }
        let there: Vec<&Instrument> = names.iter().filter_map(|name| card.instrument(name)).collect();
        let on_pages: Vec<_> = piece
            .pages
            .iter()
            .flat_map(|row| row.facts.iter().map(move |fact| (row, fact)))
            .filter(|(_, fact)| fact.is_certain())
            .filter_map(|(row, fact)| match &fact.what {
                Fact::Instruments { names, not: false } => Some((row, names)),
                _ => None,
            })
            .flat_map(|(row, names)| names.iter().map(move |name| (row, name)))
            .filter_map(|(row, name)| {
                let instrument = card.instrument(&name.text)?;
                instrument
                    .family
                    .is_percussion()
                    .then_some((row, name.span, instrument))
            })
            .collect();
        let has_row = |instrument: &Instrument| there.iter().any(|found| found.name == instrument.name);
        // Where no instrument of the pages has a row, the rows were written for something else.
        if !on_pages.iter().any(|(.., instrument)| has_row(instrument)) {
            return Vec::new();
        }
        on_pages
            .iter()
            .filter(|(.., instrument)| !has_row(instrument))
            .map(|(row, span, instrument)| {
                let page = row
                    .names
                    .iter()
                    .map(RowName::one_form)
                    .collect::<Vec<_>>()
                    .join(", ");
                let what = OnPage {
                    page,
                    instrument: instrument.name.to_string(),
                };
                Noticed::new(*span, what)
            })
            .collect()
    }

    fn say(what: &OnPage, _card: &Card<'_>) -> Saying {
        Saying {
            place: "pages".to_owned(),
            says: format!(
                "{} is on the page {} and not among the percussion parts.",
                what.instrument, what.page
            ),
            why: "The charts of who plays what are made from the parts, so nobody would get it.".to_owned(),
            todo: "Add it to the percussion parts with its measures.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<OnPage>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let edit = mend::take_out(card.text(), noticed.span);
        vec![Repair::to_decide(
            format!("Take {} off the page {}", what.instrument, what.page),
            vec![edit],
        )]
    }
}
