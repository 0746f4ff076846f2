//! A signature beyond those that the band's card says it reads.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::course::{Course, is_certain};
use crate::catalogue::keys::reads;
use crate::catalogue::model::Ensemble;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Signature;
use crate::notation::values::Signatures;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::the;

rule! {
    /// A concert signature with more flats or sharps than the band's card says its players read. Where the card
    /// lists keys too and the piece has a tonal center, the list of keys is asked instead.
    ///
    /// # Why it matters
    ///
    /// You wrote down how far the band has come. One more flat is one more note that every section gets wrong
    /// until it has been taught.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, trombone 4
    ///   keys            signatures up to 2 flats
    ///
    /// piece "Plain Song"
    ///   key signature   1 flat, 3 flats at 33
    ///                           ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Two flats are within it, and nothing is said of sharps.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, trombone 4
    ///   keys            signatures up to 2 flats
    ///
    /// piece "Plain Song"
    ///   key signature   2 flats
    ///
    /// piece "Fiddle Street"
    ///   key signature   1 sharp
    /// ```
    ///
    /// # What to do
    ///
    /// Teach the new scale first, raise the limit on the band's card, or choose another piece.
    SignatureNotTaught: "signature not taught", Keys, Warning, reads Catalogue, looks at Signatures | Centers
}

/// A signature, the limit, and the band whose it is.
pub struct Beyond {
    place: String,
    signature: Signature,
    limit: Signatures,
    limit_span: Span,
    band: Arc<Entry>,
}

impl Notice for SignatureNotTaught {
    type What = Beyond;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beyond>> {
        let judges = card.judges();
        let mut seen: Vec<Signature> = Vec::new();
        let mut found = Vec::new();
        for course in card.courses() {
            let (place, stages) = stages(course);
            for (span, signature) in stages {
                if seen.contains(&signature) {
                    continue;
                }
                let beyond = judges.iter().find_map(|(judge, entry, band)| {
                    let limit = limit(band, course)?;
                    (!reads(limit.0, signature)).then_some((judge, entry, limit))
                });
                let Some((judge, entry, (limit, limit_span))) = beyond else {
                    continue;
                };
                seen.push(signature);
                let what = Beyond {
                    place: course.place(place),
                    signature,
                    limit,
                    limit_span,
                    band: Arc::clone(entry),
                };
                found.push(Noticed::judged(span, judge.in_full, what));
            }
        }
        found
    }

    fn say(what: &Beyond, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "The piece goes to {}; by its card {} reads {}.",
                what.signature,
                the(&what.band.name),
                what.limit
            ),
            why: "One more flat or sharp is one more note that every section gets wrong until it has been taught."
                .to_owned(),
            todo: "Teach the scale first, raise the limit on the band's card, or choose another piece.".to_owned(),
        }
    }

    fn related(what: &Beyond, card: &Card<'_>) -> Vec<Related> {
        let note = format!("what {} reads", the(&what.band.name));
        vec![card.beside(&what.band, what.limit_span, note)]
    }
}

/// The signatures that a course says, each with its place; those of its keys where it says none.
fn stages(course: &Course<'_>) -> (&'static str, Vec<(Span, Signature)>) {
    let piece = course.piece;
    let said = piece.signatures.iter().filter(|stage| is_certain(stage));
    let said: Vec<_> = said
        .filter_map(|stage| Some((stage.said.span, stage.said.value.signs()?)))
        .collect();
    if !piece.signatures.is_empty() {
        return ("key signature", said);
    }
    let centers = piece.centers.iter().filter(|stage| is_certain(stage));
    let keys = centers.filter_map(|stage| Some((stage.said.span, stage.said.value.key()?.signature()?)));
    ("tonal center", keys.collect())
}

/// The limit of a band where it is the one to ask, and where it stands.
fn limit(band: &Ensemble, course: &Course<'_>) -> Option<(Signatures, Span)> {
    let said = band.signatures.as_ref().filter(|said| said.is_certain())?;
    let by_keys = !band.keys.is_empty() && !course.piece.centers.is_empty();
    (!by_keys).then_some((said.value, said.span))
}
