//! `levare start`: writes a new catalogue to fill in, or the demo year.

mod git;

use std::io::{self, Write};
use std::path::Path;

use super::args::Start;
use super::color::Paint;
use super::report::cards::count;
use super::{Status, complain, demo, room, wrap};
use crate::catalogue::ready::STARTER;
use crate::disk::{self, HANDBOOK, Rules};

/// How a file of the set stands in the folder.
#[derive(Clone, Copy, PartialEq)]
enum Found {
    Missing,
    AsWritten,
    Other,
}

/// Runs the command. Nothing that is there already is ever written over; where a start was stopped midway,
/// the next one writes what is missing.
pub fn run(asked: &Start, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let files = if asked.demo { demo::FILES } else { STARTER };
    let folder = asked.folder.as_deref().or(asked.inside.as_deref());
    let folder = disk::settled(folder.unwrap_or(Path::new(".")));
    if asked.git {
        // Whoever has a catalogue wants no other one.
        let there = disk::catalogue_root(&folder);
        if let Some(root) = there.filter(|_| !asked.demo) {
            return git::run(&root, out);
        }
        if !disk::is_under_git(&folder) {
            complain("This folder is not kept under git. Type git init first, then levare start --git.");
            return Ok(Status::CouldNot);
        }
    }
    let found: Vec<Found> = files
        .iter()
        .map(|(name, text)| look(&folder.join(name), text))
        .collect();
    let those = |wanted: Found| -> Vec<&(&str, &str)> {
        let pairs = files.iter().zip(&found);
        pairs
            .filter(|(_, found)| **found == wanted)
            .map(|(file, _)| file)
            .collect()
    };
    if let Some((name, _)) = those(Found::Other).first() {
        complain(&format!(
            "\"{}\" is there already, and Levare writes over nothing. Name another folder: levare start FOLDER.",
            room::shown(&folder.join(name))
        ));
        return Ok(Status::CouldNot);
    }
    if let Some(around) = disk::catalogue_root(&folder).filter(|around| *around != folder) {
        complain(&format!(
            "This folder lies in the catalog of \"{}\". A catalog inside another is read apart from it. Name a folder somewhere else: levare start FOLDER.",
            room::shown(&around)
        ));
        return Ok(Status::CouldNot);
    }
    // The handbook makes a folder a catalogue, so it comes last.
    let mut missing: Vec<(&str, &[u8])> = those(Found::Missing)
        .iter()
        .map(|(name, text)| (*name, text.as_bytes()))
        .collect();
    missing.sort_by_key(|(name, _)| *name == HANDBOOK);
    if let Err(problem) = disk::put_together(&folder, &missing) {
        complain(&problem.to_string());
        return Ok(Status::CouldNot);
    }
    let width = wrap::width();
    let here = std::env::current_dir().is_ok_and(|here| here == folder);
    let shown = room::shown(&folder);
    let place = if here { "this folder" } else { &shown };
    let mut list = |words: String, names: Vec<&(&str, &str)>| -> io::Result<()> {
        if names.is_empty() {
            return Ok(());
        }
        for line in wrap::lines(&wrap::plain(&words), width, 0) {
            writeln!(out, "{line}")?;
        }
        for (name, _) in names {
            writeln!(out, "  {}", paint.bold(name))?;
        }
        writeln!(out)
    };
    let (there, written) = (those(Found::AsWritten), those(Found::Missing));
    list(
        format!(
            "{} in {place} already:",
            count(there.len(), "file is", "files are")
        ),
        there,
    )?;
    list(
        format!(
            "{} written to {place}:",
            count(written.len(), "file is", "files are")
        ),
        written,
    )?;
    let path = match here {
        true => String::new(),
        false => format!(" \"{shown}\""),
    };
    if asked.demo {
        let day = demo::day();
        writeln!(
            out,
            "What to do next: levare proofread{path} --today {day}\nThat is the day on which this year is meant to be read."
        )?;
    } else {
        let inside = if here {
            String::new()
        } else {
            format!(" --in{path}")
        };
        writeln!(
            out,
            "What to do next:\n  1. Open band.levare and write your own numbers over ours.\n  2. Open pieces.levare and type the five lines that it asks for.\n  3. levare proofread{path}\n  4. levare assign \"Drum Hill\"{inside} --as door --to door.html"
        )?;
    }
    match (asked.git, disk::is_under_git(&folder)) {
        (true, _) => {
            writeln!(out)?;
            git::run(&folder, out)
        }
        (false, true) => {
            writeln!(
                out,
                "\nThis folder is kept under git. levare start{path} --git teaches git to merge cards and to show them by their titles."
            )?;
            Ok(Status::Nothing)
        }
        (false, false) => Ok(Status::Nothing),
    }
}

/// What stands where a file of the set belongs.
fn look(path: &Path, text: &str) -> Found {
    if path.symlink_metadata().is_err() {
        return Found::Missing;
    }
    match disk::read_bytes(path, Rules::default().largest) {
        Ok(bytes) if bytes == text.as_bytes() => Found::AsWritten,
        _ => Found::Other,
    }
}
