//! A key signature that does not match its tonal center.

use crate::catalogue::model::Stage;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::key::mode_under;
use crate::music::{Key, Signature};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A key signature that does not belong to the tonal center and mode given for the same stretch.
    ///
    /// # Why it matters
    ///
    /// Players read the signature; the director warms the band up in the center. When the two disagree, one
    /// of them was copied wrong, and the first rehearsal starts in the wrong scale.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Night Train to Alder"
    ///   tonal center    G minor
    ///   key signature   3 flats
    ///                   ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A mode has the signature of its notes, not of the major key of the same name.
    ///
    /// ```levare
    /// piece "Slow River, Low Sun"
    ///   tonal center    G dorian
    ///   key signature   1 flat
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the score. Mend the signature, or the center, or say which mode it is.
    SignatureAgainstCenter: "signature against center", Keys, Warning, reads Card
}

/// A center and a signature that disagree.
pub struct Disagreement {
    center: Key,
    center_span: Span,
    signature: Signature,
    signature_span: Span,
}

impl Notice for SignatureAgainstCenter {
    type What = Disagreement;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Disagreement>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let pairs = std::iter::once((&piece.centers, &piece.signatures)).chain(
            piece
                .movements
                .iter()
                .map(|movement| (&movement.piece.centers, &movement.piece.signatures)),
        );
        pairs
            .flat_map(|(centers, signatures)| together(centers, signatures))
            .filter(|(center, signature)| !center.said.value.fits(signature.said.value))
            .map(|(center, signature)| {
                Noticed::new(
                    signature.said.span,
                    Disagreement {
                        center: center.said.value,
                        center_span: center.said.span,
                        signature: signature.said.value,
                        signature_span: signature.said.span,
                    },
                )
            })
            .collect()
    }

    fn say(what: &Disagreement, _card: &Card<'_>) -> Saying {
        let belongs = match what.center.signature() {
            Some(signature) => format!("{} has {signature}", what.center),
            None => format!("{} has no signature of its own", what.center),
        };
        let (major, minor) = what.signature.keys();
        Saying {
            place: "key signature".to_owned(),
            says: format!("{belongs}, but the card says {}.", what.signature),
            why: "Players read the signature while you warm them up in the center, so one of the two would be wrong in rehearsal.".to_owned(),
            todo: format!("Look at the score: {} is {major} or {minor}.", what.signature),
        }
    }

    fn repairs(noticed: &Noticed<Disagreement>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let mut repairs = Vec::new();
        if let Some(signature) = what.center.signature() {
            repairs.push(Repair::to_decide(
                format!("Write the signature of {}: {signature}", what.center),
                vec![Edit::replace(what.signature_span, signature.to_string())],
            ));
        }
        if let Some(mode) = mode_under(what.center.tonic, what.signature) {
            let key = Key { mode, ..what.center };
            repairs.push(Repair::to_decide(
                format!("Keep both and call it {key}"),
                vec![Edit::replace(what.center_span, key.to_string())],
            ));
        }
        let key = what.signature.key(what.center.mode);
        repairs.push(Repair::to_decide(
            format!("Write the center of {}: {key}", what.signature),
            vec![Edit::replace(what.center_span, key.to_string())],
        ));
        repairs
    }
}

/// The stages of both that hold at the same place and are certain.
fn together<'p>(
    centers: &'p [Stage<Key>],
    signatures: &'p [Stage<Signature>],
) -> Vec<(&'p Stage<Key>, &'p Stage<Signature>)> {
    let certain = |about: bool, open: bool, some: bool| !about && !open && !some;
    signatures
        .iter()
        .filter(|stage| certain(stage.said.about, stage.said.open, stage.some) && !stage.then)
        .filter_map(|signature| {
            let center = centers
                .iter()
                .find(|center| center.place == signature.place && !center.then)?;
            certain(center.said.about, center.said.open, center.some).then_some((center, signature))
        })
        .collect()
}
