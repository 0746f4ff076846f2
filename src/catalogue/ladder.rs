//! Skills by all their names, with what each stands on and how long it takes to teach.
//!
//! A skill's own card comes first; what no card says is taken from the usual order
//! ([`crate::music::skills`], whose dependencies are from memory).

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use crate::music::skills;
use crate::notation::Kind;
use crate::notation::values::Takes;

use super::model::{self, Facts};
use super::names::key;
use super::{EntryId, Snapshot};

/// The most steps that are followed down; no order of teaching is deeper.
const MOST: usize = 200;

/// How many skills of a circle are kept by name.
const NAMED: usize = 8;

/// The catalogue's skills with the usual ones.
#[derive(Debug, Default)]
pub struct Ladder {
    /// Other names of skills with a card, and the skill each means.
    also: HashMap<String, String>,
    /// What a card says.
    cards: HashMap<String, Said>,
    /// The circles, for each skill that waits for itself.
    circles: HashMap<String, Circle>,
}

/// Skills that wait for each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Circle {
    /// The first of their cards.
    pub first: EntryId,
    /// How many there are.
    pub size: usize,
    /// Some of them by name.
    pub some: Arc<[String]>,
}

/// What a skill's card says.
#[derive(Debug, Default)]
struct Said {
    id: Option<EntryId>,
    name: String,
    after: Vec<String>,
    weeks: Option<u32>,
    takes: Option<model::Said<Takes>>,
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
                takes: skill.takes.clone(),
            };
            ladder.cards.entry(usual(&entry.name)).or_insert(said);
        }
        ladder.circles = circles(&ladder.cards);
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

    /// How long a skill takes, as its card says it, near enough or open as it may be.
    pub fn takes(&self, one_name: &str) -> Option<&model::Said<Takes>> {
        self.cards.get(one_name)?.takes.as_ref()
    }

    /// The skills that wait for each other where this one is among them.
    pub fn circle(&self, one_name: &str) -> Option<&Circle> {
        self.circles.get(one_name)
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

/// The skills that come after themselves by their cards, each with how many stand in its circles together (Tarjan's
/// strongly connected components, without recursion, so that no chain is too long).
fn circles(cards: &HashMap<String, Said>) -> HashMap<String, Circle> {
    struct Seen {
        low: usize,
        number: usize,
        open: bool,
    }
    let mut names: Vec<&String> = cards.keys().collect();
    names.sort_unstable();
    let mut seen: HashMap<&str, Seen> = HashMap::new();
    let mut path: Vec<&str> = Vec::new();
    let mut found: HashMap<String, Circle> = HashMap::new();
    let after = |name: &str| cards.get(name).map_or(&[][..], |said| said.after.as_slice());
    for start in names {
        if seen.contains_key(start.as_str()) {
            continue;
        }
        // Each step down with how many of its neighbors have been gone to.
        let mut way: Vec<(&str, usize)> = vec![(start, 0)];
        while let Some((name, at)) = way.pop() {
            let number = seen.len();
            if at == 0 {
                let now = Seen {
                    low: number,
                    number,
                    open: true,
                };
                seen.insert(name, now);
                path.push(name);
            }
            if let Some(next) = after(name).get(at) {
                way.push((name, at + 1));
                match seen.get(next.as_str()) {
                    None if cards.contains_key(next) => way.push((next, 0)),
                    Some(other) if other.open => {
                        let number = other.number;
                        if let Some(own) = seen.get_mut(name) {
                            own.low = own.low.min(number);
                        }
                    }
                    _ => {}
                }
                continue;
            }
            let Some(own) = seen.get(name) else { continue };
            let (low, number) = (own.low, own.number);
            if let Some(above) = way.last().and_then(|(above, _)| seen.get_mut(above)) {
                above.low = above.low.min(low);
            }
            if low == number {
                let from = path.iter().rposition(|other| *other == name).unwrap_or(0);
                let circle = path.split_off(from);
                for member in &circle {
                    if let Some(member) = seen.get_mut(member) {
                        member.open = false;
                    }
                }
                if circle.len() > 1 || after(name).iter().any(|other| other == name) {
                    let ids = circle.iter().filter_map(|member| cards.get(*member)?.id);
                    let Some(first) = ids.min() else { continue };
                    let mut some: Vec<&str> = circle.clone();
                    some.sort_unstable();
                    let some = some.iter().take(NAMED).map(|name| (*name).to_owned());
                    let all = Circle {
                        first,
                        size: circle.len(),
                        some: some.collect(),
                    };
                    found.extend(circle.iter().map(|member| ((*member).to_owned(), all.clone())));
                }
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cards(after: &[(&str, &[&str])]) -> HashMap<String, Said> {
        let card = |(at, (name, after)): (u32, &(&str, &[&str]))| {
            let said = Said {
                id: Some(EntryId { file: 0, entry: at }),
                name: (*name).to_owned(),
                after: after.iter().map(|name| (*name).to_owned()).collect(),
                weeks: None,
                takes: None,
            };
            ((*name).to_owned(), said)
        };
        (0u32..).zip(after).map(card).collect()
    }

    #[test]
    fn skills_that_wait_for_each_other() {
        let found = circles(&cards(&[
            ("down", &["a", "x"]),
            ("c", &["a"]),
            ("b", &["c", "down"]),
            ("a", &["b"]),
            ("x", &["y"]),
            ("y", &[]),
            ("own", &["own"]),
        ]));
        let mut sizes: Vec<(&str, usize, u32)> = found
            .iter()
            .map(|(name, circle)| (name.as_str(), circle.size, circle.first.entry))
            .collect();
        sizes.sort_unstable();
        let all = [
            ("a", 4, 0),
            ("b", 4, 0),
            ("c", 4, 0),
            ("down", 4, 0),
            ("own", 1, 6),
        ];
        assert_eq!(sizes, all, "x and y are after nothing that is after them");
    }
}
