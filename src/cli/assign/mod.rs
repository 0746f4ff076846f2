//! `levare assign`: who plays what in a piece or a concert.

mod concert;
mod concert_json;
mod json;
mod meant;
mod pages;
mod piece;
mod table;

use std::io::{self, Write};
use std::path::PathBuf;
use std::time::{Duration, Instant};

use super::args::{Assign, AssignForm};
use super::color::Paint;
use super::report::lines;
use super::room::{self, Room};
use super::{Status, complain, demo};
use crate::catalogue::Snapshot;
use crate::planning::assign::Limits;
use crate::planning::percussion::{self, ConcertPlan, Setting};
use meant::Meant;

/// Runs the command.
pub fn run(asked: &Assign, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    if asked.to.is_some() && matches!(asked.form, AssignForm::Table | AssignForm::Json) {
        complain(
            "--to is for pages: say --as door or --as timeline with it. A table or JSON is printed here.",
        );
        return Ok(Status::CouldNot);
    }
    let Some(room) = read(asked) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let meant = meant::meant(snapshot, &asked.name.join(" "));
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
        Meant::Piece(id) => {
            let setting = Setting::of_piece(snapshot, id, band);
            one_piece(snapshot, setting, asked, limits, paint, out)
        }
        Meant::Concert(id) => {
            let plan = ConcertPlan::of(snapshot, id, band, &asked.without, asked.handing_over, limits);
            let Some(plan) = plan else {
                return Ok(Status::CouldNot);
            };
            match asked.form {
                AssignForm::Table => concert::tell(snapshot, &plan, paint, out)?,
                AssignForm::Json => concert_json::tell(snapshot, &plan, asked.handing_over, out)?,
                AssignForm::Door => {
                    if !pages::door(snapshot, &plan, asked, out)? {
                        return Ok(Status::CouldNot);
                    }
                }
                AssignForm::Timeline => {
                    if !pages::timelines(snapshot, &plan, asked, out)? {
                        return Ok(Status::CouldNot);
                    }
                }
            }
            let short = plan
                .pieces
                .iter()
                .flat_map(|piece| &piece.left_out)
                .any(|(_, vital)| *vital);
            Ok(match short {
                true => Status::Found,
                false => Status::Nothing,
            })
        }
    }
}

/// The catalogue that is asked about; none when there is nothing in it, which is told.
fn read(asked: &Assign) -> Option<Room> {
    let today = asked.today.unwrap_or_else(|| match asked.demo {
        true => demo::day(),
        false => jiff::ZonedDateTime::now().date(),
    });
    if asked.demo {
        return Some(room::demo(today));
    }
    let paths: Vec<PathBuf> = asked.folder.iter().cloned().collect();
    let mut rooms = room::open(&paths, today);
    rooms
        .notes
        .iter()
        .chain(&rooms.amiss)
        .for_each(|words| complain(words));
    let room = (!rooms.rooms.is_empty()).then(|| rooms.rooms.swap_remove(0))?;
    for problem in &room.problems {
        complain(&problem.to_string());
    }
    if room.snapshot.entries().next().is_none() {
        complain(
            "There are no cards here. Files with cards end in .levare; \"levare start\" writes a small catalogue to fill in.",
        );
        return None;
    }
    Some(room)
}

fn one_piece(
    snapshot: &Snapshot,
    mut setting: Setting,
    asked: &Assign,
    limits: Limits<'_>,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<Status> {
    for words in setting.leave_at_home(&asked.without) {
        complain(&words);
    }
    let Some(question) = setting.question(snapshot) else {
        return Ok(Status::CouldNot);
    };
    let answer = percussion::answer(&question, snapshot.instruments(), asked.handing_over, limits);
    match asked.form {
        AssignForm::Table => piece::tell(snapshot, &setting, &question, &answer, paint, out)?,
        AssignForm::Json => {
            let line = json::piece_line(snapshot, &setting, &question, &answer, asked.handing_over);
            lines::line(&line, out)?;
        }
        AssignForm::Door => {
            if !pages::piece_door(snapshot, (&setting, &question, &answer), asked, out)? {
                return Ok(Status::CouldNot);
            }
        }
        AssignForm::Timeline => {
            if !pages::piece_timeline(snapshot, (&setting, &question, &answer), asked, out)? {
                return Ok(Status::CouldNot);
            }
        }
    }
    Ok(match &answer.sharing {
        Some(sharing) if sharing.left.iter().any(|left| left.vital) => Status::Found,
        _ => Status::Nothing,
    })
}
