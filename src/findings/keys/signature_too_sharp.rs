//! A signature that gives some section more sharps than young players read.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::course::is_certain;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Signature;
use crate::rule;
use crate::text::sentences::joined;

use super::sections::transposing;
use super::taught::lists_nothing;

/// The most sharps in a part. The keys that one publisher's chart adds at grade 3 (7th Letter Music,
/// grading system: C, D-flat, G) end at concert G, which is four sharps for alto and baritone sax.
const MOST_SHARPS: u32 = 4;

rule! {
    /// A concert signature that puts more than four sharps into the parts of a section of the band. Alto and
    /// baritone saxes read three sharps more than concert pitch, clarinets and trumpets two, horns one.
    ///
    /// The limit is drawn from a publisher's list of keys that ends, at grade 3, with concert G: four sharps
    /// for the alto saxes. A band whose card lists the keys or signatures it has been taught is judged by that
    /// list alone.
    ///
    /// # Why it matters
    ///
    /// Two sharps look easy on the score, but the alto saxes read five.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, alto sax 6
    ///
    /// piece "Fiddle Street"
    ///   tonal center    D major
    ///   key signature   2 sharps
    ///                   ^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Without a section that reads so many sharps, or with a list of keys, there is nothing to say.
    ///
    /// ```levare
    /// ensemble "Low Brass Choir"
    ///   players         trombone 8, tuba 2
    ///
    /// piece "Fiddle Street"
    ///   tonal center    D major
    ///   key signature   2 sharps
    /// ```
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, alto sax 6
    ///
    /// piece "Plain Song"
    ///   tonal center    G major
    ///   key signature   1 sharp
    /// ```
    ///
    /// ```levare
    /// ensemble "Symphonic Band"
    ///   players         flute 9, clarinet 12, alto sax 6
    ///   keys            Bb major, E dorian
    ///
    /// piece "Heather and Stone"
    ///   tonal center    E dorian
    ///   key signature   2 sharps
    /// ```
    ///
    /// # What to do
    ///
    /// Look at those parts before you choose the piece.
    SignatureTooSharp: "signature too sharp", Keys, Information, reads Catalogue, looks at Signatures
}

/// A signature and who reads too many sharps under it.
pub struct TooSharp {
    place: String,
    signature: Signature,
    band: Arc<Entry>,
    reads: Vec<(Vec<String>, Signature)>,
}

impl Notice for SignatureTooSharp {
    type What = TooSharp;

    fn notice(card: &Card<'_>) -> Vec<Noticed<TooSharp>> {
        let judges = card.judges();
        let mut seen: Vec<Signature> = Vec::new();
        let mut found = Vec::new();
        for course in card.courses() {
            for stage in course.piece.signatures.iter().filter(|stage| is_certain(stage)) {
                let Some(signature) = stage.said.value.signs() else {
                    continue;
                };
                if seen.contains(&signature) {
                    continue;
                }
                seen.push(signature);
                // A band that lists its keys is judged by the list, and knows what its sections read.
                let first = judges.iter().filter(|(_, _, band)| lists_nothing(band)).find_map(
                    |(judge, entry, band)| {
                        let reads = too_sharp(card, band, signature);
                        (!reads.is_empty()).then_some((judge, entry, reads))
                    },
                );
                if let Some((judge, entry, reads)) = first {
                    let what = TooSharp {
                        place: course.place("key signature"),
                        signature,
                        band: Arc::clone(entry),
                        reads,
                    };
                    found.push(Noticed::judged(stage.said.span, judge.in_full, what));
                }
            }
        }
        found
    }

    fn say(what: &TooSharp, _card: &Card<'_>) -> Saying {
        let parts: Vec<String> = what
            .reads
            .iter()
            .map(|(names, signature)| {
                let players: Vec<String> = names
                    .iter()
                    .map(|name| crate::text::sentences::plural(name))
                    .collect();
                format!("the {} read {signature}", joined(&players))
            })
            .collect();
        Saying {
            place: what.place.clone(),
            says: format!(
                "With {} in concert pitch, in {} {}.",
                what.signature,
                crate::text::sentences::the(&what.band.name),
                joined(&parts)
            ),
            why: "That is more than young players meet in their first years.".to_owned(),
            todo: "Look at those parts before you choose the piece, or let it stand if they know the scale."
                .to_owned(),
        }
    }

    fn related(what: &TooSharp, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(
            &what.band,
            what.band.name_span,
            format!("the band: {}", what.band.name),
        )]
    }
}

fn too_sharp(
    card: &Card<'_>,
    band: &crate::catalogue::model::Ensemble,
    signature: Signature,
) -> Vec<(Vec<String>, Signature)> {
    transposing(card, band)
        .into_iter()
        .map(|(part, names)| (names, signature.written(part)))
        .filter(|(_, written)| written.sharps() > MOST_SHARPS)
        .collect()
}
