//! A sign that stands on the wrong side of the jump that uses it.

use crate::catalogue::course::Course;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Point, RoadStep, road};
use crate::rule;
use crate::text::Span;

rule! {
    /// A segno that comes after its D.S., a To Coda or a Fine that does not lie between the place the band
    /// goes back to and the jump, or a coda that comes before the jump.
    ///
    /// # Why it matters
    ///
    /// The band goes back, plays on, and never comes past the sign, or comes past it only when it is too late.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   measures        88
    ///   roadmap         segno at 33, to coda at 24, D.S. al Coda at 80, coda at 81
    ///                                ^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Lullaby, Unfinished"
    ///   measures        48
    ///   roadmap         Fine at 40, D.C. al Fine at 32
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
    /// Look in the score at which measures the sign and the jump are.
    SignOnTheWrongSide: "sign on the wrong side", Time, Warning, reads Card, looks at Road
}

/// A sign and its jump.
pub struct Wrong {
    place: String,
    says: String,
    jump: Span,
}

impl Notice for SignOnTheWrongSide {
    type What = Wrong;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Wrong>> {
        card.courses().iter().filter_map(wrong).collect()
    }

    fn say(what: &Wrong, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: what.says.clone(),
            why: "The band would go back and never come past the sign, or come past it too late.".to_owned(),
            todo: "Look in the score at which measures the sign and the jump are.".to_owned(),
        }
    }

    fn related(what: &Wrong, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.jump, "the jump")]
    }
}

/// The first sign of a course on the wrong side of its jump. A road with several jumps, or several signs of
/// one kind, is left to the walk.
pub(super) fn wrong(course: &Course<'_>) -> Option<Noticed<Wrong>> {
    let road = &course.piece.road;
    let [said_jump] = course.road.jumps.as_slice() else {
        return None;
    };
    let (at, jump) = (said_jump.at?, road.get(said_jump.index)?);
    let RoadStep::Jump {
        segno,
        until,
        at: told,
    } = &jump.value
    else {
        return None;
    };
    if course.piece.road_in_words || road.iter().any(|said| !said.is_certain()) {
        return None;
    }
    let one = |of: fn(&RoadStep) -> Option<&Point>| {
        let mut found = road.iter().filter_map(|said| Some((of(&said.value)?, said.span)));
        match (found.next(), found.next()) {
            (Some((point, span)), None) => Some((course.piece.measure_of(point)?, span)),
            _ => None,
        }
    };
    let of_segno: fn(&RoadStep) -> Option<&Point> = |step| match step {
        RoadStep::Segno(_, point) => Some(point),
        _ => None,
    };
    let segno_at = segno.and_then(|_| one(of_segno));
    let back = match segno {
        None => Some(1),
        Some(_) => segno_at.map(|(measure, _)| measure),
    };
    let name = super::jumps::jump_words(&jump.value);
    let noticed = |span, says: String| {
        Some(Noticed::new(
            span,
            Wrong {
                place: course.place("roadmap"),
                says,
                jump: jump.span,
            },
        ))
    };
    if let Some((measure, span)) = segno_at.filter(|(measure, _)| *measure > at) {
        return noticed(
            span,
            format!(
                "The segno at measure {measure} comes after the {name} at measure {at} that goes back to it."
            ),
        );
    }
    let leaves = match until {
        road::Until::Coda(_) => one(|step| match step {
            RoadStep::ToCoda(_, point) => Some(point),
            _ => None,
        })
        .map(|found| (found, "To Coda")),
        road::Until::Fine => one(|step| match step {
            RoadStep::Fine(point) => Some(point),
            _ => None,
        })
        .map(|found| (found, "Fine")),
        road::Until::End => None,
    };
    if let Some(((measure, span), sign)) = leaves {
        if measure > at && told.is_some() {
            return noticed(
                span,
                format!("The {sign} at measure {measure} comes after the {name} at measure {at}."),
            );
        }
        if let Some(back) = back.filter(|back| measure < *back) {
            return noticed(
                span,
                format!(
                    "The {sign} at measure {measure} comes before measure {back}, where the {name} goes back to."
                ),
            );
        }
    }
    if matches!(until, road::Until::Coda(_)) && told.is_some() {
        let (measure, span) = one(|step| match step {
            RoadStep::Coda(_, point) => Some(point),
            _ => None,
        })?;
        if measure <= at {
            return noticed(
                span,
                format!("The coda at measure {measure} comes before the {name} at measure {at}."),
            );
        }
    }
    None
}
