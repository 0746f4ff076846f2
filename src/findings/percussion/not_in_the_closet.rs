//! A percussion instrument that the band neither owns nor borrows.

use xxhash_rust::xxh3::xxh3_64_with_seed;

use crate::catalogue::cupboard::{self, holds, meant, timpani};
use crate::catalogue::model::Piece;
use crate::catalogue::percussion::{Course, Part};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::substitutes;
use crate::notation::row::RowItem;
use crate::notation::values::{Equipment, There};
use crate::rule;
use crate::text::Span;

use super::kettles;
use super::sounding::place_of;
use crate::text::sentences::{capital, is_are, is_several};

rule! {
    /// A percussion instrument that the band neither owns nor borrows, or timpani notes that its drums do
    /// not take. Only for a band that lists what it owns. A piece on the shelf is passed over when another band
    /// of the catalog owns the instrument. A drum is good for about a fifth (US rule of thumb, from memory); a
    /// note beyond it that a published source still lets a drum have is a hint.
    ///
    /// # Why it matters
    ///
    /// Borrowing takes weeks, and the part cannot be practiced before the instrument is there.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   owns            bells, snare, bass drum
    ///
    /// piece "Bells of Marrow Lane"
    ///   percussion
    ///     bells           1-56
    ///     chimes          9-16, 41-56
    ///     ^^^^^^
    /// ```
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   owns            timpani 29 and 26
    ///
    /// piece "Kettles"
    ///   percussion
    ///     timpani         1-40, notes D2 Bb2
    ///                           ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A family's name in the closet stands for all of it. What may be left out, or may be replaced by
    /// something that is there, is not missed.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   owns            bells, accessories, timpani 29 and 26
    ///   borrowed        chimes from the high school
    ///
    /// piece "Bells of Marrow Lane"
    ///   percussion
    ///     claves          1-56
    ///     chimes          9-16, 41-56
    ///     vibraphone      1-8
    ///     bells           1-8, instead of vibraphone
    ///     marimba         9-16, optional
    ///     timpani         1-40, notes F2 Bb2
    /// ```
    ///
    /// # What to do
    ///
    /// Borrow it and write it under `borrowed`, write `optional` after it, or write what can be played instead
    /// of it.
    NotInTheCloset: "not in the closet", Percussion, Warning, reads Catalogue, looks at Percussion
}

/// What is missing, and for whom.
pub struct Lacking {
    place: String,
    says: String,
    todo: String,
    related: Vec<Related>,
}

impl Notice for NotInTheCloset {
    type What = Lacking;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Lacking>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let courses = card.percussion();
        for_each_band(card, |judging| {
            let Some(things) = things(card, judging) else {
                return Vec::new();
            };
            courses
                .iter()
                .flat_map(|course| in_course(card, piece, course, judging, &things))
                .collect()
        })
    }

    fn say(what: &Lacking, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: what.says.clone(),
            why: "Borrowing takes weeks, and nobody can practice the part before.".to_owned(),
            todo: what.todo.clone(),
        }
    }

    fn related(what: &Lacking, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

/// What there is to play on for these bands; none where nobody lists what is owned.
pub(super) fn things<'c>(card: &'c Card<'_>, judging: &'c Judging<'_>) -> Option<Vec<&'c Equipment>> {
    // Whether a loan holds on the day of the concert is for the concert's card to say.
    cupboard::things(card.snapshot.handbook(), &judging.ensembles(), judging.concert)
}

fn in_course(
    card: &Card<'_>,
    piece: &Piece,
    course: &Course,
    judging: &Judging<'_>,
    things: &[&Equipment],
) -> Vec<Noticed<Lacking>> {
    let movement = course.movement.and_then(|at| piece.movements.get(at));
    let rows = &movement.map_or(piece, |movement| &movement.piece).percussion;
    let in_full = judging.in_full() && judging.plays_course(piece, course);
    let mut done: Vec<Span> = Vec::new();
    let mut found = Vec::new();
    for (at, part) in course.parts.iter().enumerate() {
        let replaced = course
            .parts
            .iter()
            .any(|other| other.instead_of.contains(&at) && lacks(card, other, things).is_none());
        if !part.is_needed() || replaced || done.contains(&part.span) {
            continue;
        }
        let missing = lacks(card, part, things)
            .filter(|name| !may_be_owned(card, judging, name))
            .map(|name| (part.name_span, name));
        let row = rows.iter().find(|row| row.span == part.span);
        let noticed = match missing {
            // A piece on the shelf may be for another band of the school.
            Some((_, name)) if !judging.earnest() && somebody_owns(card, &name) => None,
            Some((span, name)) => Some((span, gone(card, judging, &name, things), true)),
            None => row.and_then(|row| drums(card, judging, row, part, things)),
        };
        if let Some((span, (says, todo), certain)) = noticed {
            done.push(part.span);
            let what = Lacking {
                place: place_of(piece, course),
                says,
                todo,
                related: cupboard(card, judging),
            };
            found.push(Noticed::judged(span, in_full && certain, what));
        }
    }
    found
}

/// The first instrument of a part that is not there.
pub(super) fn lacks(card: &Card<'_>, part: &Part, things: &[&Equipment]) -> Option<String> {
    let mut digest = 0;
    for thing in things {
        digest = xxh3_64_with_seed(thing.name.as_bytes(), digest);
    }
    let known = card.snapshot.known_of_the_closet();
    let lacking = |name: &&String| {
        let question = xxh3_64_with_seed(name.as_bytes(), digest);
        known.to(question, || is_lacking(card, name, things))
    };
    part.names.iter().find(lacking).cloned()
}

fn is_lacking(card: &Card<'_>, name: &str, things: &[&Equipment]) -> bool {
    let wanted = meant(card.instruments(), name);
    // Household objects and groupings are nobody's property; hands are always there.
    !wanted.is_empty()
        && wanted
            .iter()
            .all(|wanted| wanted.family.is_percussion() && wanted.name != "hand claps")
        && !wanted.iter().any(|wanted| {
            let mut things = things.iter();
            things.any(|thing| holds(thing, wanted, card.instruments()))
        })
}

/// Whether words among what is owned that nobody understood may stand for this instrument.
fn may_be_owned(card: &Card<'_>, judging: &Judging<'_>, name: &str) -> bool {
    let doubts = card.snapshot.doubts_of_the_closet(judging.ids());
    meant(card.instruments(), name)
        .into_iter()
        .any(|wanted| doubts.is_near(wanted))
}

/// Whether any band of the catalog owns or borrows an instrument.
fn somebody_owns(card: &Card<'_>, name: &str) -> bool {
    let question = xxh3_64_with_seed(name.as_bytes(), OF_ALL_BANDS);
    card.snapshot.known_of_the_closet().to(question, || {
        let wanted = meant(card.instruments(), name);
        let bands = card.snapshot.ensembles().iter();
        bands
            .filter_map(|id| card.snapshot.entry(*id)?.ensemble())
            .flat_map(|band| band.owns.iter().chain(&band.borrowed))
            .any(|thing| {
                wanted
                    .iter()
                    .any(|wanted| holds(&thing.value, wanted, card.instruments()))
            })
    })
}

/// What tells questions about all bands from those about some things.
const OF_ALL_BANDS: u64 = 0x0a11_ba4d;

/// What is said of an instrument that is not there, and what to do.
fn gone(card: &Card<'_>, judging: &Judging<'_>, name: &str, things: &[&Equipment]) -> (String, String) {
    let (own, borrow) = match judging.bands.len() {
        1 => ("owns", "borrows"),
        _ => ("own", "borrow"),
    };
    let out = judging
        .ensembles()
        .iter()
        .flat_map(|band| &band.lacks)
        .filter(|said| said.value.there == There::Repair)
        .any(|said| {
            let wanted = meant(card.instruments(), name);
            wanted
                .iter()
                .any(|wanted| holds(&said.value, wanted, card.instruments()))
        });
    let says = match out {
        true => format!(
            "The {name} of {} {} out for repair, and no other is owned or borrowed.",
            judging.name(),
            is_are(1, name)
        ),
        false => format!("{} {own} no {name} and {borrow} none.", capital(&judging.name())),
    };
    let stand_in = card.instrument(name).and_then(|wanted| {
        substitutes::covers(&wanted.name).into_iter().find(|cover| {
            card.instrument(cover.substitute.cover)
                .is_some_and(|own| things.iter().any(|thing| holds(thing, own, card.instruments())))
        })
    });
    let it = if is_several(name) { "them" } else { "it" };
    let todo = match stand_in {
        Some(cover) => format!(
            "Borrow {it} and write {it} under \"borrowed\", or use the {} instead.",
            cover.substitute.cover
        ),
        None => format!(
            "Borrow {it} and write {it} under \"borrowed\", write \"optional\" after the name, or write what can be played instead."
        ),
    };
    (says, todo)
}

/// Timpani that are there, with notes that they do not take.
fn drums(
    card: &Card<'_>,
    judging: &Judging<'_>,
    row: &RowItem,
    part: &Part,
    things: &[&Equipment],
) -> Option<(Span, (String, String), bool)> {
    let is_timpani = part
        .names
        .iter()
        .any(|name| card.instrument(name).is_some_and(|found| found.name == "timpani"));
    if !is_timpani {
        return None;
    }
    let drums = timpani(things.iter().copied(), card.instruments());
    let has = if judging.bands.len() == 1 { "has" } else { "have" };
    let wrong = kettles::wrong(row, &drums, &format!("{} {has}", judging.name()))?;
    let says = format!("{}.", capital(&wrong.says));
    let todo = match wrong.certain {
        true => {
            "Borrow a drum of the right size, write where it is retuned, or ask the publisher whether the note may move to another octave."
        }
        false => {
            "Try it on the drum: a loose or a tight head sounds poor. Borrow a drum of the right size if it does."
        }
    };
    Some((wrong.span, (says, todo.to_owned()), wrong.certain))
}

/// Where the bands say what they own.
fn cupboard(card: &Card<'_>, judging: &Judging<'_>) -> Vec<Related> {
    judging
        .bands
        .iter()
        .enumerate()
        .filter_map(|(at, (entry, band))| {
            let span = band.owns.first()?.span.cover(band.owns.last()?.span);
            Some((
                at,
                span,
                format!("what {} owns", crate::text::sentences::the(&entry.name)),
            ))
        })
        .flat_map(|(at, span, says)| judging.beside(card, at, span, says))
        .collect()
}
