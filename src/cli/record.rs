//! `levare record`: a concert that was played, written onto the cards of its pieces.

use std::io::{self, Write};

use super::args::Record;
use super::assign::meant;
use super::find::open_room;
use super::say::say;
use super::{Status, complain, written};
use crate::assist::recorded::{PieceOf, Told, edits, played, without_a_card};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::notation::values::Performance;
use crate::text::sentences::{agree, counted, joined};

/// Runs the command.
pub fn run(asked: &Record, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let found = meant_by(snapshot, asked).and_then(|(concert, pieces)| Ok((concert, pieces, told(asked)?)));
    let (concert, pieces, told) = match found {
        Ok(found) => found,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let lost = without_a_card(snapshot, concert);
    if asked.piece.is_empty() && !lost.is_empty() {
        complain(&format!(
            "{} {} no card of {} own, so nothing is recorded for {}.",
            joined(&lost),
            agree(lost.len(), "has", "have"),
            agree(lost.len(), "its", "their"),
            agree(lost.len(), "it", "them"),
        ));
    }
    let files = edits(snapshot, concert, &pieces, &told).unwrap_or_default();
    if files.is_empty() {
        say("All of that is on the cards already.", out)?;
        return Ok(Status::Nothing);
    }
    match written::all(&room, &files) {
        Ok(names) => {
            let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
            say(
                &format!(
                    "Recorded for {}, in {}.",
                    counted(pieces.len(), "piece"),
                    joined(&names)
                ),
                out,
            )?;
            Ok(Status::Nothing)
        }
        Err(words) => {
            complain(&words);
            Ok(Status::CouldNot)
        }
    }
}

/// The concert, and the pieces of it that are meant.
fn meant_by(snapshot: &Snapshot, asked: &Record) -> Result<(EntryId, Vec<PieceOf>), String> {
    let all = asked.name.join(" ");
    let bare = meant::bare(&all);
    let concert = snapshot.names().of(Kind::Concert, bare).next();
    let concert = concert.ok_or_else(|| {
        let perhaps = meant::perhaps(snapshot, &[Kind::Concert], bare);
        format!("There is no concert called \"{bare}\" here.{perhaps}")
    })?;
    let card = snapshot.entry(concert).and_then(|entry| entry.concert());
    let day = card.and_then(|card| card.day());
    let day =
        day.ok_or_else(|| format!("\"{bare}\" has no day. Write it on its card, as in: on 2026-12-10."))?;
    if day > snapshot.today {
        return Err(format!(
            "\"{bare}\" is on {day}, which is still to come, so there is nothing to record yet."
        ));
    }
    let mut pieces = played(snapshot, concert);
    if pieces.is_empty() {
        return Err(format!(
            "No title on the program of \"{bare}\" has a card, so nothing was written."
        ));
    }
    if !asked.piece.is_empty() {
        let named = asked.piece.iter().map(|title| meant::piece(snapshot, title));
        let named = named.collect::<Result<Vec<EntryId>, String>>()?;
        if let Some((_, title)) = named
            .iter()
            .zip(&asked.piece)
            .find(|(id, _)| !pieces.iter().any(|piece| piece.id == **id))
        {
            return Err(format!(
                "\"{}\" is not on the program of \"{bare}\".",
                meant::bare(title)
            ));
        }
        pieces.retain(|piece| named.contains(&piece.id));
    }
    Ok((concert, pieces))
}

/// What is said of the performance, read as a card would have it.
fn told(asked: &Record) -> Result<Told, String> {
    let took = asked
        .took
        .as_ref()
        .map(|words| ("took", format!("took {words}"), "--took \"5 weeks\""));
    let result = asked
        .result
        .as_ref()
        .map(|words| ("result", format!("result {words}"), "--result \"I I II\""));
    let how = asked
        .how
        .as_ref()
        .map(|words| ("how", words.clone(), "--how \"went well\""));
    let mut said = Vec::new();
    for (_, words, example) in [took, result, how].into_iter().flatten() {
        let read = Performance::read(&format!("2026-01-01, {words}")).filter(|read| read.said.len() == 1);
        let read = read.ok_or_else(|| format!("\"{words}\" is not understood. Say it as in {example}."))?;
        said.extend(read.said);
    }
    let learned = asked.learned.clone().unwrap_or_default();
    if learned.contains(['\n', '\r']) {
        return Err("What was learned stands on one line. Leave the line breaks out.".to_owned());
    }
    if let Some(odd) = asked
        .taught
        .iter()
        .find(|skill| crate::notation::values::Skill::read(skill).is_none())
    {
        return Err(format!("\"{odd}\" is no skill's name."));
    }
    Ok(Told {
        said,
        learned: learned.trim().to_owned(),
        taught: asked.taught.iter().map(|skill| skill.trim().to_owned()).collect(),
    })
}
