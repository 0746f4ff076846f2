//! A piece in a key that its band has not been taught.

use std::sync::Arc;

use jiff::civil::Date;

use crate::catalogue::Entry;
use crate::catalogue::course::is_certain;
use crate::catalogue::model::Ensemble;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Key;
use crate::notation::values::Day;
use crate::rule;
use crate::text::sentences::{joined, plural};

use super::sections::{signed, transposing};
use super::taught::is_taught;

rule! {
    /// A tonal center that is not among the keys its band has been taught. A mode counts as taught when the
    /// band plays a key of the same signature; a major or minor key has to be on the list itself.
    ///
    /// # Why it matters
    ///
    /// A new key is a new scale for every section, and each section reads a different one: what is one new
    /// note for the flutes can be three sharps for the alto saxes.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, alto sax 6
    ///   keys            Bb major, Eb major, G minor
    ///
    /// piece "Lantern Street"
    ///   tonal center    Bb major, A minor at 33
    ///                             ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// The list holds the key, or the signature of the mode, or says that the key will be learned by the day of the
    /// concert; a band without a list of keys is asked nothing.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, alto sax 6
    ///   keys            Bb major, Eb major, G minor
    ///
    /// piece "Three Gates"
    ///   tonal center    Bb major, C dorian at 17, about F major at 33
    /// ```
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   keys            Bb major, Eb major, F major by 2026-11-01
    /// piece "Three Gates"
    ///   tonal center    F major
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Three Gates"
    /// ```
    ///
    /// # What to do
    ///
    /// Teach the scale before the first rehearsal and add it to the band's keys, or choose another piece.
    KeyNotTaught: "key not taught", Keys, Warning, reads Catalogue, looks at Centers
}

/// A key and the bands that have not been taught it.
pub struct NotTaught {
    place: String,
    key: Key,
    bands: Vec<(Arc<Entry>, String)>,
    /// The day by which a band is to have it, and that of the concert, where that is too late.
    late: Option<(Day, Date)>,
}

impl Notice for KeyNotTaught {
    type What = NotTaught;

    fn notice(card: &Card<'_>) -> Vec<Noticed<NotTaught>> {
        let judges = card.judges();
        let mut seen: Vec<Key> = Vec::new();
        let mut found = Vec::new();
        for course in card.courses() {
            for stage in course.piece.centers.iter().filter(|stage| is_certain(stage)) {
                let Some(key) = stage.said.value.key() else {
                    continue;
                };
                if seen.contains(&key) {
                    continue;
                }
                seen.push(key);
                let lacking: Vec<_> = judges
                    .iter()
                    .filter(|(judge, _, band)| !is_taught(key, band, card.day_of(judge)))
                    .collect();
                if lacking.is_empty() {
                    continue;
                }
                let late = lacking.iter().find_map(|(judge, _, band)| {
                    let soon = band.keys_soon.iter().map(|said| &said.value);
                    let mut soon = soon.filter(|soon| soon.key.key().is_some_and(|it| it.same_as(key)));
                    soon.find_map(|soon| soon.by).zip(card.day_of(judge))
                });
                let in_full = lacking.iter().any(|(judge, ..)| judge.in_full);
                let what = NotTaught {
                    place: course.place("tonal center"),
                    key,
                    late,
                    bands: lacking
                        .iter()
                        .map(|(_, entry, band)| (Arc::clone(entry), reads(card, band, key)))
                        .collect(),
                };
                found.push(Noticed::judged(stage.said.span, in_full, what));
            }
        }
        found
    }

    fn say(what: &NotTaught, _card: &Card<'_>) -> Saying {
        let names: Vec<String> = what
            .bands
            .iter()
            .map(|(entry, _)| crate::text::sentences::the(&entry.name))
            .collect();
        let reads = what.bands.first().map(|(_, reads)| reads.as_str()).unwrap_or("");
        Saying {
            place: what.place.clone(),
            says: match what.late {
                Some((by, day)) => format!(
                    "{} comes too late for {}: the band's card has it by {by}, and the concert is on {day}{reads}.",
                    what.key,
                    joined(&names)
                ),
                None => format!(
                    "{} is not among the keys {} has been taught{reads}.",
                    what.key,
                    joined(&names)
                ),
            },
            why: "Every section has to learn its own new scale before the notes can be rehearsed.".to_owned(),
            todo: format!(
                "Teach the scale and add {} to the band's keys, or choose another piece.",
                what.key
            ),
        }
    }

    fn related(what: &NotTaught, card: &Card<'_>) -> Vec<Related> {
        what.bands
            .iter()
            .filter_map(|(entry, _)| {
                let band = entry.ensemble()?;
                let first = band.keys.first()?.span;
                let last = band.keys.last()?.span;
                Some(card.beside(
                    entry,
                    first.cover(last),
                    format!("the keys of {}", crate::text::sentences::the(&entry.name)),
                ))
            })
            .collect()
    }
}

/// What the transposing sections read: `: clarinet and trumpet read B minor (2 sharps), ...`.
fn reads(card: &Card<'_>, band: &Ensemble, key: Key) -> String {
    let parts: Vec<String> = transposing(card, band)
        .into_iter()
        .map(|(part, names)| {
            let written = key.written(part);
            let players = joined(&names.iter().map(|name| plural(name)).collect::<Vec<_>>());
            match written.signature() {
                Some(signature) => format!("the {players} read {written} ({})", signed(signature)),
                None => format!("the {players} read {written}"),
            }
        })
        .collect();
    match parts.is_empty() {
        true => String::new(),
        false => format!(": {}", parts.join(", ")),
    }
}
