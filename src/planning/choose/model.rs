//! From demands and pieces to the exact core.

use std::cell::OnceCell;
use std::collections::BTreeSet;

use crate::catalogue::EntryId;
use crate::catalogue::conditions::{Amount, Condition, Evaluator, Subject, Term, Truth, Verdict, different};

use super::core::{Found, Kinds, Problem, Row, best};
use super::demand::Demand;
use super::offers::Offers;
use super::pool::{Candidate, answer};

/// The most pieces of a program where nothing says how many.
const MOST_PIECES: usize = 12;

/// Everything that is asked, ready to be asked with some of the demands left out.
pub struct Model<'s> {
    /// Answers conditions for the bands that play.
    pub asked: Evaluator<'s>,
    /// The demands.
    pub demands: Vec<Demand>,
    /// The pieces.
    pub pieces: Vec<Candidate<'s>>,
    /// What can be bought, where there is a budget.
    pub offers: Option<Offers>,
    /// For each demand and piece what the piece answers, once it was asked; none for demands on the whole program.
    answers: Vec<Vec<OnceCell<Option<Truth>>>>,
}

impl<'s> Model<'s> {
    /// Nothing has been asked yet.
    pub fn new(
        asked: Evaluator<'s>,
        demands: Vec<Demand>,
        pieces: Vec<Candidate<'s>>,
        offers: Option<Offers>,
    ) -> Model<'s> {
        let answers = demands
            .iter()
            .map(|_| pieces.iter().map(|_| OnceCell::new()).collect())
            .collect();
        Model {
            asked,
            demands,
            pieces,
            offers,
            answers,
        }
    }

    /// What a piece answers to a demand, asked once.
    pub fn answer(&self, demand: usize, piece: usize) -> Option<&Truth> {
        let ask = || {
            // Each piece may open as many named criteria as any other.
            let mut one = Evaluator::new(self.asked.snapshot);
            (one.bands, one.planned) = (self.asked.bands, self.asked.planned);
            let (demand, piece) = (self.demands.get(demand)?, self.pieces.get(piece)?);
            answer(&one, demand, piece, self.offers.as_ref())
        };
        self.answers.get(demand)?.get(piece)?.get_or_init(ask).as_ref()
    }

    /// Whether a demand lets a piece be chosen.
    fn lets(&self, demand: usize, piece: usize) -> bool {
        match (self.answer(demand, piece), self.demands.get(demand)) {
            (Some(Truth::No(_)), _) => false,
            (Some(Truth::Unknown(_)), Some(demand)) => demand.is_lenient(),
            _ => true,
        }
    }

    /// The best program under some of the demands, with the numbers of its pieces; `any` takes the first that
    /// is found.
    pub fn best(&self, active: &[usize], steps: u64, any: bool) -> Found {
        self.within(active, 0, steps, any)
    }

    /// The same in an evening that may last so many seconds more.
    pub fn longer(&self, active: &[usize], more: u32, steps: u64) -> Found {
        self.within(active, more, steps, false)
    }

    fn within(&self, active: &[usize], more: u32, steps: u64, any: bool) -> Found {
        let asked = self.asking(active, more);
        let holds = |chosen: &[usize]| asked.holds(chosen);
        let accepts = |chosen: &[usize]| asked.accepts(chosen);
        let pinned = asked.pinned();
        let mut found = best(
            &Problem {
                values: asked.values(),
                fewest: asked.fewest(),
                most: asked.most(),
                rows: asked.shape.rows.clone(),
                kinds: asked.shape.kinds.clone(),
                apart: Vec::new(),
                pinned,
                holds: &holds,
                accepts: &accepts,
            },
            steps,
            any,
        );
        let number = |at: &usize| asked.pool.get(*at).copied();
        found.chosen = found
            .chosen
            .map(|chosen| chosen.iter().filter_map(number).collect());
        found
    }

    /// What some of the demands say to the core, with an evening so many seconds longer.
    pub fn asking(&self, active: &[usize], more: u32) -> Asking<'_, 's> {
        let is_active = |wanted: &Demand| {
            let demands = active.iter().filter_map(|at| self.demands.get(*at));
            demands.into_iter().any(|demand| demand == wanted)
        };
        let keeps = self
            .demands
            .iter()
            .any(|demand| matches!(demand, Demand::Keep(_)) && is_active(demand));
        let pool: Vec<usize> = (0..self.pieces.len())
            .filter(|at| {
                let pinned = keeps && self.pieces.get(*at).is_some_and(|piece| piece.pinned);
                pinned || active.iter().all(|demand| self.lets(*demand, *at))
            })
            .collect();
        let pieces: Vec<&Candidate<'s>> = pool.iter().filter_map(|at| self.pieces.get(*at)).collect();
        let mut shape = Shape::default();
        let mut counts: Vec<&Condition> = Vec::new();
        let (mut budget, mut skills) = (None, None);
        for demand in active.iter().filter_map(|at| self.demands.get(*at)) {
            if let Some((fewest, most)) = demand.pieces() {
                shape.fewest = shape.fewest.max(fewest.unwrap_or(0));
                shape.most = shape.most.min(most.unwrap_or(usize::MAX));
                continue;
            }
            match demand {
                Demand::Condition { condition, .. } if condition.counts() => {
                    self.count(condition, &pieces, &mut shape);
                    counts.push(condition);
                }
                Demand::Length { allowed, between } => {
                    let between = i64::from(*between);
                    let lasts = |piece: &&Candidate<'_>| i64::from(piece.seconds.unwrap_or(0)) + between;
                    shape.rows.push(Row {
                        weights: pieces.iter().map(lasts).collect(),
                        low: None,
                        high: Some(i64::from(*allowed) + i64::from(more) + between),
                    });
                }
                Demand::Budget(money) => {
                    let share = |piece: &&Candidate<'_>| match (&self.offers, piece.to_buy) {
                        (Some(offers), Some(true)) => small(offers.share(piece.subject.id)),
                        _ => 0,
                    };
                    shape.rows.push(Row {
                        weights: pieces.iter().map(share).collect(),
                        low: None,
                        high: Some(small(money.cents)),
                    });
                    budget = Some(money.cents);
                }
                Demand::NewSkills(most) => skills = Some(*most as usize),
                Demand::Alike(facet, most) => {
                    let own: Vec<Vec<String>> = pieces.iter().map(|piece| piece.alike(*facet)).collect();
                    let mut kinds = kinds_of(&own);
                    // What the director put on the program goes first.
                    let pinned = |kind: &usize| {
                        let both = pieces.iter().zip(&kinds.of);
                        both.filter(|(piece, of)| keeps && piece.pinned && of.contains(kind))
                            .count()
                    };
                    let widest = kinds.of.iter().flatten().map(pinned).max().unwrap_or(0);
                    kinds.most = Some((*most).max(widest));
                    shape.kinds.push(kinds);
                }
                _ => {}
            }
        }
        Asking {
            model: self,
            pool,
            pieces,
            shape,
            counts,
            budget,
            skills,
            keeps,
        }
    }

    /// What a condition that counts says to the core. What it cannot say there is asked of every whole program.
    fn count(&self, condition: &Condition, pieces: &[&Candidate<'s>], shape: &mut Shape) {
        let row = |weights: Vec<i64>, low: Option<u64>, high: Option<u64>| Row {
            weights,
            low: low.map(small),
            high: high.map(small),
        };
        match &condition.term {
            Term::Count { amount, of: Some(of) } => {
                let truths: Vec<Truth> = pieces
                    .iter()
                    .map(|piece| self.asked.piece(of, &piece.subject))
                    .collect();
                let (low, high) = ends(*amount);
                let sure = truths.iter().map(|truth| i64::from(truth.is_yes())).collect();
                let perhaps = truths.iter().map(|truth| i64::from(!truth.is_no())).collect();
                if low.is_some() {
                    shape.rows.push(row(sure, low, None));
                }
                if high.is_some() {
                    shape.rows.push(row(perhaps, None, high));
                }
            }
            Term::Contrast => {
                for term in [Term::Slow, Term::Fast] {
                    let one = Condition {
                        span: condition.span,
                        term,
                    };
                    let is =
                        |piece: &&Candidate<'_>| i64::from(self.asked.piece(&one, &piece.subject).is_yes());
                    shape
                        .rows
                        .push(row(pieces.iter().map(is).collect(), Some(1), None));
                }
            }
            Term::Different { amount, what } => {
                let own: Vec<Vec<String>> = pieces
                    .iter()
                    .map(|piece| different(*what, &piece.subject).0.into_iter().collect())
                    .collect();
                let mut kinds = kinds_of(&own);
                let (low, high) = ends(*amount);
                kinds.least_different = low.map_or(0, |low| usize::try_from(low).unwrap_or(usize::MAX));
                kinds.most_different = high.and_then(|high| usize::try_from(high).ok());
                shape.kinds.push(kinds);
            }
            Term::LengthInAll(amount) => {
                let (low, high) = ends(match amount {
                    // A bare length is just that, and no least.
                    Amount::Just(just) => Amount::Exactly(*just),
                    amount => *amount,
                });
                let lasts = pieces
                    .iter()
                    .map(|piece| i64::from(piece.seconds.unwrap_or(0)))
                    .collect();
                shape.rows.push(row(lasts, low, high));
            }
            _ => {}
        }
    }
}

/// Some of the demands, as the core is told of them.
pub struct Asking<'m, 's> {
    model: &'m Model<'s>,
    /// The pieces that may be chosen, by their numbers in the model.
    pub pool: Vec<usize>,
    /// The same pieces.
    pub pieces: Vec<&'m Candidate<'s>>,
    /// Sizes and sums.
    pub shape: Shape,
    counts: Vec<&'m Condition>,
    budget: Option<u64>,
    skills: Option<usize>,
    keeps: bool,
}

impl Asking<'_, '_> {
    /// What each piece is worth.
    pub fn values(&self) -> Vec<i64> {
        self.pieces.iter().map(|piece| piece.value().max(0)).collect()
    }

    /// How many pieces at least.
    pub fn fewest(&self) -> usize {
        self.shape.fewest.max(1)
    }

    /// How many pieces at most.
    pub fn most(&self) -> usize {
        self.shape.most.min(MOST_PIECES.max(self.pinned().len()))
    }

    /// The pieces that stay.
    pub fn pinned(&self) -> Vec<usize> {
        match self.keeps {
            true => (0..self.pieces.len())
                .filter(|at| self.pieces.get(*at).is_some_and(|piece| piece.pinned))
                .collect(),
            false => Vec::new(),
        }
    }

    /// The sets that would have to be bought.
    pub fn to_buy(&self, chosen: &[usize]) -> Vec<EntryId> {
        let all = chosen.iter().filter_map(|at| self.pieces.get(*at));
        all.filter(|piece| piece.to_buy == Some(true))
            .map(|piece| piece.subject.id)
            .collect()
    }

    /// The skills that are new to the band.
    pub fn new_skills(&self, chosen: &[usize]) -> BTreeSet<String> {
        let all = chosen.iter().filter_map(|at| self.pieces.get(*at));
        all.flat_map(|piece| piece.new_skills.iter().flatten().cloned())
            .collect()
    }

    /// What once broken stays broken, however many pieces are added.
    fn holds(&self, chosen: &[usize]) -> bool {
        let within = || match (self.budget, &self.model.offers) {
            (Some(cents), Some(offers)) => {
                // A piece on the program that nobody sells is told; it spends nothing that is known.
                let needed = self.to_buy(chosen);
                let needed: Vec<EntryId> = needed.into_iter().filter(|id| offers.sells(*id)).collect();
                needed.is_empty() || offers.cheapest(&needed).is_some_and(|found| found.cents <= cents)
            }
            _ => true,
        };
        self.skills
            .is_none_or(|most| self.new_skills(chosen).len() <= most)
            && within()
    }

    /// What a whole program must meet.
    pub fn accepts(&self, chosen: &[usize]) -> bool {
        let program: Vec<Option<Subject<'_>>> = chosen
            .iter()
            .filter_map(|at| self.pieces.get(*at))
            .map(|piece| Some(piece.subject))
            .collect();
        self.counts
            .iter()
            .all(|one| self.model.asked.program(one, &program) == Verdict::Met)
    }
}

/// What the core is told of sizes and sums.
pub struct Shape {
    fewest: usize,
    most: usize,
    /// Limits on sums.
    pub rows: Vec<Row>,
    /// Limits on kinds.
    pub kinds: Vec<Kinds>,
}

impl Default for Shape {
    fn default() -> Shape {
        Shape {
            fewest: 0,
            most: usize::MAX,
            rows: Vec::new(),
            kinds: Vec::new(),
        }
    }
}

/// Sums stay small enough to be priced.
fn small(number: u64) -> i64 {
    i64::try_from(number.min(100_000_000)).unwrap_or(0)
}

/// The ends of a count; a bare number is enough when there are more.
fn ends(amount: Amount) -> (Option<u64>, Option<u64>) {
    match amount {
        Amount::A => (Some(1), None),
        Amount::Just(count) | Amount::AtLeast(count) => (Some(count), None),
        Amount::Exactly(count) => (Some(count), Some(count)),
        Amount::AtMost(count) => (None, Some(count)),
        Amount::Between(low, high) => (Some(low), Some(high)),
    }
}

fn kinds_of(own: &[Vec<String>]) -> Kinds {
    let all: BTreeSet<&String> = own.iter().flatten().collect();
    let all: Vec<&String> = all.into_iter().collect();
    let number = |word: &String| all.binary_search(&word).ok();
    Kinds {
        of: own
            .iter()
            .map(|words| words.iter().filter_map(number).collect())
            .collect(),
        ..Kinds::default()
    }
}
