//! Running the rules over cards, and what the handbook and stets make of their findings.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use crate::catalogue::{Entry, EntryId, Snapshot};
use crate::notation::Kind;

use super::card::Card;
use super::finding::{Finding, Severity};
use super::renamed::today;
use super::rule::{Reads, Rule};
use super::stet;
use super::table::RULES;

/// The findings of one card, in the order they stand in its text.
pub fn of_card(snapshot: &Snapshot, id: EntryId) -> Vec<Finding> {
    let Some(entry) = snapshot.entry(id) else {
        return Vec::new();
    };
    let own = run_all(snapshot, id, entry, Reads::Card);
    let wide = run_all(snapshot, id, entry, Reads::Catalogue);
    settle(snapshot, id, entry, own.into_iter().chain(wide).collect())
}

fn run_all(snapshot: &Snapshot, id: EntryId, entry: &Arc<Entry>, reads: Reads) -> Vec<Finding> {
    let reading = entry.reading();
    let card = Card {
        snapshot,
        id,
        entry,
        reading: &reading,
    };
    RULES
        .iter()
        .filter(|rule| rule.reads == reads)
        .flat_map(|rule: &&Rule| (rule.run)(&card, rule))
        .collect()
}

/// Applies the handbook's wishes and the stets, adds idle stets, and puts the findings in order.
fn settle(snapshot: &Snapshot, id: EntryId, entry: &Arc<Entry>, mut findings: Vec<Finding>) -> Vec<Finding> {
    wish(snapshot, &mut findings);
    let mut left = stet::silence(snapshot, id, entry, findings);
    wish(snapshot, &mut left);
    left.sort_by_key(|finding| (finding.span.start, finding.span.end, finding.severity));
    left
}

/// The handbook's severities. A finding that is only a hint for a piece on the shelf is never made stronger.
fn wish(snapshot: &Snapshot, findings: &mut [Finding]) {
    let Some(handbook) = snapshot.handbook() else {
        return;
    };
    for finding in findings {
        let wished = handbook
            .severities
            .iter()
            .rev()
            .find(|wish| today(&wish.phrase) == finding.phrase)
            .and_then(|wish| Severity::of_word(wish.word));
        let usual = RULES
            .iter()
            .find(|rule| rule.phrase == finding.phrase)
            .map(|rule| rule.severity);
        if let (Some(wished), Some(usual)) = (wished, usual)
            && (finding.severity == usual || wished > finding.severity)
        {
            finding.severity = wished;
        }
    }
}

/// Findings kept from one snapshot to the next, so that an edit runs only what it can have changed.
#[derive(Debug, Default, Clone)]
pub struct Kept {
    cards: HashMap<usize, KeptCard>,
}

#[derive(Debug, Clone)]
struct KeptCard {
    /// The card, held so that no other can come to stand at its address.
    entry: Arc<Entry>,
    own: Arc<[Finding]>,
    context: u64,
    settled: Arc<[Finding]>,
}

impl Kept {
    /// The findings of a card, from before where nothing that they rest on has changed.
    pub fn of_card(&mut self, snapshot: &Snapshot, id: EntryId) -> Arc<[Finding]> {
        let Some(entry) = snapshot.entry(id) else {
            return Arc::from([]);
        };
        let context = context(snapshot, entry);
        let address = Arc::as_ptr(entry) as usize;
        let own = match self.cards.get(&address) {
            Some(kept) if Arc::ptr_eq(&kept.entry, entry) && kept.context == context => {
                return Arc::clone(&kept.settled);
            }
            Some(kept) if Arc::ptr_eq(&kept.entry, entry) => Arc::clone(&kept.own),
            _ => run_all(snapshot, id, entry, Reads::Card).into(),
        };
        let wide = run_all(snapshot, id, entry, Reads::Catalogue);
        let settled: Arc<[Finding]> =
            settle(snapshot, id, entry, own.iter().cloned().chain(wide).collect()).into();
        self.cards.insert(
            address,
            KeptCard {
                entry: Arc::clone(entry),
                own,
                context,
                settled: Arc::clone(&settled),
            },
        );
        settled
    }

    /// Forgets all cards but these.
    pub fn keep_only(&mut self, entries: &[Arc<Entry>]) {
        let alive: HashSet<usize> = entries.iter().map(|entry| Arc::as_ptr(entry) as usize).collect();
        self.cards.retain(|address, _| alive.contains(address));
    }

    /// How many cards are kept.
    pub fn len(&self) -> usize {
        self.cards.len()
    }

    /// Whether none is kept.
    pub fn is_empty(&self) -> bool {
        self.cards.is_empty()
    }
}

/// A digest of all that a card's findings rest on beyond the card itself.
fn context(snapshot: &Snapshot, entry: &Entry) -> u64 {
    let mut digest = xxhash_rust::xxh3::Xxh3::new();
    digest.update(&snapshot.context().to_le_bytes());
    // A piece rests on the bands and on names, which the context holds. Other cards also rest on what
    // the pieces they name say.
    if entry.piece().is_none() {
        for name in &entry.uses {
            for meant in snapshot.meant(name) {
                if let Some(meant) = snapshot.entry(meant) {
                    digest.update(&meant.digest.to_le_bytes());
                }
            }
        }
    }
    // Whether anything uses them can change with any card.
    if matches!(entry.kind, Some(Kind::Skill | Kind::Instrument | Kind::Ensemble)) {
        for (_, other) in snapshot.entries() {
            digest.update(&other.digest.to_le_bytes());
        }
    }
    digest.digest()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::CardFile;
    use crate::text::{Sheet, Span};

    /// What is kept after an edit is what a fresh look finds.
    #[test]
    fn what_is_kept_is_never_stale() {
        let today = jiff::civil::date(2026, 10, 20);
        let year = "handbook\n  for \"Band\"\nensemble \"Band\"\n  percussionists 2\nensemble \"Other\"\n\
                    skill \"hocket\"\npiece \"Played\"\n  percussion\n    snare 1-8\n    bass drum 1-8\n    \
                    triangle 1-8\n";
        let edits = [
            ("percussionists 2", "percussionists 4"),
            ("piece \"Played\"\n", "piece \"Played\"\n  asks hocket\n"),
            ("piece \"Played\"", "piece \"Plaid\""),
            ("for \"Band\"", "for \"Other\""),
            ("handbook\n", "handbook\n  stet idle card\n"),
            ("handbook\n", "handbook\n  error short of percussionists\n"),
            (
                "skill \"hocket\"",
                "concert \"C\"\n  program\n    \"Played\"\nskill \"hocket\"",
            ),
        ];
        for (from, to) in edits {
            let mut sheet = Sheet::new(year, crate::notation::split);
            let file = Arc::new(CardFile::from_sheet("a.levare", &sheet, None));
            let before = Snapshot::new(vec![Arc::clone(&file)], today);
            let mut kept = Kept::default();
            for (id, _) in before.entries() {
                kept.of_card(&before, id);
            }
            let at = year.find(from).expect("the words are in the year") as u32;
            sheet.replace(Span::long(at, from.len() as u32), to);
            let after = before.after(
                vec![Arc::new(CardFile::from_sheet("a.levare", &sheet, Some(&file)))],
                today,
            );
            let stayed = after
                .entries()
                .filter(|(_, entry)| before.locate(entry).is_some())
                .count();
            assert!(stayed > 3, "most cards stay the same shared cards");
            for (id, entry) in after.entries() {
                assert_eq!(
                    &*kept.of_card(&after, id),
                    of_card(&after, id),
                    "{to}: {}",
                    entry.text
                );
            }
        }
    }
}
