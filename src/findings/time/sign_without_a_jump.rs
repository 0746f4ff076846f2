//! A segno, a Fine or a coda that no jump uses.

use crate::catalogue::course::Course;
use crate::catalogue::model::Said;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{RoadStep, road};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A segno with no D.S., a Fine with no al Fine, a coda or a To Coda with no al Coda.
    ///
    /// # Why it matters
    ///
    /// A sign does nothing until a jump sends the band there. By this card the piece is played straight
    /// through, and its length is counted so.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Lullaby, Unfinished"
    ///   measures        48
    ///   roadmap         Fine at 24, D.C. at 48
    ///                   ^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   measures        88
    ///   roadmap         segno at 9, to coda at 32, coda at 81
    ///                   ^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   measures        88
    ///   roadmap         segno at 9, to coda at 32, D.S. al Coda at 80, coda at 81
    /// ```
    ///
    /// # What to do
    ///
    /// Find the jump in the score and write it, such as D.S. al Coda at 80.
    SignWithoutAJump: "sign without a jump", Time, Warning, reads Card, looks at Road
}

/// A sign, and the jump it waits for.
pub struct Idle {
    place: String,
    sign: String,
    jump: &'static str,
    example: &'static str,
    /// The one jump of the card that could use the sign, and how it would read then.
    instead: Option<(Span, String)>,
}

impl Notice for SignWithoutAJump {
    type What = Idle;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Idle>> {
        card.courses().iter().filter_map(idle).collect()
    }

    fn say(what: &Idle, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("The card has a {}, and no {} that uses it.", what.sign, what.jump),
            why:
                "A sign does nothing until a jump sends the band there, and the length is counted without it."
                    .to_owned(),
            todo: format!(
                "Find the jump in the score and write it, such as {}.",
                what.example
            ),
        }
    }

    fn repairs(noticed: &Noticed<Idle>, _card: &Card<'_>) -> Vec<Repair> {
        let instead = noticed.what.instead.iter();
        instead
            .map(|(span, jump)| {
                Repair::to_decide(
                    format!("Write \"{jump}\""),
                    vec![Edit::replace(*span, jump.clone())],
                )
            })
            .collect()
    }
}

/// The first sign of a course that no jump uses.
pub(super) fn idle(course: &Course<'_>) -> Option<Noticed<Idle>> {
    let piece = course.piece;
    if piece.road_in_words || piece.road.iter().any(|said| !said.is_certain()) {
        return None;
    }
    let jumps: Vec<&Said<RoadStep>> = piece
        .road
        .iter()
        .filter(|said| matches!(said.value, RoadStep::Jump { .. }))
        .collect();
    let to_segno = |said: &&Said<RoadStep>| matches!(said.value, RoadStep::Jump { segno: Some(_), .. });
    let until = |wanted: fn(&road::Until) -> bool| {
        jumps
            .iter()
            .any(|said| matches!(&said.value, RoadStep::Jump { until, .. } if wanted(until)))
    };
    piece.road.iter().find_map(|said| {
        let (used, sign, jump, example, end) = match &said.value {
            RoadStep::Segno(..) => (
                jumps.iter().any(to_segno),
                "segno",
                "D.S.",
                "D.S. al Fine at 48",
                None,
            ),
            RoadStep::ToCoda(..) => (
                until(|until| matches!(until, road::Until::Coda(_))),
                "To Coda",
                "jump al Coda",
                "D.S. al Coda at 80",
                Some(road::Until::Coda(1)),
            ),
            RoadStep::Coda(..) => (
                until(|until| matches!(until, road::Until::Coda(_))),
                "coda",
                "jump al Coda",
                "D.S. al Coda at 80",
                Some(road::Until::Coda(1)),
            ),
            RoadStep::Fine(_) => (
                until(|until| matches!(until, road::Until::Fine)),
                "Fine",
                "jump al Fine",
                "D.C. al Fine at 48",
                Some(road::Until::Fine),
            ),
            _ => return None,
        };
        let instead = match (jumps.as_slice(), end) {
            ([only], Some(end)) => with_end(&only.value, end).map(|jump| {
                // `D.S. at 76 to 17` tells the sign as well.
                let sign = piece.road.iter().find_map(|other| match &other.value {
                    RoadStep::Segno(_, at) if other.span == only.span => Some(format!(" to {at}")),
                    _ => None,
                });
                (only.span, jump + &sign.unwrap_or_default())
            }),
            _ => None,
        };
        (!used).then(|| {
            Noticed::new(
                said.span,
                Idle {
                    place: course.place("roadmap"),
                    sign: sign.to_owned(),
                    jump,
                    example,
                    instead,
                },
            )
        })
    })
}

/// A jump to the end of the piece, made to end at a sign.
fn with_end(jump: &RoadStep, end: road::Until) -> Option<String> {
    match jump {
        RoadStep::Jump {
            segno,
            until: road::Until::End,
            at,
        } => Some(
            RoadStep::Jump {
                segno: *segno,
                until: end,
                at: at.clone(),
            }
            .to_string(),
        ),
        _ => None,
    }
}
