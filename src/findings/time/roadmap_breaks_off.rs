//! A roadmap that cannot be followed to its end.

use crate::catalogue::course::{Course, has_place};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::roadmap::RoadProblem;
use crate::notation::values::RoadStep;
use crate::rule;
use crate::text::Span;

use super::jumps::{jump_words, lacking};

rule! {
    /// A D.S., D.C. or al Coda that lacks a sign it needs: no segno to go back to, no place to leave for the
    /// coda, no coda, no Fine. A roadmap that only names the jump and says no places is left alone.
    ///
    /// # Why it matters
    ///
    /// At the first run-through half the band stops and the other half plays on.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   measures        88
    ///   roadmap         to coda at 32, coda at 81, D.S. al Coda at 80
    ///                                              ^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Lullaby, Unfinished"
    ///   measures        48
    ///   roadmap         D.C. al Fine at 48
    ///                   ^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A rehearsal mark called coda is the coda.
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   measures        88
    ///   rehearsal marks A 9, B 33, coda 81
    ///   roadmap         segno at 9, to coda at 32, D.S. al Coda at 80
    ///
    /// piece "Remembered from a Concert"
    ///   roadmap         D.S. al Coda
    /// ```
    ///
    /// # What to do
    ///
    /// Find the sign in the score and write its measure, or fix the jump.
    RoadmapBreaksOff: "roadmap breaks off", Time, Warning, reads Card, looks at Road
}

/// What a road lacks.
pub struct Broken {
    place: String,
    step: String,
    says: String,
    todo: String,
}

impl Notice for RoadmapBreaksOff {
    type What = Broken;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Broken>> {
        card.courses().iter().flat_map(breaks).collect()
    }

    fn say(what: &Broken, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: what.says.clone(),
            why: format!(
                "At {} part of the band would stop and the rest play on.",
                what.step
            ),
            todo: what.todo.clone(),
        }
    }
}

fn breaks(course: &Course<'_>) -> Vec<Noticed<Broken>> {
    let piece = course.piece;
    // Words that were not understood may hold the sign, and a road without places is only named.
    if piece.road_in_words {
        return Vec::new();
    }
    let mut found = Vec::new();
    let placed = piece.road.iter().any(|said| has_place(&said.value));
    for jump in course.road.jumps.iter().filter(|_| placed) {
        let Some(said) = piece.road.get(jump.index) else {
            continue;
        };
        let lacks = lacking(course, &said.value);
        if lacks.is_empty() || !said.is_certain() {
            continue;
        }
        let signs: Vec<&str> = lacks.iter().map(|(sign, _)| *sign).collect();
        let examples: Vec<&str> = lacks.iter().map(|(_, example)| *example).collect();
        let step = jump_words(&said.value);
        found.push(broken(
            course,
            said.span,
            format!(
                "The card sends players on with {step}, but does not say {}.",
                signs.join(" and ")
            ),
            format!("Find it in the score and add {}.", examples.join(" and ")),
            step,
        ));
    }
    // Repeats and endings are walked too; a jump that is only named leads nowhere yet.
    let named_only = !placed && !course.road.jumps.is_empty();
    let told = super::sign_on_the_wrong_side::wrong(course).is_some();
    if found.is_empty() && course.road.known && !named_only && !told {
        found.extend(walked(course));
    }
    found
}

/// What goes wrong when the road is walked, though every sign is there.
fn walked(course: &Course<'_>) -> Option<Noticed<Broken>> {
    let problem = course.road.order(course.total?).err()?;
    let (at, says, todo) = match problem {
        RoadProblem::NoSegno { jump, .. } => (
            jump,
            "The jump at measure {at} goes back to a segno of a number that the card does not have.",
            "Look at the numbers of the segnos in the score.",
        ),
        RoadProblem::NoToCoda { jump, .. } => (
            jump,
            "After the jump at measure {at} players never come past the place to leave for the coda.",
            "Look in the score where they leave for the coda: it has to come after the place they go back to.",
        ),
        RoadProblem::NoCoda { jump, .. } => (
            jump,
            "The jump at measure {at} leads to a coda of a number that the card does not have.",
            "Look at the numbers of the codas in the score.",
        ),
        RoadProblem::NoFine { jump } => (
            jump,
            "After the jump at measure {at} players never come past the Fine.",
            "Look in the score where the Fine is: it has to come after the place they go back to.",
        ),
        RoadProblem::NeverReached { jump } => (
            jump,
            "Following the roadmap, players never come to the jump at measure {at}.",
            "Look in the score where it is, and whether another jump or the Fine comes first.",
        ),
        RoadProblem::EndingAstray { repeat, ending } => {
            let said = course.piece.road.iter().find(
                |said| matches!(&said.value, RoadStep::Ending { stretch, .. } if stretch.first == ending),
            )?;
            return Some(broken(
                course,
                said.span,
                format!(
                    "The ending at measure {ending} does not fit the repeat that begins at measure {repeat}: endings follow one another and never share a measure."
                ),
                "Look in the score which measures each ending has.".to_owned(),
                said.value.to_string(),
            ));
        }
        // Measures past the end or upside down are said by their own rules.
        RoadProblem::Outside { .. } | RoadProblem::UpsideDown { .. } | RoadProblem::TooLong => return None,
    };
    let jump = course.road.jumps.iter().find(|jump| jump.at == Some(at))?;
    let said = course.piece.road.get(jump.index)?;
    Some(broken(
        course,
        said.span,
        says.replace("{at}", &at.to_string()),
        todo.to_owned(),
        jump_words(&said.value),
    ))
}

fn broken(course: &Course<'_>, span: Span, says: String, todo: String, step: String) -> Noticed<Broken> {
    let place = course.place("roadmap");
    Noticed::new(
        span,
        Broken {
            place,
            step,
            says,
            todo,
        },
    )
}
