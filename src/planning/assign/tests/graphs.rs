//! The searches themselves, on any graph of collisions and any players, against trying everything.

use proptest::prelude::*;

use super::super::bits::Bits;
use super::super::clique;
use super::super::least::{Least, used};
use super::super::limits::Count;
use super::super::seats::Kind;
use super::super::why::{demands, too_few};
use super::*;

/// Which units collide, and for every player the units he or she can take, as bits.
fn questions() -> impl Strategy<Value = (Vec<Bits>, Vec<u32>)> {
    (1..8usize).prop_flat_map(|size| {
        let edges = proptest::collection::vec(any::<bool>(), size * size);
        let kinds = proptest::collection::vec(0..1u32 << size, 1..4);
        let players = proptest::collection::vec(0..4usize, 1..6);
        (edges, kinds, players).prop_map(move |(edges, kinds, players)| {
            let mut against = vec![Bits::empty(size); size];
            for (at, edge) in edges.into_iter().enumerate() {
                let (a, b) = (at / size, at % size);
                if a < b && edge {
                    against[a].insert(b);
                    against[b].insert(a);
                }
            }
            let fits = |kind: usize| kinds.get(kind).copied().unwrap_or((1 << size) - 1);
            (against, players.into_iter().map(fits).collect())
        })
    })
}

fn kinds(size: usize, players: &[u32]) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (player, &can) in players.iter().enumerate() {
        let units: Vec<usize> = (0..size).filter(|at| can >> at & 1 == 1).collect();
        let fits = Bits::of(size, &units);
        match kinds.iter_mut().find(|kind| kind.fits == fits) {
            Some(kind) => kind.players.push(player),
            None => kinds.push(Kind {
                fits,
                players: vec![player],
            }),
        }
    }
    kinds
}

/// The fewest players over all seatings.
fn fewest_by_trying(against: &[Bits], players: &[u32], seated: &mut Vec<usize>) -> Option<usize> {
    let unit = seated.len();
    if unit == against.len() {
        return Some(used(seated));
    }
    let mut fewest: Option<usize> = None;
    for (player, can) in players.iter().enumerate() {
        let free = (0..unit).all(|other| seated[other] != player || !against[unit].has(other));
        if free && can >> unit & 1 == 1 {
            seated.push(player);
            let found = fewest_by_trying(against, players, seated);
            fewest = fewest.into_iter().chain(found).min();
            seated.pop();
        }
    }
    fewest
}

fn collide_all(against: &[Bits], set: &[usize]) -> bool {
    set.iter()
        .all(|&a| set.iter().all(|&b| a == b || against[a].has(b)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn as_by_trying_every_seating((against, players) in questions()) {
        let size = against.len();
        let kinds = kinds(size, &players);
        let mut count = Count::new(Limits::USUAL);
        let largest = clique::largest(&against, &mut count);
        prop_assert!(collide_all(&against, &largest));
        let by_trying = (0..1u32 << size).map(|set| {
            let set: Vec<usize> = (0..size).filter(|at| set >> at & 1 == 1).collect();
            if collide_all(&against, &set) { set.len() } else { 0 }
        });
        prop_assert_eq!(Some(largest.len()), by_trying.max());

        let demands = demands(&against, &kinds, &mut count);
        let units = vec![super::super::collide::Unit {
            parts: Vec::new(),
            plays: Vec::new(),
            needs: Abilities::NONE,
            given_to: Vec::new(),
            not_for: Vec::new(),
        }; size];
        let least = Least { units: &units, against: &against, kinds: &kinds, demands: &demands };
        // The quick way over chains needs entrances; here every graph is searched.
        let found = match kinds.len() {
            1 => None,
            _ => least.search(largest.len(), &mut count),
        };
        let fewest = fewest_by_trying(&against, &players, &mut Vec::new());
        if kinds.len() > 1 {
            prop_assert_eq!(found.as_ref().map(|found| found.0), fewest);
        }
        if let Some((players, _, seated)) = &found {
            prop_assert_eq!(*players, used(seated));
        }
        if let Some((set, able)) = too_few(&demands, &kinds) {
            prop_assert!(fewest.is_none() && collide_all(&against, &set));
            let able_to = |player: &usize| set.iter().any(|&unit| players[*player] >> unit & 1 == 1);
            let all: Vec<usize> = (0..players.len()).filter(able_to).collect();
            prop_assert!(all.iter().all(|player| able.contains(player)));
            prop_assert!(able.len() < set.len());
        }
    }
}
