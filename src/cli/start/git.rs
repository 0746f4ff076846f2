//! What git is told of a catalogue: how its cards are merged and shown, and what is looked at before a commit.

use std::io::{self, Write};
use std::path::Path;

use super::super::{Status, complain, room, wrap};
use crate::catalogue::known;
use crate::disk::{self, GitProblem, Rules};
use crate::notation::Kind;

/// The file beside the handbook in which git looks up how a file is shown and merged.
const ATTRIBUTES: &str = ".gitattributes";

/// A title, or a stretch without blanks and commas, is one word: `"Harbor Parade"`, `A3-C5`, `17-24`.
const WORDS: &str = "\"[^\"]*\"|[^[:space:],\"]+|[,\"]";

/// The line by which a hook of ours is known again.
const MARK: &str = "# Written by levare start --git.";

/// Sets up the repository around a catalogue, and says what was done. What is there already stays.
pub fn run(root: &Path, out: &mut dyn Write) -> io::Result<Status> {
    match set_up(root) {
        Ok(done) => {
            for words in done {
                for line in wrap::lines(&wrap::plain(&words), wrap::width(), 0) {
                    writeln!(out, "{line}")?;
                }
            }
            Ok(Status::Nothing)
        }
        Err(words) => {
            complain(&words);
            Ok(Status::CouldNot)
        }
    }
}

fn set_up(root: &Path) -> Result<Vec<String>, String> {
    let told = |problem: GitProblem| problem.to_string();
    // Asked first, so that nothing is written where there is no repository.
    let hook = disk::hook_before_commit(root).map_err(told)?;
    let mut done = vec![attributes(root)?];
    let program = program();
    let kinds: Vec<&str> = Kind::ALL.iter().map(|kind| kind.word()).collect();
    let settings = [
        (
            "diff.levare.xfuncname",
            format!("^(({})([[:blank:]].*)?)$", kinds.join("|")),
        ),
        ("diff.levare.wordRegex", WORDS.to_owned()),
        (
            "merge.levare.name",
            "cards put together by field, row and item".to_owned(),
        ),
        (
            "merge.levare.driver",
            // Where it cannot do its work, as on a file that is no text, git puts the lines together as ever.
            format!(
                "{program} merge %O %A %B --to %A --called %P; s=$?; test $s -lt 2 && exit $s; git merge-file -L ours -L base -L theirs %A %O %B"
            ),
        ),
    ];
    for (name, value) in &settings {
        disk::set(root, name, value).map_err(told)?;
    }
    done.push(
        "From now on git merges cards by field, row and item in this folder, shows the card's title above each change, and keeps titles and ranges whole in git diff --word-diff. This holds on this computer: everybody who works on the catalog types levare start --git once."
            .to_owned(),
    );
    done.push(match hook {
        None => "Your git looks for its hooks in a folder of your own, so none was written.".to_owned(),
        Some(path) if path.symlink_metadata().is_ok() => {
            let there = disk::read_bytes(&path, Rules::default().largest).unwrap_or_default();
            let wanted = script(root, &program);
            let is_ours = String::from_utf8_lossy(&there).contains(MARK);
            if there == wanted.as_bytes() {
                "Before each commit the catalog is proofread, as it was already.".to_owned()
            } else if is_ours {
                // Written when the program or the folder was elsewhere.
                disk::write_if_unchanged(&path, &there, wanted.as_bytes())
                    .map_err(|problem| problem.to_string())?;
                "Before each commit the catalog is proofread, now by this program.".to_owned()
            } else {
                format!(
                    "\"{}\" is there already and was left alone. To proofread before each commit, write into it: {program} proofread --since HEAD --least warning",
                    room::shown(&path)
                )
            }
        }
        Some(path) => {
            disk::write_program(&path, &script(root, &program)).map_err(|problem| problem.to_string())?;
            "Before each commit the catalog is proofread: warnings that are new stop it, and git commit --no-verify commits all the same.".to_owned()
        }
    });
    Ok(done)
}

/// Writes the lines that are missing in the file of attributes.
fn attributes(root: &Path) -> Result<String, String> {
    let path = root.join(ATTRIBUTES);
    let wanted = [
        "*.levare diff=levare merge=levare".to_owned(),
        format!("{} merge=levare", known::FILE),
    ];
    let there = match path.symlink_metadata() {
        Ok(_) => Some(disk::read_file(&path, &Rules::default()).map_err(|problem| problem.to_string())?),
        Err(_) => None,
    };
    let text = there.as_ref().map_or("", |file| &file.text);
    let missing: Vec<&String> = wanted
        .iter()
        .filter(|line| !text.lines().any(|there| there.trim() == line.as_str()))
        .collect();
    if missing.is_empty() {
        return Ok(format!("{ATTRIBUTES} names the catalog's files already."));
    }
    let mut new = text.to_owned();
    if !new.is_empty() && !new.ends_with('\n') {
        new.push('\n');
    }
    for line in missing {
        new.push_str(line);
        new.push('\n');
    }
    let written = match &there {
        Some(file) => disk::write_if_unchanged(&path, &file.bytes(&file.text), &file.bytes(&new)),
        None => disk::write_atomically(&path, new.as_bytes()),
    };
    written.map_err(|problem| problem.to_string())?;
    Ok(format!(
        "{ATTRIBUTES} now names the catalog's files. Commit it with them."
    ))
}

/// This very program, as a shell is told of it.
fn program() -> String {
    let own = std::env::current_exe().map_or_else(|_| "levare".to_owned(), |path| path.display().to_string());
    quoted(&own)
}

fn quoted(words: &str) -> String {
    format!("'{}'", words.replace('\'', "'\\''"))
}

/// What git starts before a commit, at the top of what it keeps.
fn script(root: &Path, program: &str) -> String {
    let below = disk::below_the_top(root).unwrap_or_default();
    let folder = match below.as_str() {
        "" => ".",
        below => below,
    };
    format!(
        "#!/bin/sh\n{MARK} What is new since the last commit is proofread.\nif [ -z \"$(command -v {program})\" ]; then\n  echo 'Levare is no longer where it was, so nothing was proofread. Type levare start --git again.' >&2\n  exit 0\nfi\nexec {program} proofread --since HEAD --least warning {}\n",
        quoted(folder)
    )
}
