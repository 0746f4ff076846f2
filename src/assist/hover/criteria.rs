//! Where a piece stands: against criteria, condition by condition, and on lists.

use crate::catalogue::conditions::{Subject, Truth, alone, lowest_met, of_field};
use crate::catalogue::model::{Criteria, Facts};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::notation::values::grade::show_hundredths;
use crate::planning::fitting::asking;

use super::super::markdown::words;

/// The most criteria and lists that a small window holds.
const MOST: usize = 8;

/// Where a piece stands; none where the card is no piece or nothing can be said.
pub(super) fn of(snapshot: &Snapshot, id: EntryId) -> Option<String> {
    let entry = snapshot.entry(id)?;
    let subject = Subject::of(id, entry)?;
    let mut lines = Vec::new();
    if let Some(grade) = lowest_met(&asking(snapshot), &subject) {
        lines.push(format!("meets our grade {}", show_hundredths(grade)));
    }
    for (_, card) in snapshot.entries() {
        let Facts::Criteria(Criteria { calls_for, .. }) = card.facts() else {
            continue;
        };
        let conditions = of_field(snapshot, &card.text, calls_for);
        if conditions.is_empty() || lines.len() >= MOST {
            continue;
        }
        let asked = asking(snapshot);
        let answers: Vec<(String, Truth)> = conditions
            .iter()
            .map(|one| (one.span.slice(&card.text).to_owned(), asked.piece(one, &subject)))
            .collect();
        lines.push(format!("{}: {}", words(&card.name), words(&answer(&answers))));
    }
    let mut lists = 0;
    for (list, used) in snapshot.uses_of(id) {
        let Some(card) = snapshot.entry(list).filter(|card| card.kind == Some(Kind::List)) else {
            continue;
        };
        if lists >= MOST {
            break;
        }
        lists += 1;
        lines.push(match grade_there(&card.text, used.span.end) {
            Some(grade) => format!("on {}: {}", words(&card.name), words(grade)),
            None => format!("on {}", words(&card.name)),
        });
    }
    (!lines.is_empty()).then(|| lines.join("  \n"))
}

/// What is not met, else what is not known, else that all is met.
fn answer(answers: &[(String, Truth)]) -> String {
    let missed: Vec<String> = answers
        .iter()
        .filter(|(_, truth)| truth.is_no())
        .map(|(words, truth)| format!("{} ({words})", alone(truth.words())))
        .collect();
    if !missed.is_empty() {
        return format!("not met: {}", missed.join(", "));
    }
    let unknown: Vec<String> = answers
        .iter()
        .filter(|(_, truth)| !truth.is_yes())
        .map(|(words, truth)| format!("{words} (not known: {})", truth.words()))
        .collect();
    match unknown.is_empty() {
        true => "met".to_owned(),
        false => format!("not sure: {}", unknown.join(", ")),
    }
}

/// The grade behind a title on a list's card.
fn grade_there(text: &str, end: u32) -> Option<&str> {
    let rest = text.get(end as usize..)?;
    let rest = rest.strip_prefix(['"', '”']).unwrap_or(rest);
    let item = rest.split([',', '\n', '\r']).next()?.trim();
    item.starts_with("grade").then_some(item)
}
