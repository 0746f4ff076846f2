//! `levare start`: writes a new catalogue to fill in, or the demo year.

use std::io::{self, Write};
use std::path::Path;

use super::args::Start;
use super::color::Paint;
use super::report::cards::count;
use super::{Status, complain, demo, room, wrap};
use crate::disk;

/// The small catalogue to fill in: paths below its folder, and texts.
pub const STARTER: &[(&str, &str)] = &[
    ("handbook.levare", include_str!("start/handbook.levare")),
    ("band.levare", include_str!("start/band.levare")),
    ("pieces.levare", include_str!("start/pieces.levare")),
    ("concerts.levare", include_str!("start/concerts.levare")),
];

/// Runs the command. Nothing that is there already is ever written over.
pub fn run(asked: &Start, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let files = if asked.demo { demo::FILES } else { STARTER };
    let folder = disk::settled(&asked.folder);
    let there = files
        .iter()
        .map(|(name, _)| folder.join(name))
        .find(|path| path.symlink_metadata().is_ok());
    if let Some(there) = there {
        complain(&format!(
            "\"{}\" is there already, and nothing is written over. Name another folder: levare start FOLDER.",
            room::shown(&there)
        ));
        return Ok(Status::CouldNot);
    }
    if let Some(around) = disk::catalogue_root(&folder) {
        complain(&format!(
            "This folder lies in the catalogue of \"{}\". A catalogue inside another would be read apart from it. Name a folder elsewhere: levare start FOLDER.",
            room::shown(&around)
        ));
        return Ok(Status::CouldNot);
    }
    for (name, text) in files {
        if let Err(problem) = write(&folder.join(name), text) {
            complain(&problem.to_string());
            return Ok(Status::CouldNot);
        }
    }
    let width = wrap::width();
    let mut say = |words: &str| -> io::Result<()> {
        for line in wrap::lines(&wrap::plain(words), width, 0) {
            writeln!(out, "{line}")?;
        }
        Ok(())
    };
    let here = std::env::current_dir().is_ok_and(|here| here == folder);
    let place = room::shown(&folder);
    say(&format!(
        "{} written to {}:",
        count(files.len(), "file is", "files are"),
        if here { "this folder" } else { &place }
    ))?;
    for (name, _) in files {
        writeln!(out, "  {}", paint.bold(name))?;
    }
    writeln!(out)?;
    let path = match here {
        true => String::new(),
        false => format!(" \"{place}\""),
    };
    if asked.demo {
        let day = demo::day();
        writeln!(
            out,
            "What to do next: levare proofread{path} --today {day}\nThat is the day on which this year is meant to be read."
        )?;
    } else {
        writeln!(
            out,
            "What to do next:\n  1. Open band.levare and write how many players you have.\n  2. Open pieces.levare and write down one piece you know well.\n  3. levare proofread{path}"
        )?;
    }
    Ok(Status::Nothing)
}

fn write(path: &Path, text: &str) -> Result<(), disk::DiskProblem> {
    if let Some(folder) = path.parent() {
        disk::make_folder(folder)?;
    }
    disk::write_atomically(path, text.as_bytes())
}
