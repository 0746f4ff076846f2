//! Players kept apart, and players with at most so many parts, against trying everything.

use proptest::prelude::*;

use super::super::plan::Worth;
use super::super::settle::Settle;
use super::brute::{pieces, seatings, split};
use super::*;

/// Whether a seating of whole parts keeps what was said, looked at part by part.
fn keeps(music: &Music, players: &[Player], units: &[super::super::collide::Unit], seated: &[usize]) -> bool {
    let mut has: Vec<Vec<usize>> = vec![Vec::new(); players.len()];
    for (unit, &player) in units.iter().zip(seated) {
        has[player].extend(&unit.parts);
    }
    let near = |one: usize, other: usize| {
        let parts = &music.parts;
        parts[one].station == parts[other].station
            || music
                .mounted
                .iter()
                .any(|&pair| pair == (one, other) || pair == (other, one))
    };
    let meet = |one: usize, other: usize| {
        has[one]
            .iter()
            .any(|&first| has[other].iter().any(|&second| near(first, second)))
    };
    let apart = music.apart.iter().all(|&(one, other)| !meet(one, other));
    let few = players
        .iter()
        .zip(&has)
        .all(|(player, has)| player.most.is_none_or(|most| has.len() <= most));
    apart && few
}

/// The least that can be left out, and the best that can be made of the rest.
fn by_trying(music: &Music, players: &[Player]) -> Option<(usize, usize, Tenths, Worth)> {
    let parts = music.parts.len();
    let of = |out: u32| {
        let kept: Vec<usize> = (0..parts).filter(|part| out >> part & 1 == 0).collect();
        let lost: Vec<&Part> = (0..parts)
            .filter(|part| out >> part & 1 == 1)
            .map(|part| &music.parts[part])
            .collect();
        let units = split(music, &kept, false);
        let against = super::super::collide::collisions(music, &units);
        let settle = Settle {
            music,
            units: &units,
            against: &against,
            players,
        };
        let spare = lost.iter().filter(|part| part.spare).count();
        let time = lost.iter().map(|part| part.plays()).sum();
        seatings(music, &units, players)
            .iter()
            .filter(|seated| keeps(music, players, &units, seated))
            .map(|seated| (lost.len() - spare, spare, time, settle.worth(seated)))
            .min()
    };
    (0..1u32 << parts).filter_map(of).min()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_best_that_keeps_what_was_said(
        (music, players) in pieces(),
        apart in proptest::collection::vec((0..3usize, 0..3usize), 0..3),
        most in proptest::collection::vec(proptest::option::of(0..3usize), 3),
    ) {
        let among = |pair: &(usize, usize)| pair.0 != pair.1 && pair.0.max(pair.1) < players.len();
        let music = Music { instead: Vec::new(), apart: apart.into_iter().filter(among).collect(), ..music };
        let players: Vec<Player> = players
            .into_iter()
            .zip(most)
            .map(|(player, most)| Player { most, ..player })
            .collect();
        let plan = assign(&music, &players, false, Limits::USUAL);
        prop_assert!(keeps_apart(&music, &players, &plan.plays));
        prop_assert!(plan.proven || plan.plays.is_empty());
        let gone = plan.left_out.vital.iter().chain(&plan.left_out.spare);
        let lost: Tenths = gone.map(|&part| music.parts[part].plays()).sum();
        let worth = Worth { walks: plan.walks, most: plan.most, least: -plan.least, had: plan.had };
        let ours = (plan.left_out.vital.len(), plan.left_out.spare.len(), lost);
        let best = by_trying(&music, &players).expect("a way");
        prop_assert_eq!(ours, (best.0, best.1, best.2));
        // Of sets to leave out that lose as much, any may be taken.
        if ours.0 + ours.1 == 0 {
            prop_assert_eq!(worth, best.3);
        }

        let ask = Fewest { players: Some(&players), ..Fewest::default() };
        let all: Vec<usize> = (0..music.parts.len()).collect();
        let units = split(&music, &all, false);
        let used = |seated: &Vec<usize>| seated.iter().collect::<std::collections::BTreeSet<_>>().len();
        let fewest_by_trying = seatings(&music, &units, &players)
            .iter()
            .filter(|seated| keeps(&music, &players, &units, seated))
            .map(used)
            .min();
        let found = match fewest(&music, ask, Limits::USUAL) {
            Answer::Players { players, at_least, .. } => {
                prop_assert_eq!(players, at_least);
                Some(players)
            }
            _ => None,
        };
        prop_assert_eq!(found, fewest_by_trying);
    }
}
