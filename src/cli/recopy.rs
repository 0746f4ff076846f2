//! `levare recopy`: lays cards out in the one form.

use std::io::{self, Write};

use super::args::Recopy;
use super::color::Paint;
use super::report::cards::count;
use super::{Status, complain, diff, proofread, room, wrap};
use crate::disk;
use crate::notation::recopy::{How, recopy_file};
use crate::text::Lines;

/// A file's text in the one form. What is left alone, because it would say something else there, is told.
fn recopied(name: &str, text: &str, asked: &Recopy) -> String {
    let recopied = recopy_file(text, How { order: asked.order });
    let lines = Lines::of(text);
    for kept in &recopied.kept_as_is {
        let what = if kept.card {
            "the card that begins on"
        } else {
            "the line"
        };
        let line = lines.line_at(kept.span.start).saturating_add(1);
        let line = if kept.card {
            format!("line {line}")
        } else {
            line.to_string()
        };
        complain(&format!(
            "In \"{name}\", {what} {line} is left as it is: recopying it would change what it says."
        ));
    }
    recopied.text
}

/// Runs the command.
pub fn run(asked: &Recopy, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    if let Some(name) = &asked.instead_of {
        let Some(text) = proofread::standard_input(name) else {
            return Ok(Status::CouldNot);
        };
        let name = name.display().to_string();
        return one(&name, &text, asked, paint, out);
    }
    // The day does not matter to how a card is laid out.
    let paths = match asked.folder.as_slice() {
        [] => &asked.paths,
        folder => folder,
    };
    let rooms = room::open(paths, super::demo::day());
    let mut status = Status::Nothing;
    for words in rooms.notes.iter().chain(&rooms.amiss) {
        complain(words);
    }
    if !rooms.amiss.is_empty() {
        status = Status::CouldNot;
    }
    let (mut looked_at, mut changed) = (0usize, 0usize);
    for room in &rooms.rooms {
        for problem in &room.problems {
            complain(&problem.to_string());
            status = Status::CouldNot;
        }
        for sheet in room.sheets.iter().filter(|sheet| sheet.asked) {
            looked_at = looked_at.saturating_add(1);
            let text = recopied(&sheet.shown, &sheet.text, asked);
            let Some(read) = sheet.read.as_ref().filter(|read| *read.text != *text) else {
                continue;
            };
            changed = changed.saturating_add(1);
            if asked.leave {
                if changed > 1 {
                    writeln!(out)?;
                }
                out.write_all(diff::show(&sheet.shown, &sheet.text, &text, paint).as_bytes())?;
            } else if let Err(problem) =
                disk::write_if_unchanged(&read.path, &read.bytes(&read.text), &read.bytes(&text))
            {
                changed = changed.saturating_sub(1);
                complain(&problem.to_string());
                status = Status::CouldNot;
            } else {
                writeln!(out, "{}", wrap::plain(&sheet.shown))?;
            }
        }
    }
    if looked_at == 0 {
        // Why the one that was asked for was passed over is told above.
        complain("No file was looked at, so nothing was recopied.");
        return Ok(Status::CouldNot);
    }
    let files = count(looked_at, "file", "files");
    match (asked.leave, changed) {
        (_, 0) if status == Status::Nothing => complain(&format!("{files} looked at; nothing to recopy.")),
        (true, _) => complain(&format!("{changed} of {files} would change.")),
        (false, _) => complain(&format!("{changed} of {files} recopied.")),
    }
    if asked.leave && changed > 0 {
        status = status.max(Status::Found);
    }
    Ok(status)
}

/// What came from standard input.
fn one(name: &str, text: &str, asked: &Recopy, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let new = recopied(name, text, asked);
    if !asked.leave {
        out.write_all(new.as_bytes())?;
        return Ok(Status::Nothing);
    }
    out.write_all(diff::show(name, text, &new, paint).as_bytes())?;
    Ok(match new == text {
        true => Status::Nothing,
        false => Status::Found,
    })
}
