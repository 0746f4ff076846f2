//! A file as a row of cards.

use std::sync::Arc;

use xxhash_rust::xxh3::xxh3_64_with_seed;

use crate::notation;
use crate::text::{Shared, Sheet, Span};

use super::entry::Entry;

/// A file and its cards in order. The first may be a card without a head: lines above the first card.
#[derive(Debug)]
pub struct CardFile {
    /// The path below the catalogue's folder, with `/` between folders on every system.
    pub path: Arc<str>,
    /// The cards in the order they stand.
    pub entries: Vec<Arc<Entry>>,
    /// Where each card starts, in bytes from the start of the file.
    pub starts: Vec<u32>,
    /// A digest of the names of other cards in its cards.
    pub used: u64,
    /// The skills that rows of its cards ask, as names are compared, each with the card's place in the file.
    pub asked: Vec<(String, u32)>,
}

/// The size in bytes above which the handbook in a text says that files are not read.
pub fn largest_file(handbook: &str) -> Option<u64> {
    let file = CardFile::read("", handbook);
    file.entries
        .iter()
        .find_map(|entry| entry.handbook())
        .and_then(|handbook| handbook.largest_file)
}

impl CardFile {
    /// Reads a whole file.
    pub fn read(path: &str, text: &str) -> CardFile {
        CardFile::of_text(path, &Shared::from(text))
    }

    /// Reads a whole file whose text others hold too.
    pub fn of_text(path: &str, text: &Shared) -> CardFile {
        let cards = CardFile::cards(text).into_iter();
        CardFile::of(path, cards.map(|card| Arc::new(Entry::read(card))).collect())
    }

    /// The texts of a file's cards, for whoever reads them one by one and then puts the file together.
    pub fn cards(text: &Shared) -> Vec<Shared> {
        text.cut(notation::split)
    }

    /// Reads an open file, keeping the cards of `before` whose text is the same shared text.
    pub fn from_sheet(path: &str, sheet: &Sheet, before: Option<&CardFile>) -> CardFile {
        let mut known = before
            .map(|file| file.entries.iter())
            .into_iter()
            .flatten()
            .peekable();
        let mut entries = Vec::new();
        for chunk in sheet.chunks() {
            // Cards keep their order, so a single walk over the old ones finds every one that stayed.
            let mut ahead = known.clone();
            let kept = ahead.find(|entry| entry.text.is(chunk.text));
            entries.push(match kept {
                Some(entry) => {
                    known = ahead;
                    Arc::clone(entry)
                }
                None => Arc::new(Entry::read(chunk.text.clone())),
            });
        }
        CardFile::of(path, entries)
    }

    /// A file of cards that were read, in the order they stand.
    pub fn of(path: &str, entries: Vec<Arc<Entry>>) -> CardFile {
        let mut at = 0u32;
        let starts = entries
            .iter()
            .map(|entry| {
                let start = at;
                at = at.saturating_add(entry.text.len() as u32);
                start
            })
            .collect();
        let used = entries.iter().fold(0, |digest, entry| {
            xxh3_64_with_seed(&entry.used.to_le_bytes(), digest)
        });
        CardFile {
            path: Arc::from(path),
            used,
            asked: asked(&entries),
            entries,
            starts,
        }
    }

    /// The whole text.
    pub fn text(&self) -> String {
        self.entries.iter().map(|entry| &*entry.text).collect()
    }

    /// The place in the file of a place in one of its cards.
    pub fn in_file(&self, entry: usize, span: Span) -> Span {
        let start = self.starts.get(entry).copied().unwrap_or(0);
        span.shift(i64::from(start))
    }

    /// The card at a place in the file, and that place counted from the card's start.
    pub fn entry_at(&self, offset: u32) -> Option<(usize, u32)> {
        let index = self
            .starts
            .partition_point(|start| *start <= offset)
            .checked_sub(1)?;
        Some((index, offset.saturating_sub(*self.starts.get(index)?)))
    }
}

fn asked(entries: &[Arc<Entry>]) -> Vec<(String, u32)> {
    let all = entries.iter().zip(0u32..);
    all.flat_map(|(entry, at)| entry.asked.iter().map(move |skill| (skill.clone(), at)))
        .collect()
}
