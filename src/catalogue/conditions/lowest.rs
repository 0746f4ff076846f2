//! The lowest of the band's own grades whose criteria a piece meets.

use crate::catalogue::model::{Criteria, Facts};
use crate::catalogue::{Entry, EntryId, Snapshot};
use crate::notation::Kind;
use crate::notation::values::{Grade, Value, Who};

use super::judge::Evaluator;
use super::read::of_field;
use super::subject::Subject;
use super::term::Condition;
use super::truth::Truth;

/// Criteria that stand for a grade.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The grade in hundredths.
    pub grade: u32,
    /// The criteria's card.
    pub card: EntryId,
    /// Its conditions.
    pub conditions: Vec<Condition>,
}

/// The grade that a criteria card stands for: its `grade`, ours or nobody's, else the number in a name such
/// as `our grade 1`.
fn grade_of(entry: &Entry) -> Option<u32> {
    let reading = entry.reading();
    let said = reading
        .fields
        .iter()
        .filter(|field| field.name() == Some("grade"))
        .flat_map(|field| field.items())
        .find_map(|item| match &item.value {
            Some(Value::Grade(grade)) if item.is_certain() && grade.part.is_none() => Some(grade.clone()),
            _ => None,
        });
    let grade = match said {
        Some(grade) => grade,
        None => {
            let name = entry.name.to_lowercase();
            let rest = ["our grade ", "ours grade ", "our own grade "]
                .iter()
                .find_map(|lead| name.strip_prefix(lead))?;
            Grade::read(rest)?
        }
    };
    let ours = matches!(grade.who, Who::Unsaid | Who::Ours);
    (ours && grade.low == grade.high).then_some(grade.low)
}

/// All criteria that stand for one of the band's own grades, the lowest first.
pub(in crate::catalogue) fn grade_cards(snapshot: &Snapshot) -> Vec<Step> {
    let mut cards: Vec<EntryId> = snapshot.names().all(Kind::Criteria).map(|(_, id)| id).collect();
    cards.sort_unstable();
    let mut steps: Vec<Step> = cards
        .into_iter()
        .filter_map(|card| {
            let entry = snapshot.entry(card)?;
            let Facts::Criteria(Criteria { calls_for, .. }) = entry.facts() else {
                return None;
            };
            let conditions = of_field(snapshot, &entry.text, calls_for);
            (!conditions.is_empty()).then_some(Step {
                grade: grade_of(entry)?,
                card,
                conditions,
            })
        })
        .collect();
    steps.sort_by_key(|step| step.grade);
    steps
}

/// The lowest grade whose criteria a piece surely meets, in hundredths. None where it meets none, or where
/// a lower grade can neither be granted nor denied, since then nobody can say which is the lowest.
pub fn lowest_met(asked: &Evaluator<'_>, subject: &Subject<'_>) -> Option<u32> {
    for step in asked.snapshot.grade_cards() {
        // Criteria that ask what criteria are met would never come to an end.
        if !asked.may_open() {
            return None;
        }
        match Truth::all(step.conditions.iter().map(|one| asked.piece(one, subject))) {
            Truth::Yes(_) => return Some(step.grade),
            Truth::No(_) => {}
            Truth::Unknown(_) => return None,
        }
    }
    None
}
