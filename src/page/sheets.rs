//! Pages to print of the card under the cursor.

use serde_json::Value;

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::pages::paper::Paper;
use crate::pages::{counting, door, seating};
use crate::planning::assign::Limits;
use crate::planning::percussion::{ConcertPlan, PieceAssigned, Setting, Wishes};
use crate::planning::winds;

use super::answer::{amiss, answer};
use super::question::At;
use super::shelf::File;

const NO_CARD: &str =
    "Put the cursor on the card of a piece, a concert or a band, and its page is drawn here.";
const NO_PIECES: &str =
    "No piece of this concert has a card yet. Write a card for each title of the program.";

/// A page to print.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Which {
    Door,
    Seating,
    Counting,
}

/// The paper of a word.
pub(super) fn paper_of(size: &str) -> Paper {
    match size {
        "tabloid" => Paper::Tabloid,
        "a4" => Paper::A4,
        "a3" => Paper::A3,
        _ => Paper::Letter,
    }
}

/// The page of the card at a place as HTML, or in words why there is none.
pub(super) fn of(file: &File<'_>, at: At, which: &str, size: &str) -> Value {
    let snapshot = file.page.snapshot();
    let Some(place) = file.place(at) else {
        return amiss(NO_CARD);
    };
    let paper = paper_of(size);
    let which = match which {
        "seating" => Which::Seating,
        "counting" => Which::Counting,
        _ => Which::Door,
    };
    let made = match (place.entry.kind, which) {
        (Some(Kind::Piece), _) => piece(snapshot, place.id, which, paper),
        (Some(Kind::Concert), _) => concert(snapshot, place.id, which, paper),
        (Some(Kind::Ensemble), Which::Seating) => Ok(band(snapshot, place.id, paper)),
        (Some(Kind::Ensemble), _) => {
            Err("A band by itself has a setup. For who plays what, put the cursor on a piece or a concert.")
        }
        _ => Err(NO_CARD),
    };
    match made {
        Ok(html) => answer!("html": html, "name": &place.entry.name),
        Err(why) => amiss(why),
    }
}

fn piece(snapshot: &Snapshot, id: EntryId, which: Which, paper: Paper) -> Result<String, &'static str> {
    let one = PieceAssigned::of(snapshot, id, Wishes::default(), Limits::USUAL).ok_or(NO_CARD)?;
    let (setting, question) = (&one.setting, &one.question);
    if which == Which::Seating {
        return seats(snapshot, &[setting], paper);
    }
    let answer = one.answer(snapshot.instruments(), Limits::USUAL);
    if which == Which::Door {
        let page = door::of_piece(snapshot, setting, question, &answer, &[]);
        return Ok(door::html(&[page], paper));
    }
    let counted = counting::of_piece(snapshot, setting, question, &answer);
    let counted = counted.ok_or(
        "There is nothing to count yet. Write the percussion parts, and the measures in which they play.",
    )?;
    Ok(counting::html(&[counted], paper))
}

fn concert(snapshot: &Snapshot, id: EntryId, which: Which, paper: Paper) -> Result<String, &'static str> {
    let plan = ConcertPlan::of(snapshot, id, None, &[], false, Limits::USUAL).ok_or(NO_CARD)?;
    match which {
        Which::Door => Ok(door::html(&door::of_concert(snapshot, &plan, &[]), paper)),
        Which::Seating => {
            let plans = seating::of_evening(snapshot, &plan, &[]);
            let name = plans.first().ok_or(NO_PIECES)?.band.clone();
            Ok(seating::html(&name, paper, &plans))
        }
        Which::Counting => {
            let counted = counting::of_concert(snapshot, &plan);
            match counted.is_empty() {
                true => Err(NO_PIECES),
                false => Ok(counting::html(&counted, paper)),
            }
        }
    }
}

/// The setups of pieces, a sheet each, with the parts on the chairs.
fn seats(snapshot: &Snapshot, settings: &[&Setting], paper: Paper) -> Result<String, &'static str> {
    let plans = seating::of_settings(snapshot, settings, &[]);
    let name = plans.first().ok_or(NO_PIECES)?.band.clone();
    Ok(seating::html(&name, paper, &plans))
}

fn band(snapshot: &Snapshot, id: EntryId, paper: Paper) -> String {
    let sharing = winds::of_band(snapshot, None, &[id], &[], &[]);
    let plan = seating::plan(snapshot, &[id], &sharing, None);
    seating::html(&plan.band.clone(), paper, &[plan])
}
