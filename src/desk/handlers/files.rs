//! Files that are renamed: the cards that name them are told.

use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::links::{self, Leads};
use crate::text::Edit;

use super::super::capabilities::Client;
use super::super::moment::{Moment, Stop};
use super::super::to_protocol;
use super::super::uri::Key;
use super::selecting::look_for;

/// Where a file is and where it will be.
#[derive(Debug, Clone)]
pub(in super::super) struct Move {
    from: PathBuf,
    to: PathBuf,
}

impl Move {
    /// What the client says of a file or a folder; none where either is none of this machine.
    pub(in super::super) fn of(renamed: &lsp::FileRename) -> Option<Move> {
        Some(Move {
            from: Key::new(&renamed.old_uri).path()?,
            to: Key::new(&renamed.new_uri).path()?,
        })
    }

    /// Both places.
    pub(in super::super) fn both(self) -> [PathBuf; 2] {
        [self.from, self.to]
    }

    /// Where a path will be; itself where it stays.
    fn after(moves: &[Move], path: &Path) -> PathBuf {
        let moved = moves.iter().find_map(|one| {
            let below = path.strip_prefix(&one.from).ok()?;
            Some(match below.as_os_str().is_empty() {
                true => one.to.clone(),
                false => one.to.join(below),
            })
        });
        moved.unwrap_or_else(|| path.to_path_buf())
    }
}

/// The edits that let every card name its files as they will be called.
pub(in super::super) fn renamed(
    moments: &[(Option<PathBuf>, Arc<Moment>)],
    moves: &[Move],
    can: &Client,
    stop: &Stop,
) -> Option<lsp::WorkspaceEdit> {
    let mut files = Vec::new();
    for (root, moment) in moments {
        for paper in &moment.papers {
            if stop.is_set() {
                return None;
            }
            let own = paper.key.path();
            let edits: Vec<lsp::TextEdit> = links::of_file(&paper.cards)
                .into_iter()
                .filter_map(|link| {
                    let Leads::File(name) = link.leads else {
                        return None;
                    };
                    let target = look_for(&name, own.as_deref(), root.as_deref())?;
                    let new = written(&name, &target, own.as_deref(), root.as_deref(), moves)?;
                    let edit = Edit::replace(link.span, new);
                    Some(to_protocol::edit(paper.sheet(), &edit, can.encoding))
                })
                .collect();
            if !edits.is_empty() {
                files.push((Arc::clone(paper), edits));
            }
        }
    }
    (!files.is_empty()).then(|| to_protocol::workspace_edits(files, can))
}

/// How a card is to name a file after the moves; none where the name stays right. A file named from its card's
/// own folder goes on being named from there, any other from the catalogue's folder.
fn written(
    name: &str,
    target: &Path,
    own: Option<&Path>,
    root: Option<&Path>,
    moves: &[Move],
) -> Option<String> {
    let beside = own
        .and_then(Path::parent)
        .filter(|folder| folder.join(name).is_file());
    let base = match beside {
        Some(_) => Move::after(moves, own?).parent()?.to_path_buf(),
        None => Move::after(moves, root?),
    };
    let new = relative(&base, &Move::after(moves, target))?;
    (plain(name) != new).then_some(new)
}

/// The name without steps that lead nowhere.
fn plain(name: &str) -> String {
    name.trim_start_matches("./").to_owned()
}

/// The path from a folder to a file, with `/` between folders; none where one is not below the same root.
fn relative(folder: &Path, file: &Path) -> Option<String> {
    let from: Vec<Component<'_>> = folder.components().collect();
    let to: Vec<Component<'_>> = file.components().collect();
    let same = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    if same == 0 {
        return None;
    }
    let up = from.len().saturating_sub(same);
    let mut parts: Vec<String> = vec!["..".to_owned(); up];
    for part in to.get(same..)? {
        parts.push(part.as_os_str().to_str()?.to_owned());
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn from_a_folder_to_a_file() {
        let table = [
            ("/c", "/c/scores/x.pdf", "scores/x.pdf"),
            ("/c/pieces", "/c/scores/x.pdf", "../scores/x.pdf"),
            ("/c/a/b", "/c/x.pdf", "../../x.pdf"),
        ];
        for (folder, file, wanted) in table {
            let found = relative(Path::new(folder), Path::new(file));
            assert_eq!(found.as_deref(), Some(wanted));
        }
    }
}
