//! A band in two places at one hour.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::names::key;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::the;

rule! {
    /// Two concerts of one band on the same day at the same hour. It is reported on the later of the two cards.
    ///
    /// # Why it matters
    ///
    /// A card was copied for the next concert and its day was left as it was, or the buses are ordered twice.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   on              2026-12-10, 19:00
    ///   for             "Seventh Grade Band"
    /// concert "Snow evening"
    ///   on              2026-12-10, 7 pm
    ///                   ^^^^^^^^^^^^^^^^
    ///   for             "Seventh Grade Band"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    /// ensemble "Jazz Lab"
    /// concert "Winter evening"
    ///   on              2026-12-10, 19:00
    ///   for             "Seventh Grade Band"
    /// concert "Assembly"
    ///   on              2026-12-10, 10:00
    ///   for             "Seventh Grade Band"
    /// concert "Jazz evening"
    ///   on              2026-12-10, 19:00
    ///   for             "Jazz Lab"
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the day or the hour of one of them.
    TwoConcertsAtOnce: "two concerts at once", Records, Warning, reads Catalogue, looks at Concert
}

/// The band and the other concert.
pub struct AtOnce {
    band: String,
    on: String,
    other: Arc<Entry>,
    other_on: Span,
}

impl Notice for TwoConcertsAtOnce {
    type What = AtOnce;

    fn notice(card: &Card<'_>) -> Vec<Noticed<AtOnce>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let Some(on) = concert
            .on
            .as_ref()
            .filter(|on| on.is_certain() && on.value.time.is_some())
        else {
            return Vec::new();
        };
        if on.value.day.day.is_none() {
            return Vec::new();
        }
        let mut others: Vec<_> = card
            .snapshot
            .names()
            .all(Kind::Concert)
            .map(|(_, id)| id)
            .filter(|id| *id < card.id)
            .collect();
        others.sort_unstable();
        others
            .into_iter()
            .find_map(|id| {
                let entry = card.snapshot.entry(id)?;
                let other = entry.concert()?;
                let other_on = other
                    .on
                    .as_ref()
                    .filter(|other| other.is_certain() && other.value == on.value)?;
                let shared = concert.bands.iter().find(|band| {
                    let name = key(&band.value.name);
                    other.bands.iter().any(|other| key(&other.value.name) == name)
                })?;
                let what = AtOnce {
                    band: shared.value.name.clone(),
                    on: on.value.to_string(),
                    other: Arc::clone(entry),
                    other_on: other_on.span,
                };
                // One card written twice is another finding.
                (key(&entry.name) != key(&card.entry.name)).then(|| Noticed::new(on.span, what))
            })
            .into_iter()
            .collect()
    }

    fn say(what: &AtOnce, _card: &Card<'_>) -> Saying {
        Saying {
            place: "on".to_owned(),
            says: format!(
                "On {} {} also plays \"{}\".",
                what.on,
                the(&what.band),
                what.other.name
            ),
            why: "A band cannot be in two places, and buses and hall are ordered from this line.".to_owned(),
            todo: "Fix the day or the hour of one of them.".to_owned(),
        }
    }

    fn related(what: &AtOnce, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(&what.other, what.other_on, "the other concert")]
    }
}
