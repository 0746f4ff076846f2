//! A measure of an odd length that the card never returns from.

use crate::catalogue::course::{Course, is_certain};
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::Meter;
use crate::music::fraction::Fraction;
use crate::music::meter::MeterKind;
use crate::notation::values::{Place, Point, RoadStep};
use crate::rule;
use crate::text::Edit;

rule! {
    /// A change to a short or uneven meter, such as 2/4 or 5/8, in the middle of a piece in a longer one, with
    /// no change back: from there to the end the card has nothing else. Nothing is said where something else
    /// begins at the same measure, such as a mark, a key, a tempo or a repeat: then it is a new section.
    ///
    /// # Why it matters
    ///
    /// One odd measure is easily typed and its return forgotten. The length is then counted as if all the rest
    /// were as short.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   meter           4/4, 2/4 at 37
    ///                        ^^^^^^^^^
    ///   measures        80
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   meter           4/4, 2/4 at 37, 4/4 at 38
    ///   measures        80
    /// piece "Harbor Parade"
    ///   meter           4/4, 2/4 at 41
    ///   measures        80
    ///   rehearsal marks A 9, B 25, C 41
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score where the first meter comes back, and write it.
    OddMeasureWithNoReturn: "odd measure with no return", Time, Hint, reads Card, looks at Piece
}

/// How many measures must follow for the change to be looked at: at the very end nothing has to return.
const FOLLOW: u32 = 8;

/// The two meters.
pub struct Odd {
    place: String,
    before: Meter,
    odd: Meter,
    at: u32,
    total: u32,
}

impl Notice for OddMeasureWithNoReturn {
    type What = Odd;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Odd>> {
        card.courses().iter().filter_map(odd).collect()
    }

    fn say(what: &Odd, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "From measure {} on the card is in {} to the end, {} measures long; it never returns to {}.",
                what.at,
                what.odd,
                what.total.saturating_sub(what.at).saturating_add(1),
                what.before
            ),
            why: "If only one measure is odd, the length and the beats of all the rest are counted wrong."
                .to_owned(),
            todo: format!(
                "Look in the score where {} comes back, and write it.",
                what.before
            ),
        }
    }

    fn repairs(noticed: &Noticed<Odd>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let back = format!("{} at {}", what.before, what.at.saturating_add(1));
        vec![Repair::to_decide(
            format!("Add \"{back}\": only measure {} is odd", what.at),
            vec![Edit::insert(noticed.span.end, format!(", {back}"))],
        )]
    }
}

fn odd(course: &Course<'_>) -> Option<Noticed<Odd>> {
    let total = course.total?;
    let [.., before, last] = course.meters.legs.as_slice() else {
        return None;
    };
    let (stage, at) = (last.stage, last.first);
    let alone = matches!(stage.place, Some(Place::At(Point::Measure(_))));
    let settled = before.is_certain() && last.is_certain() && is_certain(stage) && !course.meters.hazy;
    if !alone || !settled || last.returns || !course.meters.unplaced.is_empty() {
        return None;
    }
    if total.saturating_sub(at) < FOLLOW || begins_something(course, at) {
        return None;
    }
    let (was, is) = (&before.stage.said.value, &stage.said.value);
    let (long, short) = (was.measure()?, is.measure()?);
    let is_odd = short < Fraction::of(3, 4) || is.kind() == MeterKind::Unequal;
    let was_odd = was.kind() == MeterKind::Unequal;
    (is_odd && !was_odd && short < long).then(|| {
        Noticed::new(
            stage.whole,
            Odd {
                place: course.place("meter"),
                before: was.clone(),
                odd: is.clone(),
                at,
                total,
            },
        )
    })
}

/// Whether something besides the meter begins at a measure.
fn begins_something(course: &Course<'_>, at: u32) -> bool {
    let piece = course.piece;
    let step = |step: &RoadStep| match step {
        RoadStep::Segno(_, point) | RoadStep::Coda(_, point) => piece.measure_of(point) == Some(at),
        other => other.stretch().is_some_and(|stretch| stretch.first == at),
    };
    piece.marks.iter().any(|mark| mark.value.measure == at)
        || course.tempos.legs.iter().any(|leg| leg.first == at)
        || course.signatures.legs.iter().any(|leg| leg.first == at)
        || course.centers.legs.iter().any(|leg| leg.first == at)
        || piece.road.iter().any(|said| step(&said.value))
}
