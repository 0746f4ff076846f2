//! A signature with more flats than young players read.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::course::is_certain;
use crate::catalogue::model::{Ensemble, Piece};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Signature;
use crate::notation::values::grade::show_hundredths;
use crate::rule;
use crate::text::sentences::{joined, plural, the};

use super::taught::lists_nothing;

rule! {
    /// A concert signature with more flats than bands of that grade read: more than three up to grade 1, more
    /// than four up to grade 2, more than five in any. Five is where one publisher's list of keys ends, at grade
    /// 3, with D-flat (7th Letter Music, grading system); the steps below are from memory. A band whose card
    /// lists the keys or signatures it has been taught is judged by that list alone.
    ///
    /// # Why it matters
    ///
    /// The transposing sections have it easy, and the flutes, oboes and all the low brass in bass clef read
    /// every one of the flats.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, trombone 4, tuba 2
    ///
    /// piece "Plain Song"
    ///   grade           1 publisher
    ///   tonal center    Ab major
    ///   key signature   4 flats
    ///                   ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, clarinet 12, trombone 4, tuba 2
    ///
    /// piece "Plain Song"
    ///   grade           2 publisher
    ///   tonal center    Ab major
    ///   key signature   4 flats
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the flute and low brass parts before you choose the piece.
    SignatureTooFlat: "signature too flat", Keys, Information, reads Catalogue, looks at Signatures
}

/// A signature, who reads it, and up to how many flats would do.
pub struct TooFlat {
    place: String,
    signature: Signature,
    names: Vec<String>,
    most: u32,
    grade: Option<u32>,
    band: Arc<Entry>,
}

impl Notice for SignatureTooFlat {
    type What = TooFlat;

    fn notice(card: &Card<'_>) -> Vec<Noticed<TooFlat>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let (grade, most) = limit(piece);
        let judges = card.judges();
        let mut seen: Vec<Signature> = Vec::new();
        let mut found = Vec::new();
        for course in card.courses() {
            for stage in course.piece.signatures.iter().filter(|stage| is_certain(stage)) {
                let Some(signature) = stage.said.value.signs() else {
                    continue;
                };
                if signature.flats() <= most || seen.contains(&signature) {
                    continue;
                }
                seen.push(signature);
                let first = judges.iter().find_map(|(judge, entry, band)| {
                    let names = untransposed(card, band);
                    (lists_nothing(band) && !names.is_empty()).then_some((judge, entry, names))
                });
                if let Some((judge, entry, names)) = first {
                    let what = TooFlat {
                        place: course.place("key signature"),
                        signature,
                        names,
                        most,
                        grade,
                        band: Arc::clone(entry),
                    };
                    found.push(Noticed::judged(stage.said.span, judge.concert.is_some(), what));
                }
            }
        }
        found
    }

    fn say(what: &TooFlat, _card: &Card<'_>) -> Saying {
        let usual = match what.grade {
            Some(grade) => format!("up to {} is usual at grade {}", what.most, show_hundredths(grade)),
            None => format!("up to {} is usual", what.most),
        };
        Saying {
            place: what.place.clone(),
            says: format!(
                "In {} the {} read {}; {usual}.",
                the(&what.band.name),
                joined(&what.names.iter().map(|name| plural(name)).collect::<Vec<_>>()),
                what.signature
            ),
            why: "Every one of the flats lands on the players who read concert pitch, beginners included.".to_owned(),
            todo: "Look at those parts before you choose the piece, or write the keys that the band has been taught."
                .to_owned(),
        }
    }

    fn related(what: &TooFlat, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(
            &what.band,
            what.band.name_span,
            format!("the band: {}", what.band.name),
        )]
    }
}

/// The lowest certain grade of a piece, in hundredths, and the most flats that are usual there.
fn limit(piece: &Piece) -> (Option<u32>, u32) {
    let certain = piece.grades.iter().filter(|said| said.is_certain());
    let grade = certain.map(|said| said.value.high).min();
    let most = match grade {
        Some(..=100) => 3,
        Some(..=200) => 4,
        _ => 5,
    };
    (grade.filter(|_| most < 5), most)
}

/// The band's instruments that read what sounds, the first four of them.
fn untransposed(card: &Card<'_>, band: &Ensemble) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for row in &band.players {
        let found = card.instrument(&row.name).filter(|instrument| {
            instrument.is_pitched
                && !instrument.family.is_percussion()
                && instrument.transposition.sharps_added() == 0
        });
        if let Some(instrument) = found
            && !names.contains(&instrument.name.to_string())
        {
            names.push(instrument.name.to_string());
        }
    }
    names.truncate(4);
    names
}
