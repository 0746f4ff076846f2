//! A program that calls for more new skills than there are weeks to teach them in.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::teach::bands;
use crate::planning::teach::evening::{TooMuch, too_much};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, counted, joined, the};

rule! {
    /// New skills of a program that cannot all be taught before the concert, though each of them could: the
    /// handbook's `teaching` line says how many may be in hand in one week, the skills' cards how long each takes
    /// at least, the band's `meets` line which weeks there are. Skills that the band has begun are left out. A
    /// skill that takes too long by itself is told on its piece.
    ///
    /// # Why it matters
    ///
    /// Something on the program will be played by players who have not learned it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   teaching        at most 1 new skill a week
    /// skill "triplets"
    ///   takes           3 weeks
    /// skill "6/8 in two"
    ///   takes           3 weeks
    /// ensemble "Seventh Grade Band"
    ///   meets           Tuesday and Thursday
    ///   taught          eighth pairs, triplets by 2026-11-10, 6/8 in two by 2026-11-10
    ///
    /// piece "Creek Bridge"
    ///   asks            triplets
    /// piece "Drum Hill"
    ///   asks            6/8 in two
    /// concert "Autumn evening"
    ///   on              2026-11-12
    ///                   ^^^^^^^^^^
    ///   program
    ///     "Creek Bridge"
    ///     "Drum Hill"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// handbook
    ///   teaching        at most 2 new skills a week
    /// skill "triplets"
    ///   takes           3 weeks
    /// skill "6/8 in two"
    ///   takes           3 weeks
    /// ensemble "Seventh Grade Band"
    ///   meets           Tuesday and Thursday
    ///   taught          eighth pairs, triplets by 2026-11-10, 6/8 in two by 2026-11-10
    ///
    /// piece "Creek Bridge"
    ///   asks            triplets
    /// piece "Drum Hill"
    ///   asks            6/8 in two
    /// concert "Autumn evening"
    ///   on              2026-11-12
    ///   program
    ///     "Creek Bridge"
    ///     "Drum Hill"
    /// ```
    ///
    /// # What to do
    ///
    /// Take a piece off the program, or see "levare teach" for the order that leaves the least undone.
    MoreToTeachThanWeeks: "more to teach than weeks", Skills, Warning, reads Catalogue, looks at Concert
}

/// The band and its skills.
pub struct More {
    band: String,
    much: TooMuch,
    teaching: Option<(Arc<Entry>, Span)>,
}

impl Notice for MoreToTeachThanWeeks {
    type What = More;

    fn notice(card: &Card<'_>) -> Vec<Noticed<More>> {
        let concert = card.entry.concert().filter(|_| !card.is_over());
        let Some(on) = concert.and_then(|concert| concert.on.as_ref()) else {
            return Vec::new();
        };
        let snapshot = card.snapshot;
        let teaching = snapshot.handbook_card().and_then(|(_, entry)| {
            let said = snapshot.handbook()?.teaching.first()?;
            Some((Arc::clone(entry), said.span))
        });
        if teaching.is_none() {
            return Vec::new();
        }
        bands(snapshot, &[card.id])
            .into_iter()
            .filter_map(|band| {
                let entry = snapshot.entry(band)?;
                let much = too_much(snapshot, band, entry.ensemble()?, card.id)?;
                let more = More {
                    band: the(&entry.name),
                    much,
                    teaching: teaching.clone(),
                };
                Some(Noticed::new(on.span, more))
            })
            .collect()
    }

    fn say(what: &More, _card: &Card<'_>) -> Saying {
        let much = &what.much;
        Saying {
            place: "on".to_owned(),
            says: format!(
                "{} has {} to learn for this program, and with {} a week {} of them will not be ready: there are {} with rehearsals.",
                capital(&what.band),
                joined(&much.skills),
                counted(much.at_once as usize, "new skill"),
                much.late,
                counted(much.weeks as usize, "week"),
            ),
            why: "Something on the program will be played by players who have not learned it.".to_owned(),
            todo: "Take a piece off the program, or see \"levare teach\" for the order that leaves the least undone."
                .to_owned(),
        }
    }

    fn related(what: &More, card: &Card<'_>) -> Vec<Related> {
        let teaching = what.teaching.as_ref();
        teaching
            .map(|(entry, span)| card.beside(entry, *span, "how many new skills a week"))
            .into_iter()
            .collect()
    }
}
