//! Asking a piece: every condition to one of three answers.

use std::cell::Cell;

use crate::catalogue::model::{Criteria, Facts, ListCard};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;

use super::amount::Amount;
use super::planned::Planned;
use super::read::of_field;
use super::subject::Subject;
use super::term::{Condition, Term};
use super::truth::Truth;

/// How many named criteria one question may lead to, so that criteria which name each other come to an end.
const MOST_NAMED: u32 = 200;

/// Answers conditions against a catalogue.
#[derive(Debug)]
pub struct Evaluator<'s> {
    /// The catalogue.
    pub snapshot: &'s Snapshot,
    /// The list on whose card the conditions stand, for `from the list`.
    pub list: Option<EntryId>,
    /// The bands that are to play; empty where the catalogue says who does.
    pub bands: &'s [EntryId],
    /// What can only be said by sharing out the parts; nobody asks where it is none.
    pub planned: Option<&'static dyn Planned>,
    left: Cell<u32>,
}

impl<'s> Evaluator<'s> {
    /// For conditions of a concert, of criteria or of a search.
    pub fn new(snapshot: &'s Snapshot) -> Evaluator<'s> {
        Evaluator {
            snapshot,
            list: None,
            bands: &[],
            planned: None,
            left: Cell::new(MOST_NAMED),
        }
    }

    /// For conditions on a list's own card.
    pub fn on_list(snapshot: &'s Snapshot, list: EntryId) -> Evaluator<'s> {
        Evaluator {
            list: Some(list),
            ..Evaluator::new(snapshot)
        }
    }

    /// Whether a piece meets a condition. Counts are taken as the wish for one such piece.
    pub fn piece(&self, condition: &Condition, subject: &Subject<'_>) -> Truth {
        match &condition.term {
            Term::Not(inner) => !self.piece(inner, subject),
            Term::Any(all) => Truth::any(all.iter().map(|one| self.piece(one, subject))),
            Term::Only(inner) => self.only(inner, subject),
            Term::Count { amount, of } => self.counted(*amount, of.as_deref(), subject),
            Term::LengthInAll(amount) => self.length(*amount, subject),
            Term::Named(name) => self.named(name, subject),
            Term::Unheard(left) => Truth::Unknown(format!("what \"{}\" means", left.word)),
            term => self
                .music(term, subject)
                .or_else(|| self.parts(term, subject))
                .or_else(|| self.card(term, subject))
                .or_else(|| self.sayings(term, subject))
                .or_else(|| self.fits(term, subject))
                .or_else(|| self.records(term, subject))
                .unwrap_or_else(|| Truth::Unknown("what this asks".to_owned())),
        }
    }

    fn counted(&self, amount: Amount, of: Option<&Condition>, subject: &Subject<'_>) -> Truth {
        let Some(of) = of else {
            return Truth::Yes("is a piece".to_owned());
        };
        let is = self.piece(of, subject);
        match amount {
            Amount::AtMost(0) | Amount::Exactly(0) | Amount::Just(0) => !is,
            Amount::AtMost(_) => Truth::Yes("is one piece".to_owned()),
            _ => is,
        }
    }

    /// The conditions that stand under a name, with the list's card where it is one.
    pub fn conditions_of(&self, name: &str) -> Option<(EntryId, Vec<Condition>)> {
        let names = self.snapshot.names();
        let id = names
            .of(Kind::Criteria, name)
            .chain(names.of(Kind::List, name))
            .next()?;
        let entry = self.snapshot.entry(id)?;
        let said = match entry.facts() {
            Facts::Criteria(Criteria { calls_for, .. }) | Facts::List(ListCard { calls_for, .. }) => {
                calls_for
            }
            _ => return None,
        };
        Some((id, of_field(self.snapshot, &entry.text, said)))
    }

    /// Takes one from the number of named criteria that may still be opened.
    pub(super) fn may_open(&self) -> bool {
        let left = self.left.get();
        self.left.set(left.saturating_sub(1));
        left > 0
    }

    fn named(&self, name: &str, subject: &Subject<'_>) -> Truth {
        let unknown = || Truth::Unknown(format!("the conditions of \"{name}\""));
        if !self.may_open() {
            return unknown();
        }
        let Some((id, conditions)) = self.conditions_of(name) else {
            return unknown();
        };
        if conditions.is_empty() {
            return unknown();
        }
        let inside = self.inside(id);
        let truth = Truth::all(conditions.iter().map(|one| inside.piece(one, subject)));
        self.left.set(inside.left.get());
        truth
    }

    /// The same question, asked from another card.
    pub(super) fn inside(&self, id: EntryId) -> Evaluator<'s> {
        Evaluator {
            snapshot: self.snapshot,
            list: Some(id),
            bands: self.bands,
            planned: self.planned,
            left: Cell::new(self.left.get()),
        }
    }
}
