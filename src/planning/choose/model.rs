//! From demands and pieces to the exact core.

use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

use crate::catalogue::EntryId;
use crate::catalogue::conditions::{Amount, Condition, Evaluator, Subject, Term, Truth, Verdict, different};

use crate::planning::teach::Learned;

use super::core::{Found, Kinds, Problem, Row, best};
use super::demand::Demand;
use super::offers::Offers;
use super::pool::{Candidate, answer, most_new};

/// The most pieces of a program where nothing says how many.
const MOST_PIECES: usize = 12;
/// The most pieces of each band where several play one after another.
const MOST_EACH: usize = 6;

/// What else is asked of one search.
#[derive(Default, Clone, Copy)]
pub struct Also<'a> {
    /// So many seconds more than the evening has.
    pub more: u32,
    /// Pieces that are left out.
    pub without: &'a [EntryId],
    /// A piece, by its number, that is in.
    pub with: Option<usize>,
    /// Programs from which this one is to differ, each with how many of its pieces may come again at most.
    pub differs: &'a [(Vec<EntryId>, usize)],
    /// Whether the first program that is found will do.
    pub any: bool,
    /// What the bands have learned by then, and is not new to them.
    pub learned: Option<&'a Learned>,
    /// Where new skills are limited: how many at most, with those that the bands have learned by then.
    pub with_learned: Option<usize>,
    /// Skills that some piece has to ask of a band.
    pub asks: &'a [(EntryId, String)],
}

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
        mut pieces: Vec<Candidate<'s>>,
        offers: Option<Offers>,
    ) -> Model<'s> {
        // Where money is counted, a set with a price that nobody says is there costs it, as for the rules.
        for piece in pieces.iter_mut().filter(|piece| piece.to_buy.is_none()) {
            let sold = offers
                .as_ref()
                .is_some_and(|offers| offers.sells(piece.subject.id));
            piece.to_buy = sold.then_some(true);
        }
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
            let (demand, piece) = (self.demands.get(demand)?, self.pieces.get(piece)?);
            (one.bands, one.planned) = (piece.bands, self.asked.planned);
            answer(&one, demand, piece, self.offers.as_ref())
        };
        self.answers.get(demand)?.get(piece)?.get_or_init(ask).as_ref()
    }

    /// What bands have learned is no longer new to them.
    pub fn learn(&mut self, learned: &Learned) {
        for piece in &mut self.pieces {
            let still: Vec<String> = piece.still_new(learned).cloned().collect();
            piece.new_skills = piece.new_skills.clone().map(|_| still);
        }
        for (demand, answers) in self.demands.iter().zip(&mut self.answers) {
            if matches!(demand, Demand::NewSkills { .. }) {
                answers.fill(OnceCell::new());
            }
        }
    }

    /// Whether a demand lets a piece be chosen.
    fn lets(&self, demand: usize, piece: usize, learned: Option<&Learned>) -> bool {
        if let (Some(Demand::NewSkills { most, .. }), Some(learned)) = (self.demands.get(demand), learned) {
            let piece = self.pieces.get(piece);
            return piece.is_some_and(|piece| {
                piece.new_skills.is_ok() && piece.still_new(learned).count() <= *most as usize
            });
        }
        match (self.answer(demand, piece), self.demands.get(demand)) {
            (Some(Truth::No(_)), _) => false,
            (Some(Truth::Unknown(_)), Some(demand)) => demand.is_lenient(),
            _ => true,
        }
    }

    /// Answers conditions for those who play a piece.
    pub fn asked_of(&self, piece: &Candidate<'s>) -> Evaluator<'s> {
        let mut one = Evaluator::new(self.asked.snapshot);
        (one.bands, one.planned) = (piece.bands, self.asked.planned);
        one
    }

    /// Whether several bands play one after another.
    fn is_shared(&self) -> bool {
        self.pieces.iter().any(|piece| piece.band.is_some())
    }

    /// The best program under some of the demands, with the numbers of its pieces.
    pub fn best(&self, active: &[usize], steps: u64) -> Found {
        self.within(active, Also::default(), steps)
    }

    /// The same with what else is asked.
    pub fn within(&self, active: &[usize], also: Also<'_>, steps: u64) -> Found {
        let Also {
            more,
            without,
            with,
            differs,
            any,
            learned,
            with_learned,
            asks,
        } = also;
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
                let pinned =
                    with == Some(*at) || keeps && self.pieces.get(*at).is_some_and(|piece| piece.pinned);
                let is_out = || {
                    let piece = self.pieces.get(*at);
                    piece.is_some_and(|piece| without.contains(&piece.subject.id))
                };
                pinned || !is_out() && active.iter().all(|demand| self.lets(*demand, *at, learned))
            })
            .collect();
        let pieces: Vec<&Candidate<'s>> = pool.iter().filter_map(|at| self.pieces.get(*at)).collect();
        let mut shape = Shape::default();
        let mut counts: Vec<&Condition> = Vec::new();
        let (mut budget, mut skills) = (None, None);
        let shared = self.is_shared();
        let between = self.demands.iter().find_map(|demand| match demand {
            Demand::Length { between, .. } => Some(i64::from(*between)),
            _ => None,
        });
        let between = between.unwrap_or(0);
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
                Demand::One(title) => {
                    let is = |piece: &&Candidate<'_>| i64::from(piece.kept && piece.name == *title);
                    shape.rows.push(Row {
                        weights: pieces.iter().map(is).collect(),
                        low: Some(1),
                        high: None,
                    });
                }
                Demand::Share {
                    band, least, most, ..
                } => {
                    let own = |piece: &Candidate<'_>| piece.band == Some(*band);
                    shape.rows.push(Row {
                        weights: pieces.iter().map(|piece| i64::from(own(piece))).collect(),
                        low: Some(1),
                        high: None,
                    });
                    if least.is_some() || most.is_some() {
                        let lasts = |piece: &&Candidate<'_>| match own(piece) {
                            true => i64::from(piece.seconds.unwrap_or(0)) + between,
                            false => 0,
                        };
                        shape.rows.push(Row {
                            weights: pieces.iter().map(lasts).collect(),
                            low: least.map(|least| i64::from(least) + between),
                            high: most.map(|most| i64::from(most) + between),
                        });
                    }
                }
                Demand::NewSkills { most, .. } => skills = Some(*most as usize),
                Demand::Alike { facet, most, .. } => {
                    // Each band has a contrast of its own.
                    let band =
                        |piece: &Candidate<'_>| piece.band.map_or(String::new(), |at| format!("{at} "));
                    let of = |piece: &&Candidate<'_>| -> Vec<String> {
                        let all = piece.alike(*facet).into_iter();
                        all.map(|kind| format!("{}{kind}", band(piece))).collect()
                    };
                    let own: Vec<Vec<String>> = pieces.iter().map(of).collect();
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
        let nothing = Learned::default();
        let to_buy = |chosen: &[usize]| -> Vec<EntryId> {
            let all = chosen.iter().filter_map(|at| pieces.get(*at));
            all.filter(|piece| piece.to_buy == Some(true))
                .map(|piece| piece.subject.id)
                .collect()
        };
        let holds = |chosen: &[usize]| {
            let within = || match (budget, &self.offers) {
                (Some(cents), Some(offers)) => {
                    let needed = to_buy(chosen);
                    // A piece on the program that nobody sells is told; it spends nothing that is known.
                    let needed: Vec<EntryId> = needed.into_iter().filter(|id| offers.sells(*id)).collect();
                    needed.is_empty() || offers.cheapest(&needed).is_some_and(|found| found.cents <= cents)
                }
                _ => true,
            };
            let taught = || {
                let Some(most) = skills else { return true };
                let all: Vec<&Candidate<'_>> =
                    chosen.iter().filter_map(|at| pieces.get(*at).copied()).collect();
                most_new(&all, learned.unwrap_or(&nothing)) <= most
                    && with_learned.is_none_or(|most| most_new(&all, &nothing) <= most)
            };
            taught() && within()
        };
        let accepts = |chosen: &[usize]| {
            let program: Vec<Option<Subject<'_>>> = chosen
                .iter()
                .filter_map(|at| pieces.get(*at))
                .map(|piece| Some(piece.subject))
                .collect();
            // What a count says of single pieces rests on who plays them, and the rows hold it exactly.
            let said = |one: &&&Condition| {
                shared && matches!(&one.term, Term::Count { of: Some(_), .. } | Term::Contrast)
            };
            counts
                .iter()
                .filter(|one| !said(one))
                .all(|one| self.asked.program(one, &program) == Verdict::Met)
        };
        let is_in = |at: &usize| {
            let number = pool.get(*at).copied();
            with.is_some() && number == with || keeps && pieces.get(*at).is_some_and(|piece| piece.pinned)
        };
        let pinned: Vec<usize> = (0..pieces.len()).filter(is_in).collect();
        for (titles, most) in differs {
            let comes = |piece: &&Candidate<'_>| i64::from(titles.contains(&piece.subject.id));
            shape.rows.push(Row {
                weights: pieces.iter().map(comes).collect(),
                low: None,
                high: i64::try_from(*most).ok(),
            });
            // A program that only leaves something out is no other one.
            let is_new =
                |piece: &&Candidate<'_>| i64::from(!piece.pinned && !titles.contains(&piece.subject.id));
            shape.rows.push(Row {
                weights: pieces.iter().map(is_new).collect(),
                low: Some(1),
                high: None,
            });
        }
        for (band, skill) in asks {
            let teaches = |piece: &&Candidate<'_>| {
                let mut skills = piece.new_skills.iter().flatten();
                i64::from(piece.bands.contains(band) && skills.any(|one| one == skill))
            };
            shape.rows.push(Row {
                weights: pieces.iter().map(teaches).collect(),
                low: Some(1),
                high: None,
            });
        }
        let bands = pieces
            .iter()
            .filter_map(|piece| piece.band)
            .max()
            .map_or(0, |last| last + 1);
        let mut found = best(
            &Problem {
                values: pieces.iter().map(|piece| piece.value().max(0)).collect(),
                fewest: shape.fewest.max(1),
                most: shape
                    .most
                    .min(MOST_PIECES.max(MOST_EACH * bands).max(pinned.len())),
                rows: shape.rows,
                kinds: shape.kinds,
                apart: match shared {
                    true => one_piece_twice(&pieces),
                    false => Vec::new(),
                },
                pinned,
                holds: &holds,
                accepts: &accepts,
            },
            steps,
            any,
        );
        let number = |at: &usize| pool.get(*at).copied();
        found.chosen = found
            .chosen
            .map(|chosen| chosen.iter().filter_map(number).collect());
        found
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
                    .map(|piece| self.asked_of(piece).piece(of, &piece.subject))
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
                    let is = |piece: &&Candidate<'s>| {
                        i64::from(self.asked_of(piece).piece(&one, &piece.subject).is_yes())
                    };
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

/// The pairs that are one piece for two bands.
fn one_piece_twice(pieces: &[&Candidate<'_>]) -> Vec<(usize, usize)> {
    let mut places: BTreeMap<EntryId, Vec<usize>> = BTreeMap::new();
    for (at, piece) in pieces.iter().enumerate() {
        places.entry(piece.subject.id).or_default().push(at);
    }
    let mut pairs = Vec::new();
    for places in places.into_values() {
        for (nth, one) in places.iter().enumerate() {
            pairs.extend(places.iter().skip(nth + 1).map(|other| (*one, *other)));
        }
    }
    // The director may well have put a piece there twice.
    pairs.retain(|(one, other)| {
        let is_pinned = |at: usize| pieces.get(at).is_some_and(|piece| piece.pinned);
        !(is_pinned(*one) && is_pinned(*other))
    });
    pairs
}

/// What the core is told of sizes and sums.
struct Shape {
    fewest: usize,
    most: usize,
    rows: Vec<Row>,
    kinds: Vec<Kinds>,
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
