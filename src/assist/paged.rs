//! What the catalogue answers about a card as a page of text, in an editor that shows such pages.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;

use super::Place;
use super::answers::limits::Limits;
use super::answers::{Asked, of_card};

/// How wide the lines of a page are set.
const WIDE: usize = 80;

/// A page that can be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// The word by which it is asked for.
    pub which: &'static str,
    /// The card that it is about; none for the whole catalogue.
    pub card: Option<EntryId>,
    /// What a menu says.
    pub title: &'static str,
}

/// The pages that are offered at a place.
pub fn at(place: &Place<'_>) -> Vec<Page> {
    let page = |card, title| Page {
        which: "library",
        card,
        title,
    };
    let own = place.entry.piece().filter(|piece| piece.has_set() == Some(true));
    let own = own.map(|_| page(Some(place.id), "Show this set: copies, loans, performances"));
    let all = [Kind::Piece, Kind::Concert, Kind::Ensemble, Kind::Handbook];
    let all = place.entry.kind.filter(|kind| all.contains(kind));
    let all = all.map(|_| page(None, "Show the whole library"));
    own.into_iter().chain(all).collect()
}

/// The page: its name, and its text. In words for the director why there is none.
pub fn text(snapshot: &Snapshot, which: &str, card: Option<EntryId>) -> Result<(String, String), String> {
    let asked = Asked::of_word(which).ok_or_else(|| format!("There is no question \"{which}\"."))?;
    let told = of_card(snapshot, card, asked, Limits::default())?;
    let lines = told.answer.lines(WIDE).into_iter().map(|line| line.words);
    let lines: Vec<String> = lines.collect();
    Ok((told.about, format!("{}\n", lines.join("\n"))))
}
