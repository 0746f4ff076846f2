//! A percussion instrument that none of the percussionists plays.

use crate::catalogue::model::{Percussionist, Piece};
use crate::catalogue::percussion::Course;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::percussion::{Players, is_clear};
use crate::rule;

use super::not_in_the_closet::{lacks, things};
use super::short_of_percussionists::roster;
use super::sounding::place_of;

rule! {
    /// A percussion instrument that none of the band's percussionists plays. Only for a band that names its
    /// percussionists, by seats or initials, and says after each what he or she plays; a player after whom
    /// nothing is said plays anything.
    ///
    /// # Why it matters
    ///
    /// There are enough players, and still the part stays silent, or somebody meets the instrument for the
    /// first time in a rehearsal with everybody there.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              mallets, timpani
    ///     P2 P3           snare, bass drum
    ///
    /// piece "Lanterns on the Weir"
    ///   percussion
    ///     snare           1-88
    ///     crash cymbals   9-16, 41-72
    ///     ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A family's name takes in all of it. What may be left out, or may be replaced by something that
    /// somebody plays, is not missed, and an instrument that the band does not own is reported as that.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              mallets, timpani
    ///     P2              snare, accessories
    ///     P3              bass drum, cymbals
    ///
    /// piece "Lanterns on the Weir"
    ///   percussion
    ///     bells           5-20
    ///     triangle        1-8
    ///     crash cymbals   9-16
    ///     gong            88, optional
    ///     drum set        1-40
    ///     snare           1-40, instead of drum set
    /// ```
    ///
    /// # What to do
    ///
    /// Write the instrument after a percussionist who can learn it, write `optional` after what may be left
    /// out, or ask a wind player to help.
    InstrumentWithoutAPlayer: "instrument without a player", Percussion, Warning, reads Catalogue,
        looks at Percussion
}

/// What nobody plays, and in which band.
pub struct Unplayed {
    place: String,
    name: String,
    band: String,
    related: Vec<Related>,
}

impl Notice for InstrumentWithoutAPlayer {
    type What = Unplayed;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Unplayed>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let courses = card.percussion();
        for_each_band(card, |judging| {
            let mut seats: Vec<&Percussionist> = Vec::new();
            for band in judging.ensembles() {
                // Where only their number is said, nobody knows what they play.
                if band.percussionists.is_empty() && band.percussion_players().is_some() {
                    return Vec::new();
                }
                seats.extend(band.percussionists_on(judging.day()));
            }
            let unread = judging
                .ensembles()
                .iter()
                .any(|band| band.is_unread("percussionists"));
            // Who plays something that nobody understood may play anything.
            let clear = |seat: &&Percussionist| is_clear(&seat.can, card.instruments());
            if seats.is_empty() || unread || !seats.iter().all(clear) {
                return Vec::new();
            }
            courses
                .iter()
                .flat_map(|course| in_course(card, piece, course, judging, &seats))
                .collect()
        })
    }

    fn say(what: &Unplayed, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("No percussionist of {} plays {}.", what.band, what.name),
            why: "There are enough players, and still this part stays silent until somebody learns it."
                .to_owned(),
            todo: format!(
                "Write \"{}\" after a percussionist who can learn it, write \"optional\" after what may be left out, or ask a wind player to help.",
                what.name
            ),
        }
    }

    fn related(what: &Unplayed, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

fn in_course(
    card: &Card<'_>,
    piece: &Piece,
    course: &Course,
    judging: &Judging<'_>,
    seats: &[&Percussionist],
) -> Vec<Noticed<Unplayed>> {
    let who = Players::of(card.snapshot);
    let somebody = |name: &str| seats.iter().any(|seat| who.can_play(&seat.can, name));
    let in_full = judging.in_full() && judging.plays_course(piece, course);
    let owned = things(card, judging);
    let mut done: Vec<&str> = Vec::new();
    let mut found = Vec::new();
    for (at, part) in course.parts.iter().enumerate() {
        let replaced = course
            .parts
            .iter()
            .any(|other| other.instead_of.contains(&at) && other.names.iter().all(|name| somebody(name)));
        if !part.is_needed() || replaced {
            continue;
        }
        // What is not there needs no player yet.
        if owned
            .as_ref()
            .is_some_and(|owned| lacks(card, part, owned).is_some())
        {
            continue;
        }
        let Some(name) = part.names.iter().find(|name| !somebody(name)) else {
            continue;
        };
        if done.contains(&name.as_str()) {
            continue;
        }
        done.push(name);
        let what = Unplayed {
            place: place_of(piece, course),
            name: name.clone(),
            band: judging.name(),
            related: roster(card, judging),
        };
        found.push(Noticed::judged(part.name_span, in_full, what));
    }
    found
}
