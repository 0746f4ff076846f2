//! A drum that is retuned with hardly a rest to do it in.

use crate::catalogue::course::Course;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{Fact, RowItem};
use crate::notation::values::{Place, Point, Stretch};
use crate::rule;

rule! {
    /// Timpani that are retuned between two entrances with less than four seconds for each drum (from memory).
    /// Only where the card gives the entrances on both sides: a drum retuned somewhere in a long entrance may
    /// well have its rest there.
    ///
    /// # Why it matters
    ///
    /// A young player needs a moment to hum the new note and hear the pedal out, while the band plays on. The
    /// first stroke afterwards is out of tune.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Kettles"
    ///   meter           4/4
    ///   tempo           quarter = 132
    ///   measures        72
    ///   percussion
    ///     timpani         1-32, 34-72, notes F2 C3, retune F2 to G2 at 34
    ///                                               ^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Kettles"
    ///   meter           4/4
    ///   tempo           quarter = 132
    ///   measures        72
    ///   percussion
    ///     timpani         1-28, 34-72, notes F2 C3, retune F2 to G2 at 34
    /// piece "Long Roll"
    ///   measures        72
    ///   percussion
    ///     timpani         1-72, notes F2 C3, retune F2 to G2 at 34
    /// ```
    ///
    /// # What to do
    ///
    /// Let a third drum have the new note, leave out the last measures before it, or let a second player retune.
    RetuneTooQuick: "retune too quick", Percussion, Information, reads Card, looks at Percussion
}

/// Seconds that a student needs to retune one drum.
const SECONDS: f64 = 4.0;

/// The rest there is.
pub struct Quick {
    place: String,
    change: String,
    after: u32,
    before: u32,
    /// Seconds, where the card tells meter and tempo.
    seconds: f64,
}

impl Notice for RetuneTooQuick {
    type What = Quick;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Quick>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for ((movement, level), course) in levels(piece).into_iter().zip(card.courses()) {
            for row in &level.percussion {
                found.extend(quick(course, movement, row));
            }
        }
        found
    }

    fn say(what: &Quick, _card: &Card<'_>) -> Saying {
        let seconds = what.seconds.round_ties_even() as u64;
        let rest = match what.before.saturating_sub(what.after) {
            0 | 1 => "no rest at all".to_owned(),
            2 => format!("one measure of rest, {} seconds", seconds),
            apart => format!(
                "{} measures of rest, {} seconds",
                apart.saturating_sub(1),
                seconds
            ),
        };
        Saying {
            place: format!("{}, measure {}", what.place, what.before),
            says: format!(
                "To {} there is {rest}: the part plays to measure {} and from measure {} on.",
                what.change, what.after, what.before
            ),
            why: "A young player has to hum the new note and hear the pedal out while the band plays on (4 seconds a drum, from memory)."
                .to_owned(),
            todo: "Give the new note to another drum, leave out the last measures before it, or let a second player retune."
                .to_owned(),
        }
    }
}

fn quick(course: &Course<'_>, movement: Option<u32>, row: &RowItem) -> Vec<Noticed<Quick>> {
    let certain = || row.facts.iter().filter(|fact| fact.is_certain());
    let plays: Vec<Stretch> = certain()
        .filter_map(|fact| match &fact.what {
            Fact::Plays(place, _) => place.measures(),
            _ => None,
        })
        .collect();
    let mut found: Vec<Noticed<Quick>> = Vec::new();
    for fact in certain() {
        let Fact::Retune(from, to, Some(Place::At(point @ Point::Measure(_)))) = &fact.what else {
            continue;
        };
        let Some(at) = course.piece.measure_of(point) else {
            continue;
        };
        let inside = plays
            .iter()
            .any(|stretch| stretch.first < at && at <= stretch.last);
        let after = plays
            .iter()
            .map(|stretch| stretch.last)
            .filter(|last| *last < at)
            .max();
        let before = plays
            .iter()
            .map(|stretch| stretch.first)
            .filter(|first| *first >= at)
            .min();
        let (false, Some(after), Some(before)) = (inside, after, before) else {
            continue;
        };
        let rest: Vec<u32> = (after.saturating_add(1)..before).take(64).collect();
        let lasting = course.timeline().each(&rest);
        // A rest whose length is not known proves nothing.
        if lasting.iter().any(|one| one.unknown > 0)
            || found.iter().any(|noticed| noticed.what.before == before)
        {
            continue;
        }
        let seconds: f64 = lasting.iter().map(|one| one.high).sum();
        let drums = certain()
            .filter(|other| match (&other.what, &fact.what) {
                (Fact::Retune(_, _, there), Fact::Retune(_, _, here)) => there == here,
                _ => false,
            })
            .count();
        if seconds < SECONDS * drums as f64 {
            let name = row.names.first().map(|name| name.one_form()).unwrap_or_default();
            let change = match drums {
                1 => format!("retune {from} to {to}"),
                drums => format!("retune {drums} drums"),
            };
            let what = Quick {
                place: place(movement, &format!("percussion, {name}")),
                change,
                after,
                before,
                seconds,
            };
            found.push(Noticed::judged(fact.span, rest.is_empty(), what));
        }
    }
    found
}
