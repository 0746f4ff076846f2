//! Asking a concert's program: counts over all of it, everything else of each piece.

use std::collections::BTreeSet;

use crate::catalogue::model::Concert;
use crate::text::sentences::{counted, joined};

use super::judge::Evaluator;
use super::music_facts::{different, seconds};
use super::subject::Subject;
use super::term::{Condition, Facet, Term};
use super::truth::Truth;

/// Whether a program meets a condition.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It does.
    Met,
    /// It surely does not.
    Lacks(Lack),
    /// Nobody can say; what is not known.
    Unknown(String),
}

/// What a program lacks.
#[derive(Debug, Clone, PartialEq)]
pub struct Lack {
    /// What there is instead, in words that can end a sentence: `it has 1 key`.
    pub why: String,
    /// The pieces at fault by their place in the program, each with the reason; empty for a count.
    pub pieces: Vec<(usize, String)>,
}

impl<'s> Evaluator<'s> {
    /// The pieces of a program, in its order; none where a title has no card or more than one.
    pub fn pieces_of(&self, concert: &'s Concert) -> Vec<Option<Subject<'s>>> {
        concert
            .program
            .iter()
            .map(|listed| {
                let title = &listed.title.value;
                match self
                    .snapshot
                    .pieces_titled(&title.name, title.by.as_deref())
                    .as_slice()
                {
                    [only] => Some(Subject {
                        movements: &listed.movements,
                        ..Subject::of(*only, self.snapshot.entry(*only)?)?
                    }),
                    _ => None,
                }
            })
            .collect()
    }

    /// The conditions of a concert with the named ones opened: each with the condition on the concert's own
    /// card that led to it, and the name that it stands under.
    pub fn opened<'c>(&self, conditions: &'c [Condition]) -> Vec<(&'c Condition, Condition, Option<String>)> {
        let mut found = Vec::new();
        for own in conditions {
            match &own.term {
                Term::Named(name) => self.open(own, name, &mut Vec::new(), &mut found),
                _ => found.push((own, own.clone(), None)),
            }
        }
        found
    }

    fn open<'c>(
        &self,
        own: &'c Condition,
        name: &str,
        seen: &mut Vec<crate::catalogue::EntryId>,
        found: &mut Vec<(&'c Condition, Condition, Option<String>)>,
    ) {
        let Some((id, inside)) = self.conditions_of(name).filter(|(id, _)| !seen.contains(id)) else {
            return;
        };
        seen.push(id);
        for mut condition in inside {
            match &condition.term {
                Term::Named(name) if seen.len() < 20 => self.open(own, &name.clone(), seen, found),
                Term::OnList(None) => {
                    condition.term = Term::OnList(Some(name.to_owned()));
                    found.push((own, condition, Some(name.to_owned())));
                }
                _ => found.push((own, with_list(condition, name), Some(name.to_owned()))),
            }
        }
    }

    /// Whether a program meets a condition. An empty program is still being chosen, so nothing is said of it.
    pub fn program(&self, condition: &Condition, pieces: &[Option<Subject<'_>>]) -> Verdict {
        if pieces.is_empty() {
            return Verdict::Unknown("the program".to_owned());
        }
        if condition.counts() {
            return match self.whole(condition, pieces) {
                Truth::Yes(_) => Verdict::Met,
                Truth::No(why) => Verdict::Lacks(Lack {
                    why,
                    pieces: Vec::new(),
                }),
                Truth::Unknown(what) => Verdict::Unknown(what),
            };
        }
        let mut unknown = None;
        let mut at_fault = Vec::new();
        for (at, piece) in pieces.iter().enumerate().filter(|(_, piece)| counts(piece)) {
            let truth = piece.as_ref().map_or_else(
                || Truth::Unknown("a title without a card".to_owned()),
                |piece| self.piece(condition, piece),
            );
            match truth {
                Truth::Yes(_) => {}
                Truth::No(why) => at_fault.push((at, why)),
                Truth::Unknown(what) => unknown = unknown.or(Some(what)),
            }
        }
        if let Some((_, why)) = at_fault.first() {
            return Verdict::Lacks(Lack {
                why: why.clone(),
                pieces: at_fault,
            });
        }
        unknown.map_or(Verdict::Met, Verdict::Unknown)
    }

    fn whole(&self, condition: &Condition, all: &[Option<Subject<'_>>]) -> Truth {
        // What is not judged takes its time and is otherwise no piece of the program.
        let judged: Vec<Option<Subject<'_>>> = all.iter().filter(|piece| counts(piece)).copied().collect();
        let pieces = match &condition.term {
            Term::LengthInAll(_) | Term::Not(_) | Term::Any(_) => all,
            _ => &judged,
        };
        match &condition.term {
            Term::Not(inner) => !self.whole(inner, pieces),
            Term::Any(all) => Truth::any(all.iter().map(|one| self.whole(one, pieces))),
            Term::Contrast => Truth::all([Term::Slow, Term::Fast].map(|term| {
                let one = Condition {
                    span: condition.span,
                    term,
                };
                let some = Truth::any(pieces.iter().map(|piece| match piece {
                    Some(piece) => self.piece(&one, piece),
                    None => Truth::Unknown("a title without a card".to_owned()),
                }));
                match some {
                    Truth::No(_) => Truth::No(format!("nothing in the program is {one}")),
                    truth => truth,
                }
            })),
            Term::Count { amount, of } => {
                let (mut sure, mut perhaps) = (0u64, 0u64);
                for piece in pieces {
                    let truth = match (of, piece) {
                        (None, _) => Truth::Yes(String::new()),
                        (Some(of), Some(piece)) => self.piece(of, piece),
                        (Some(_), None) => Truth::Unknown(String::new()),
                    };
                    sure += u64::from(truth.is_yes());
                    perhaps += u64::from(!truth.is_no());
                }
                let what = if of.is_some() { "such piece" } else { "piece" };
                let why = match sure {
                    0 => format!("it has no {what}"),
                    sure => format!("it has {}", counted(usize::try_from(sure).unwrap_or(0), what)),
                };
                Truth::within(
                    amount.holds_in(sure, Some(perhaps), true),
                    why,
                    "some of the pieces",
                )
            }
            Term::Different { amount, what } => {
                let (mut all, mut complete) = (BTreeSet::new(), true);
                for piece in pieces {
                    match piece {
                        Some(piece) => {
                            let (found, sure) = different(*what, piece);
                            all.extend(found);
                            complete &= sure;
                        }
                        None => complete = false,
                    }
                }
                let low = all.len() as u64;
                let high = complete.then_some(low);
                Truth::within(
                    amount.holds_in(low, high, true),
                    values(*what, &all),
                    "some of the pieces",
                )
            }
            Term::LengthInAll(amount) => {
                let mut sum = (0u64, Some(0u64));
                for piece in pieces {
                    match piece.as_ref().and_then(seconds) {
                        Some((low, high)) => {
                            sum = (
                                sum.0.saturating_add(low),
                                sum.1.map(|all| all.saturating_add(high)),
                            );
                        }
                        None => sum.1 = None,
                    }
                }
                let why = format!("the music lasts {}:{:02}", sum.0 / 60, sum.0 % 60);
                Truth::within(
                    amount.holds_in(sum.0, sum.1, false),
                    why,
                    "how long some of the pieces last",
                )
            }
            // Beside a count, a condition on each piece holds where it holds for all of them.
            _ => Truth::all(pieces.iter().map(|piece| {
                piece.as_ref().map_or_else(
                    || Truth::Unknown("a title without a card".to_owned()),
                    |piece| self.piece(condition, piece),
                )
            })),
        }
    }
}

/// Whether a row of a program is judged; a row without a card may be anything.
fn counts(piece: &Option<Subject<'_>>) -> bool {
    piece.as_ref().is_none_or(|piece| piece.piece.is_judged())
}

/// `it has only Bb major`, `it has 4 keys`.
fn values(what: Facet, all: &BTreeSet<String>) -> String {
    let named: Vec<&str> = all.iter().map(String::as_str).collect();
    match named.as_slice() {
        [] => format!("it has no {}", what.word()),
        [one] => format!("it has only {one}"),
        several if several.len() <= 4 => format!("it has {}", joined(several)),
        several => format!("it has {}", counted(several.len(), what.word())),
    }
}

/// A condition from a list's card, with `the list` as the list's name.
fn with_list(condition: Condition, name: &str) -> Condition {
    let term = match condition.term {
        Term::OnList(None) => Term::OnList(Some(name.to_owned())),
        Term::Not(inner) => Term::Not(Box::new(with_list(*inner, name))),
        Term::Any(all) => Term::Any(all.into_iter().map(|one| with_list(one, name)).collect()),
        Term::Count {
            amount,
            of: Some(inner),
        } => Term::Count {
            amount,
            of: Some(Box::new(with_list(*inner, name))),
        },
        term => term,
    };
    Condition { term, ..condition }
}
