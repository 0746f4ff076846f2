//! Small cards and who plays what: a table of parts, and the sentences.

mod kept;
mod shared;

use std::sync::Arc;

use crate::catalogue::{CardFile, Snapshot};

use super::*;

/// A catalogue of one text, shared out for its first piece and its band.
fn shared(text: &str) -> WindSharing {
    let snapshot = snapshot(text);
    let piece = snapshot
        .entries()
        .find(|(_, entry)| entry.piece().is_some())
        .map(|(id, _)| id)
        .expect("the text has a piece");
    of_piece(&snapshot, piece, snapshot.ensembles(), &[], &[]).expect("it is one")
}

fn snapshot(text: &str) -> Snapshot {
    let file = Arc::new(CardFile::read("a.levare", text));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

/// A band with these players, each on a line, and a piece with these parts.
fn cards(players: &str, parts: &str, more: &str) -> String {
    let lines = |words: &str| -> String {
        let rows = words.split('/').map(str::trim).filter(|row| !row.is_empty());
        rows.map(|row| format!("    {row}\n")).collect()
    };
    format!(
        "{more}\nensemble \"Band\"\n  players\n{}piece \"A\"\n  parts\n{}",
        lines(players),
        lines(parts)
    )
}

/// `flute 1: 4 flutes` for every part.
fn told(sharing: &WindSharing) -> Vec<String> {
    sharing
        .parts
        .iter()
        .map(|part| {
            let who = words::who(sharing, part, Instruments::standard());
            format!("{}: {who}", part.name)
        })
        .collect()
}
