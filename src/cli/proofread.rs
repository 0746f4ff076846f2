//! `levare proofread`: reads the catalogue and tells what does not fit.

use std::collections::HashMap;
use std::io::{self, Read, Write};
use std::path::Path;
use std::sync::Arc;

use jiff::civil::Date;

use super::args::{Form, Proofread};
use super::color::Paint;
use super::correct::{Corrected, corrected};
use super::report::cards::count;
use super::report::{Report, Wish, aloud, cards, lines, merge_request, sarif};
use super::room::{self, Room, Rooms, Stood};
use super::{Status, complain, demo, diff, wrap};
use crate::catalogue::known::{Known, head_words};
use crate::comparing::{Named, compare};
use crate::disk::{self, Rules};
use crate::findings::Severity;

/// Runs the command.
pub fn run(asked: &Proofread, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let today = asked.today.unwrap_or_else(|| match asked.demo {
        true => demo::day(),
        false => jiff::ZonedDateTime::now().date(),
    });
    let Some(mut rooms) = rooms(asked, today) else {
        return Ok(Status::CouldNot);
    };
    let mut status = Status::Nothing;
    for words in &rooms.notes {
        complain(words);
    }
    for words in &rooms.amiss {
        complain(words);
        status = Status::CouldNot;
    }
    if asked.record_known {
        return Ok(status.max(record_known(&rooms, out)?));
    }
    if asked.leave {
        return Ok(status.max(show_corrections(&rooms, paint, out)?));
    }
    if asked.correct {
        let ended = match asked.instead_of {
            Some(_) => return correct_to_output(&rooms, out),
            None => correct_files(&mut rooms),
        };
        status = status.max(ended);
    }
    let mut knowns = Vec::new();
    for room in &rooms.rooms {
        let (mut known, ended) = known_of(room);
        status = status.max(ended);
        if let Some(commit) = &asked.since {
            match before(room, commit, today) {
                Ok((there, ended)) => {
                    // What was there and is known besides is one thing.
                    known = Known::put_together(&Known::default(), &known, &there);
                    status = status.max(ended);
                }
                Err(words) => {
                    complain(&words);
                    return Ok(Status::CouldNot);
                }
            }
        }
        knowns.push(known);
    }
    let wish = Wish {
        least: asked.least,
        all: asked.all,
    };
    let mut report = Report::of(rooms.rooms.iter().zip(knowns), wish);
    if asked.since.is_some() {
        // What is gone since then is good news, and no list needs to be written for it.
        report.gone = 0;
        report.since = std::mem::take(&mut report.known);
    }
    if rooms.rooms.is_empty() {
        // No path led anywhere, and that is told already; programs still get a whole answer.
        match asked.form {
            Form::Sarif => sarif::tell(&report, out)?,
            Form::MergeRequest => merge_request::tell(&report, out)?,
            Form::Cards | Form::Aloud | Form::Json => {}
        }
        return Ok(status);
    }
    if report.cards == 0
        && report.told.is_empty()
        && report.problems.is_empty()
        && matches!(asked.form, Form::Cards | Form::Aloud)
    {
        complain(
            "There are no cards here. Files with cards end in .levare; \"levare start\" writes a small catalog to fill in.",
        );
        return Ok(Status::CouldNot);
    }
    match asked.form {
        Form::Cards => cards::tell(&report, wrap::width(), paint, out)?,
        Form::Aloud => aloud::tell(&report, out)?,
        Form::Json => lines::tell(&report, out)?,
        Form::Sarif => sarif::tell(&report, out)?,
        Form::MergeRequest => merge_request::tell(&report, out)?,
    }
    if report.is_earnest() {
        status = status.max(Status::Found);
    }
    if !report.problems.is_empty() {
        status = Status::CouldNot;
    }
    Ok(status)
}

/// What was found in a catalogue as it was at a commit. What is wrong is told in words.
fn before(room: &Room, commit: &str, today: Date) -> Result<(Known, Status), String> {
    let mut there = Known::default();
    let Some(root) = &room.root else {
        return Ok((there, Status::Nothing));
    };
    let old = room::at_commit(root, commit, today)?;
    let wish = Wish {
        least: Severity::Hint,
        all: true,
    };
    let mut status = Status::Nothing;
    for problem in &old.problems {
        complain(&problem.to_string());
        status = Status::CouldNot;
    }
    let report = Report::of([(&old, Known::default())], wish);
    let compared = compare(&old.snapshot, &room.snapshot, &|_| true);
    let renamed: HashMap<String, &Named> = compared
        .cards
        .iter()
        .filter_map(|change| {
            let was = head_words(change.card.kind, change.old_name.as_deref()?);
            Some((was, &change.card))
        })
        .collect();
    for told in report.told {
        // A card that was renamed since then keeps its findings.
        there.add(match renamed.get(&told.mark.card) {
            Some(Named {
                kind: Some(kind),
                name,
                ..
            }) => told.mark.renamed(*kind, name),
            _ => told.mark,
        });
    }
    Ok((there, status))
}

/// The catalogues asked about; none when standard input could not be read, which is told.
fn rooms(asked: &Proofread, today: Date) -> Option<Rooms> {
    if asked.demo {
        return Some(Rooms {
            rooms: vec![room::demo(today)],
            ..Rooms::default()
        });
    }
    match &asked.instead_of {
        Some(name) => {
            let text = standard_input(name)?;
            let stood = Stood {
                path: name.clone(),
                text,
            };
            Some(Rooms {
                rooms: vec![room::open_around(stood, today)],
                ..Rooms::default()
            })
        }
        None => {
            let folder = asked.folder.as_slice();
            let paths = if asked.paths.is_empty() {
                folder
            } else {
                &asked.paths
            };
            Some(room::open(paths, today))
        }
    }
}

/// All of standard input; none when it is too long or no text, which is told.
pub fn standard_input(name: &Path) -> Option<String> {
    let largest = Rules::default().largest;
    let mut bytes = Vec::new();
    let read = io::stdin()
        .lock()
        .take(largest.saturating_add(1))
        .read_to_end(&mut bytes);
    let name = name.display();
    let why = match read {
        Err(error) => format!("it could not be read: {error}"),
        Ok(length) if length as u64 > largest => "it is longer than a catalog's file may be".to_owned(),
        Ok(_) => match String::from_utf8(bytes) {
            Ok(text) => return Some(text),
            Err(_) => "it is not UTF-8 text".to_owned(),
        },
    };
    complain(&format!(
        "Standard input, which stands for \"{name}\", cannot be used: {why}."
    ));
    None
}

/// The known findings of a catalogue. Where their file is not as it was written, that is told.
fn known_of(room: &Room) -> (Known, Status) {
    match room.known() {
        Ok(known) => (known, Status::Nothing),
        Err(words) => {
            complain(&words);
            (Known::default(), Status::CouldNot)
        }
    }
}

fn record_known(rooms: &Rooms, out: &mut dyn Write) -> io::Result<Status> {
    let mut status = Status::Nothing;
    for room in &rooms.rooms {
        let wish = Wish {
            least: Severity::Hint,
            all: true,
        };
        let report = Report::of([(room, Known::default())], wish);
        if !report.problems.is_empty() {
            for problem in &report.problems {
                complain(&problem.to_string());
            }
            status = Status::CouldNot;
        }
        let Some(path) = room.known_file() else { continue };
        if let Some(why) = room.is_a_part() {
            complain(&format!(
                "Nothing was written down as known: {why}. Take care of that first."
            ));
            continue;
        }
        let mut known = Known::default();
        for told in report.told {
            known.add(told.mark);
        }
        let root = path.parent().unwrap_or(&path);
        let written = disk::stays_inside(root, &path)
            .and_then(|()| disk::write_atomically(&path, known.write().as_bytes()));
        match written {
            Ok(()) => writeln!(
                out,
                "{} written down as known in {}. From now on only new ones are reported.",
                count(known.len(), "finding is", "findings are"),
                wrap::plain(&room::shown(&path))
            )?,
            Err(problem) => {
                complain(&problem.to_string());
                status = Status::CouldNot;
            }
        }
    }
    Ok(status)
}

fn show_corrections(rooms: &Rooms, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let mut status = Status::Nothing;
    let mut any = false;
    for room in &rooms.rooms {
        let (now, ended) = corrections(room);
        status = status.max(ended);
        for (sheet, text) in room.sheets.iter().zip(&now.texts) {
            let shown = diff::show(&sheet.shown, &sheet.text, text, paint);
            if !shown.is_empty() {
                if any {
                    writeln!(out)?;
                }
                any = true;
                out.write_all(shown.as_bytes())?;
            }
        }
        for problem in &room.problems {
            complain(&problem.to_string());
            status = Status::CouldNot;
        }
    }
    match any {
        true => Ok(status.max(Status::Found)),
        false => {
            writeln!(out, "There is nothing to correct without a decision from you.")?;
            Ok(status)
        }
    }
}

/// The catalogue's texts with its corrections; as they are, and it is told why, where only a part of the catalogue
/// could be read or the known findings could not.
fn corrections(room: &Room) -> (Corrected, Status) {
    let why = room.is_a_part().or_else(|| room.known().err());
    if let Some(why) = why {
        complain(&format!(
            "Nothing was corrected: {}. Take care of that first.",
            why.trim_end_matches('.')
        ));
        return (Corrected::none(room), Status::CouldNot);
    }
    let (known, status) = known_of(room);
    (corrected(room, &known), status)
}

/// Prints what came from standard input with its corrections, unchanged where there is nothing to correct.
fn correct_to_output(rooms: &Rooms, out: &mut dyn Write) -> io::Result<Status> {
    let mut status = Status::Nothing;
    for room in &rooms.rooms {
        for problem in &room.problems {
            complain(&problem.to_string());
        }
        let (now, ended) = corrections(room);
        status = status.max(ended);
        for (sheet, text) in room.sheets.iter().zip(&now.texts) {
            if sheet.asked {
                out.write_all(text.as_bytes())?;
            }
        }
    }
    Ok(status)
}

/// Corrects the files and says so on standard error; the catalogues then hold what was written.
fn correct_files(rooms: &mut Rooms) -> Status {
    let mut status = Status::Nothing;
    let (mut repairs, mut files) = (0usize, 0usize);
    for room in &mut rooms.rooms {
        let (now, ended) = corrections(room);
        status = status.max(ended);
        for ((sheet, text), made) in room.sheets.iter_mut().zip(now.texts).zip(now.repairs) {
            let Some(read) = sheet.read.as_mut().filter(|read| read.text != text) else {
                continue;
            };
            match disk::write_if_unchanged(&read.path, &read.bytes(&read.text), &read.bytes(&text)) {
                Ok(()) => {
                    repairs = repairs.saturating_add(made);
                    files = files.saturating_add(1);
                    read.text = Arc::clone(&text);
                    sheet.text = text;
                }
                Err(problem) => {
                    complain(&problem.to_string());
                    status = Status::CouldNot;
                }
            }
        }
        let texts: Vec<Arc<str>> = room.sheets.iter().map(|sheet| sheet.text.clone()).collect();
        room.snapshot = room.with_texts(&texts);
    }
    if repairs > 0 {
        complain(&format!(
            "{} made in {}.",
            count(repairs, "correction", "corrections"),
            count(files, "file", "files")
        ));
    }
    status
}
