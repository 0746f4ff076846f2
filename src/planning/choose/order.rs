//! The order of a program: what opens, what closes, and what stands beside what. Exact, over all orders.

use std::collections::{BTreeSet, HashMap};

use crate::catalogue::conditions::{Condition, Evaluator, Subject, Term, slow_throughout};
use crate::catalogue::high_brass::all_at_the_top;
use crate::catalogue::instrument_named;
use crate::catalogue::percussion::courses;
use crate::text::Span;

/// What the order goes by.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Traits {
    /// Slow from beginning to end.
    pub slow: bool,
    /// Surely fast somewhere.
    pub fast: bool,
    /// Its first key.
    pub key: Option<String>,
    /// Its styles.
    pub styles: Vec<String>,
    /// Its grade in hundredths.
    pub grade: Option<u32>,
    /// Whether it takes all the brass of a band to the top of what they have.
    pub high_brass: bool,
    /// The percussion instruments that it needs.
    pub percussion: BTreeSet<String>,
}

/// So much each thing counts against an order (common practice, no source).
const SLOW_AT_THE_ENDS: u32 = 6;
const NOT_FAST_AT_THE_ENDS: u32 = 1;
const TWO_SLOW: u32 = 5;
const ONE_STYLE: u32 = 3;
const ONE_KEY: u32 = 2;
const NO_CHANGE_OF_PACE: u32 = 1;
const HARD_FIRST: u32 = 1;
const HIGH_BRASS_TWICE: u32 = 4;
/// So many percussion instruments that the piece before did not use count 1.
const NEW_PERCUSSION: usize = 3;

/// The most pieces that are put in order; a longer program stays as it is.
pub const MOST: usize = 14;

impl Traits {
    /// What a piece is like.
    pub fn of(asked: &Evaluator<'_>, subject: &Subject<'_>) -> Traits {
        let fast = Condition {
            span: Span::new(0, 0),
            term: Term::Fast,
        };
        let styles = subject.piece.styles.iter().filter(|said| said.is_certain());
        let grades = subject.piece.grades.iter().filter(|said| said.is_certain());
        let bands = asked
            .bands
            .iter()
            .filter_map(|band| asked.snapshot.entry(*band)?.ensemble());
        let instruments = asked.snapshot.instruments();
        let courses = courses(subject.piece, instruments, &[]);
        let played = courses.iter().filter(|course| {
            let movement = course.movement.and_then(|at| subject.piece.movements.get(at));
            subject.is_whole() || movement.is_some_and(|one| subject.movements.contains(&one.number))
        });
        let needed = played
            .flat_map(|course| &course.parts)
            .filter(|part| part.is_needed());
        Traits {
            high_brass: bands
                .into_iter()
                .any(|band| all_at_the_top(asked.snapshot, subject, band).is_some()),
            percussion: needed
                .flat_map(|part| &part.names)
                .map(|name| match instrument_named(instruments, name) {
                    Some(known) => known.name.to_string(),
                    None => name.to_lowercase(),
                })
                .collect(),
            slow: slow_throughout(subject),
            fast: asked.piece(&fast, subject).is_yes(),
            key: subject.keys().certain.first().map(ToString::to_string),
            styles: styles.map(|said| said.value.to_lowercase()).collect(),
            grade: grades.map(|said| said.value.low).next(),
        }
    }

    /// What stands against these two side by side.
    fn beside(&self, next: &Traits) -> u32 {
        let mut cost = 0;
        if self.slow && next.slow {
            cost += TWO_SLOW;
        } else if self.slow == next.slow && self.fast == next.fast {
            cost += NO_CHANGE_OF_PACE;
        }
        if self.styles.iter().any(|style| next.styles.contains(style)) {
            cost += ONE_STYLE;
        }
        if self.key.is_some() && self.key == next.key {
            cost += ONE_KEY;
        }
        if self.high_brass && next.high_brass {
            cost += HIGH_BRASS_TWICE;
        }
        let new = next.percussion.difference(&self.percussion).count();
        cost + u32::try_from(new / NEW_PERCUSSION).unwrap_or(0)
    }

    /// What stands against it at either end.
    fn at_an_end(&self) -> u32 {
        match (self.slow, self.fast) {
            (true, _) => SLOW_AT_THE_ENDS,
            (_, false) => NOT_FAST_AT_THE_ENDS,
            _ => 0,
        }
    }

    fn opens(&self, hardest: Option<u32>) -> u32 {
        let hard = self.grade.is_some() && self.grade == hardest;
        self.at_an_end() + if hard { HARD_FIRST } else { 0 }
    }
}

/// What stands against a whole order.
pub fn cost(all: &[&Traits]) -> u32 {
    let hardest = hardest(all.iter().copied());
    let beside: u32 = all
        .windows(2)
        .map(|two| match two {
            [one, next] => one.beside(next),
            _ => 0,
        })
        .sum();
    let opens = all.first().map_or(0, |first| first.opens(hardest));
    let closes = all.last().map_or(0, |last| last.at_an_end());
    beside + opens + closes
}

fn hardest<'t>(all: impl Iterator<Item = &'t Traits>) -> Option<u32> {
    let grades: Vec<u32> = all.filter_map(|traits| traits.grade).collect();
    let highest = grades.iter().max().copied();
    // Where all are alike none is the hardest.
    highest.filter(|highest| grades.iter().any(|grade| grade < highest))
}

/// The best order of all that keep `fixed` (numbers of pieces) in their own order; none where there are too many.
/// Of equal orders the one that stays nearest to the order given.
pub fn best(all: &[Traits], fixed: &[usize]) -> Option<Vec<usize>> {
    let count = all.len();
    if count > MOST {
        return None;
    }
    let hardest = hardest(all.iter());
    // The cheapest way to have played a set and to stand at its last piece, with the piece before.
    let mut ways: HashMap<(u32, usize), (u32, usize)> = HashMap::new();
    let may_follow = |played: u32, next: usize| match fixed.iter().position(|at| *at == next) {
        Some(place) => fixed.iter().take(place).all(|before| played >> before & 1 == 1),
        None => true,
    };
    let whole: u32 = (1u32 << count) - 1;
    for played in 1..=whole {
        for last in (0..count).filter(|last| played >> last & 1 == 1) {
            let before = played & !(1 << last);
            let Some(traits) = all.get(last) else { continue };
            if !may_follow(before, last) {
                continue;
            }
            let way = match before {
                0 => Some((traits.opens(hardest), last)),
                _ => (0..count)
                    .filter(|one| before >> one & 1 == 1)
                    .filter_map(|one| {
                        let (cost, _) = ways.get(&(before, one))?;
                        Some((cost + all.get(one)?.beside(traits), one))
                    })
                    .min(),
            };
            if let Some(way) = way {
                ways.insert((played, last), way);
            }
        }
    }
    let ends = (0..count).filter_map(|last| {
        let (cost, _) = ways.get(&(whole, last))?;
        Some((cost + all.get(last)?.at_an_end(), last))
    });
    let Some((_, mut last)) = ends.min() else {
        return Some(Vec::new());
    };
    let mut order = vec![last];
    let mut played = whole;
    while order.len() < count {
        let (_, before) = ways.get(&(played, last))?;
        played &= !(1 << last);
        last = *before;
        order.push(last);
    }
    order.reverse();
    Some(order)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn traits(words: &str) -> Traits {
        let mut all = words.split(' ');
        let pace = all.next();
        Traits {
            slow: pace == Some("slow"),
            fast: pace == Some("fast"),
            styles: all.next().map(str::to_owned).into_iter().collect(),
            key: all.next().map(str::to_owned),
            grade: all.next().and_then(|grade| grade.parse().ok()),
            high_brass: all.next() == Some("high"),
            percussion: all.map(str::to_owned).collect(),
        }
    }

    fn every_order(count: usize) -> Vec<Vec<usize>> {
        let mut all = vec![Vec::new()];
        for _ in 0..count {
            let longer = all.iter().flat_map(|order: &Vec<usize>| {
                let next = (0..count).filter(|at| !order.contains(at));
                next.map(|at| [order.as_slice(), &[at]].concat())
                    .collect::<Vec<_>>()
            });
            all = longer.collect();
        }
        all
    }

    #[test]
    fn no_order_is_better() {
        let evenings = [
            vec!["slow air F", "fast march F", "some waltz Bb", "fast march Eb"],
            vec![
                "slow air F",
                "slow chorale F",
                "fast march F",
                "some march Bb 200",
                "fast dance Bb 100",
            ],
            vec!["slow air F", "slow air F", "slow air F"],
            vec!["fast march Bb"],
            vec![
                "fast march Bb 100 high snare bells",
                "slow air F 100 low timpani chimes bells gong",
                "fast dance Eb 100 high snare",
                "some waltz C 100 high",
                "fast jig G 100 low timpani chimes gong",
            ],
        ];
        for evening in evenings {
            let all: Vec<Traits> = evening.iter().map(|words| traits(words)).collect();
            let of = |order: &[usize]| cost(&order.iter().map(|at| &all[*at]).collect::<Vec<_>>());
            for fixed in [vec![], vec![1, 0]] {
                if fixed.len() > all.len() {
                    continue;
                }
                let found = best(&all, &fixed).expect("few enough");
                let place = |wanted: usize| found.iter().position(|at| *at == wanted);
                assert!(
                    fixed.windows(2).all(|two| place(two[0]) < place(two[1])),
                    "{found:?}"
                );
                let least = every_order(all.len())
                    .into_iter()
                    .filter(|order| {
                        let place = |wanted: usize| order.iter().position(|at| *at == wanted);
                        fixed.windows(2).all(|two| place(two[0]) < place(two[1]))
                    })
                    .map(|order| of(&order))
                    .min();
                assert_eq!(Some(of(&found)), least, "{evening:?} {found:?}");
            }
        }
        assert_eq!(best(&[], &[]), Some(Vec::new()));
    }
}
