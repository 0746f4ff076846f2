//! Where the cuts of a course stand on the paper: as far apart as the measures and the words between them ask
//! for, broken into systems, and spread to the margin.

/// Words that begin at a cut and need room before the next words of their kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// The cut where they begin.
    pub at: usize,
    /// How wide they are.
    pub wide: f64,
}

/// A system: some cuts, and where each stands, counted from its left end.
#[derive(Debug, Clone, PartialEq)]
pub struct System {
    /// The first cut.
    pub from: usize,
    /// The last.
    pub to: usize,
    /// The place of each cut from `from` to `to`, in points.
    pub places: Vec<f64>,
}

/// What stands in one line of words of a system that begins and ends at these cuts, by the cut where it begins.
pub type Row<'a> = &'a dyn Fn(usize, usize) -> Vec<Need>;

/// The most cuts in a system; more could not be told apart.
const MOST: usize = 48;

/// Breaks a course into systems no wider than `wide`. `natural` is the room each stretch between two cuts asks
/// for by itself.
pub fn systems(natural: &[f64], wide: f64, rows: &[Row<'_>]) -> Vec<System> {
    let mut systems = Vec::new();
    let mut from = 0;
    while from < natural.len() {
        let mut best = place(natural, from, from + 1, wide, rows);
        let mut to = from + 2;
        // Words can need more than the first stretches give, so that a longer system fits where a shorter did
        // not; the stretches alone only grow.
        while to <= natural.len() && to - from <= MOST {
            let alone: f64 = natural.get(from..to).map_or(0.0, |all| all.iter().sum());
            if alone > wide {
                break;
            }
            let one = place(natural, from, to, wide, rows);
            if one.places.last().is_some_and(|end| *end <= wide) {
                best = one;
            }
            to += 1;
        }
        from = best.to;
        systems.push(best);
    }
    let last = systems.len().saturating_sub(1);
    for (at, system) in systems.iter_mut().enumerate() {
        let end = system.places.last().copied().unwrap_or(wide).max(1.0);
        // The last system is not pulled out far.
        let goal = if at == last && end < wide * 0.6 {
            wide.min(end * 1.25)
        } else {
            wide
        };
        for place in &mut system.places {
            *place *= goal / end;
        }
    }
    systems
}

/// The closest places of some cuts.
fn place(natural: &[f64], from: usize, to: usize, wide: f64, rows: &[Row<'_>]) -> System {
    let all: Vec<Vec<Need>> = rows.iter().map(|row| row(from, to)).collect();
    // Each pair: words that begin at a cut have to be over at another.
    let mut pairs: Vec<(usize, usize, f64)> = Vec::new();
    for needs in &all {
        for (nth, need) in needs.iter().enumerate() {
            let until = needs.get(nth + 1).map_or(to, |next| next.at);
            pairs.push((need.at, until, need.wide.min(wide)));
        }
    }
    pairs.sort_by_key(|pair| pair.1);
    let mut places = vec![0.0_f64];
    let mut next = pairs.iter().peekable();
    for cut in from + 1..=to {
        let before = places.last().copied().unwrap_or(0.0);
        let mut here = before + natural.get(cut - 1).copied().unwrap_or(0.0);
        while let Some((at, _, wide)) = next.next_if(|pair| pair.1 <= cut) {
            let begins = at.checked_sub(from).and_then(|at| places.get(at));
            here = here.max(begins.copied().unwrap_or(0.0) + wide);
        }
        places.push(here);
    }
    System { from, to, places }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_get_their_room_and_systems_end_at_the_margin() {
        let words = |from: usize, to: usize| {
            let all = [
                Need { at: 0, wide: 70.0 },
                Need { at: 2, wide: 10.0 },
                Need { at: 5, wide: 90.0 },
            ];
            all.into_iter()
                .filter(|need| (from..to).contains(&need.at))
                .collect::<Vec<_>>()
        };
        let rows: [Row<'_>; 1] = [&words];
        let found = systems(&[20.0; 8], 130.0, &rows);
        let told: Vec<(usize, usize)> = found.iter().map(|system| (system.from, system.to)).collect();
        assert_eq!(told, [(0, 5), (5, 8)]);
        let first = &found[0].places;
        assert!(first[2] - first[0] >= 70.0, "{first:?}");
        assert!((first[5] - 130.0).abs() < 0.01, "{first:?}");
        let second = &found[1].places;
        assert!(second[3] - second[0] >= 90.0, "{second:?}");
    }
}
