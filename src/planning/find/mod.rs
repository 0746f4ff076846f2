//! Finding pieces by conditions: which meet them and why, and of which nobody can say.

mod row;
#[cfg(test)]
mod tests;

pub use row::{Order, Row, length_words, name_of, row};

use crate::catalogue::conditions::{Condition, Subject, Truth};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::planning::fitting::asking_for;

/// What a piece answers to all conditions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// It meets all of them; why, condition by condition in their order.
    Meets(Vec<String>),
    /// It misses none for certain, but of some nobody can say.
    Open {
        /// What is not known, each once.
        missing: Vec<String>,
        /// Why it meets the others.
        met: Vec<String>,
    },
    /// It surely misses one.
    Misses,
}

/// A piece with its answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Hit {
    /// The piece.
    pub id: EntryId,
    /// What its card says in short.
    pub row: Row,
    /// Why it meets each condition; for an open piece, those of which that is known.
    pub why: Vec<String>,
    /// What is not known of it; empty where it meets all conditions.
    pub missing: Vec<String>,
}

/// The pieces that meet all conditions, and apart from them those of which nobody can say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// How many pieces were asked.
    pub asked: usize,
    /// Those that meet all conditions, in order.
    pub met: Vec<Hit>,
    /// Those that may meet them, in order.
    pub open: Vec<Hit>,
}

/// A reason as it stands in a column: `has 2 flats`, `clarinet 2 goes over the break`.
pub fn plainly(why: &str) -> String {
    why.strip_prefix(": ").unwrap_or(why).to_owned()
}

/// What one piece answers, for bands that are named or, where none is, those that the catalogue says play it.
pub fn of_piece(
    snapshot: &Snapshot,
    conditions: &[Condition],
    bands: &[EntryId],
    subject: &Subject<'_>,
) -> Answer {
    let mut met = Vec::new();
    let mut missing: Vec<String> = Vec::new();
    for condition in conditions {
        // Each piece may open as many named criteria as any other.
        match asking_for(snapshot, bands).piece(condition, subject) {
            Truth::Yes(why) => met.push(plainly(&why)),
            Truth::No(_) => return Answer::Misses,
            Truth::Unknown(what) if missing.contains(&what) => {}
            Truth::Unknown(what) => missing.push(what),
        }
    }
    met.dedup();
    match missing.is_empty() {
        true => Answer::Meets(met),
        false => Answer::Open { missing, met },
    }
}

/// All pieces of a catalogue, in the order of its cards.
pub fn pieces(snapshot: &Snapshot) -> Vec<EntryId> {
    let all = snapshot
        .entries()
        .filter(|(_, entry)| entry.kind == Some(Kind::Piece));
    all.map(|(id, _)| id).collect()
}

/// One piece as a hit; none where it misses a condition.
pub fn hit(snapshot: &Snapshot, conditions: &[Condition], bands: &[EntryId], id: EntryId) -> Option<Hit> {
    let subject = Subject::of(id, snapshot.entry(id)?)?;
    let (why, missing) = match of_piece(snapshot, conditions, bands, &subject) {
        Answer::Meets(why) => (why, Vec::new()),
        Answer::Open { missing, met } => (met, missing),
        Answer::Misses => return None,
    };
    let row = row(snapshot, &subject);
    Some(Hit {
        id,
        row,
        why,
        missing,
    })
}

/// Hits put in order, those that are open apart; `asked` is how many pieces there were.
pub fn sorted(asked: usize, hits: Vec<Hit>, order: Order) -> Found {
    let (mut met, mut open): (Vec<Hit>, Vec<Hit>) = hits.into_iter().partition(|hit| hit.missing.is_empty());
    for list in [&mut met, &mut open] {
        list.sort_by(|one, other| order.compare(&one.row, &other.row).then(one.id.cmp(&other.id)));
    }
    Found { asked, met, open }
}
