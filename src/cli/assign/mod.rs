//! `levare assign`: who plays what in a piece or a concert.

mod concert;
mod concert_json;
mod json;
pub(super) mod meant;
pub mod pages;
mod piece;
mod seating;
mod table;
mod winds;
mod winds_json;

use std::io::{self, Write};
use std::time::{Duration, Instant};

use super::args::{Assign, AssignForm};
use super::color::Paint;
use super::report::lines;
use super::room;
use super::{Status, complain};
use crate::catalogue::Snapshot;
use crate::planning::assign::Limits;
use crate::planning::percussion::{ConcertPlan, PieceAssigned, Wishes};
use crate::planning::winds::is_away;
use meant::Meant;

/// Runs the command.
pub fn run(asked: &Assign, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    if asked.to.is_some() && matches!(asked.form, AssignForm::Table | AssignForm::Json) {
        complain(
            "--to is for pages: add --as door, --as counting, --as cards or --as seating. A table or JSON is printed here.",
        );
        return Ok(Status::CouldNot);
    }
    let Some(room) = room::asked(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let name = asked.name.join(" ");
    // A band by itself has a setup, and nothing else to share out.
    if let Some(band) = meant::only_a_band(snapshot, &name) {
        if asked.form == AssignForm::Seating {
            return done(seating::bands(snapshot, &[band], asked, out)?);
        }
        let name = snapshot.entry(band).map_or("", |entry| entry.name.as_str());
        complain(&format!(
            "\"{name}\" is a band. Name a piece or a concert to share out, or add --as seating for a page with the band's setup."
        ));
        return Ok(Status::CouldNot);
    }
    let meant = meant::meant(snapshot, &name);
    let wish = meant.and_then(|meant| {
        let band = asked
            .band
            .as_deref()
            .map(|name| meant::band(snapshot, name))
            .transpose()?;
        Ok((meant, band))
    });
    let (meant, band) = match wish {
        Ok(wish) => wish,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let until = asked
        .seconds
        .map(|seconds| Instant::now() + Duration::from_secs(u64::from(seconds)));
    let stop = || until.is_some_and(|until| Instant::now() >= until);
    let limits = Limits {
        // Where the clock decides, the count of steps does not.
        steps: until.map_or(Limits::USUAL.steps, |_| u64::MAX),
        stop: &stop,
    };
    match meant {
        Meant::Piece(_) if !asked.after.is_empty() => {
            complain("--after is for a concert: what was played before counts in how an evening is shared.");
            Ok(Status::CouldNot)
        }
        Meant::Piece(id) => {
            let (_, seats) = away(snapshot, &asked.without);
            let wishes = Wishes {
                band,
                without: &seats,
                hand_over: asked.handing_over,
                earlier: &[],
            };
            match PieceAssigned::of(snapshot, id, wishes, limits) {
                Some(one) => one_piece(snapshot, &one, asked, limits, paint, out),
                None => Ok(Status::CouldNot),
            }
        }
        Meant::Concert(id) => {
            let (_, seats) = away(snapshot, &asked.without);
            let mut earlier = Vec::new();
            for name in &asked.after {
                match meant::meant(snapshot, name) {
                    Ok(Meant::Concert(before)) if before != id => earlier.push(before),
                    Ok(_) => {
                        complain(&format!(
                            "\"{name}\" is no earlier concert. Give --after the name of a concert whose playing counts too."
                        ));
                        return Ok(Status::CouldNot);
                    }
                    Err(words) => {
                        complain(&words);
                        return Ok(Status::CouldNot);
                    }
                }
            }
            let plan = ConcertPlan::after(snapshot, &earlier, id, band, &seats, asked.handing_over, limits);
            let Some(plan) = plan else {
                return Ok(Status::CouldNot);
            };
            match asked.form {
                AssignForm::Table => concert::tell(snapshot, &plan, &asked.without, paint, out)?,
                AssignForm::Json => concert_json::tell(snapshot, &plan, asked, out)?,
                AssignForm::Seating => {
                    return done(seating::evening(snapshot, &plan, asked, out)?);
                }
                AssignForm::Door => {
                    if !pages::door(snapshot, &plan, asked, out)? {
                        return Ok(Status::CouldNot);
                    }
                }
                AssignForm::Cards => {
                    if !pages::cards(snapshot, &plan, asked, out)? {
                        return Ok(Status::CouldNot);
                    }
                }
                AssignForm::Counting => {
                    if !pages::countings(snapshot, &plan, asked, out)? {
                        return Ok(Status::CouldNot);
                    }
                }
            }
            let settings = plan.pieces.iter().filter_map(|piece| piece.setting.as_ref());
            let mut winds = settings.filter_map(|one| winds::sharing(snapshot, one, &asked.without));
            let percussion = plan
                .pieces
                .iter()
                .any(|piece| match (&piece.question, &piece.answer) {
                    (Some(question), Some(answer)) => !answer.covers(question),
                    _ => true,
                });
            let short = percussion || winds.any(|one| winds::is_short(&one));
            Ok(match short {
                true => Status::Found,
                false => Status::Nothing,
            })
        }
    }
}

fn one_piece(
    snapshot: &Snapshot,
    one: &PieceAssigned,
    asked: &Assign,
    limits: Limits<'_>,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<Status> {
    let (setting, question) = (&one.setting, &one.question);
    one.amiss.iter().for_each(|words| complain(words));
    if asked.form == AssignForm::Seating {
        return done(seating::pieces(snapshot, &[setting], asked, out)?);
    }
    let answer = one.answer(snapshot.instruments(), limits);
    let winds = winds::sharing(snapshot, setting, &asked.without);
    match asked.form {
        AssignForm::Json => {
            let line = json::piece_line(snapshot, setting, question, &answer, asked);
            lines::line(&line, out)?;
        }
        AssignForm::Door => {
            if !pages::piece_door(snapshot, (setting, question, &answer), asked, out)? {
                return Ok(Status::CouldNot);
            }
        }
        AssignForm::Counting => {
            if !pages::piece_counting(snapshot, (setting, question, &answer), asked, out)? {
                return Ok(Status::CouldNot);
            }
        }
        AssignForm::Cards => {
            complain(
                "Cards are for an evening. Name a concert, or add --as counting for a page with this piece.",
            );
            return Ok(Status::CouldNot);
        }
        // The setup has been written already.
        AssignForm::Seating => {}
        AssignForm::Table => {
            piece::tell(snapshot, setting, question, &answer, paint, out)?;
            if let Some(winds) = &winds {
                winds::tell(snapshot, winds, paint, out)?;
            }
        }
    }
    let short = !answer.covers(question) || winds.as_ref().is_some_and(winds::is_short);
    Ok(match short {
        true => Status::Found,
        false => Status::Nothing,
    })
}

/// A setup leaves nobody out; it is written or not.
fn done(written: bool) -> io::Result<Status> {
    Ok(match written {
        true => Status::Nothing,
        false => Status::CouldNot,
    })
}

/// Who is away, winds and percussionists apart.
fn away(snapshot: &Snapshot, without: &[String]) -> (Vec<String>, Vec<String>) {
    let instruments = snapshot.instruments();
    without
        .iter()
        .cloned()
        .partition(|words| is_away(words, instruments))
}
