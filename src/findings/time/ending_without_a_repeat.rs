//! A first or second ending that belongs to no repeat.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::RoadStep;
use crate::rule;
use crate::text::Edit;

use super::endings::{Fault, faults};

rule! {
    /// A first, second or later ending on the roadmap that is in no repeat and right after none.
    ///
    /// # Why it matters
    ///
    /// Without the repeat nobody can tell which measures are played again, how long the piece lasts, or
    /// whether the second ending is reached at all.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Left Foot, Right Foot"
    ///   measures        92
    ///   roadmap         repeat 53-68, 1st ending 20
    ///                                 ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Left Foot, Right Foot"
    ///   measures        92
    ///   roadmap         repeat 5-20, 1st ending 20, 2nd ending 21
    /// ```
    ///
    /// # What to do
    ///
    /// Add the repeat with its first and last measure, such as repeat 5-20.
    EndingWithoutARepeat: "ending without a repeat", Time, Warning, reads Card, looks at Road
}

/// An ending with no repeat.
pub struct Stray {
    place: String,
    ending: String,
    first: u32,
}

impl Notice for EndingWithoutARepeat {
    type What = Stray;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Stray>> {
        let mut found = Vec::new();
        for course in card.courses() {
            let road = &course.piece.road;
            // Words that were not understood, or a repeat that runs backward, may be the repeat it belongs to.
            let upside_down = road.iter().any(|said| {
                said.value.stretch().is_some_and(|stretch| {
                    stretch.last < stretch.first || course.piece.is_past_the_end(stretch.last)
                })
            });
            if course.piece.road_in_words || upside_down {
                continue;
            }
            // An ending that was meant to follow another is told by the rule about the two.
            let gaps: Vec<usize> = faults(course)
                .into_iter()
                .filter_map(|fault| match fault {
                    Fault::Gap { ending, .. } => Some(ending),
                    _ => None,
                })
                .collect();
            let mut said_already = false;
            let strays = course.road.strays.iter().filter(|index| !gaps.contains(index));
            for said in strays.filter_map(|index| road.get(*index)) {
                let RoadStep::Ending { stretch, .. } = &said.value else {
                    continue;
                };
                if !said.is_certain() || said_already {
                    continue;
                }
                // Endings that follow one another lack the same repeat, which is said once.
                said_already = true;
                let what = Stray {
                    place: course.place("roadmap"),
                    ending: said.value.to_string().replace(" ending ", " ending at measure "),
                    first: stretch.first,
                };
                found.push(Noticed::new(said.span, what));
            }
        }
        found
    }

    fn say(what: &Stray, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("No repeat on the card leads to the {}.", what.ending),
            why: "Without the repeat nobody can tell which measures are played again.".to_owned(),
            todo: "Add the repeat with its first and last measure, such as repeat 5-20.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Stray>, card: &Card<'_>) -> Vec<Repair> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        // Without a sign to turn back to, players go back to the beginning.
        let alone = piece.movements.is_empty()
            && !piece
                .road
                .iter()
                .any(|said| matches!(said.value, RoadStep::Repeat { .. } | RoadStep::Open(_)));
        let first = noticed.what.first;
        match alone && first > 1 {
            true => vec![Repair::to_decide(
                format!("Repeat from the beginning: repeat 1-{first}"),
                vec![Edit::insert(noticed.span.start, format!("repeat 1-{first}, "))],
            )],
            false => Vec::new(),
        }
    }
}
