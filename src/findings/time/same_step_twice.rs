//! One step of the roadmap written twice.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::mend;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::RoadStep;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A step of the roadmap that is on the card twice, word for word the same.
    ///
    /// # Why it matters
    ///
    /// Nobody can tell whether the measures are repeated once more or whether another repeat was meant, and
    /// the length is figured from it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   roadmap         repeat 5-20, repeat 5-20
    ///                                ^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   roadmap         repeat 5-20 3 times, repeat 21-36
    /// ```
    ///
    /// # What to do
    ///
    /// Write the measures that are meant, or `3 times` after the first one.
    SameStepTwice: "same step twice", Time, Warning, reads Card, looks at Road
}

/// A step and where it stood before.
pub struct Again {
    place: String,
    step: RoadStep,
    before: Span,
}

impl Notice for SameStepTwice {
    type What = Again;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Again>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            let road = level.road.iter().filter(|said| said.is_certain());
            let steps: Vec<_> = road
                .filter(|said| {
                    !matches!(
                        said.value,
                        RoadStep::RepeatsAgain | RoadStep::Straight | RoadStep::NoJump
                    )
                })
                .take(200)
                .collect();
            for (at, said) in steps.iter().enumerate() {
                let before = steps.iter().take(at).find(|before| before.value == said.value);
                if let Some(before) = before {
                    let what = Again {
                        place: place(movement, "roadmap"),
                        step: said.value.clone(),
                        before: before.span,
                    };
                    found.push(Noticed::new(said.span, what));
                }
            }
        }
        found
    }

    fn say(what: &Again, _card: &Card<'_>) -> Saying {
        let todo = match &what.step {
            RoadStep::Repeat { .. } => {
                "Write the measures that are meant, or \"3 times\" after the first one."
            }
            _ => "Look in the score, and fix one of the two or take it out.",
        };
        Saying {
            place: what.place.clone(),
            says: format!("\"{}\" is in the roadmap twice.", what.step),
            why: "Nobody can tell whether it is played once more or whether another place was meant."
                .to_owned(),
            todo: todo.to_owned(),
        }
    }

    fn related(what: &Again, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "the same step before it")]
    }

    fn repairs(noticed: &Noticed<Again>, card: &Card<'_>) -> Vec<Repair> {
        let second = mend::take_out(card.text(), noticed.span);
        let mut repairs = vec![Repair::to_decide("Take the second one out", vec![second.clone()])];
        if let RoadStep::Repeat { stretch, times: 2 } = &noticed.what.step {
            let more = RoadStep::Repeat {
                stretch: *stretch,
                times: 3,
            };
            let first = Edit::replace(noticed.what.before, more.to_string());
            repairs.push(Repair::to_decide(
                format!("Write \"{more}\""),
                vec![first, second],
            ));
        }
        repairs
    }
}
