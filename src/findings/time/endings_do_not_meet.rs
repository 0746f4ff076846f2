//! A second ending that begins later than the first one ends.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{RoadStep, Stretch};
use crate::rule;
use crate::text::{Edit, Span};

use super::endings::{Fault, faults};

rule! {
    /// A second or later ending that does not begin right after the ending before it.
    ///
    /// # Why it matters
    ///
    /// The measure between the two is in no ending: by this card it is never played, and half the band
    /// plays it anyway.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Left Foot, Right Foot"
    ///   measures        92
    ///   roadmap         repeat 5-20, repeat 21-36, 1st ending 20, 2nd ending 22
    ///                                                             ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Left Foot, Right Foot"
    ///   measures        92
    ///   roadmap         repeat 5-20, 1st ending 19-20, 2nd ending 21-22, repeat 23-38
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score for the measures of both endings.
    EndingsDoNotMeet: "endings do not meet", Time, Warning, reads Card, looks at Road
}

/// Two endings with measures between them.
pub struct Apart {
    place: String,
    before: Span,
    ended: u32,
    begins: u32,
    /// The ending with its first measure moved up to the one before.
    closed: String,
}

impl Notice for EndingsDoNotMeet {
    type What = Apart;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Apart>> {
        let mut found = Vec::new();
        for course in card.courses() {
            for fault in faults(course) {
                let Fault::Gap {
                    before,
                    ended,
                    ending,
                    begins,
                } = fault
                else {
                    continue;
                };
                let road = &course.piece.road;
                let (Some(before), Some(said)) = (road.get(before), road.get(ending)) else {
                    continue;
                };
                let what = Apart {
                    place: course.place("roadmap"),
                    before: before.span,
                    ended,
                    begins,
                    closed: closed(&said.value, ended.saturating_add(1)),
                };
                found.push(Noticed::new(said.span, what));
            }
        }
        found
    }

    fn say(what: &Apart, _card: &Card<'_>) -> Saying {
        let (first, last) = (what.ended.saturating_add(1), what.begins.saturating_sub(1));
        let between = match first == last {
            true => format!("Measure {first} lies"),
            false => format!("Measures {first}-{last} lie"),
        };
        Saying {
            place: what.place.clone(),
            says: format!(
                "{between} between the two endings: one ends at measure {} and the next begins at measure {}.",
                what.ended, what.begins
            ),
            why: "The way the card reads, nobody ever plays what lies between, and the length is wrong."
                .to_owned(),
            todo: "Look in the score for the measures of both endings.".to_owned(),
        }
    }

    fn related(what: &Apart, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.before, "the ending before it")]
    }

    fn repairs(noticed: &Noticed<Apart>, _card: &Card<'_>) -> Vec<Repair> {
        let closed = &noticed.what.closed;
        vec![Repair::to_decide(
            format!("Write \"{closed}\""),
            vec![Edit::replace(noticed.span, closed.clone())],
        )]
    }
}

/// The ending, beginning at `first`; one of a single measure is moved, a longer one begins sooner.
fn closed(step: &RoadStep, first: u32) -> String {
    let RoadStep::Ending {
        passes,
        stretch,
        into,
    } = step
    else {
        return step.to_string();
    };
    let last = match stretch.first == stretch.last {
        true => first,
        false => stretch.last,
    };
    RoadStep::Ending {
        passes: passes.clone(),
        stretch: Stretch { first, last },
        into: *into,
    }
    .to_string()
}
