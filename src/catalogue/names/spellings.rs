//! Spellings of people, or of publishers, so that two spellings of one are found.

use std::collections::HashMap;

use super::near::Near;
use super::{key, letters_of, nearly_alike, slips};
use crate::catalogue::EntryId;

/// Spellings of people, or of publishers.
#[derive(Debug, Default)]
pub struct Spellings {
    /// The number of every spelling by its key.
    numbers: HashMap<String, u32>,
    /// Every spelling with its key.
    all: Vec<(String, Spelling)>,
    near: Near,
}

/// Another spelling of a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spelling {
    /// As first written.
    pub name: String,
    /// On how many cards it stands.
    pub cards: u32,
    /// The first of them.
    pub first: EntryId,
}

/// How many letters a name has at least for one slip in it to be a slip at all.
const LONG_NAME: usize = 8;

impl Spellings {
    pub(super) fn add(&mut self, name: &str, id: EntryId) {
        let key = key(name);
        if let Some(number) = self.numbers.get(&key) {
            if let Some((_, spelling)) = self.all.get_mut(*number as usize) {
                spelling.cards = spelling.cards.saturating_add(1);
            }
            return;
        }
        self.numbers.insert(key.clone(), self.all.len() as u32);
        let spelling = Spelling {
            name: name.to_owned(),
            cards: 1,
            first: id,
        };
        self.all.push((key, spelling));
        self.near.forget();
    }

    /// How often a name is spelled like this.
    pub fn own(&self, name: &str) -> Option<Spelling> {
        let number = self.numbers.get(&key(name))?;
        Some(self.all.get(*number as usize)?.1.clone())
    }

    /// The other spellings of a name that are one slip away, the commonest first.
    pub fn others(&self, name: &str) -> Vec<Spelling> {
        let own_key = key(name);
        let own = letters_of(&own_key);
        if own.len() < LONG_NAME {
            return Vec::new();
        }
        let letters = || self.all.iter().map(|(key, _)| letters_of(key));
        let numbers = self.near.of(&own, false, letters).into_iter();
        let mut found: Vec<&(String, Spelling)> = numbers
            .filter_map(|number| self.all.get(number as usize))
            .filter(|(key, _)| *key != own_key && nearly_alike(key, name))
            .filter(|(key, _)| slips(&letters_of(key), &own, 1) == Some(1))
            .collect();
        found.sort_by(|(a, one), (b, other)| {
            let by = |spelling: &Spelling| (std::cmp::Reverse(spelling.cards), spelling.first);
            by(one).cmp(&by(other)).then_with(|| a.cmp(b))
        });
        found.into_iter().map(|(_, spelling)| spelling.clone()).collect()
    }
}
