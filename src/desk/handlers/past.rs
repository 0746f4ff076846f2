//! What changed on a card since the last commit, told where its name is hovered over.
//!
//! Editors mark lines that changed; what a change says is told here in words.

use std::path::Path;
use std::sync::Arc;

use crate::assist::Place;
use crate::assist::markdown::words;
use crate::catalogue::{CardFile, largest_file};
use crate::comparing::{Became, CardChange, itself, of_card, sentences};
use crate::disk::{Rules, at_commit, file_at_commit, is_under_git};
use crate::text::sentences::counted;

use super::super::moment::View;

/// So many changes are told; a hover is read at a glance.
const MOST: usize = 6;

/// What changed, as a list; none where the cursor is not on the card's first words, nothing changed, or the folder
/// is not kept under git.
pub(super) fn since_last_commit(root: &Path, view: &View, place: &Place<'_>) -> Option<String> {
    if !place.is_on_head() || !is_under_git(root) {
        return None;
    }
    let change = change(root, view, place)?;
    let mut told = itself(&change);
    told.extend(sentences(&change.changes));
    let more = told.len().saturating_sub(MOST);
    // One line more takes no more room than saying that there is one.
    if more > 1 {
        told.truncate(MOST);
        told.push(format!(
            "And {}; levare compare --since HEAD tells all.",
            counted(more, "more change")
        ));
    }
    let lines: Vec<String> = told.iter().map(|line| format!("- {}", words(line))).collect();
    Some(format!("**Since the last commit**\n\n{}", lines.join("\n")))
}

fn change(root: &Path, view: &View, place: &Place<'_>) -> Option<CardChange> {
    let rules = Rules::of(root, largest_file);
    let now = [Arc::clone(&view.paper.cards)];
    let name = &view.paper.cards.path;
    let file = file_at_commit(root, "HEAD", name, &rules).ok()?;
    let was: Vec<Arc<CardFile>> = file
        .iter()
        .map(|file| Arc::new(CardFile::read(name, &file.text)))
        .collect();
    let change = of_card(&was, &now, place.entry)?;
    if change.became != Became::Added {
        return Some(change);
    }
    // A card that is new to its file may have stood in another, so only now all files are asked for.
    let past = at_commit(root, "HEAD", &rules).ok()?;
    let was: Vec<Arc<CardFile>> = past
        .files
        .iter()
        .map(|(name, file)| Arc::new(CardFile::read(name, &file.text)))
        .collect();
    of_card(&was, place.snapshot.files(), place.entry)
}
