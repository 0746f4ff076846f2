//! Two repeats that cut into one another.

use crate::catalogue::course::Course;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{RoadStep, Stretch};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// Two repeats of which the second begins before the first has ended, and ends after it.
    ///
    /// # Why it matters
    ///
    /// Repeat signs cannot cross: where the first sends everybody back, the second is already under way.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   measures        64
    ///   roadmap         repeat 5-20, repeat 17-36
    ///                                ^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   measures        72
    ///   roadmap         repeat 5-20, repeat 20-36
    ///                                ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A repeat may lie wholly inside another.
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   measures        64
    ///   roadmap         repeat 5-20, repeat 21-36, repeat 9-12
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score where the two repeats begin and end.
    RepeatsCross: "repeats cross", Time, Warning, reads Card, looks at Road
}

/// Two repeats.
pub struct Cross {
    place: String,
    first: (Stretch, Span),
    second: Stretch,
    times: u32,
}

impl Notice for RepeatsCross {
    type What = Cross;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Cross>> {
        card.courses().iter().flat_map(crossing).collect()
    }

    fn say(what: &Cross, _card: &Card<'_>) -> Saying {
        let (first, second) = (what.first.0, what.second);
        let both = match second.first == first.last {
            true => format!("measure {} belongs to both", first.last),
            false => format!("measures {}-{} belong to both", second.first, first.last),
        };
        Saying {
            place: what.place.clone(),
            says: format!(
                "The repeats {}-{} and {}-{} cross: {both}.",
                first.first, first.last, second.first, second.last
            ),
            why: "At the end of the first repeat nobody knows which of the two beginnings to go back to."
                .to_owned(),
            todo: "Look in the score where the two repeats begin and end.".to_owned(),
        }
    }

    fn related(what: &Cross, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first.1, "the other repeat")]
    }

    fn repairs(noticed: &Noticed<Cross>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let first = what.first.0.last.saturating_add(1);
        // More than a measure in common is no slip of one number.
        if what.second.first != what.first.0.last || first > what.second.last {
            return Vec::new();
        }
        let repeat = RoadStep::Repeat {
            stretch: Stretch {
                first,
                last: what.second.last,
            },
            times: what.times,
        }
        .to_string();
        vec![Repair::to_decide(
            format!("Write \"{repeat}\""),
            vec![Edit::replace(noticed.span, repeat)],
        )]
    }
}

/// The repeats of a course that cross one before them.
pub(super) fn crossing(course: &Course<'_>) -> Vec<Noticed<Cross>> {
    let mut repeats: Vec<(Stretch, u32, Span)> = Vec::new();
    for said in course
        .piece
        .road
        .iter()
        .filter(|said| said.is_certain())
        .take(200)
    {
        if let RoadStep::Repeat { stretch, times } = &said.value {
            repeats.push((*stretch, *times, said.span));
        }
    }
    repeats.sort_by_key(|(stretch, ..)| (stretch.first, stretch.last));
    let mut found = Vec::new();
    for (at, (second, times, span)) in repeats.iter().enumerate() {
        let crossed = repeats.iter().take(at).find(|(first, ..)| {
            first.first < second.first && second.first <= first.last && first.last < second.last
        });
        if let Some((first, _, first_span)) = crossed {
            let what = Cross {
                place: course.place("roadmap"),
                first: (*first, *first_span),
                second: *second,
                times: *times,
            };
            found.push(Noticed::new(*span, what));
        }
    }
    found
}
