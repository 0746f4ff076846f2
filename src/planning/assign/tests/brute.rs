//! Against trying everything, on small pieces.

use proptest::prelude::*;

use super::super::collide::{Unit, collisions, units};
use super::super::plan::Worth;
use super::super::settle::Settle;
use super::*;

pub(super) fn pieces() -> impl Strategy<Value = (Music, Vec<Player>)> {
    let spans = proptest::collection::vec((1..30i64, 1..40i64), 1..4);
    let part = (
        0..3usize,
        0..2usize,
        0..4u64,
        spans,
        any::<bool>(),
        any::<bool>(),
        any::<bool>(),
    );
    let parts = proptest::collection::vec(part, 0..6).prop_map(|parts| {
        let part = |(station, sticks, needs, spans, spare, stays, changes_sticks): (
            _,
            usize,
            u64,
            Vec<(i64, i64)>,
            _,
            _,
            bool,
        )| {
            let mut at = 0;
            let mut entrances = Vec::new();
            for (rest, lasts) in spans {
                entrances.push(Entrance::new(at + rest, at + rest + lasts));
                at += rest + lasts;
            }
            let handing = if stays { Handing::Stays } else { Handing::MayPass };
            let needs = Abilities(needs & needs >> 1);
            Part {
                station,
                sticks,
                needs,
                entrances,
                spare,
                handing,
                held: if changes_sticks {
                    vec![(sticks, 1 - sticks), (1 - sticks, sticks)]
                } else {
                    Vec::new()
                },
                ready: if changes_sticks { vec![0, 7] } else { Vec::new() },
                ..Part::default()
            }
        };
        parts.into_iter().map(part).collect::<Vec<Part>>()
    });
    let walks = proptest::collection::vec(proptest::collection::vec(0..30i64, 3), 3);
    let pairs = proptest::collection::vec((0..6usize, 0..6usize), 0..2);
    let group = || proptest::collection::vec(proptest::collection::vec(0..6usize, 2), 0..2);
    let player = (0..4u64, proptest::collection::vec(0..3u32, 3), 0..8u8);
    let players = proptest::collection::vec(player, 1..4);
    (parts, walks, pairs, group(), group(), players).prop_map(
        |(parts, walks, mounted, one_player, instead, players)| {
            let changes = Changes::new(walks, 10);
            let player = |(can, had, absent)| Player {
                can: Abilities(can),
                had,
                absent: absent == 0,
                ..Player::default()
            };
            let music = Music {
                parts,
                changes,
                mounted,
                one_player,
                instead: instead
                    .into_iter()
                    .map(|group: Vec<usize>| group.into_iter().map(|part| vec![part]).collect())
                    .collect(),
                ..Music::default()
            };
            (music, players.into_iter().map(player).collect())
        },
    )
}

/// All ways to give units to players without a collision.
pub(super) fn seatings(music: &Music, units: &[Unit], players: &[Player]) -> Vec<Vec<usize>> {
    let against = collisions(music, units);
    let mut all = vec![Vec::new()];
    for (at, unit) in units.iter().enumerate() {
        let mut longer = Vec::new();
        for seated in all {
            for (player, who) in players.iter().enumerate() {
                let free = (0..at).all(|other| seated[other] != player || !against[at].has(other));
                if free && !who.absent && who.can.cover(unit.needs) {
                    let mut with: Vec<usize> = seated.clone();
                    with.push(player);
                    longer.push(with);
                }
            }
        }
        all = longer;
    }
    all
}

pub(super) fn split(music: &Music, played: &[usize], hand_over: bool) -> Vec<Unit> {
    units(music, played, &|part| {
        hand_over && music.parts[part].handing == Handing::MayPass
    })
}

fn fewest_by_trying(music: &Music, players: &[Player], hand_over: bool) -> Option<usize> {
    let used = |seated: &Vec<usize>| {
        let set: std::collections::BTreeSet<&usize> = seated.iter().collect();
        set.len()
    };
    let of_choice = |played: Vec<usize>| {
        seatings(music, &split(music, &played, hand_over), players)
            .iter()
            .map(used)
            .min()
    };
    choices(music).filter_map(of_choice).min()
}

fn left_out_by_trying(music: &Music, players: &[Player]) -> (usize, usize, Tenths) {
    let of_choice = |played: Vec<usize>| {
        let losses = (0..1u32 << played.len()).filter_map(|out| {
            let gone = |at: &usize| out >> at & 1 == 1;
            let (lost, kept): (Vec<usize>, Vec<usize>) = (0..played.len()).partition(gone);
            let kept: Vec<usize> = kept.into_iter().map(|at| played[at]).collect();
            let lost: Vec<&Part> = lost.into_iter().map(|at| &music.parts[played[at]]).collect();
            let spare = lost.iter().filter(|part| part.spare).count();
            let time: Tenths = lost.iter().map(|part| part.plays()).sum();
            let works = !seatings(music, &split(music, &kept, false), players).is_empty();
            works.then_some((lost.len() - spare, spare, time))
        });
        losses.min()
    };
    choices(music).filter_map(of_choice).min().unwrap_or_default()
}

fn best_by_trying(music: &Music, units: &[Unit], players: &[Player]) -> Option<Worth> {
    let against = collisions(music, units);
    let settle = Settle {
        music,
        units,
        against: &against,
        players,
    };
    seatings(music, units, players)
        .iter()
        .map(|seated| settle.worth(seated))
        .min()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn as_by_trying_everything((music, players) in pieces()) {
        for hand_over in [false, true] {
            let all: usize = music.parts.iter().map(|part| part.entrances.len()).sum();
            if hand_over && all > 8 {
                continue;
            }
            let ask = Fewest { hand_over, without_spares: false, players: Some(&players) };
            let ours = match fewest(&music, ask, Limits::USUAL) {
                Answer::Players { players, at_least, .. } => {
                    prop_assert_eq!(players, at_least);
                    Some(players)
                }
                _ => None,
            };
            prop_assert_eq!(ours, fewest_by_trying(&music, &players, hand_over));
            let nobody = matches!(fewest(&music, ask, Limits::USUAL), Answer::Cannot(Why::Nobody(_)));
            prop_assert_eq!(surely_too_few(&music, ask, Limits::USUAL), ours.is_none() && !nobody);
        }
        let out = leave_out(&music, &players, false, Limits::USUAL);
        let gone = out.vital.iter().chain(&out.spare);
        let lost: Tenths = gone.map(|&part| music.parts[part].plays()).sum();
        let ours = (out.vital.len(), out.spare.len(), lost);
        prop_assert_eq!(ours, left_out_by_trying(&music, &players));

        let plan = assign(&music, &players, false, Limits::USUAL);
        prop_assert!(plan.proven);
        let gone = |part: &usize| {
            let out = &plan.left_out;
            [&out.vital, &out.spare, &out.instead].iter().any(|set| set.contains(part))
        };
        let played: Vec<usize> = (0..music.parts.len()).filter(|part| !gone(part)).collect();
        let best = best_by_trying(&music, &split(&music, &played, false), &players);
        let ours = Worth { walks: plan.walks, most: plan.most, least: -plan.least, had: plan.had };
        prop_assert_eq!(Some(ours), best);
        prop_assert_eq!(plan.walks_at_least, plan.walks);
    }
}
