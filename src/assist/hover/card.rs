//! A card in a few lines.

use crate::catalogue::model::Facts;
use crate::catalogue::{EntryId, Snapshot};
use crate::text::sentences;

use super::super::markdown::words;

/// A card's summary: what a director would want to know before opening it.
pub(in super::super) fn summary(snapshot: &Snapshot, id: EntryId) -> Option<String> {
    let entry = snapshot.entry(id)?;
    let kind = entry.kind?;
    let mut lines = vec![match entry.name.is_empty() {
        true => format!("**{kind}**"),
        false => format!("{kind} **{}**", words(&entry.name)),
    }];
    // The card's own words are shown: they are what the director wrote and knows.
    let reading = entry.reading();
    let shown: &[&str] = match entry.facts() {
        Facts::Piece(_) => &[
            "by",
            "grade",
            "style",
            "tonal center",
            "key signature",
            "meter",
            "tempo",
            "lasts",
            "needs",
        ],
        Facts::Ensemble(_) => &["season", "meets", "keys"],
        Facts::Concert(_) => &["on", "for", "length", "calls for"],
        Facts::Handbook(_) => &["for", "players", "follows"],
        Facts::Bundle(_) => &["from", "price", "holds"],
        Facts::List(_) => &["year", "holds"],
        Facts::Skill(_) => &["after", "takes", "also"],
        Facts::Instrument(_) => &["also", "sounds", "range", "reads", "family"],
        Facts::Criteria(_) => &["calls for"],
        Facts::Nothing => &[],
    };
    for name in shown {
        for field in reading.fields.iter().filter(|field| field.name() == Some(name)) {
            let value = crate::text::Span::new(field.word.end, field.whole.end).slice(&entry.text);
            let value = value.split_whitespace().collect::<Vec<_>>().join(" ");
            if !value.is_empty() {
                lines.push(format!("{name}: {}", words(&value)));
            }
        }
    }
    lines.extend(counted(snapshot, id));
    Some(lines.join("  \n"))
}

/// What follows from the card rather than standing on it.
fn counted(snapshot: &Snapshot, id: EntryId) -> Vec<String> {
    let mut lines = Vec::new();
    let Some(entry) = snapshot.entry(id) else {
        return lines;
    };
    if let Some(ensemble) = entry.ensemble() {
        let winds = ensemble
            .players
            .iter()
            .filter_map(|row| row.count)
            .fold(0u32, |sum, count| sum.saturating_add(count.number));
        if winds > 0 {
            lines.push(sentences::counted(winds as usize, "wind player"));
        }
        if let Some(players) = ensemble.percussion_players() {
            lines.push(sentences::counted(players as usize, "percussionist"));
        }
    }
    if entry.piece().is_some() {
        let concerts: Vec<&str> = snapshot
            .listings_of(id)
            .iter()
            .filter_map(|listing| snapshot.entry(listing.concert))
            .map(|concert| concert.name.as_str())
            .collect();
        if !concerts.is_empty() {
            lines.push(format!(
                "On the program of {}",
                words(&sentences::joined(&concerts))
            ));
        }
    }
    if let Some(concert) = entry.concert() {
        lines.push(sentences::counted(concert.program.len(), "piece"));
    }
    lines
}
