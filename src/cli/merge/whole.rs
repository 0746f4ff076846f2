//! A merge of a whole catalogue that git has begun: cards that one side moved to another file take the other side's
//! changes along, which git, asking file by file, cannot see.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::{listed, same_thing};
use crate::cli::{Status, complain, room, wrap};
use crate::comparing::merge::{Clash, Files, merge, merge_all};
use crate::disk::{self, FileRead, Past, Rules};
use crate::text::Ending;
use crate::text::sentences::{counted, joined};

/// What is to become of a file.
struct Step {
    path: PathBuf,
    /// What is there now.
    now: Option<FileRead>,
    /// What is to be there.
    text: Option<String>,
    clashes: Vec<Clash>,
}

/// Puts the catalogue of a folder together, and writes what that changes.
pub fn run(folder: &Path, out: &mut dyn Write) -> io::Result<Status> {
    let steps = match planned(folder) {
        Ok(steps) => steps,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let mut written = Vec::new();
    // What comes is written before what goes is taken away, so that nothing is ever nowhere.
    let (comes, goes): (Vec<&Step>, Vec<&Step>) = steps
        .iter()
        .filter(|step| step.is_news())
        .partition(|step| step.text.is_some());
    for step in comes.into_iter().chain(goes) {
        if let Err(problem) = step.make() {
            complain(&problem.to_string());
            return Ok(Status::CouldNot);
        }
        written.push(room::shown(&step.path));
    }
    let mut status = Status::Nothing;
    for step in steps.iter().filter(|step| !step.clashes.is_empty()) {
        complain(&same_thing(step.clashes.len(), &room::shown(&step.path)));
        for clash in &step.clashes {
            complain(&listed(clash));
        }
        status = Status::Found;
    }
    let said = match written.as_slice() {
        [] => "The whole catalog is put together already; nothing was written.".to_owned(),
        names if status == Status::Nothing => format!(
            "Put together: {}. Look {} over, then tell git with git add and git commit.",
            joined(names),
            if names.len() == 1 { "it" } else { "them" }
        ),
        names => format!(
            "Put together: {}. Settle what is between marks, then tell git with git add and git commit.",
            joined(names)
        ),
    };
    for line in wrap::lines(&wrap::plain(&said), wrap::width(), 0) {
        writeln!(out, "{line}")?;
    }
    Ok(status)
}

/// What is to become of each file. What is wrong is told in words, and then nothing is written.
fn planned(folder: &Path) -> Result<Vec<Step>, String> {
    let (root, _) = room::around(folder)?;
    let rules = Rules::of(&root, crate::catalogue::largest_file);
    let sides = disk::sides_of_merge(&root, &rules).map_err(|problem| problem.to_string())?;
    let Some(sides) = sides else {
        return Err(
            "Git has no merge under way in this folder, so there is nothing to put together. Name three files (the one that both started from, yours, the other's), or type this after git merge has stopped."
                .to_owned(),
        );
    };
    if let Some(problem) = sides.iter().flat_map(|side| &side.problems).next() {
        return Err(problem.to_string());
    }
    let [base, ours, theirs] = sides.map(texts);
    let mut steps = Vec::new();
    let mut by_hand = Vec::new();
    for (name, merged) in merge_all(&base, &ours, &theirs) {
        let path = root.join(&name);
        disk::stays_inside(&root, &path).map_err(|problem| problem.to_string())?;
        let now = match path.exists() {
            true => Some(disk::read_file(&path, &rules).map_err(|problem| problem.to_string())?),
            false => None,
        };
        let (text, clashes) = match merged {
            Some(merged) => (Some(merged.text), merged.clashes),
            None => (None, Vec::new()),
        };
        let step = Step {
            path,
            now,
            text,
            clashes,
        };
        if step.is_news() && !step.is_as_left([&base, &ours, &theirs].map(|side| side.get(&name))) {
            by_hand.push(room::shown(&step.path));
        }
        steps.push(step);
    }
    match by_hand.is_empty() {
        true => Ok(steps),
        false => Err(format!(
            "{} {} something that neither side committed, and it would be lost, so nothing was written. If it may go, type git checkout --ours and the name of the file, and ask again; else finish {} by hand.",
            joined(&by_hand),
            if by_hand.len() == 1 { "holds" } else { "hold" },
            counted(by_hand.len(), "file"),
        )),
    }
}

fn texts(side: Past) -> Files {
    let files = side.files.into_iter();
    files
        .map(|(name, read)| (name, plain(&read.text)))
        .collect::<BTreeMap<_, _>>()
}

/// The text whatever its lines end with.
fn plain(text: &str) -> String {
    Ending::Lf.rewrite(text)
}

impl Step {
    /// Whether something else is to stand there than now.
    fn is_news(&self) -> bool {
        self.now.as_ref().map(|now| plain(&now.text)) != self.text
    }

    /// Whether the file is as a side committed it, or as a merge of this file alone leaves it.
    fn is_as_left(&self, sides: [Option<&String>; 3]) -> bool {
        let now = self.now.as_ref().map(|now| plain(&now.text));
        let [base, ours, theirs] = sides.map(|side| side.map_or("", String::as_str));
        let alone = merge(base, ours, theirs).text;
        match now {
            None => true,
            Some(now) => {
                [base, ours, theirs, &alone].contains(&now.as_str())
                    || without_names(&now) == without_names(&alone)
            }
        }
    }

    fn make(&self) -> Result<(), disk::DiskProblem> {
        match (&self.now, &self.text) {
            (Some(now), Some(text)) => {
                let text = Ending::of(&now.text).rewrite(text);
                disk::write_if_unchanged(&self.path, &now.bytes(&now.text), &now.bytes(&text))
            }
            (None, Some(text)) => {
                if let Some(folder) = self.path.parent() {
                    disk::make_folder(folder)?;
                }
                disk::write_atomically(&self.path, text.as_bytes())
            }
            (Some(now), None) => disk::remove_if_unchanged(&self.path, &now.bytes(&now.text)),
            (None, None) => Ok(()),
        }
    }
}

/// The text with its marks, whichever names git gives the two sides.
fn without_names(text: &str) -> String {
    let lines = text.lines().map(|line| match line.get(..8) {
        Some(mark @ ("<<<<<<< " | ">>>>>>> ")) => mark,
        _ => line,
    });
    lines.collect::<Vec<_>>().join("\n")
}
