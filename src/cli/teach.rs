//! `levare teach`: what to teach, and in which week.

mod json;

use std::io::{self, Write};

use super::args::{PlainForm, Teach};
use super::assign::meant;
use super::color::Paint;
use super::find::open_room;
use super::say::tell;
use super::{Status, complain, written};
use crate::assist::answers::teach::{self as told, Whom};
use crate::assist::planned;
use crate::catalogue::Snapshot;
use crate::notation::Kind;
use crate::planning::teach::{BandPlan, NoPlan};
use crate::text::sentences::joined;

/// Runs the command.
pub fn run(asked: &Teach, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let (plans, none) = match plans(snapshot, &asked.name.join(" ")) {
        Ok(found) => found,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    none.iter().for_each(|none| complain(&none.says()));
    match asked.form {
        PlainForm::Table => tell(&told::tell(snapshot, &plans), paint, out)?,
        PlainForm::Json => json::tell(&plans, out)?,
    }
    if asked.write && !plans.is_empty() {
        let files = planned::edits(snapshot, &plans);
        let told = match files.is_empty() {
            true => Ok("The days stand on the cards already.".to_owned()),
            false => written::all(&room, &files).map(|names| {
                let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
                format!("The days were written into {}.", joined(&names))
            }),
        };
        match told {
            Ok(words) => complain(&words),
            Err(words) => {
                complain(&words);
                return Ok(Status::CouldNot);
            }
        }
    }
    Ok(match plans.is_empty() {
        true => Status::CouldNot,
        false if plans.iter().any(|plan| plan.late().next().is_some()) => Status::Found,
        false => Status::Nothing,
    })
}

/// The plans for a concert, for a band, or for everything to come.
fn plans(snapshot: &Snapshot, name: &str) -> Result<(Vec<BandPlan>, Vec<NoPlan>), String> {
    let bare = meant::bare(name);
    let whom = if bare.is_empty() {
        Whom::All
    } else if let Some(concert) = snapshot.names().of(Kind::Concert, bare).next() {
        Whom::Concert(concert)
    } else {
        Whom::Band(meant::band(snapshot, bare).map_err(|_| {
            let perhaps = meant::perhaps(snapshot, &[Kind::Concert, Kind::Ensemble], bare);
            format!("There is no concert and no band called \"{bare}\" here.{perhaps}")
        })?)
    };
    told::plans(snapshot, whom)
}
