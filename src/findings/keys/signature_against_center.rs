//! A key signature that does not match its tonal center.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Key;
use crate::music::key::mode_under;
use crate::rule;
use crate::text::Edit;

use super::disagreement::{Disagreement, Meeting, disagreements};
use super::sections::signed;

rule! {
    /// A key signature that does not belong to the tonal center and mode given for the same measures.
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
    /// Changes on the way are compared where they hold together.
    ///
    /// ```levare
    /// piece "Two Bridges"
    ///   tonal center    G minor, Bb major at 17, C minor at 33
    ///   key signature   2 flats, 2 sharps at 33
    ///                            ^^^^^^^^
    /// ```
    ///
    /// Where only one of them changes, it is only a hint: the music may visit another key without a
    /// new signature.
    ///
    /// ```levare
    /// piece "The Long Way Round"
    ///   tonal center    G minor, C minor at 33
    ///   key signature   2 flats
    ///                   ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A mode has the signature of its notes, not of the major key of the same name; the center may move
    /// under one signature; and what is only approximate proves nothing.
    ///
    /// ```levare
    /// piece "Slow River, Low Sun"
    ///   tonal center    G dorian
    ///   key signature   1 flat
    ///
    /// piece "Melon Carts"
    ///   tonal center    D minor, F major at 33
    ///   key signature   1 flat
    ///
    /// piece "Saturday at the Pond"
    ///   tonal center    F major, Bb major at 49, F major at 81
    ///   key signature   1 flat, 2 flats at 49-80
    ///
    /// piece "Half Remembered"
    ///   tonal center    about G minor
    ///   key signature   3 flats
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the score. Fix the signature, or the center, or say which mode it is.
    SignatureAgainstCenter: "signature against center", Keys, Warning, reads Card, looks at Signatures
}

impl Notice for SignatureAgainstCenter {
    type What = Disagreement;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Disagreement>> {
        card.courses()
            .iter()
            .flat_map(disagreements)
            .map(|what| Noticed {
                span: what.signature_span,
                hint: what.meeting != Meeting::Together,
                what,
            })
            .collect()
    }

    fn say(what: &Disagreement, _card: &Card<'_>) -> Saying {
        let belongs = match what.center.signature() {
            Some(signature) => format!("{} has {}", what.center, signed(signature)),
            None => format!("{} has no signature of its own", what.center),
        };
        let (major, minor) = what.signature.keys();
        let own = signed(what.signature);
        let says = match what.meeting {
            Meeting::CenterMoves(at) => {
                format!(
                    "{belongs}, but at measure {at}, where it begins, the card still has the signature of {own}."
                )
            }
            Meeting::SignatureMoves(at) => {
                format!("{belongs}, but at measure {at} the card changes to {own} and keeps that center.")
            }
            Meeting::Together => format!("{belongs}, but the card says {own}."),
        };
        let todo = match what.meeting {
            Meeting::Together => format!("Look at the score: {own} can be {major} or {minor}."),
            _ => {
                "Look at the score: change both together, or let it stand if the music only visits that key."
                    .to_owned()
            }
        };
        Saying {
            place: what.place.clone(),
            says,
            why: "Players read the signature while you warm them up in the center, so one of the two would be wrong in rehearsal.".to_owned(),
            todo,
        }
    }

    fn repairs(noticed: &Noticed<Disagreement>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let mut repairs = Vec::new();
        if let Some(signature) = what.center.signature() {
            repairs.push(match what.meeting {
                Meeting::CenterMoves(at) => Repair::to_decide(
                    format!("Change the signature as well: {signature} at {at}"),
                    vec![Edit::insert(
                        what.signature_whole.end,
                        format!(", {signature} at {at}"),
                    )],
                ),
                _ => Repair::to_decide(
                    format!("Write the signature of {}: {signature}", what.center),
                    vec![Edit::replace(what.signature_span, signature.to_string())],
                ),
            });
        }
        let key = what.signature.key(what.center.mode);
        match what.meeting {
            Meeting::SignatureMoves(at) => repairs.push(Repair::to_decide(
                format!("Change the center as well: {key} at {at}"),
                vec![Edit::insert(what.center_whole.end, format!(", {key} at {at}"))],
            )),
            _ => repairs.push(Repair::to_decide(
                format!("Write the center of {}: {key}", signed(what.signature)),
                vec![Edit::replace(what.center_span, key.to_string())],
            )),
        }
        let mode = mode_under(what.center.tonic, what.signature);
        if let (Some(mode), Meeting::Together | Meeting::CenterMoves(_)) = (mode, what.meeting) {
            let key = Key { mode, ..what.center };
            repairs.push(Repair::to_decide(
                format!("Keep both and call it {key}"),
                vec![Edit::replace(what.center_span, key.to_string())],
            ));
        }
        repairs
    }
}
