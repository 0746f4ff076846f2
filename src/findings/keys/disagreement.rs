//! Where a key signature and a tonal center hold together and disagree.

use crate::catalogue::course::{Course, is_certain};
use crate::catalogue::model::Stage;
use crate::music::{Center, Key, Signature, SignatureSaid};
use crate::text::Span;

/// A center and a signature that disagree.
pub struct Disagreement {
    pub(super) place: String,
    pub(super) center: Key,
    pub(super) center_span: Span,
    pub(super) center_whole: Span,
    pub(super) signature: Signature,
    pub(super) signature_span: Span,
    pub(super) signature_whole: Span,
    pub(super) meeting: Meeting,
}

/// How the two come to hold together.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Meeting {
    /// They begin together.
    Together,
    /// The center changes at that measure while the signature stays.
    CenterMoves(u32),
    /// The signature changes at that measure while the center stays.
    SignatureMoves(u32),
}

/// At most one disagreement for each stage of the signature: the one that begins with it, else the first.
pub(super) fn disagreements(course: &Course<'_>) -> Vec<Disagreement> {
    let mut found: Vec<Disagreement> = Vec::new();
    for stage in course.piece.signatures.iter().filter(|stage| is_certain(stage)) {
        let Some(signs) = stage.said.value.signs() else {
            continue;
        };
        let mut own: Option<Disagreement> = None;
        for signature in course.signatures.legs.iter() {
            if !std::ptr::eq(signature.stage, stage) || !signature.is_certain() {
                continue;
            }
            for center in course.centers.legs.iter().filter(|leg| leg.is_certain()) {
                let Some(from) = signature.meets(center) else {
                    continue;
                };
                let Some(key) = center.stage.said.value.key().filter(|key| !key.fits(signs)) else {
                    continue;
                };
                let meeting = match center.first.cmp(&signature.first) {
                    std::cmp::Ordering::Equal => Meeting::Together,
                    std::cmp::Ordering::Greater => Meeting::CenterMoves(from),
                    std::cmp::Ordering::Less => Meeting::SignatureMoves(from),
                };
                let better = own
                    .as_ref()
                    .is_none_or(|own| meeting == Meeting::Together && own.meeting != Meeting::Together);
                if better {
                    own = Some(disagreement(course, (center.stage, key), (stage, signs), meeting));
                }
            }
        }
        let unplaced = course
            .signatures
            .unplaced
            .iter()
            .any(|found| std::ptr::eq(*found, stage));
        if own.is_none() && unplaced && stage.place.is_some() {
            own = at_mark(course, stage);
        }
        found.extend(own);
    }
    found
}

/// A signature at a mark without a measure, against the center at the same mark.
fn at_mark(course: &Course<'_>, stage: &Stage<SignatureSaid>) -> Option<Disagreement> {
    let mut unplaced = course.centers.unplaced.iter();
    let center = unplaced.find(|center| center.place == stage.place)?;
    let (key, signs) = (center.said.value.key()?, stage.said.value.signs()?);
    let apart = is_certain(center) && !key.fits(signs);
    apart.then(|| disagreement(course, (center, key), (stage, signs), Meeting::Together))
}

fn disagreement(
    course: &Course<'_>,
    (center, key): (&Stage<Center>, Key),
    (signature, signs): (&Stage<SignatureSaid>, Signature),
    meeting: Meeting,
) -> Disagreement {
    Disagreement {
        place: course.place("key signature"),
        center: key,
        center_span: center.said.span,
        center_whole: center.whole,
        signature: signs,
        signature_span: signature.said.span,
        signature_whole: signature.whole,
        meeting,
    }
}
