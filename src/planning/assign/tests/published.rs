//! Flows, matchings, chains and sets that are too small, against instances printed elsewhere.
//!
//! Each names its source; those restated from memory say so.

use super::super::flow::{Flow, fewest_chains, partners};
use super::*;

type Arc = (usize, usize, i64, i64);

fn send(nodes: usize, arcs: &[Arc], ends: (usize, usize)) -> (i64, i64) {
    let mut flow = Flow::new(nodes);
    for &(from, to, room, cost) in arcs {
        flow.arc(from, to, room, cost.into());
    }
    let (amount, cost) = flow.send(ends.0, ends.1);
    (amount, cost.try_into().expect("a small cost"))
}

#[test]
fn flows() {
    type Row = (usize, &'static [Arc], (usize, usize), (i64, i64), &'static str);
    let table: [Row; 4] = [
        (
            6,
            &[
                (0, 1, 16, 0),
                (0, 2, 13, 0),
                (1, 2, 10, 0),
                (1, 3, 12, 0),
                (2, 1, 4, 0),
                (2, 4, 14, 0),
                (3, 2, 9, 0),
                (3, 5, 20, 0),
                (4, 3, 7, 0),
                (4, 5, 4, 0),
            ],
            (0, 5),
            (23, 0),
            "Cormen, Leiserson, Rivest, Stein, \"Introduction to Algorithms\", 2nd edition, figure 26.1, the trucks of Lucky Puck, with its arc of 10 between the first two cities; from memory",
        ),
        (
            5,
            &[
                (0, 1, 20, 0),
                (0, 2, 30, 0),
                (0, 3, 10, 0),
                (1, 2, 40, 0),
                (1, 4, 30, 0),
                (2, 3, 10, 0),
                (2, 4, 20, 0),
                (3, 2, 5, 0),
                (3, 4, 20, 0),
            ],
            (0, 4),
            (60, 0),
            "OR-Tools guide, Maximum Flows; from memory",
        ),
        (
            7,
            &[
                (5, 0, 20, 0),
                (0, 1, 15, 4),
                (0, 2, 8, 4),
                (1, 2, 20, 2),
                (1, 3, 4, 2),
                (1, 4, 10, 6),
                (2, 3, 15, 1),
                (2, 4, 4, 3),
                (3, 4, 20, 2),
                (4, 2, 5, 3),
                (3, 6, 5, 0),
                (4, 6, 15, 0),
            ],
            (5, 6),
            (20, 150),
            "OR-Tools guide, Minimum Cost Flows: supplies of 20, demands of 5 and 15; from memory",
        ),
        (
            4,
            &[
                (0, 1, 1000, 0),
                (0, 2, 1000, 0),
                (1, 2, 1, 0),
                (1, 3, 1000, 0),
                (2, 3, 1000, 0),
            ],
            (0, 3),
            (2000, 0),
            "the network on which Ford and Fulkerson's way can be slow, Cormen and others, figure 26.7 (there with 1,000,000); from memory",
        ),
    ];
    for (nodes, arcs, ends, wanted, source) in table {
        assert_eq!(send(nodes, arcs, ends), wanted, "{source}");
    }
}

/// Workers to tasks at least cost: OR-Tools guide, "Assignment as a Minimum Cost Flow Problem", 265; from memory.
#[test]
fn workers_to_tasks() {
    let costs = [
        [90, 76, 75, 70],
        [35, 85, 55, 65],
        [125, 95, 90, 105],
        [45, 110, 95, 115],
    ];
    let mut arcs: Vec<Arc> = Vec::new();
    for (worker, row) in costs.iter().enumerate() {
        arcs.push((8, worker, 1, 0));
        arcs.push((4 + worker, 9, 1, 0));
        for (task, &cost) in row.iter().enumerate() {
            arcs.push((worker, 4 + task, 1, cost));
        }
    }
    assert_eq!(send(10, &arcs, (8, 9)), (4, 265));
    // The same as players and parts.
    let parts: Vec<WindPart> = (0..4)
        .map(|number| WindPart {
            least: 1,
            section: Section {
                number,
                ..Section::default()
            },
        })
        .collect();
    let player = |row: &[u32; 4]| WindPlayer {
        can: row.iter().copied().enumerate().collect(),
        ..WindPlayer::default()
    };
    let costs = costs.map(|row| row.map(|cost| cost as u32));
    let players: Vec<WindPlayer> = costs.iter().map(player).collect();
    assert_eq!(seat_winds(&players, &parts).switches, 265);
}

/// Five on the left, four on the right, at most three pairs: Cormen and others, figure 26.8; from memory.
#[test]
fn pairs() {
    let left = [vec![0], vec![0, 2], vec![1, 2, 3], vec![2], vec![2]];
    assert_eq!(partners(&left, 4).iter().flatten().count(), 3);
}

/// Sets that can and cannot have a representative each: Wikipedia, "Hall's marriage theorem", examples; from
/// memory. Sets are parts, elements are players.
#[test]
fn sets_that_are_too_small() {
    type Row = (&'static [&'static [usize]], usize, (&'static [usize], usize));
    let table: [Row; 2] = [
        (&[&[1, 2, 3], &[1, 4, 5], &[3, 5]], 0, (&[], 0)),
        // The second, third and fourth have two elements between them.
        (&[&[2, 3, 4, 5], &[4, 5], &[5], &[4]], 1, (&[1, 2, 3], 2)),
    ];
    for (sets, lack, short) in table {
        let parts: Vec<WindPart> = (0..sets.len())
            .map(|number| WindPart {
                least: 1,
                section: Section {
                    number,
                    ..Section::default()
                },
            })
            .collect();
        let able = |player: usize| WindPlayer {
            can: (0..sets.len())
                .filter(|set| sets[*set].contains(&player))
                .map(|set| (set, 0))
                .collect(),
            ..WindPlayer::default()
        };
        let players: Vec<WindPlayer> = (1..=5).map(able).collect();
        let seat = seat_winds(&players, &parts);
        assert_eq!(seat.lacks.iter().sum::<usize>(), lack);
        assert_eq!((seat.short.0.as_slice(), seat.short.1), short);
    }
}

/// The numbers from 1 to n by divisibility fall into as many chains as there are numbers in the upper half, which
/// divide nothing else in the list: the standard example of Dilworth's theorem (R. P. Dilworth, 1950).
#[test]
fn chains_of_divisors() {
    for (last, fewest) in [(1usize, 1), (2, 1), (6, 3), (10, 5), (30, 15), (97, 49)] {
        let follows: Vec<Vec<usize>> = (1..=last)
            .map(|one| (2 * one..=last).step_by(one).map(|other| other - 1).collect())
            .collect();
        assert_eq!(fewest_chains(&follows).0, fewest, "{last}");
    }
}
