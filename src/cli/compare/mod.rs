//! `levare compare`: what changed between two catalogues, card by card, and which findings came and went with it.

mod json;
mod markdown;
mod text;

use std::collections::HashMap;
use std::io::{self, Write};
use std::path::Path;

use super::args::{Compare, CompareForm};
use super::color::Paint;
use super::room::{self, Room};
use super::{Status, complain, wrap};
use crate::comparing::{Became, CardChange, Compared, Named, News, Told, compare, itself, news};
use crate::cores;
use crate::findings::{Round, Severity};
use crate::text::sentences::{capital, joined};

/// All that is told.
pub struct Answer {
    /// What changed.
    pub compared: Compared,
    /// Which findings came and went.
    pub news: Vec<News>,
}

/// A card with all that is told of it.
pub struct OfCard<'a> {
    /// The card.
    pub card: &'a Named,
    /// What changed on it; none where only its findings are others.
    pub change: Option<&'a CardChange>,
    /// Its findings that came and went.
    pub news: Vec<&'a News>,
}

/// Runs the command.
pub fn run(asked: &Compare, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let (old, new, within) = match rooms(asked) {
        Ok(rooms) => rooms,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let mut status = Status::Nothing;
    for problem in old.problems.iter().chain(&new.problems) {
        complain(&problem.to_string());
        status = Status::CouldNot;
    }
    let of_interest = |file: &str| within.as_deref().is_none_or(|within| file == within);
    let compared = compare(&old.snapshot, &new.snapshot, &of_interest);
    let told = |room: &Room| told(room, asked.least, &of_interest);
    let news = news(&compared, told(&old), told(&new));
    let answer = Answer { compared, news };
    match asked.form {
        CompareForm::Cards => text::tell(&answer, wrap::width(), paint, out)?,
        CompareForm::Json => json::tell(&answer, out)?,
        CompareForm::Markdown => markdown::tell(&answer, out)?,
    }
    let found = match answer.compared.is_empty() && answer.news.is_empty() {
        true => Status::Nothing,
        false => Status::Found,
    };
    Ok(status.max(found))
}

/// The old catalogue, the new one, and the only file that is asked about.
fn rooms(asked: &Compare) -> Result<(Room, Room, Option<String>), String> {
    let today = asked.today.unwrap_or_else(|| jiff::ZonedDateTime::now().date());
    match (&asked.since, asked.paths.as_slice()) {
        (None, [old, new]) => {
            if old.is_dir() != new.is_dir() && old.exists() && new.exists() {
                return Err("One of the two is a folder and the other a file. Name two folders, or two files.".to_owned());
            }
            // Two files are compared whatever they are called.
            let name = new.file_name().unwrap_or_default().to_string_lossy();
            Ok((room::alone(old, &name, today)?, room::alone(new, &name, today)?, None))
        }
        (None, _) => Err(
            "To compare, name two files or two folders, the old one first; or type --since HEAD to compare your catalog with its last commit."
                .to_owned(),
        ),
        (Some(_), [_, _]) => Err("With --since, name one folder or one file, or none.".to_owned()),
        (Some(commit), paths) => {
            let path = paths.first().or(asked.folder.as_ref());
            let path = path.map_or(Path::new("."), |path| path);
            let (root, file) = room::around(path)?;
            let old = room::at_commit(&root, commit, today)?;
            Ok((old, room::alone(&root, "", today)?, file))
        }
    }
}

/// The findings of a catalogue.
fn told(room: &Room, least: Severity, asked: &(dyn Fn(&str) -> bool + Sync)) -> Vec<Told> {
    let cards: Vec<_> = room
        .snapshot
        .entries()
        .filter_map(|(id, entry)| {
            let file = room.snapshot.file_of(id)?;
            asked(&file.path).then(|| (id, entry, file.path.to_string()))
        })
        .collect();
    let round = Round::of(&room.snapshot);
    let found = cores::spread_all(&cards, |(id, entry, file)| {
        let findings = round.of_card(*id).into_iter();
        let told = findings
            .filter(|finding| finding.severity <= least)
            .map(|finding| Told {
                card: Named {
                    kind: entry.kind,
                    name: entry.name.clone(),
                    file: file.clone(),
                },
                phrase: finding.phrase,
                severity: finding.severity,
                saying: finding.saying,
            });
        told.collect::<Vec<_>>()
    });
    found.into_iter().flatten().collect()
}

impl Answer {
    /// What is told of each card, in the order of the changes; cards of which only findings changed come last.
    pub fn by_card(&self) -> Vec<OfCard<'_>> {
        let mut cards: Vec<OfCard<'_>> = self
            .compared
            .cards
            .iter()
            .map(|change| OfCard {
                card: &change.card,
                change: Some(change),
                news: Vec::new(),
            })
            .collect();
        let key = |card: &Named, name: &str| (card.kind.map(|kind| kind.word()), name.to_owned());
        let mut places: HashMap<_, usize> = HashMap::new();
        for (at, card) in cards.iter().enumerate() {
            let old = card.change.and_then(|change| change.old_name.as_ref());
            for name in old.into_iter().chain([&card.card.name]) {
                places.entry(key(card.card, name)).or_insert(at);
            }
        }
        for one in &self.news {
            let card = &one.told.card;
            let at = *places.entry(key(card, &card.name)).or_insert(cards.len());
            if at == cards.len() {
                cards.push(OfCard {
                    card,
                    change: None,
                    news: Vec::new(),
                });
            }
            if let Some(card) = cards.get_mut(at) {
                card.news.push(one);
            }
        }
        cards
    }
}

impl OfCard<'_> {
    /// What people call the card.
    pub fn name(&self) -> &str {
        match self.card.kind {
            None => "Above the first card",
            Some(kind) if kind.is_named() && !self.card.name.trim().is_empty() => &self.card.name,
            Some(kind) if kind.is_named() => kind.word(),
            Some(_) => "Handbook",
        }
    }

    /// What became of the card itself, in sentences.
    pub fn itself(&self) -> Vec<String> {
        match self.change {
            Some(change) => itself(change),
            None => vec!["The card is as it was; its findings changed.".to_owned()],
        }
    }
}

/// What became of a finding, before its sentence.
pub fn lead(news: &News) -> &'static str {
    match news.became {
        Became::Added => "New finding",
        Became::TakenOut => "No longer found",
        _ => "Found as before, but now",
    }
}

/// The sentence of a finding with its place.
pub fn finding(news: &News) -> String {
    let saying = &news.told.saying;
    match saying.place.is_empty() {
        true => saying.says.clone(),
        false => format!("{}: {}", capital(&saying.place), saying.says),
    }
}

/// One line about layout and one about places, where there is something to say.
pub fn layout(compared: &Compared) -> Vec<String> {
    let told = [
        ("Only the layout changed", &compared.layout),
        ("In another place in the same file", &compared.moved),
    ];
    told.into_iter()
        .filter(|(_, cards)| !cards.is_empty())
        .map(|(words, cards)| format!("{words}: {}.", names(cards)))
        .collect()
}

fn names(cards: &[Named]) -> String {
    let names: Vec<String> = cards
        .iter()
        .take(3)
        .map(|card| match card.kind {
            Some(kind) if kind.is_named() => format!("\"{}\"", card.name),
            Some(kind) => format!("the {}", kind.word()),
            None => "the lines above the first card".to_owned(),
        })
        .collect();
    match cards.len().saturating_sub(names.len()) {
        0 => joined(&names),
        more => format!("{} and {more} more", names.join(", ")),
    }
}

/// What changed in all, in one sentence.
pub fn summary(answer: &Answer) -> String {
    let cards = |became: Became| {
        answer
            .compared
            .cards
            .iter()
            .filter(|card| card.became == became)
            .count()
    };
    let news = |became: Became| answer.news.iter().filter(|news| news.became == became).count();
    let counts = [
        (cards(Became::Changed), "card changed", "cards changed"),
        (cards(Became::Added), "card added", "cards added"),
        (cards(Became::TakenOut), "card taken out", "cards taken out"),
        (news(Became::Added), "new finding", "new findings"),
        (news(Became::Changed), "finding changed", "findings changed"),
        (news(Became::TakenOut), "finding gone", "findings gone"),
    ];
    let told: Vec<String> = counts
        .iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, one, many)| format!("{count} {}", if *count == 1 { one } else { many }))
        .collect();
    match told.is_empty() {
        true => "The cards say the same things as before.".to_owned(),
        false => format!("{}.", told.join(", ")),
    }
}
