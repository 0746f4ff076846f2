//! More percussion at once than the band has percussionists.

use crate::catalogue::model::Piece;
use crate::catalogue::percussion::{Course, When, fewest_at_once};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::sounding::sounding;

rule! {
    /// More percussion parts playing at once than the band has percussionists. Where the card tells no
    /// measures, the number it says it needs is taken instead.
    ///
    /// # Why it matters
    ///
    /// A part stays silent, and you find out in the first rehearsal with everybody there.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  2
    ///
    /// piece "Drum Hill"
    ///   percussion
    ///     snare           1-80
    ///     bass drum       1-80
    ///     triangle        41-56
    ///     ^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// A card that only says what it needs is figured from that.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  3
    ///
    /// piece "Gravel Road March"
    ///   percussion      9 parts
    ///   needs           5-6 percussionists, 4 minimum
    ///                                       ^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// What doubles another part may be left out, what is played instead of another never plays with it, and
    /// parts that never meet need no second player.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists  2
    ///
    /// piece "Lanterns on the Weir"
    ///   percussion
    ///     bells           5-20, same as flute 1
    ///     snare           1-88
    ///     advanced snare  1-88, instead of snare
    ///     triangle        1-8
    ///     crash cymbals   9-16
    /// ```
    ///
    /// # What to do
    ///
    /// Give one player two instruments that are side by side and write `one player` after them; write
    /// `optional` after what may be left out; or ask a wind player to help.
    ShortOfPercussionists: "short of percussionists", Percussion, Warning, reads Catalogue, looks at Piece
}

/// What sounds, and who is there.
pub struct Short {
    place: String,
    says: String,
    related: Vec<Related>,
}

impl Notice for ShortOfPercussionists {
    type What = Short;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Short>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let courses = card.percussion();
        for_each_band(card, |judging| {
            let mut there: Option<u32> = None;
            for band in judging.ensembles() {
                if let Some(players) = band.percussion_players_on(judging.day()) {
                    there = Some(there.unwrap_or(0).saturating_add(players));
                }
            }
            let Some(there) = there else { return Vec::new() };
            let measured: Vec<Noticed<Short>> = courses
                .iter()
                .filter_map(|course| in_course(card, piece, course, judging, there))
                .collect();
            let vague = courses.is_empty()
                || courses.iter().any(|course| {
                    course
                        .parts
                        .iter()
                        .any(|part| part.is_needed() && part.when == When::Unknown)
                });
            match measured.is_empty() && vague {
                true => coarse(card, piece, judging, there).into_iter().collect(),
                false => measured,
            }
        })
    }

    fn say(what: &Short, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: what.says.clone(),
            why: "Somebody's part would stay silent, and it would show only when everybody is in the room."
                .to_owned(),
            todo: "Give one player two neighboring instruments and write \"one player\", write \"optional\" after what may be left out, or ask a wind player to help.".to_owned(),
        }
    }

    fn related(what: &Short, _card: &Card<'_>) -> Vec<Related> {
        what.related.clone()
    }
}

/// `the Seventh Grade Band has 6 percussionists`.
fn has(judging: &Judging<'_>, there: u32) -> String {
    let players = match there {
        0 => "no percussionists".to_owned(),
        1 => "1 percussionist".to_owned(),
        _ => format!("{there} percussionists"),
    };
    let has = if judging.bands.len() == 1 { "has" } else { "have" };
    format!("{} {has} {players}", judging.name())
}

/// Where the bands say who their percussionists are.
pub(super) fn roster(card: &Card<'_>, judging: &Judging<'_>) -> Vec<Related> {
    judging
        .bands
        .iter()
        .enumerate()
        .filter_map(|(at, (entry, band))| {
            Some((
                at,
                band.percussionists_span?,
                format!(
                    "the percussionists of {}",
                    crate::text::sentences::the(&entry.name)
                ),
            ))
        })
        .flat_map(|(at, span, says)| judging.beside(card, at, span, says))
        .collect()
}

fn in_course(
    card: &Card<'_>,
    piece: &Piece,
    course: &Course,
    judging: &Judging<'_>,
    there: u32,
) -> Option<Noticed<Short>> {
    let most = fewest_at_once(course)?;
    if most.players <= there {
        return None;
    }
    let sounding = sounding(piece, course, &most)?;
    let what = Short {
        says: format!(
            "{}; {}.{}",
            sounding.sentence(),
            has(judging, there),
            sounding.spared_sentence()
        ),
        place: sounding.place,
        related: roster(card, judging),
    };
    Some(Noticed::judged(
        sounding.row,
        judging.in_full() && judging.plays_course(piece, course),
        what,
    ))
}

/// The rough count: the fewest percussionists the card says it needs.
fn coarse(card: &Card<'_>, piece: &Piece, judging: &Judging<'_>, there: u32) -> Option<Noticed<Short>> {
    let needs = piece
        .needs
        .iter()
        .filter(|said| said.is_certain() && said.value.is_percussion());
    // A stated minimum is the fewest; without one the lower number is.
    let least = needs
        .clone()
        .find(|said| said.value.is_minimum())
        .or_else(|| needs.clone().next())?;
    let fewest = least.value.fewest()?;
    (fewest > there).then(|| {
        let what = Short {
            place: "percussion".to_owned(),
            says: format!(
                "The card says that it takes at least {fewest} percussionists; {}. The card tells no measures, so this is a rough count.",
                has(judging, there)
            ),
            related: roster(card, judging),
        };
        Noticed::judged(least.span, judging.in_full(), what)
    })
}
