//! `levare merge`: two people's changes put together: of one file, as git asks for it or by hand, or of a whole
//! catalogue, once git has stopped in a merge.

mod whole;

use std::io::{self, Write};
use std::path::Path;

use super::args::Merge;
use super::report::cards::count;
use super::{Status, complain, room, wrap};
use crate::catalogue::known::{self, Known};
use crate::comparing::merge::{Clash, Merged, merge};
use crate::disk::{self, FileRead, Rules};

/// Runs the command.
pub fn run(asked: &Merge, out: &mut dyn Write) -> io::Result<Status> {
    let [_, our_path, _] = asked.files.as_slice() else {
        let folder = asked.folder.as_deref();
        return whole::run(folder.unwrap_or(Path::new(".")), out);
    };
    let rules = Rules {
        largest: known::LARGEST,
        ..Rules::default()
    };
    let mut read = Vec::new();
    for path in &asked.files {
        match disk::read_file(path, &rules) {
            Ok(file) => read.push(file),
            Err(problem) => {
                complain(&problem.to_string());
                return Ok(Status::CouldNot);
            }
        }
    }
    let [base, ours, theirs] = read.as_slice() else {
        return Ok(Status::CouldNot);
    };
    let merged = put_together(base, ours, theirs);
    let bytes = ours.bytes(&merged.text);
    match &asked.to {
        None => out.write_all(&bytes)?,
        Some(path) => {
            let written = if disk::settled(path) == disk::settled(our_path) {
                disk::write_if_unchanged(path, &ours.bytes(&ours.text), &bytes)
            } else if path.symlink_metadata().is_ok() {
                complain(&format!(
                    "\"{}\" is there already, and only OURS is written over. Name another file after --to.",
                    path.display()
                ));
                return Ok(Status::CouldNot);
            } else {
                disk::write_atomically(path, &bytes)
            };
            if let Err(problem) = written {
                complain(&problem.to_string());
                return Ok(Status::CouldNot);
            }
        }
    }
    if merged.clashes.is_empty() {
        return Ok(Status::Nothing);
    }
    let name = asked.called.clone().unwrap_or_else(|| room::shown(our_path));
    complain(&same_thing(merged.clashes.len(), &name));
    for clash in &merged.clashes {
        complain(&listed(clash));
    }
    Ok(Status::Found)
}

/// What is told before the clashes of a file are listed.
fn same_thing(clashes: usize, name: &str) -> String {
    format!(
        "You and somebody else changed the same {} in \"{name}\" in different ways. Both versions are in the file between marks: keep the one that is right, and take out the other and the marks.",
        match clashes {
            1 => "thing".to_owned(),
            many => count(many, "thing", "things"),
        }
    )
}

/// The known findings are one list, whoever added to it; all other files hold cards.
fn put_together(base: &FileRead, ours: &FileRead, theirs: &FileRead) -> Merged {
    let known = |file: &FileRead| match file.text.trim() {
        // What both added has no file to start from.
        "" => Some(Known::default()),
        _ => Known::read(&file.text).ok(),
    };
    let lists = ours.text.trim_start().starts_with('{') && theirs.text.trim_start().starts_with('{');
    if lists && let (Some(base), Some(ours), Some(theirs)) = (known(base), known(ours), known(theirs)) {
        return Merged {
            text: Known::put_together(&base, &ours, &theirs).write(),
            clashes: Vec::new(),
        };
    }
    merge(&base.text, &ours.text, &theirs.text)
}

/// One clash in a line.
fn listed(clash: &Clash) -> String {
    let place = match (clash.card.is_empty(), clash.about.is_empty()) {
        (true, _) => "above the first card".to_owned(),
        (false, true) => clash.card.clone(),
        (false, false) => format!("{}, {}", clash.card, clash.about),
    };
    let side = |lines: &[String]| match lines {
        [] => "taken out".to_owned(),
        [one] => {
            let words = one.split_whitespace().collect::<Vec<_>>().join(" ");
            format!("\"{}\"", words.trim_end_matches('.'))
        }
        more => count(more.len(), "line", "lines"),
    };
    let line = format!(
        "Line {}: {place}: {} or {}.",
        clash.line,
        side(&clash.ours),
        side(&clash.theirs)
    );
    wrap::plain(&line)
}
