//! An instrument that is there, but not whole, with a part in a program.

use crate::catalogue::EntryId;
use crate::catalogue::cupboard::{holds, meant};
use crate::catalogue::model::{Ensemble, Said};
use crate::catalogue::percussion::courses;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Equipment;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, the};

use super::neighbors::coming;

rule! {
    /// A percussion instrument of which the band's card says what is the matter with it, with a part in a piece of a
    /// coming program, where the band has no other. The first such piece is marked.
    ///
    /// # Why it matters
    ///
    /// A bar that is missing or a pedal that slips is heard by everybody, and a repair takes weeks.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   owns            snare, xylophone missing the top bar
    /// piece "Bells of Marrow Lane"
    ///   percussion
    ///     xylophone       1-40
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Bells of Marrow Lane"
    ///     ^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   owns            snare, xylophone missing the top bar
    ///   borrowed        xylophone from the high school
    /// piece "Bells of Marrow Lane"
    ///   percussion
    ///     xylophone       1-40
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Bells of Marrow Lane"
    /// ```
    ///
    /// # What to do
    ///
    /// Have it repaired before the concert, borrow another, or see that the part does without.
    RepairBeforeTheConcert: "repair before the concert", Concert, Information, reads Catalogue,
        looks at Concert
}

/// What is the matter with which instrument of which band, and where the band's card says so.
pub struct Flawed {
    instrument: String,
    flaw: String,
    title: String,
    name: String,
    band: EntryId,
    place: Span,
}

impl Notice for RepairBeforeTheConcert {
    type What = Flawed;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Flawed>> {
        let Some((concert, rows)) = coming(card) else {
            return Vec::new();
        };
        let named = |names: &[&str]| -> Vec<EntryId> {
            let ids = names.iter().filter_map(|name| card.snapshot.ensemble_named(name));
            ids.collect()
        };
        let of_the_concert: Vec<&str> = concert
            .bands
            .iter()
            .map(|band| band.value.name.as_str())
            .collect();
        let mut found: Vec<Noticed<Flawed>> = Vec::new();
        for (listed, subject) in &rows {
            let Some(subject) = subject else { continue };
            let of_the_row: Vec<&str> = listed.bands.iter().map(String::as_str).collect();
            let bands = match (of_the_row.is_empty(), of_the_concert.is_empty()) {
                (false, _) => named(&of_the_row),
                (true, false) => named(&of_the_concert),
                (true, true) => card.snapshot.usual_bands(),
            };
            for band in bands {
                let Some((entry, ensemble)) = card
                    .snapshot
                    .entry(band)
                    .and_then(|entry| Some((entry, entry.ensemble()?)))
                else {
                    continue;
                };
                // Nothing is asked of a piece's percussion where nothing is the matter.
                if ensemble.owns.iter().all(|said| said.value.flaw.is_none()) {
                    continue;
                }
                let borrowed = concert.borrowed.iter().chain(&ensemble.borrowed);
                for course in courses(subject.piece, card.instruments(), &[]) {
                    let parts = course.parts.iter().filter(|part| part.is_needed());
                    for name in parts.flat_map(|part| &part.names) {
                        let Some(said) = flawed(card, ensemble, borrowed.clone(), name) else {
                            continue;
                        };
                        if found.iter().any(|found| found.what.place == said.span) {
                            continue;
                        }
                        let what = Flawed {
                            instrument: name.clone(),
                            flaw: said.value.flaw.clone().unwrap_or_default(),
                            title: listed.title.value.name.clone(),
                            name: the(&entry.name),
                            band,
                            place: said.span,
                        };
                        found.push(Noticed::new(listed.title.span, what));
                    }
                }
            }
        }
        found
    }

    fn say(what: &Flawed, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "\"{}\" has a part for {}, and by the card of {} something is the matter with it: {}.",
                what.title, what.instrument, what.name, what.flaw
            ),
            why:
                "A bar that is missing or a pedal that slips is heard by everybody, and a repair takes weeks."
                    .to_owned(),
            todo: "Have it repaired before the concert, borrow another, or see that the part does without."
                .to_owned(),
        }
    }

    fn related(what: &Flawed, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside_card(
            what.band,
            what.place,
            format!("{} of the band", capital(&what.instrument)),
        )]
    }
}

/// The owned thing that is not whole, where nothing else that is there is the instrument.
fn flawed<'e>(
    card: &Card<'_>,
    band: &'e Ensemble,
    mut borrowed: impl Iterator<Item = &'e Said<Equipment>>,
    name: &str,
) -> Option<&'e Said<Equipment>> {
    let wanted = meant(card.instruments(), name);
    let is = |said: &Said<Equipment>| {
        wanted
            .iter()
            .any(|wanted| holds(&said.value, wanted, card.instruments()))
    };
    let whole = band
        .owns
        .iter()
        .any(|said| is(said) && (said.value.flaw.is_none() || said.value.count > 1));
    if whole || borrowed.any(is) {
        return None;
    }
    band.owns
        .iter()
        .find(|said| is(said) && said.value.flaw.is_some())
}
