//! `levare grade`: where a piece stands, condition by condition.

use std::io::{self, Write};

use serde::Serialize;

use super::args::{Grade, PlainForm};
use super::assign::meant;
use super::color::Paint;
use super::find::open_room;
use super::report::lines;
use super::say::tell;
use super::{Status, complain};
use crate::assist::answers::grade;
use crate::catalogue::conditions::Truth;
use crate::catalogue::{EntryId, Snapshot};
use crate::planning::standing::{Standing, reason, standing};

/// Runs the command.
pub fn run(asked: &Grade, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let found = of_words(snapshot, asked);
    let (piece, bands) = match found {
        Ok(found) => found,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let Some(found) = standing(snapshot, piece, &bands) else {
        return Ok(Status::CouldNot);
    };
    match asked.form {
        PlainForm::Table => tell(&grade::tell(snapshot, piece, &found), paint, out)?,
        PlainForm::Json => json(snapshot, piece, &found, out)?,
    }
    Ok(Status::Nothing)
}

fn of_words(snapshot: &Snapshot, asked: &Grade) -> Result<(EntryId, Vec<EntryId>), String> {
    let piece = meant::piece(snapshot, &asked.name.join(" "))?;
    let band = asked.band.as_deref().map(|name| meant::band(snapshot, name));
    Ok((piece, band.transpose()?.into_iter().collect()))
}

#[derive(Serialize)]
struct GradeLine<'g> {
    about: &'static str,
    piece: &'g str,
    said: &'g [String],
    lists: &'g [(String, Option<String>)],
    /// In hundredths; nothing where nobody can say, or no criteria are met.
    by_criteria: Option<u32>,
    criteria: Vec<AgainstLine<'g>>,
}

#[derive(Serialize)]
struct AgainstLine<'g> {
    name: &'g str,
    /// In hundredths.
    grade: Option<u32>,
    answer: &'static str,
    conditions: Vec<ConditionLine<'g>>,
    of_programs: &'g [String],
}

#[derive(Serialize)]
struct ConditionLine<'g> {
    condition: &'g str,
    answer: &'static str,
    because: String,
}

fn word(truth: &Truth) -> &'static str {
    match truth {
        Truth::Yes(_) => "yes",
        Truth::No(_) => "no",
        Truth::Unknown(_) => "not known",
    }
}

fn json(snapshot: &Snapshot, piece: EntryId, found: &Standing, out: &mut dyn Write) -> io::Result<()> {
    let line = GradeLine {
        about: "grade",
        piece: snapshot.entry(piece).map_or("", |entry| entry.name.as_str()),
        said: &found.said,
        lists: &found.lists,
        by_criteria: found.computed,
        criteria: found
            .criteria
            .iter()
            .map(|one| AgainstLine {
                name: &one.name,
                grade: one.grade,
                answer: word(&one.answer()),
                conditions: one
                    .conditions
                    .iter()
                    .map(|(words, truth)| ConditionLine {
                        condition: words,
                        answer: word(truth),
                        because: reason(truth),
                    })
                    .collect(),
                of_programs: &one.of_programs,
            })
            .collect(),
    };
    lines::line(&line, out)
}
