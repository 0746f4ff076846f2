//! Whether a merged card holds all that both sides say, by reading it again.

use std::collections::BTreeMap;

use super::card::CardPieces;
use super::file::written;
use super::lines::Piece;
use crate::comparing::outline::{Line, Outline, Role};
use crate::notation;
use crate::text::Ending;

/// What is said on a card: for each thing, how often.
type Account = BTreeMap<(String, String), i64>;

/// Whether everything is there that either side says and the other did not take out; and, where nothing clashes,
/// nothing else.
pub fn holds_all(base: Option<&Outline>, ours: &Outline, theirs: &Outline, made: &CardPieces) -> bool {
    let clashes = made
        .pieces
        .iter()
        .any(|piece| matches!(piece, Piece::Clash { .. }));
    let rough = ours.rough || theirs.rough || base.is_some_and(|base| base.rough);
    let text = written(&made.pieces, Ending::Lf, &mut Vec::new(), 1, "");
    let mut found = Account::new();
    let mut starts = notation::split(&text);
    starts.push(text.len());
    for ends in starts.windows(2) {
        if let &[start, end] = ends {
            add(&read(text.get(start..end).unwrap_or(""), rough), &mut found);
        }
    }
    let account = |card: Option<&Outline>| {
        let mut account = Account::new();
        match card {
            Some(card) if rough => add(&card.clone().flat(), &mut account),
            Some(card) => add(card, &mut account),
            None => {}
        }
        account
    };
    let (was, one, two) = (account(base), account(Some(ours)), account(Some(theirs)));
    let keys = was.keys().chain(one.keys()).chain(two.keys()).chain(found.keys());
    let many = |account: &Account, key| account.get(key).copied().unwrap_or(0);
    let mut keys = keys;
    keys.all(|key| {
        let (b, o, t, r) = (
            many(&was, key),
            many(&one, key),
            many(&two, key),
            many(&found, key),
        );
        let least = match o >= b && t >= b {
            true => o.max(t),
            false => (o + t - b).max(0),
        };
        let most = o.min(t).min(b) + (o - b).max(0) + (t - b).max(0);
        r >= least && (clashes || r <= most.max(least))
    })
}

/// Reads a merged card. The marks make it rough, so they are taken out where its lines were in their places.
fn read(text: &str, rough: bool) -> Outline {
    if rough {
        return Outline::of(text).flat();
    }
    let lines = text.split_inclusive('\n');
    let plain: String = lines
        .filter(|line| !notation::scan::is_conflict_mark(line.trim_end()))
        .collect();
    Outline::of(&plain)
}

fn add(card: &Outline, account: &mut Account) {
    for line in &card.lines {
        add_line(line, "", account);
    }
}

fn add_line(line: &Line, within: &str, account: &mut Account) {
    // Rows are told by their facts: a row that was renamed takes the facts of both sides along.
    let within = match line.role {
        Role::Field => format!("{within}/{}", line.key),
        _ => within.to_owned(),
    };
    let said = format!("{within} is there");
    if line.parts.is_empty() {
        *account.entry((within.clone(), said)).or_default() += 1;
    }
    for part in &line.parts {
        *account.entry((within.clone(), part.says.clone())).or_default() += 1;
    }
    for line in &line.below {
        add_line(line, &within, account);
    }
}
