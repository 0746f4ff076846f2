//! Making the repairs that need no decision, until none is left.

use std::collections::HashSet;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use crate::catalogue::known::{Known, Mark};
use crate::catalogue::{EntryId, Snapshot};
use crate::findings;
use crate::text::{Edit, apply};

use super::room::Room;

/// One repair may make way for the next; more rounds than this mean that two of them undo each other.
const MOST_ROUNDS: usize = 50;

/// The texts of a catalogue's files once they are corrected.
pub struct Corrected {
    /// The texts, in the order of the files.
    pub texts: Vec<Arc<str>>,
    /// How many repairs were made in each file.
    pub repairs: Vec<usize>,
}

impl Corrected {
    /// The catalogue as it is.
    pub fn none(room: &Room) -> Corrected {
        Corrected {
            texts: room.sheets.iter().map(|sheet| sheet.text.clone()).collect(),
            repairs: vec![0; room.sheets.len()],
        }
    }
}

/// Makes every sure correction in the files that were asked about, over and over until nothing changes.
/// Known findings are left as they are.
pub fn corrected(room: &Room, known: &Known) -> Corrected {
    let mut now = Corrected::none(room);
    let mut seen = HashSet::from([digest(&now.texts)]);
    let mut changed = round(room, &room.snapshot, known, &mut now);
    for _ in 1..MOST_ROUNDS {
        if !changed || !seen.insert(digest(&now.texts)) {
            break;
        }
        let snapshot = room.with_texts(&now.texts);
        changed = round(room, &snapshot, known, &mut now);
    }
    now
}

/// Makes the repairs that can be made at once. Whether any text changed.
fn round(room: &Room, snapshot: &Snapshot, known: &Known, now: &mut Corrected) -> bool {
    let mut known = known.clone();
    let mut changed = false;
    for (index, file) in snapshot.files().iter().enumerate() {
        if !room.sheets.get(index).is_some_and(|sheet| sheet.asked) {
            continue;
        }
        let mut edits: Vec<Edit> = Vec::new();
        let mut made = 0usize;
        for (entry, card) in file.entries.iter().enumerate() {
            let id = EntryId {
                file: index as u32,
                entry: entry as u32,
            };
            for finding in findings::of_card(snapshot, id) {
                if known.take(&Mark::of(card, finding.phrase, finding.span)) {
                    continue;
                }
                let Some(repair) = finding.repairs.into_iter().find(|repair| repair.safe) else {
                    continue;
                };
                let ours: Vec<Edit> = repair
                    .edits
                    .into_iter()
                    .map(|edit| Edit::replace(file.in_file(entry, edit.span), edit.text))
                    .collect();
                // What touches another repair waits for the next round, which sees what the first made of it.
                let touches = |edit: &Edit| {
                    edits
                        .iter()
                        .any(|other| other.span.start <= edit.span.end && edit.span.start <= other.span.end)
                };
                if !ours.iter().any(touches) {
                    edits.extend(ours);
                    made = made.saturating_add(1);
                }
            }
        }
        let (Some(text), Some(repairs)) = (now.texts.get_mut(index), now.repairs.get_mut(index)) else {
            continue;
        };
        // Edits of one repair that overlap each other are the rule's mistake; then the file stays as it is.
        if let Ok(new) = apply(text, &edits)
            && *new != **text
        {
            *text = Arc::from(new);
            *repairs = repairs.saturating_add(made);
            changed = true;
        }
    }
    changed
}

fn digest(texts: &[Arc<str>]) -> u64 {
    let mut digest = DefaultHasher::new();
    texts.hash(&mut digest);
    digest.finish()
}
