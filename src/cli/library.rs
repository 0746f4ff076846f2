//! `levare library`: where each set is, what is in it, and a count.

mod forms;

use std::io::{self, Write};
use std::path::Path;

use super::args::{Library, LibraryForm};
use super::assign::meant;
use super::assign::pages;
use super::color::Paint;
use super::find::open_room;
use super::room::Room;
use super::say::{self, item, say};
use super::{Status, complain, written};
use crate::assist::answers::library as told;
use crate::assist::inventory;
use crate::catalogue::EntryId;
use crate::disk;
use crate::pages::count;
use crate::planning::library::counted::{ReadBack, read};
use crate::planning::library::{Set, sheet, shelf};
use crate::text::sentences::{agree, counted, joined};

/// No sheet of a school's library is larger, in bytes.
const LARGEST: u64 = 16 << 20;

/// Runs the command.
pub fn run(asked: &Library, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    if let Some(path) = &asked.counted {
        return count_back(&room, path, asked.write, out);
    }
    let all = asked.name.join(" ");
    let only = match meant::piece(snapshot, &all) {
        Ok(piece) => Ok(vec![piece]),
        Err(_) => {
            let each = asked.name.iter().map(|title| meant::piece(snapshot, title));
            each.collect::<Result<Vec<EntryId>, String>>()
        }
    };
    let only = match only {
        Ok(only) => only,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let found = shelf(snapshot, &only);
    match asked.form {
        LibraryForm::Table => say::tell(&told::tell(snapshot, &found, !only.is_empty()), paint, out)?,
        LibraryForm::Json => forms::json(snapshot, &found, out)?,
        LibraryForm::Csv => forms::csv(&sheet::rows(snapshot, &found), out)?,
        LibraryForm::Page => {
            let page = count::of_rows(&sheet::rows(snapshot, &found), snapshot.today);
            let sheets = count::sheets(&page, crate::pages::paper::Paper::Letter).len();
            let html = count::html(&page, crate::pages::paper::Paper::Letter);
            if !pages::into_file(&html, sheets, asked.to.as_deref(), out)? {
                return Ok(Status::CouldNot);
            }
        }
    }
    let amiss =
        matches!(asked.form, LibraryForm::Table | LibraryForm::Json) && found.sets.iter().any(Set::is_amiss);
    Ok(if amiss { Status::Found } else { Status::Nothing })
}

/// A filled sheet, read and perhaps written.
fn count_back(room: &Room, path: &Path, write: bool, out: &mut dyn Write) -> io::Result<Status> {
    let bytes = match disk::read_bytes(path, LARGEST) {
        Ok(bytes) => bytes,
        Err(problem) => {
            complain(&problem.to_string());
            return Ok(Status::CouldNot);
        }
    };
    let text = String::from_utf8_lossy(&bytes);
    let Some(back) = read(&room.snapshot, &text) else {
        complain(
            "The first line of the sheet must name the columns \"piece\", \"part\" and \"counted\". \"levare library --as csv\" writes such a sheet.",
        );
        return Ok(Status::CouldNot);
    };
    tell(&back, out)?;
    if back.changes.is_empty() {
        return Ok(match back.not_understood.is_empty() {
            true => Status::Nothing,
            false => Status::Found,
        });
    }
    if !write {
        say(
            "Nothing was written. With --write the new counts go onto the cards.",
            out,
        )?;
        return Ok(Status::Found);
    }
    let (files, left) = inventory::edits(&room.snapshot, &back.changes);
    if !left.is_empty() {
        let titles: Vec<String> = left.iter().map(|title| format!("\"{title}\"")).collect();
        say(
            &format!(
                "The {} of {} {} no \"library\" line, so the count has no place there. Write \"library\" on the card first.",
                agree(left.len(), "card", "cards"),
                joined(&titles),
                agree(left.len(), "has", "have")
            ),
            out,
        )?;
    }
    match written::all(room, &files) {
        Ok(names) => {
            let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
            if !names.is_empty() {
                say(&format!("The new counts are in {}.", joined(&names)), out)?;
            }
            Ok(Status::Nothing)
        }
        Err(words) => {
            complain(&words);
            Ok(Status::CouldNot)
        }
    }
}

fn tell(back: &ReadBack, out: &mut dyn Write) -> io::Result<()> {
    let all = back.same + back.changes.len();
    say(
        &format!(
            "{} counted: {} as the card says, {} not. {} left blank.",
            counted(all, "part"),
            back.same,
            back.changes.len(),
            counted(back.blank, "row")
        ),
        out,
    )?;
    for change in &back.changes {
        let was = match change.was {
            Some(was) => format!("{was} on the card"),
            None => "not on the card".to_owned(),
        };
        item(
            &format!(
                "\"{}\", {}: {}, counted {}",
                change.piece, change.part, was, change.now
            ),
            out,
        )?;
    }
    for (line, why) in &back.not_understood {
        item(&format!("Row {line} was passed over: {why}."), out)?;
    }
    Ok(())
}
