//! Measures that are never played when the roadmap is followed.

use crate::catalogue::course::Course;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

rule! {
    /// Measures that nobody ever plays when the roadmap is followed from the first measure to the last.
    ///
    /// # Why it matters
    ///
    /// What is printed is meant to be heard: a sign, an ending or the coda is at the wrong measure, and the
    /// length is counted without those measures.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   measures        88
    ///   roadmap         segno at 9, to coda at 32, D.S. al Coda at 64, coda at 81
    ///                                              ^^^^^^^^^^^^^^^^^^
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
    /// Look in the score where the signs are, and count the measures again.
    MeasureNeverReached: "measure never reached", Time, Warning, reads Card, looks at Road
}

/// The measures.
pub struct Never {
    place: String,
    first: u32,
    last: u32,
    more: bool,
}

impl Notice for MeasureNeverReached {
    type What = Never;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Never>> {
        card.courses().iter().filter_map(never).collect()
    }

    fn say(what: &Never, _card: &Card<'_>) -> Saying {
        let measures = match what.first == what.last {
            true => format!("measure {} is never played", what.first),
            false => format!("measures {}-{} are never played", what.first, what.last),
        };
        let more = if what.more { ", and others too" } else { "" };
        Saying {
            place: what.place.clone(),
            says: format!("Following the roadmap, {measures}{more}."),
            why: "What is printed is meant to be heard, and the length is counted without it.".to_owned(),
            todo: "Look in the score where the signs are, and count the measures again.".to_owned(),
        }
    }
}

fn never(course: &Course<'_>) -> Option<Noticed<Never>> {
    let road = &course.piece.road;
    let total = course.total?;
    let measures = course.piece.measures.as_ref().filter(|said| said.is_certain())?;
    // What is wrong with the signs and endings themselves is told by their own rules.
    let told = road.is_empty()
        || !super::endings::faults(course).is_empty()
        || !super::repeats_cross::crossing(course).is_empty()
        || super::sign_on_the_wrong_side::wrong(course).is_some()
        || super::sign_without_a_jump::idle(course).is_some();
    if told || measures.value != total {
        return None;
    }
    let order = course.order().ok()?;
    let mut played = vec![false; usize::try_from(total).ok()?.saturating_add(1)];
    for measure in order {
        if let Some(at) = played.get_mut(*measure as usize) {
            *at = true;
        }
    }
    let first = played
        .iter()
        .skip(1)
        .position(|played| !played)?
        .saturating_add(1);
    let after = played.iter().skip(first).position(|played| *played);
    let last = after
        .map_or(played.len(), |after| first.saturating_add(after))
        .saturating_sub(1);
    let more = played.iter().skip(last.saturating_add(1)).any(|played| !played);
    let (first, last) = (u32::try_from(first).ok()?, u32::try_from(last).ok()?);
    // The step right before the hole is the likeliest to be wrong.
    let before = course
        .road
        .jumps
        .iter()
        .find(|jump| jump.at.is_some_and(|at| at.saturating_add(1) == first));
    let said = before
        .and_then(|jump| road.get(jump.index))
        .or_else(|| road.last())?;
    Some(Noticed::new(
        said.span,
        Never {
            place: course.place("roadmap"),
            first,
            last,
            more,
        },
    ))
}
