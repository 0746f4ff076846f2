//! Where the cuts of a course stand on the paper: as far apart as the measures and the words between them ask
//! for, broken into systems, and spread to the margin.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Words that begin at a cut and need room before the next words of their kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// The cut where they begin.
    pub at: usize,
    /// How wide they are.
    pub wide: f64,
}

/// A system: some cuts, and where each stands, counted from its left end, in units.
#[derive(Debug, Clone, PartialEq)]
pub struct System {
    /// The first cut.
    pub from: usize,
    /// The last.
    pub to: usize,
    /// The place of each cut from `from` to `to`.
    pub places: Vec<f64>,
}

/// What stands in each line of words of a system that begins at a cut and goes on to the end, by the cut where
/// it begins.
pub type Needs<'a> = Box<dyn Fn(usize) -> Vec<Vec<Need>> + 'a>;

/// The most cuts in a system; more could not be told apart.
pub const MOST: usize = 48;

/// A course to be broken into systems, all in one measure.
pub struct Spacing<'a> {
    natural: Vec<f64>,
    needs: Needs<'a>,
    /// What was worked out already, by the cut where a system begins.
    known: RefCell<BTreeMap<usize, Rc<Vec<Vec<Need>>>>>,
}

impl<'a> Spacing<'a> {
    /// `natural` is the room each stretch between two cuts asks for by itself.
    pub fn new(natural: Vec<f64>, needs: Needs<'a>) -> Spacing<'a> {
        Spacing {
            natural,
            needs,
            known: RefCell::default(),
        }
    }

    /// Breaks into as few systems as there can be that are no wider than `wide`, all about as full, and spreads
    /// them to the margin.
    pub fn systems(&self, wide: f64) -> Vec<System> {
        let mut systems = self.broken(wide, wide);
        let (mut least, mut most) = (wide * 0.5, wide);
        // The narrowest width that takes no more systems makes them about equally full.
        for _ in 0..4 {
            let middle = (least + most) / 2.0;
            let one = self.broken(middle, wide);
            let ends = one.iter().filter_map(|system| system.places.last());
            match one.len() <= systems.len() && ends.into_iter().all(|end| *end <= wide) {
                true => {
                    systems = one;
                    most = middle;
                }
                false => least = middle,
            }
        }
        let last = systems.len().saturating_sub(1);
        for (at, system) in systems.iter_mut().enumerate() {
            let end = system.places.last().copied().unwrap_or(wide).max(1.0);
            // The last system is not pulled out far.
            let goal = match at == last && end < wide * 0.6 {
                true => wide.min(end * 2.0),
                false => wide,
            };
            for place in &mut system.places {
                *place *= goal / end;
            }
        }
        systems
    }

    /// Breaks into systems of at most `goal`; words are never wider than `wide`.
    fn broken(&self, goal: f64, wide: f64) -> Vec<System> {
        let mut systems = Vec::new();
        let mut from = 0;
        while from < self.natural.len() {
            let mut best = self.place(from, from + 1, wide);
            let mut to = from + 2;
            // Words can need more than the first stretches give, so that a longer system fits where a shorter did
            // not; the stretches alone only grow.
            while to <= self.natural.len() && to - from <= MOST {
                let alone: f64 = self.natural.get(from..to).map_or(0.0, |all| all.iter().sum());
                if alone > goal {
                    break;
                }
                let one = self.place(from, to, wide);
                if one.places.last().is_some_and(|end| *end <= goal) {
                    best = one;
                }
                to += 1;
            }
            from = best.to;
            systems.push(best);
        }
        systems
    }

    fn needs(&self, from: usize) -> Rc<Vec<Vec<Need>>> {
        let mut known = self.known.borrow_mut();
        known
            .entry(from)
            .or_insert_with(|| Rc::new((self.needs)(from)))
            .clone()
    }

    /// The closest places of some cuts.
    fn place(&self, from: usize, to: usize, wide: f64) -> System {
        // Each pair: words that begin at a cut have to be over at another.
        let mut pairs: Vec<(usize, usize, f64)> = Vec::new();
        for needs in self.needs(from).iter() {
            let here = needs.iter().take_while(|need| need.at < to);
            for (nth, need) in here.enumerate() {
                let until = needs.get(nth + 1).map_or(to, |next| next.at.min(to));
                pairs.push((need.at, until, need.wide.min(wide)));
            }
        }
        pairs.sort_by_key(|pair| pair.1);
        let mut places = vec![0.0_f64];
        let mut next = pairs.iter().peekable();
        for cut in from + 1..=to {
            let before = places.last().copied().unwrap_or(0.0);
            let mut here = before + self.natural.get(cut - 1).copied().unwrap_or(0.0);
            while let Some((at, _, wide)) = next.next_if(|pair| pair.1 <= cut) {
                let begins = at.checked_sub(from).and_then(|at| places.get(at));
                here = here.max(begins.copied().unwrap_or(0.0) + wide);
            }
            places.push(here);
        }
        System { from, to, places }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_get_their_room_and_systems_end_at_the_margin() {
        let words = |from: usize| {
            let all = [(0, 70.0), (2, 10.0), (5, 90.0)].map(|(at, wide)| Need { at, wide });
            vec![all.into_iter().filter(|need| need.at >= from).collect::<Vec<_>>()]
        };
        let found = Spacing::new(vec![20.0; 8], Box::new(words)).systems(130.0);
        let told: Vec<(usize, usize)> = found.iter().map(|system| (system.from, system.to)).collect();
        assert_eq!(told, [(0, 4), (4, 8)]);
        let first = &found[0].places;
        assert!(first[2] - first[0] >= 70.0, "{first:?}");
        assert!((first[4] - 130.0).abs() < 0.01, "{first:?}");
        let second = &found[1].places;
        assert!(second[4] - second[1] >= 90.0, "{second:?}");
    }
}
