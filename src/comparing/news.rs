//! Which findings came and went from one catalogue to another.

use std::collections::HashMap;

use super::cards::{Compared, Named};
use super::changes::Became;
use crate::catalogue::names::key as name_key;
use crate::findings::{Saying, Severity};

/// A finding on a card.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The card.
    pub card: Named,
    /// The rule's phrase.
    pub phrase: &'static str,
    /// How strong it is.
    pub severity: Severity,
    /// What it says.
    pub saying: Saying,
}

/// A finding that came, went, or says something else now.
#[derive(Debug, Clone, PartialEq)]
pub struct News {
    /// The finding; as it was, where it is gone.
    pub told: Told,
    /// What became of it.
    pub became: Became,
    /// What it said before, where it says something else.
    pub was: Option<Saying>,
}

/// Which findings came and went; a card that was renamed keeps its findings.
pub fn news(compared: &Compared, old: Vec<Told>, new: Vec<Told>) -> Vec<News> {
    let card = |named: &Named| {
        let kind = named.kind.map(|kind| kind.word()).unwrap_or_default();
        format!("{kind} {}", name_key(&named.name))
    };
    let names: HashMap<String, String> = compared
        .cards
        .iter()
        .filter_map(|change| {
            let before = Named {
                name: change.old_name.clone()?,
                ..change.card.clone()
            };
            Some((card(&before), card(&change.card)))
        })
        .collect();
    let today = |told: &Told| {
        let key = card(&told.card);
        names.get(&key).cloned().unwrap_or(key)
    };
    let mut gone: Vec<Option<(String, Told)>> =
        old.into_iter().map(|told| Some((today(&told), told))).collect();
    let mut by_words: HashMap<(String, &'static str, String), Vec<usize>> = HashMap::new();
    for (at, told) in gone.iter().enumerate().rev() {
        if let Some((card, told)) = told {
            by_words
                .entry((card.clone(), told.phrase, said(&told.saying)))
                .or_default()
                .push(at);
        }
    }
    let mut came: Vec<(String, Told)> = Vec::new();
    for told in new {
        let key = (card(&told.card), told.phrase, said(&told.saying));
        match by_words.get_mut(&key).and_then(Vec::pop) {
            Some(at) => {
                if let Some(gone) = gone.get_mut(at) {
                    *gone = None;
                }
            }
            None => came.push((key.0, told)),
        }
    }
    // One finding of a rule that went and one that came on the same card are one that says something else.
    let mut news: Vec<News> = Vec::new();
    for (card, told) in came {
        let before = gone
            .iter_mut()
            .find(|old| {
                old.as_ref()
                    .is_some_and(|(of, old)| *of == card && old.phrase == told.phrase)
            })
            .and_then(Option::take);
        news.push(News {
            became: if before.is_some() {
                Became::Changed
            } else {
                Became::Added
            },
            was: before.map(|(_, old)| old.saying),
            told,
        });
    }
    news.extend(gone.into_iter().flatten().map(|(_, told)| News {
        told,
        became: Became::TakenOut,
        was: None,
    }));
    news
}

/// What a finding says with its place in the music.
fn said(saying: &Saying) -> String {
    format!("{}: {}", saying.place, saying.says)
}
