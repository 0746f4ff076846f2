//! Which piece, concert or band is meant by a name.

use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;

/// What is shared out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meant {
    /// One piece.
    Piece(EntryId),
    /// A whole concert.
    Concert(EntryId),
}

/// The piece or the concert of a name, or in words why there is none.
pub fn meant(snapshot: &Snapshot, words: &str) -> Result<Meant, String> {
    let name = bare(words);
    let concert = snapshot.names().of(Kind::Concert, name).next();
    let mut pieces = snapshot.pieces_titled(name, None);
    // `Air by Lindqvist`, where two pieces share a title.
    if pieces.is_empty()
        && let Some((title, by)) = name.rsplit_once(" by ")
    {
        pieces = snapshot.pieces_titled(bare(title), Some(by.trim()));
    }
    match (pieces.as_slice(), concert) {
        ([piece], None) => Ok(Meant::Piece(*piece)),
        ([], Some(concert)) => Ok(Meant::Concert(concert)),
        ([piece, ..], Some(_)) => {
            let _ = piece;
            Err(format!(
                "A piece and a concert are both called \"{name}\", so it is not clear which one you mean. Give one of them another name."
            ))
        }
        ([], None) => Err(unknown(snapshot, name)),
        (several, None) => {
            let by: Vec<String> = several
                .iter()
                .filter_map(|id| snapshot.entry(*id)?.piece())
                .map(|piece| match piece.by.first() {
                    Some(person) => format!("\"{name} by {}\"", person.name),
                    None => "one whose card does not say by whom".to_owned(),
                })
                .collect();
            Err(format!(
                "Several pieces are called \"{name}\": {}. Type which one you mean.",
                by.join(", ")
            ))
        }
    }
}

/// The piece of a name, or in words why there is none.
pub fn piece(snapshot: &Snapshot, words: &str) -> Result<EntryId, String> {
    match meant(snapshot, words) {
        Ok(Meant::Piece(id)) => Ok(id),
        Ok(Meant::Concert(_)) => Err(format!("\"{}\" is a concert, not a piece.", bare(words))),
        Err(words) => Err(words),
    }
}

/// The ensemble of a name that no piece and no concert bears.
pub fn only_a_band(snapshot: &Snapshot, words: &str) -> Option<EntryId> {
    let name = bare(words);
    let concert = snapshot.names().of(Kind::Concert, name).next();
    let none_else = concert.is_none() && snapshot.pieces_titled(name, None).is_empty();
    snapshot.ensemble_named(name).filter(|_| none_else)
}

/// The ensemble of a name, or in words why there is none.
pub fn band(snapshot: &Snapshot, words: &str) -> Result<EntryId, String> {
    let name = bare(words);
    if let Some(id) = snapshot.ensemble_named(name) {
        return Ok(id);
    }
    let all: Vec<&str> = snapshot
        .names()
        .all(Kind::Ensemble)
        .map(|(name, _)| name)
        .collect();
    let known: Vec<String> = snapshot
        .ensembles()
        .iter()
        .filter_map(|id| snapshot.entry(*id))
        .map(|entry| format!("\"{}\"", entry.name))
        .collect();
    Err(match all.is_empty() {
        true => format!(
            "There is no band called \"{name}\": the catalog has no ensemble card yet. Write one with its percussionists."
        ),
        false => format!(
            "There is no band called \"{name}\". The catalog has {}.",
            known.join(" and ")
        ),
    })
}

/// A name without the quotes that a card would put around it.
pub fn bare(words: &str) -> &str {
    words.trim().trim_matches(['"', '“', '”', '„']).trim()
}

fn unknown(snapshot: &Snapshot, name: &str) -> String {
    format!(
        "There is no piece and no concert called \"{name}\" here.{}",
        perhaps(snapshot, &[Kind::Piece, Kind::Concert], name)
    )
}

/// The card of these kinds that may be meant by a name that none of them bears, as a sentence with a blank before it.
pub fn perhaps(snapshot: &Snapshot, kinds: &[Kind], name: &str) -> String {
    let wanted = key(name);
    let names = snapshot
        .entries()
        .filter(|(_, entry)| entry.kind.is_some_and(|kind| kinds.contains(&kind)) && !entry.name.is_empty());
    let scored = names.map(|(_, entry)| {
        let other = key(&entry.name);
        let begins = !wanted.is_empty() && (other.starts_with(&wanted) || other.contains(&wanted));
        let near = match begins {
            true => 0.95,
            false => strsim::jaro_winkler(&wanted, &other),
        };
        (near, entry.name.as_str())
    });
    let best = scored.max_by(|one, other| one.0.total_cmp(&other.0));
    match best {
        Some((near, name)) if near >= 0.8 => format!(" Perhaps \"{name}\"?"),
        _ => " Check how the card spells it.".to_owned(),
    }
}
