//! Running the rules over cards, and what the handbook and stets make of their findings.

use std::cell::OnceCell;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use xxhash_rust::xxh3::xxh3_64_with_seed;

use crate::catalogue::model::Facts;
use crate::catalogue::{Entry, EntryId, Snapshot};
use crate::notation::{Kind, Reading};

use super::card::Card;
use super::finding::Finding;
use super::looks::Looks;
use super::rule::Reads;
use super::standing::Standing;
use super::stet;
use super::table::RULES;

/// One look over a catalogue: what the handbook makes of findings is worked out once for all cards. Several
/// threads may share it.
#[derive(Debug)]
pub struct Round<'s> {
    snapshot: &'s Snapshot,
    standing: Arc<Standing>,
}

impl<'s> Round<'s> {
    /// A look over a catalogue.
    pub fn of(snapshot: &'s Snapshot) -> Round<'s> {
        Round {
            snapshot,
            standing: Arc::new(Standing::of(snapshot.handbook())),
        }
    }

    /// The findings of one card, in the order they stand in its text.
    pub fn of_card(&self, id: EntryId) -> Vec<Finding> {
        let Some(entry) = self.snapshot.entry(id) else {
            return Vec::new();
        };
        let reading = entry.reading();
        let read = OnceCell::new();
        let Some(facts) = facts(self.snapshot, id, &reading, &read) else {
            return Vec::new();
        };
        let card = Card::new(self.snapshot, id, entry, &reading, facts);
        let mut findings = run_all(&card, Reads::Card);
        findings.extend(run_all(&card, Reads::Catalogue));
        settle(&card, &self.standing, findings)
    }
}

/// The findings of one card, in the order they stand in its text.
pub fn of_card(snapshot: &Snapshot, id: EntryId) -> Vec<Finding> {
    Round::of(snapshot).of_card(id)
}

/// What a card says, taken out of its reading where nobody has asked before. It is kept with the card only where a
/// concert lists it: most pieces of a large catalogue are asked by nobody else.
fn facts<'f>(
    snapshot: &'f Snapshot,
    id: EntryId,
    reading: &Reading,
    read: &'f OnceCell<Facts>,
) -> Option<&'f Facts> {
    let entry = snapshot.entry(id)?;
    let take = || read.get_or_init(|| Facts::of(reading, &entry.text));
    Some(match snapshot.listings_of(id).is_empty() {
        true => entry.known_facts().unwrap_or_else(take),
        false => entry.facts_of(reading),
    })
}

fn run_all(card: &Card<'_>, reads: Reads) -> Vec<Finding> {
    let has = Looks::of(card.entry, card.facts);
    let mut found = Vec::new();
    for rule in RULES
        .iter()
        .filter(|rule| rule.reads == reads && rule.looks.meets(has))
    {
        (rule.run)(card, rule, &mut found);
    }
    found
}

/// Applies the handbook's wishes and the stets, adds left over from befores, and puts the findings in order.
fn settle(card: &Card<'_>, standing: &Standing, mut findings: Vec<Finding>) -> Vec<Finding> {
    let stets = card.facts.stets();
    if findings.is_empty() && stets.is_empty() {
        return findings;
    }
    standing.wish(&mut findings);
    let is_handbook = card
        .snapshot
        .handbook_card()
        .is_some_and(|(handbook, _)| handbook == card.id);
    let mut left = stet::silence(card.entry, stets, standing.everywhere(), is_handbook, findings);
    standing.wish(&mut left);
    left.sort_by_key(|finding| (finding.span.start, finding.span.end, finding.severity));
    left
}

/// Findings kept from one snapshot to the next, so that an edit runs only what it can have changed.
#[derive(Debug, Default, Clone)]
pub struct Kept {
    cards: HashMap<usize, KeptCard>,
    /// What the handbook makes of findings, with the digest of its card.
    standing: Option<(u64, Arc<Standing>)>,
}

#[derive(Debug, Clone)]
struct KeptCard {
    /// The card, held so that no other can come to stand at its address.
    entry: Arc<Entry>,
    own: Arc<[Finding]>,
    context: u64,
    settled: Arc<[Finding]>,
}

/// A card whose findings are not known: it can be looked at while others ask what is kept.
#[derive(Debug, Clone)]
pub struct Look {
    id: EntryId,
    own: Option<Arc<[Finding]>>,
    context: u64,
}

/// A card that has been looked at.
#[derive(Debug)]
pub struct Looked(KeptCard);

impl Look {
    /// Runs the rules that can have changed.
    pub fn run(self, round: &Round<'_>) -> Option<Looked> {
        let entry = round.snapshot.entry(self.id)?;
        let reading = entry.reading();
        let read = OnceCell::new();
        let facts = facts(round.snapshot, self.id, &reading, &read)?;
        let card = Card::new(round.snapshot, self.id, entry, &reading, facts);
        let own = self.own.unwrap_or_else(|| run_all(&card, Reads::Card).into());
        let mut findings = own.to_vec();
        findings.extend(run_all(&card, Reads::Catalogue));
        let settled = settle(&card, &round.standing, findings);
        Some(Looked(KeptCard {
            entry: Arc::clone(entry),
            own,
            context: self.context,
            settled: settled.into(),
        }))
    }
}

impl Kept {
    /// The findings of a card, from before where nothing that they rest on has changed.
    pub fn of_card(&mut self, snapshot: &Snapshot, id: EntryId) -> Arc<[Finding]> {
        match self.known(snapshot, id) {
            Ok(known) => known,
            Err(look) => {
                let round = self.round(snapshot);
                look.run(&round)
                    .map_or_else(|| Arc::from([]), |looked| self.keep(looked))
            }
        }
    }

    /// The findings of a card where they are known; else what it takes to find them, which needs nothing of what
    /// is kept anymore.
    ///
    /// # Errors
    /// The look that is needed.
    pub fn known(&self, snapshot: &Snapshot, id: EntryId) -> Result<Arc<[Finding]>, Look> {
        let Some(entry) = snapshot.entry(id) else {
            return Ok(Arc::from([]));
        };
        let context = context(snapshot, entry);
        let kept = self.cards.get(&(Arc::as_ptr(entry) as usize));
        let kept = kept.filter(|kept| Arc::ptr_eq(&kept.entry, entry));
        match kept {
            Some(kept) if kept.context == context => Ok(Arc::clone(&kept.settled)),
            _ => Err(Look {
                id,
                own: kept.map(|kept| Arc::clone(&kept.own)),
                context,
            }),
        }
    }

    /// Keeps what a look has found, and gives it back.
    pub fn keep(&mut self, Looked(card): Looked) -> Arc<[Finding]> {
        let settled = Arc::clone(&card.settled);
        self.cards.insert(Arc::as_ptr(&card.entry) as usize, card);
        settled
    }

    /// A look over a catalogue, with what the handbook said before where it still says so.
    pub fn round<'s>(&mut self, snapshot: &'s Snapshot) -> Round<'s> {
        let digest = snapshot.handbook_card().map_or(0, |(_, card)| card.digest);
        let standing = match &self.standing {
            Some((kept, standing)) if *kept == digest => Arc::clone(standing),
            _ => Arc::new(Standing::of(snapshot.handbook())),
        };
        self.standing = Some((digest, Arc::clone(&standing)));
        Round { snapshot, standing }
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
    let mut digest = snapshot.context();
    let mut rests_on = |more: u64| digest = xxh3_64_with_seed(&more.to_le_bytes(), digest);
    // A piece rests on the bands and on names, which the context holds. Other cards also rest on what
    // the pieces they name say.
    let mut named_by = |entry: &Entry| {
        for name in &entry.uses {
            for meant in snapshot.meant(name) {
                if let Some(meant) = snapshot.entry(meant) {
                    rests_on(meant.digest);
                }
            }
        }
    };
    if entry.kind != Some(Kind::Piece) {
        named_by(entry);
    }
    // What the pieces of earlier concerts ask is not new at this one.
    if entry.concert().is_some_and(|card| card.new_skills.is_some()) {
        let cards = snapshot.entries().map(|(_, other)| other);
        cards
            .filter(|other| other.kind == Some(Kind::Concert))
            .for_each(|other| named_by(other));
    }
    // Whether anything uses them can change with any card.
    if matches!(entry.kind, Some(Kind::Skill | Kind::Instrument | Kind::Ensemble)) {
        rests_on(snapshot.used_names());
    }
    digest
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
        let year = "concert \"First\"\n  on 2026-11-10\n  program\n    \"Opener\"\nconcert \"Second\"\n  \
                    on 2026-12-10\n  new skills none\n  program\n    \"Closer\"\npiece \"Opener\"\n  asks ties\n\
                    piece \"Closer\"\n  asks triplets\n\
                    handbook\n  for \"Band\"\nensemble \"Band\"\n  taught slurs\n  percussionists 2\nensemble \"Other\"\n\
                    skill \"hocket\"\npiece \"Played\"\n  percussion\n    snare 1-8\n    bass drum 1-8\n    \
                    triangle 1-8\n";
        let edits = [
            ("percussionists 2", "percussionists 4"),
            ("piece \"Played\"\n", "piece \"Played\"\n  asks hocket\n"),
            ("piece \"Played\"", "piece \"Plaid\""),
            ("asks ties", "asks triplets"),
            ("for \"Band\"", "for \"Other\""),
            ("handbook\n", "handbook\n  stet card nobody uses\n"),
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
