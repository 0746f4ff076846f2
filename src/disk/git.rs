//! The only door to version control: the `git` program, asked for what a catalogue was at a commit.
//!
//! Whoever keeps a catalogue under git has the program, and it alone knows all that its repositories may hold
//! (packs, worktrees, sparse and partial clones, settings of the user and of the folder).

use std::ffi::OsStr;
use std::fmt;
use std::io::{Seek, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use super::read::decode;
use super::root::HANDBOOK;
use super::{DiskProblem, FileRead, Rules};

/// What a catalogue was at a commit.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Past {
    /// Its files, by their paths below the catalogue's folder with `/` between folders, in the order of the paths.
    pub files: Vec<(String, FileRead)>,
    /// Files that could not be used.
    pub problems: Vec<DiskProblem>,
}

/// Why git gave no answer. Its `Display` is one paragraph: what is wrong, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum GitProblem {
    /// There is no such program.
    NotInstalled,
    /// The folder is under no version control.
    NoHistory(PathBuf),
    /// There is no such commit.
    NoCommit(String),
    /// It said something else.
    Said(String),
}

impl fmt::Display for GitProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            GitProblem::NotInstalled => f.write_str(
                "The program git was not found, and only it knows what your catalog was before. Install git, and ask again.",
            ),
            GitProblem::NoHistory(folder) => write!(
                f,
                "\"{}\" is not kept under git, so nothing is known of what it was before. Go to the folder of your catalog, or name two folders to compare.",
                folder.display()
            ),
            GitProblem::NoCommit(name) => write!(
                f,
                "Git knows no commit called \"{name}\" here, so there is nothing to compare with. Try HEAD, the name of a branch, or HEAD~1 for the commit before the last.",
            ),
            GitProblem::Said(words) => write!(
                f,
                "Git could not tell what the catalog was before: {}. Try git status in that folder, and ask again.",
                words.trim().trim_end_matches('.')
            ),
        }
    }
}

impl std::error::Error for GitProblem {}

/// The files that the catalogue in a folder had at a commit.
///
/// # Errors
/// When there is no git, no repository or no such commit.
pub fn at_commit(root: &Path, commit: &str, rules: &Rules) -> Result<Past, GitProblem> {
    if !ask(root, ["rev-parse", "--is-inside-work-tree"])?
        .status
        .success()
    {
        return Err(GitProblem::NoHistory(root.to_path_buf()));
    }
    let wanted = format!("{commit}^{{commit}}");
    let found = ask(
        root,
        ["rev-parse", "--verify", "--quiet", "--end-of-options", &wanted],
    )?;
    let found = String::from_utf8_lossy(&found.stdout).trim().to_owned();
    if found.is_empty() && commit == "HEAD" && is_unborn(root)? {
        // Nothing has been committed yet, so nothing was there before.
        return Ok(Past::default());
    }
    if found.is_empty() {
        return Err(GitProblem::NoCommit(commit.to_owned()));
    }
    // Only what lies below the folder is listed, by its path from there.
    let listed = heard(ask(root, ["ls-tree", "-r", "-z", "-l", &found])?)?;
    let files = of_catalogue(&listed, rules);
    let mut past = Past::default();
    let contents = contents(root, files.iter().map(|file| file.id.as_str()))?;
    for (file, bytes) in files.into_iter().zip(contents) {
        match decode(&root.join(&file.path), bytes) {
            Ok(read) => past.files.push((file.path, read)),
            Err(problem) => past.problems.push(problem),
        }
    }
    past.files.sort_by(|(one, _), (other, _)| one.cmp(other));
    Ok(past)
}

/// The catalogue in a folder as both sides of a merge started from it, as we had it and as the other side had it;
/// none where no merge is under way.
///
/// # Errors
/// When there is no git, no repository, or what both started from is not known.
pub fn sides_of_merge(root: &Path, rules: &Rules) -> Result<Option<[Past; 3]>, GitProblem> {
    if !ask(root, ["rev-parse", "--is-inside-work-tree"])?
        .status
        .success()
    {
        return Err(GitProblem::NoHistory(root.to_path_buf()));
    }
    let other = ask(root, ["rev-parse", "--verify", "--quiet", "MERGE_HEAD"])?;
    if !other.status.success() {
        return Ok(None);
    }
    let base = heard(ask(root, ["merge-base", "HEAD", "MERGE_HEAD"])?)?;
    let base = String::from_utf8_lossy(&base).trim().to_owned();
    Ok(Some([
        at_commit(root, &base, rules)?,
        at_commit(root, "HEAD", rules)?,
        at_commit(root, "MERGE_HEAD", rules)?,
    ]))
}

/// One file of the catalogue in a folder as it was at a commit, by its path below the folder; none where there was
/// no such file, or nothing has been committed yet.
///
/// # Errors
/// When there is no git.
pub fn file_at_commit(
    root: &Path,
    commit: &str,
    name: &str,
    rules: &Rules,
) -> Result<Option<FileRead>, GitProblem> {
    let wanted = format!("{commit}:./{name}");
    let found = ask(root, ["cat-file", "blob", &wanted])?;
    let fits = u64::try_from(found.stdout.len()).is_ok_and(|size| size <= rules.largest);
    Ok(match found.status.success() && fits {
        true => decode(&root.join(name), found.stdout).ok(),
        false => None,
    })
}

/// Whether a folder that may not be there yet lies in one that is kept under git; no program is asked.
pub fn is_under_git(folder: &Path) -> bool {
    folder.ancestors().any(|above| above.join(".git").exists())
}

/// Where the program that git starts before a commit belongs; none where the user keeps such programs for all
/// folders in one place, which is none of ours to change.
///
/// # Errors
/// When there is no git or no repository.
pub fn hook_before_commit(folder: &Path) -> Result<Option<PathBuf>, GitProblem> {
    if !ask(folder, ["rev-parse", "--is-inside-work-tree"])?
        .status
        .success()
    {
        return Err(GitProblem::NoHistory(folder.to_path_buf()));
    }
    if ask(folder, ["config", "--get", "core.hooksPath"])?
        .status
        .success()
    {
        return Ok(None);
    }
    let path = heard(ask(folder, ["rev-parse", "--git-path", "hooks/pre-commit"])?)?;
    let path = String::from_utf8_lossy(&path);
    Ok(Some(folder.join(path.trim_end_matches(['\r', '\n']))))
}

/// The folder's path below the top of what git keeps, with `/` between folders; empty for the top.
///
/// # Errors
/// When there is no git or no repository.
pub fn below_the_top(folder: &Path) -> Result<String, GitProblem> {
    let prefix = heard(ask(folder, ["rev-parse", "--show-prefix"])?)?;
    let prefix = String::from_utf8_lossy(&prefix);
    Ok(prefix
        .trim_end_matches(['\r', '\n'])
        .trim_end_matches('/')
        .to_owned())
}

/// Writes a setting of the repository that a folder is in.
///
/// # Errors
/// When there is no git, no repository, or it could not be written.
pub fn set(folder: &Path, name: &str, value: &str) -> Result<(), GitProblem> {
    heard(ask(folder, ["config", "--local", name, value])?).map(|_| ())
}

/// Whether nothing has been committed yet on the branch that is checked out.
fn is_unborn(root: &Path) -> Result<bool, GitProblem> {
    let head = heard(ask(root, ["symbolic-ref", "--quiet", "HEAD"])?);
    let branch = head.map(|name| String::from_utf8_lossy(&name).trim().to_owned());
    Ok(match branch {
        Ok(name) => !ask(root, ["show-ref", "--verify", "--quiet", &name])?
            .status
            .success(),
        Err(_) => false,
    })
}

/// A file as git lists it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Listed {
    id: String,
    path: String,
}

/// The files of a listing that belong to the catalogue in its folder: `.levare` files that are no links, not hidden,
/// not too large, and in no folder below that has a handbook of its own.
fn of_catalogue(listed: &[u8], rules: &Rules) -> Vec<Listed> {
    let text = String::from_utf8_lossy(listed);
    let entries = text.split('\0').filter_map(|entry| {
        let (about, path) = entry.split_once('\t')?;
        let about: Vec<&str> = about.split_whitespace().collect();
        match about.as_slice() {
            ["100644" | "100755", "blob", id, size] => Some((*id, size.parse::<u64>().ok()?, path)),
            _ => None,
        }
    });
    let entries: Vec<(&str, u64, &str)> = entries.collect();
    let others: Vec<&str> = entries
        .iter()
        .filter_map(|(_, _, path)| path.rsplit_once('/'))
        .filter(|(_, name)| name.eq_ignore_ascii_case(HANDBOOK))
        .map(|(folder, _)| folder)
        .collect();
    let belongs = |path: &str| {
        let hidden = path.split('/').any(|part| part.starts_with('.'));
        let name = Path::new(path);
        let ours = name.extension() == Some(OsStr::new("levare"));
        let elsewhere = others.iter().any(|folder| {
            let below = path.strip_prefix(folder);
            below.is_some_and(|rest| rest.starts_with('/'))
        });
        ours && !hidden && !elsewhere
    };
    let ours = entries
        .into_iter()
        .filter(|(_, size, path)| *size <= rules.largest && belongs(path));
    ours.take(rules.most_files)
        .map(|(id, _, path)| Listed {
            id: id.to_owned(),
            path: path.to_owned(),
        })
        .collect()
}

/// What files hold, by their ids, in that order.
fn contents<'i>(root: &Path, ids: impl Iterator<Item = &'i str>) -> Result<Vec<Vec<u8>>, GitProblem> {
    let trouble = |error: std::io::Error| GitProblem::Said(error.to_string());
    // From a file, so that nobody waits for the other to read.
    let mut wanted = tempfile::tempfile().map_err(trouble)?;
    let mut count = 0usize;
    for id in ids {
        writeln!(wanted, "{id}").map_err(trouble)?;
        count += 1;
    }
    wanted.rewind().map_err(trouble)?;
    let mut command = command(root);
    command.args(["cat-file", "--batch"]).stdin(Stdio::from(wanted));
    let answer = heard(run(command)?)?;
    let mut rest = answer.as_slice();
    let mut found = Vec::new();
    for _ in 0..count {
        let (bytes, after) =
            one_content(rest).ok_or_else(|| GitProblem::Said("a file is missing".to_owned()))?;
        found.push(bytes.to_vec());
        rest = after;
    }
    Ok(found)
}

/// One answer of `cat-file`: a line with the size, so many bytes, and a line break.
fn one_content(answer: &[u8]) -> Option<(&[u8], &[u8])> {
    let end = answer.iter().position(|byte| *byte == b'\n')?;
    let (head, rest) = answer.split_at_checked(end)?;
    let head = std::str::from_utf8(head).ok()?;
    let size: usize = head.split(' ').nth(2)?.parse().ok()?;
    let (bytes, rest) = rest.get(1..)?.split_at_checked(size)?;
    Some((bytes, rest.get(1..)?))
}

fn command(folder: &Path) -> Command {
    let mut command = Command::new("git");
    command.current_dir(folder).stdin(Stdio::null());
    // Inside a hook these lead elsewhere than to the folder's own repository.
    for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX"] {
        command.env_remove(name);
    }
    // Nothing of the folder's settings is to be started, and nothing written.
    command
        .args(["--no-optional-locks", "-c", "core.fsmonitor=false"])
        .env("LC_ALL", "C");
    command
}

fn ask<'a>(folder: &Path, arguments: impl IntoIterator<Item = &'a str>) -> Result<Output, GitProblem> {
    let mut command = command(folder);
    command.args(arguments);
    run(command)
}

fn run(mut command: Command) -> Result<Output, GitProblem> {
    command.output().map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => GitProblem::NotInstalled,
        _ => GitProblem::Said(error.to_string()),
    })
}

fn heard(output: Output) -> Result<Vec<u8>, GitProblem> {
    match output.status.success() {
        true => Ok(output.stdout),
        false => Err(GitProblem::Said(
            String::from_utf8_lossy(&output.stderr)
                .lines()
                .next()
                .unwrap_or("it does not say why")
                .to_owned(),
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn which_files_of_a_listing_belong() {
        let listing = "100644 blob aa 10\tfall.levare\x00100644 blob bb 10\tother/handbook.levare\x00100644 blob cc 10\tother/x.levare\x00120000 blob dd 10\tlink.levare\x00100644 blob ee 10\t.hidden/x.levare\x00100644 blob ff 99\tbig.levare\x00100644 blob gg 10\tnotes.txt\x00100755 blob hh 10\tgrade 7/b.levare\x00";
        let rules = Rules {
            largest: 50,
            ..Rules::default()
        };
        let files: Vec<String> = of_catalogue(listing.as_bytes(), &rules)
            .into_iter()
            .map(|file| file.path)
            .collect();
        assert_eq!(files, ["fall.levare", "grade 7/b.levare"]);
    }

    #[test]
    fn answers_fall_into_their_files() {
        let answer = b"aa blob 3\na\nb\nbb blob 0\n\n";
        let (first, rest) = one_content(answer).expect("one");
        assert_eq!(first, b"a\nb");
        assert_eq!(one_content(rest), Some((&b""[..], &b""[..])));
        assert_eq!(one_content(b"aa missing\n"), None);
    }
}
