//! A program that never leaves one key.

use std::collections::BTreeSet;

use crate::catalogue::conditions::{Condition, Evaluator, Facet, Term, of_field};
use crate::catalogue::model::{Concert, Ensemble};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

rule! {
    /// A program of three pieces or more that all stay in one and the same key, for a band whose card names
    /// another key it was taught. Common practice, no source.
    ///
    /// # Why it matters
    ///
    /// An evening in one key tires the ear, and the band learned another one.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   keys            Bb major, F major
    /// piece "One"
    ///   tonal center    F major
    /// piece "Two"
    ///   tonal center    F major
    /// piece "Three"
    ///   tonal center    F major
    /// concert "Winter evening"
    ///          ^^^^^^^^^^^^^^
    ///   for             "Concert Band"
    ///   program
    ///     "One"
    ///     "Two"
    ///     "Three"
    /// ```
    ///
    /// # Does not
    ///
    /// Beginners play in the key they know, and a piece whose keys are not told may bring another.
    ///
    /// ```levare
    /// ensemble "Beginners"
    ///   keys            Bb major
    /// piece "One"
    ///   tonal center    Bb major
    /// piece "Two"
    ///   tonal center    Bb major
    /// piece "Three"
    ///   tonal center    Bb major
    /// concert "Winter evening"
    ///   for             "Beginners"
    ///   program
    ///     "One"
    ///     "Two"
    ///     "Three"
    /// ```
    ///
    /// # What to do
    ///
    /// Change one piece for another in a key that they know.
    AllInOneKey: "all in one key", Concert, Hint, reads Catalogue, looks at Concert
}

impl Notice for AllInOneKey {
    type What = String;

    fn notice(card: &Card<'_>) -> Vec<Noticed<String>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let over = concert
            .on
            .as_ref()
            .and_then(|on| on.value.day.last())
            .is_some_and(|day| day < card.snapshot.today);
        // Where the concert calls for several keys, that tells it already.
        let asked =
            |condition: &Condition| matches!(condition.term, Term::Different { what: Facet::Key, .. });
        if over
            || concert.program.len() < 3
            || of_field(card.snapshot, card.text(), &concert.calls_for)
                .iter()
                .any(asked)
        {
            return Vec::new();
        }
        let evaluator = Evaluator::new(card.snapshot);
        let mut keys: BTreeSet<String> = BTreeSet::new();
        for piece in evaluator.pieces_of(concert) {
            let Some(piece) = piece else { return Vec::new() };
            let values = piece.keys();
            if !values.complete {
                return Vec::new();
            }
            keys.extend(values.certain.iter().map(ToString::to_string));
        }
        let mut keys = keys.into_iter();
        let (Some(key), None) = (keys.next(), keys.next()) else {
            return Vec::new();
        };
        match know_another(card, concert, &key) {
            true => vec![Noticed::new(card.head_span(), key)],
            false => Vec::new(),
        }
    }

    fn say(what: &String, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!("Every piece of this program is in {what} from beginning to end."),
            why: "An evening in one key tires the ear, and the band was taught another one.".to_owned(),
            todo: "Change one piece for another in a key that they know, or let it stand.".to_owned(),
        }
    }
}

/// Whether every band of a concert was taught another key than this one.
pub(super) fn know_another(card: &Card<'_>, concert: &Concert, key: &str) -> bool {
    let named = concert
        .bands
        .iter()
        .filter_map(|band| card.snapshot.ensemble_named(&band.value.name));
    let bands: Vec<_> = match concert.bands.is_empty() {
        true => card.snapshot.usual_bands(),
        false => named.collect(),
    };
    let knows = |band: &Ensemble| band.keys.iter().any(|known| known.value.to_string() != key);
    !bands.is_empty()
        && bands.iter().all(|id| {
            let band = card.snapshot.entry(*id).and_then(|entry| entry.ensemble());
            band.is_some_and(knows)
        })
}
