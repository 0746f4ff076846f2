//! One player with a solo in two pieces in a row.

use crate::catalogue::conditions::Subject;
use crate::catalogue::model::Ensemble;
use crate::catalogue::sections::{Sections, part_rows, relates};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Instrument;
use crate::notation::row::{Fact, Relation};
use crate::rule;
use crate::text::sentences::the;

use super::neighbors::{Neighbors, neighbors};

rule! {
    /// Two pieces in a row with a solo for the same instrument, of which the band has one player, cued nowhere.
    /// (From memory, no source.)
    ///
    /// # Why it matters
    ///
    /// One young player carries both pieces, without a moment to breathe between them.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, oboe 1
    /// piece "Slow River, Low Sun"
    ///   parts
    ///     oboe            solo 17-24
    ///   stet            solo without a cue because she is never ill
    /// piece "Evening Air"
    ///   parts
    ///     oboe            solo 5-12
    ///   stet            solo without a cue because she is never ill
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Slow River, Low Sun"
    ///     "Evening Air"
    ///     ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, oboe 1
    /// piece "Slow River, Low Sun"
    ///   parts
    ///     oboe            solo 17-24, cued in flute
    ///     flute           solo 33-36
    /// piece "Evening Air"
    ///   parts
    ///     flute           solo 5-12
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Slow River, Low Sun"
    ///     "Evening Air"
    /// ```
    ///
    /// # What to do
    ///
    /// Put a piece between them, or find a cue for one of the solos.
    OneSoloistTwiceRunning: "one soloist twice running", Concert, Hint, reads Catalogue, looks at Concert
}

/// The two titles, the instrument and the band.
pub struct Soloist {
    first: String,
    second: String,
    instrument: String,
    band: String,
}

impl Notice for OneSoloistTwiceRunning {
    type What = Soloist;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Soloist>> {
        let Some((concert, neighbors)) = neighbors(card) else {
            return Vec::new();
        };
        neighbors
            .into_iter()
            .filter_map(|Neighbors { first, second }| {
                let names: Vec<&str> = match second.0.bands.is_empty() {
                    true => concert
                        .bands
                        .iter()
                        .map(|band| band.value.name.as_str())
                        .collect(),
                    false => second.0.bands.iter().map(String::as_str).collect(),
                };
                let ids = match names.is_empty() {
                    true => card.snapshot.usual_bands(),
                    false => names
                        .iter()
                        .filter_map(|name| card.snapshot.ensemble_named(name))
                        .collect(),
                };
                let bands: Vec<(&str, &Ensemble)> = ids
                    .into_iter()
                    .filter_map(|id| card.snapshot.entry(id))
                    .filter_map(|entry| Some((entry.name.as_str(), entry.ensemble()?)))
                    .collect();
                let only: Vec<&Ensemble> = bands.iter().map(|(_, band)| *band).collect();
                let sections = Sections::of(&only, card.instruments());
                let others = soloists(card, &second.1);
                let instrument = soloists(card, &first.1).into_iter().find(|one| {
                    others.iter().any(|other| other.name == one.name) && sections.players(one) == Some(1)
                })?;
                let what = Soloist {
                    first: first.0.title.value.name.clone(),
                    second: second.0.title.value.name.clone(),
                    instrument: instrument.name.to_string(),
                    band: bands.first().map_or("band", |(name, _)| *name).to_owned(),
                };
                Some(Noticed::new(second.0.title.span, what))
            })
            .collect()
    }

    fn say(what: &Soloist, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "\"{}\" and \"{}\" follow each other, both with a solo for the only {} of {}.",
                what.first,
                what.second,
                what.instrument,
                the(&what.band)
            ),
            why: "One young player carries both pieces, without a moment to breathe between them.".to_owned(),
            todo: "Put a piece between them, or find a cue for one of the solos.".to_owned(),
        }
    }
}

/// The instruments that surely have a solo which is cued nowhere, so that nobody else can take it.
fn soloists<'s>(card: &Card<'s>, subject: &Subject<'_>) -> Vec<&'s Instrument> {
    part_rows(subject.piece)
        .filter(|row| {
            let mut facts = row.facts.iter();
            facts.any(|fact| matches!(fact.what, Fact::Solo(_)) && !fact.about && !fact.open)
                && !relates(row, &[Relation::CuedIn])
        })
        .flat_map(|row| &row.names)
        .filter_map(|name| card.instrument(&name.text))
        .collect()
}
