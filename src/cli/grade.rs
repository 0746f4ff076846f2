//! `levare grade`: where a piece stands, condition by condition.

use std::io::{self, Write};

use serde::Serialize;

use super::args::{Grade, PlainForm};
use super::assign::meant;
use super::color::Paint;
use super::report::lines;
use super::say::{gap, item, say};
use super::teach::room_of;
use super::wrap;
use super::{Status, complain};
use crate::catalogue::conditions::Truth;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::grade::show_hundredths;
use crate::planning::standing::{Against, Standing, reason, standing};
use crate::text::sentences::joined;

/// Runs the command.
pub fn run(asked: &Grade, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = room_of(&asked.at) else {
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
        PlainForm::Table => tell(snapshot, piece, &found, paint, out)?,
        PlainForm::Json => json(snapshot, piece, &found, out)?,
    }
    Ok(Status::Nothing)
}

fn of_words(snapshot: &Snapshot, asked: &Grade) -> Result<(EntryId, Vec<EntryId>), String> {
    let piece = meant::piece(snapshot, &asked.name.join(" "))?;
    let band = asked.band.as_deref().map(|name| meant::band(snapshot, name));
    Ok((piece, band.transpose()?.into_iter().collect()))
}

fn tell(
    snapshot: &Snapshot,
    piece: EntryId,
    found: &Standing,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let name = snapshot.entry(piece).map_or("", |entry| entry.name.as_str());
    writeln!(out, "{}", paint.bold(&wrap::plain(name)))?;
    match found.said.is_empty() {
        true => say("Its card gives no grade.", out)?,
        false => say(&format!("Its card says: {}.", found.said.join(", ")), out)?,
    }
    let lists: Vec<String> = found
        .lists
        .iter()
        .map(|(list, grade)| match grade {
            Some(grade) => format!("\"{list}\" has it at grade {grade}"),
            None => format!("\"{list}\" has it without a grade"),
        })
        .collect();
    if !lists.is_empty() {
        say(&format!("{}.", joined(&lists)), out)?;
    }
    if found.criteria.iter().any(|one| one.grade.is_some()) {
        say(&by_criteria(found), out)?;
    }
    if found.criteria.is_empty() {
        return say(
            "There are no criteria to hold it against. A card such as: criteria \"our grade 1\", with a line: calls for up to 3 flats, says what you mean by a grade.",
            out,
        );
    }
    for one in &found.criteria {
        gap(out)?;
        against(one, paint, out)?;
    }
    Ok(())
}

/// What the criteria of the band's own grades come to, beside the grade that its card gives.
fn by_criteria(found: &Standing) -> String {
    let graded = || found.criteria.iter().filter(|one| one.grade.is_some());
    match found.computed {
        Some(grade) => {
            let computed = show_hundredths(grade);
            let beside = match found.ours {
                Some(ours) if ours == grade => ", as its card says".to_owned(),
                Some(ours) => format!("; its card says {} for you", show_hundredths(ours)),
                None => String::new(),
            };
            format!("By your own criteria it is a grade {computed}{beside}.")
        }
        None if graded().all(|one| one.answer().is_no()) => {
            "It meets the criteria of none of your own grades.".to_owned()
        }
        None => "By your own criteria nobody can say yet: something is not known.".to_owned(),
    }
}

fn against(one: &Against, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let answer = match one.answer() {
        Truth::No(_) => "not met",
        Truth::Unknown(_) => "not sure",
        Truth::Yes(_) if one.conditions.is_empty() => "only a whole program can meet it",
        Truth::Yes(_) => "met",
    };
    let head = format!("{}: {answer}", one.name);
    writeln!(out, "{}", paint.bold(&wrap::plain(&head)))?;
    for (words, truth) in &one.conditions {
        let mark = match truth {
            Truth::Yes(_) => "yes",
            Truth::No(_) => "no",
            Truth::Unknown(_) => "?",
        };
        let reason = reason(truth);
        let behind = if reason.is_empty() { "" } else { ": " };
        let words = wrap::plain(&format!("{words}{behind}{reason}"));
        for (at, line) in wrap::lines(&words, wrap::width().saturating_sub(7), 0)
            .iter()
            .enumerate()
        {
            writeln!(out, "  {:<3}  {line}", if at == 0 { mark } else { "" })?;
        }
    }
    if !one.of_programs.is_empty() {
        item(
            &format!("Of a whole program: {}.", one.of_programs.join(", ")),
            out,
        )?;
    }
    Ok(())
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
