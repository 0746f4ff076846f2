//! The library: where each set is, what is in it and what is not, who has it, when it was played and when it may
//! be played again.

pub mod counted;
pub mod sheet;
#[cfg(test)]
mod tests;
pub mod words;

use jiff::civil::Date;

use crate::catalogue::copies::{self, Counted};
use crate::catalogue::loans::loans;
use crate::catalogue::model::Piece;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::{Day, Money, Played};
use crate::planning::choose::RESTS;
use crate::planning::find::pieces;

/// A set on the shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct Set {
    /// The piece.
    pub id: EntryId,
    /// Its title.
    pub name: String,
    /// Whether it is there; none where no card says so.
    pub there: Option<bool>,
    /// Where it is, as the card says it.
    pub place: Option<String>,
    /// Whether the card counts a score; none where it counts nothing, or names the missing score.
    pub score: Option<bool>,
    /// How many copies it counts in all.
    pub copies: u32,
    /// Instruments with fewer copies than the usual bands have stands.
    pub fewer: Vec<Counted>,
    /// What is missing, as the card says it.
    pub missing: Vec<String>,
    /// What is lent.
    pub lent: Vec<Lent>,
    /// Its performances, the last one first.
    pub history: Vec<Past>,
    /// What it cost or costs.
    pub price: Option<Money>,
}

/// A loan that is not back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lent {
    /// When and to whom, as the card says it.
    pub words: String,
    /// The day it is due.
    pub due: Option<Day>,
    /// Whether that day is over.
    pub over: bool,
}

/// A performance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Past {
    /// The day, month or year.
    pub day: Option<Day>,
    /// The bands.
    pub bands: Vec<String>,
    /// What else is said of it.
    pub said: Vec<String>,
}

/// All sets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shelf {
    /// The sets, by title.
    pub sets: Vec<Set>,
    /// What those with a price are worth, by currency, in hundredths.
    pub worth: Vec<(String, u64)>,
    /// How many have no price.
    pub unpriced: usize,
}

impl Set {
    /// From when on it may be played again: the usual years of rest after the last performance, where that lies in
    /// the days to come.
    pub fn rests_until(&self, today: Date) -> Option<Date> {
        let last = self.history.iter().filter_map(|past| past.day?.last()).max()?;
        let again = last.checked_add(jiff::Span::new().try_years(RESTS).ok()?).ok()?;
        (again >= today).then(|| again.tomorrow().unwrap_or(again))
    }

    /// Whether something about it wants doing.
    pub fn is_amiss(&self) -> bool {
        self.score == Some(false)
            || !self.fewer.is_empty()
            || !self.missing.is_empty()
            || self.lent.iter().any(|lent| lent.over)
    }
}

/// The sets of a catalogue; of these pieces only, where some are named.
pub fn shelf(snapshot: &Snapshot, only: &[EntryId]) -> Shelf {
    let mut shelf = Shelf::default();
    let mut all: Vec<EntryId> = match only.is_empty() {
        true => pieces(snapshot),
        false => only.to_vec(),
    };
    all.retain(|id| {
        let piece = snapshot.entry(*id).and_then(|entry| entry.piece());
        piece.is_some_and(|piece| piece.has_set() == Some(true) || only.contains(id))
    });
    for id in all {
        let Some(entry) = snapshot.entry(id) else { continue };
        let Some(piece) = entry.piece() else { continue };
        let set = set(snapshot, id, &entry.name, piece);
        match &set.price {
            Some(price) => {
                let known = shelf
                    .worth
                    .iter_mut()
                    .find(|(currency, _)| *currency == price.currency);
                match known {
                    Some((_, cents)) => *cents = cents.saturating_add(price.high),
                    None => shelf.worth.push((price.currency.clone(), price.high)),
                }
            }
            None => shelf.unpriced += 1,
        }
        shelf.sets.push(set);
    }
    shelf.sets.sort_by_key(|set| set.name.to_lowercase());
    shelf
}

fn set(snapshot: &Snapshot, id: EntryId, name: &str, piece: &Piece) -> Set {
    let library = &piece.library;
    let counted = library.copies.iter().map(|said| &said.value);
    let score = match library.copies.is_empty() {
        true => None,
        false => Some(
            counted
                .clone()
                .any(|copies| (copies.is_score() || copies.is_whole()) && copies.count != Some(0)),
        ),
    };
    // The bands that play it by its card, by the handbook, or by a concert to come.
    let mut bands: Vec<EntryId> = snapshot.judges(id).iter().map(|judge| judge.ensemble).collect();
    bands.dedup();
    let mut fewer: Vec<Counted> = Vec::new();
    for band in bands {
        let sections = snapshot.sections(&[band], None);
        for instrument in copies::counted(snapshot, piece) {
            let found = copies::of(snapshot, piece, instrument, &sections);
            let Some(found) = found.filter(|found| found.short() > 0) else {
                continue;
            };
            match fewer
                .iter_mut()
                .find(|known| known.instrument == found.instrument)
            {
                Some(known) if known.short() < found.short() => *known = found,
                Some(_) => {}
                None => fewer.push(found),
            }
        }
    }
    let lent = loans(piece)
        .into_iter()
        .filter(|loan| !loan.back)
        .map(|loan| {
            let due = loan.due.map(|(day, _)| day.ending(snapshot.today));
            Lent {
                words: loan.words,
                over: due.and_then(Day::last).is_some_and(|day| day < snapshot.today),
                due,
            }
        })
        .collect();
    let mut history: Vec<Past> = piece
        .performed
        .iter()
        .map(|said| Past {
            day: said.value.day,
            bands: said.value.bands.clone(),
            said: said.value.said.iter().map(played).collect(),
        })
        .collect();
    history.sort_by_key(|past| std::cmp::Reverse(past.day.and_then(Day::last)));
    let price = [&library.price, &piece.price];
    Set {
        id,
        name: name.to_owned(),
        there: piece.has_set(),
        place: library.place.as_ref().map(|said| said.value.clone()),
        score,
        copies: counted
            .filter_map(|copies| copies.count)
            .fold(0, u32::saturating_add),
        fewer,
        missing: library
            .missing
            .iter()
            .map(|said| said.value.to_string())
            .collect(),
        lent,
        history,
        price: price
            .into_iter()
            .flatten()
            .find(|said| !said.open)
            .map(|said| said.value.clone()),
    }
}

fn played(played: &Played) -> String {
    match played {
        Played::Took(takes) => format!("took {takes}"),
        Played::Result(ratings) => format!("result {}", ratings.join(" ")),
        other => other.to_string(),
    }
}
