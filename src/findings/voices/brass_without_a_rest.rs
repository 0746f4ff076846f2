//! A brass part that plays for minutes with no long rest.

use crate::catalogue::course::Course;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{Fact, RowItem};
use crate::notation::values::{Place, Stretch};
use crate::rule;
use crate::text::Span;

rule! {
    /// A brass part that plays for more than three minutes with no rest of at least four measures, by the
    /// measures on the card. The figures are from memory: lips that are new to it tire within a few minutes.
    ///
    /// # Why it matters
    ///
    /// The last page is where the high notes are, and the lips are gone by then.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Overture for a Small Hall"
    ///   meter           4/4
    ///   tempo           quarter = 96
    ///   measures        96
    ///   parts
    ///     trumpet         1-96
    ///                     ^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Overture for a Small Hall"
    ///   meter           4/4
    ///   tempo           quarter = 96
    ///   measures        96
    ///   parts
    ///     trumpet         1-40, 49-96
    ///     flute           1-96
    /// ```
    ///
    /// # What to do
    ///
    /// Let the players of the section take turns resting, or give the line to others for some measures.
    BrassWithoutARest: "brass without a rest", Voices, Hint, reads Catalogue, looks at Parts
}

/// The longest that is played in one go, in seconds.
const SECONDS: f64 = 180.0;
/// The shortest rest that helps, in measures.
const REST: u32 = 4;

/// The measures in one go.
pub struct Tired {
    place: String,
    part: String,
    stretch: Stretch,
    seconds: f64,
}

impl Notice for BrassWithoutARest {
    type What = Tired;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Tired>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for ((movement, level), course) in levels(piece).into_iter().zip(card.courses()) {
            for row in level.parts.iter().take(200) {
                let brass = row.names.iter().find(|name| {
                    card.instrument(&name.text)
                        .is_some_and(|found| found.family.is_brass())
                });
                let Some(name) = brass else { continue };
                if let Some((span, stretch, seconds)) = longest(course, row) {
                    let what = Tired {
                        place: place(movement, "parts"),
                        part: name.one_form(),
                        stretch,
                        seconds,
                    };
                    found.push(Noticed::new(span, what));
                }
            }
        }
        found
    }

    fn say(what: &Tired, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "The {} part plays measures {} with no rest of {REST} measures: {} at a stretch.",
                what.part,
                what.stretch,
                crate::music::Clock::from_seconds(what.seconds)
            ),
            why: "Young lips are gone before the last page, where the high notes are (from memory)."
                .to_owned(),
            todo: "Let the players of the section take turns resting, or give others the line for a while."
                .to_owned(),
        }
    }
}

/// The longest that a row plays in one go, where that is too long.
fn longest(course: &Course<'_>, row: &RowItem) -> Option<(Span, Stretch, f64)> {
    let total = course.total?;
    let mut plays: Vec<(Stretch, Span)> = row
        .facts
        .iter()
        .filter(|fact| fact.is_certain())
        .filter_map(|fact| match &fact.what {
            Fact::Plays(Place::Throughout, _) => Some((
                Stretch {
                    first: 1,
                    last: total,
                },
                fact.span,
            )),
            Fact::Plays(place, _) => place
                .measures()
                .filter(|stretch| stretch.last <= total)
                .map(|stretch| (stretch, fact.span)),
            _ => None,
        })
        .take(200)
        .collect();
    plays.sort_by_key(|(stretch, _)| (stretch.first, stretch.last));
    let mut runs: Vec<(Stretch, Span)> = Vec::new();
    for (stretch, span) in plays {
        match runs.last_mut() {
            Some((run, _)) if stretch.first.saturating_sub(run.last) <= REST => {
                run.last = run.last.max(stretch.last)
            }
            _ => runs.push((stretch, span)),
        }
    }
    let (run, span) = runs
        .into_iter()
        .max_by_key(|(run, _)| run.last.saturating_sub(run.first))?;
    let measures: Vec<u32> = (run.first..=run.last).take(2_000).collect();
    let lasting = course.timeline().each(&measures);
    if lasting.iter().any(|one| one.unknown > 0) {
        return None;
    }
    let seconds: f64 = lasting.iter().map(|one| one.low).sum();
    (seconds > SECONDS).then_some((span, run, seconds))
}
