//! Skills by all their names, with what each stands on and how long it takes to teach.
//!
//! A skill's own card comes first; what no card says is taken from the usual order
//! ([`crate::music::skills`], whose dependencies are from memory).

use std::collections::{BTreeSet, HashMap};

use crate::catalogue::model::Facts;
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};
use crate::music::skills;
use crate::notation::Kind;

/// The most steps that are followed down; no order of teaching is deeper.
const MOST: usize = 200;

/// The catalogue's skills with the usual ones.
#[derive(Default)]
pub(super) struct Ladder {
    /// Other names of skills with a card, and the skill each means.
    also: HashMap<String, String>,
    /// What a card says.
    cards: HashMap<String, Said>,
}

/// What a skill's card says.
#[derive(Default)]
struct Said {
    id: Option<EntryId>,
    name: String,
    after: Vec<String>,
    weeks: Option<u32>,
}

impl Ladder {
    /// The skills of a catalogue.
    pub fn of(snapshot: &Snapshot) -> Ladder {
        let mut ladder = Ladder::default();
        let mut cards: Vec<EntryId> = snapshot.names().all(Kind::Skill).map(|(_, id)| id).collect();
        cards.sort_unstable();
        for id in &cards {
            let Some(entry) = snapshot.entry(*id) else {
                continue;
            };
            let Facts::Skill(skill) = &entry.facts else {
                continue;
            };
            for also in &skill.also {
                ladder.also.insert(key(&also.value), usual(&entry.name));
            }
        }
        for id in cards {
            let Some(entry) = snapshot.entry(id) else { continue };
            let Facts::Skill(skill) = &entry.facts else {
                continue;
            };
            let said = Said {
                id: Some(id),
                name: entry.name.clone(),
                after: skill
                    .after
                    .iter()
                    .filter(|after| after.is_certain())
                    .map(|after| ladder.one_name(&after.value.name))
                    .collect(),
                weeks: skill
                    .takes
                    .as_ref()
                    .filter(|takes| takes.is_certain())
                    .and_then(|takes| takes.value.weeks()),
            };
            ladder.cards.entry(usual(&entry.name)).or_insert(said);
        }
        ladder
    }

    /// One name for all the names of a skill.
    pub fn one_name(&self, name: &str) -> String {
        self.also.get(&key(name)).cloned().unwrap_or_else(|| usual(name))
    }

    /// Whether a skill has a card or is one of the usual ones; other words are a director's own remarks.
    pub fn knows(&self, one_name: &str) -> bool {
        self.cards.contains_key(one_name) || skills::find(one_name).is_some()
    }

    /// The card of a skill.
    pub fn card(&self, one_name: &str) -> Option<EntryId> {
        self.cards.get(one_name)?.id
    }

    /// The skill's name as its card or the usual vocabulary writes it.
    pub fn written(&self, one_name: &str) -> String {
        match self.cards.get(one_name) {
            Some(said) => said.name.clone(),
            None => skills::find(one_name).map_or_else(|| one_name.to_owned(), |skill| skill.name.to_owned()),
        }
    }

    /// What the skill's own card says it stands on.
    pub fn after_by_card(&self, one_name: &str) -> &[String] {
        self.cards.get(one_name).map_or(&[], |said| &said.after)
    }

    /// What a skill stands on: by its card, else by the usual order.
    pub fn after(&self, one_name: &str) -> Vec<String> {
        let by_card = self.after_by_card(one_name);
        if !by_card.is_empty() {
            return by_card.to_vec();
        }
        let usual_one = skills::find(one_name);
        usual_one
            .into_iter()
            .flat_map(|skill| skill.after)
            .map(|after| key(after))
            .collect()
    }

    /// How many weeks a skill takes, by its card.
    pub fn weeks(&self, one_name: &str) -> Option<u32> {
        self.cards.get(one_name)?.weeks
    }

    /// Everything that a skill stands on, itself not included.
    pub fn below(&self, one_name: &str) -> BTreeSet<String> {
        let mut found = BTreeSet::new();
        let mut open = self.after(one_name);
        while let Some(next) = open.pop() {
            if found.len() < MOST && next != one_name && !found.contains(&next) {
                open.extend(self.after(&next));
                found.insert(next);
            }
        }
        found
    }
}

/// The usual name of a skill, as compared; its own where it is none of the usual ones.
fn usual(name: &str) -> String {
    skills::find(name).map_or_else(|| key(name), |skill| key(skill.name))
}
