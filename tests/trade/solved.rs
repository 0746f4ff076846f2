//! Puzzles that others have solved and printed, put to the cores that choose, buy and plan.
//!
//! Sources: the knapsacks P01 and P07 of the KNAPSACK_01 data sets (J. Burkardt, Florida State University, after
//! Kreher and Stinson; from memory, worked again); the 50 items of OR-Tools' guide to knapsacks (7534); weighted set
//! cover from the project page of or-models on PyPI (5); the construction on which taking the cheapest share first
//! goes wrong (Vazirani, Approximation Algorithms, chapter 2, scaled by 60; not checked against the book); the
//! building of a stadium (Gueret, Prins and Sevaux, Applications of Optimization with Xpress-MP, 7.1: 64 weeks);
//! a small network of seven jobs (studylib 8378728, example 1: 16 hours).

use levare::planning::choose::core::cover::{Offer, cheapest};
use levare::planning::choose::core::{Problem, Row, best};
use levare::planning::teach::core::{Job, plan};

fn knapsack(capacity: i64, weights: &[i64], profits: &[i64]) -> i64 {
    let problem = Problem {
        values: profits.to_vec(),
        fewest: 0,
        most: profits.len(),
        rows: vec![Row {
            weights: weights.to_vec(),
            low: None,
            high: Some(capacity),
        }],
        kinds: Vec::new(),
        apart: Vec::new(),
        pinned: Vec::new(),
        holds: &|_| true,
        accepts: &|_| true,
    };
    let found = best(&problem, 50_000_000, false);
    assert!(found.proven());
    found.value
}

#[test]
fn knapsacks_as_printed() {
    let p01 = knapsack(
        165,
        &[23, 31, 29, 44, 53, 38, 63, 85, 89, 82],
        &[92, 57, 49, 68, 60, 43, 67, 84, 87, 72],
    );
    let p07 = knapsack(
        750,
        &[70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120],
        &[
            135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240,
        ],
    );
    let guide = knapsack(
        850,
        &[
            7, 0, 30, 22, 80, 94, 11, 81, 70, 64, 59, 18, 0, 36, 3, 8, 15, 42, 9, 0, 42, 47, 52, 32, 26, 48,
            55, 6, 29, 84, 2, 4, 18, 56, 7, 29, 93, 44, 71, 3, 86, 66, 31, 65, 0, 79, 20, 65, 52, 13,
        ],
        &[
            360, 83, 59, 130, 431, 67, 230, 52, 93, 125, 670, 892, 600, 38, 48, 147, 78, 256, 63, 17, 120,
            164, 432, 35, 92, 110, 22, 42, 50, 323, 514, 28, 87, 73, 78, 15, 26, 78, 210, 36, 85, 189, 274,
            43, 33, 10, 19, 389, 276, 312,
        ],
    );
    assert_eq!((p01, p07, guide), (309, 1458, 7534));
}

fn cover(things: usize, sets: &[(u64, &[usize])]) -> Option<u64> {
    let offer = |(price, holds): &(u64, &[usize])| Offer {
        price: *price,
        seller: 0,
        holds: holds.to_vec(),
    };
    let offers: Vec<Offer> = sets.iter().map(offer).collect();
    let things: Vec<usize> = (0..things).collect();
    cheapest(&offers, &[], &things, 1_000_000).map(|found| found.cost)
}

#[test]
fn covers_as_printed() {
    assert_eq!(
        cover(3, &[(2, &[0, 1]), (3, &[2]), (4, &[0, 2]), (5, &[1, 2])]),
        Some(5)
    );
    // The cheapest share at each step pays 147.
    let tight: [(u64, &[usize]); 7] = [
        (60, &[0]),
        (30, &[1]),
        (20, &[2]),
        (15, &[3]),
        (12, &[4]),
        (10, &[5]),
        (61, &[0, 1, 2, 3, 4, 5]),
    ];
    assert_eq!(cover(6, &tight), Some(61));
}

/// Jobs with how long they take and what they wait for; the last one is due in a week.
fn late(jobs: &[(u32, &[usize])], due: u32) -> u32 {
    let last = jobs.len() - 1;
    let job = |(at, (takes, after)): (usize, &(u32, &[usize]))| Job {
        ends: vec![*takes],
        due: (at == last).then_some(due),
        after: after.to_vec(),
    };
    let jobs: Vec<Job> = jobs.iter().enumerate().map(job).collect();
    let found = plan(&jobs, jobs.len(), 1_000_000).expect("there is no circle");
    assert!(found.proven);
    found.weeks
}

#[test]
fn longest_ways_as_printed() {
    let seven: [(u32, &[usize]); 7] = [
        (6, &[]),
        (2, &[0]),
        (2, &[0]),
        (3, &[1]),
        (4, &[2, 3]),
        (2, &[3]),
        (1, &[4, 5]),
    ];
    assert_eq!((late(&seven, 16), late(&seven, 15), late(&seven, 10)), (0, 1, 6));
    let stadium: [(u32, &[usize]); 18] = [
        (2, &[]),
        (16, &[0]),
        (9, &[1]),
        (8, &[1]),
        (10, &[2]),
        (6, &[3, 4]),
        (2, &[3]),
        (2, &[5]),
        (9, &[3, 5]),
        (5, &[3]),
        (3, &[5]),
        (2, &[8]),
        (1, &[6]),
        (7, &[1]),
        (4, &[3, 13]),
        (3, &[7, 10, 13]),
        (9, &[11]),
        (1, &[16]),
    ];
    assert_eq!((late(&stadium, 64), late(&stadium, 63)), (0, 1));
}
