//! Orders of measures, told as tables.
//!
//! The structures numbered "playback 01" and so on, with the order in which their bars sound, are
//! facts taken from the repeat tests of an open-source notation program; its files are not used here.

use super::*;
use proptest::prelude::*;

fn rep(first: u32, last: u32) -> RoadStep {
    RoadStep::Repeat(Repeat::twice(first, last))
}
fn rep_times(first: u32, last: u32, times: u16) -> RoadStep {
    RoadStep::Repeat(Repeat::times(first, last, times))
}
fn e(passes: &[u16], first: u32, last: u32) -> Ending {
    Ending::new(passes.to_vec(), first, last)
}
fn leads_into(into: u32, passes: &[u16], first: u32, last: u32) -> Ending {
    Ending {
        into: Some(into),
        ..e(passes, first, last)
    }
}
fn volta(first: u32, endings: Vec<Ending>) -> RoadStep {
    RoadStep::Repeat(Repeat::with_endings(first, endings))
}
fn volta_times(first: u32, times: u16, endings: Vec<Ending>) -> RoadStep {
    RoadStep::Repeat(Repeat {
        times,
        ..Repeat::with_endings(first, endings)
    })
}
fn segno(at: u32) -> RoadStep {
    RoadStep::Segno { number: None, at }
}
fn segno_n(n: u8, at: u32) -> RoadStep {
    RoadStep::Segno { number: Some(n), at }
}
fn to_coda(at: u32) -> RoadStep {
    RoadStep::ToCoda { number: None, at }
}
fn to_coda_n(n: u8, at: u32) -> RoadStep {
    RoadStep::ToCoda { number: Some(n), at }
}
fn coda(at: u32) -> RoadStep {
    RoadStep::Coda { number: None, at }
}
fn coda_n(n: u8, at: u32) -> RoadStep {
    RoadStep::Coda { number: Some(n), at }
}
fn fine(at: u32) -> RoadStep {
    RoadStep::Fine { at }
}
fn jump(at: u32, to: JumpTo, until: Until) -> RoadStep {
    RoadStep::Jump(Jump {
        at,
        to,
        until,
        with_repeats: false,
    })
}
fn with_repeats(step: RoadStep) -> RoadStep {
    match step {
        RoadStep::Jump(jump) => RoadStep::Jump(Jump {
            with_repeats: true,
            ..jump
        }),
        other => other,
    }
}
const DC: JumpTo = JumpTo::Start;
const DS: JumpTo = JumpTo::Segno(None);
const CODA: Until = Until::Coda(None);

#[test]
fn orders() {
    let table: Vec<(&str, u32, Vec<RoadStep>, &[u32])> = vec![
        ("playback 01", 6, vec![rep(2, 3)], &[1, 2, 3, 2, 3, 4, 5, 6]),
        ("playback 02", 6, vec![rep(2, 2)], &[1, 2, 2, 3, 4, 5, 6]),
        (
            "playback 04, two closing signs to one opening",
            6,
            vec![rep(2, 3), rep(2, 4)],
            &[1, 2, 3, 2, 3, 4, 2, 3, 4, 5, 6],
        ),
        (
            "playback 05",
            6,
            vec![rep_times(2, 3, 3), rep(2, 4)],
            &[1, 2, 3, 2, 3, 2, 3, 4, 2, 3, 4, 5, 6],
        ),
        (
            "playback 07, D.C. al Fine",
            6,
            vec![fine(3), jump(6, DC, Until::Fine)],
            &[1, 2, 3, 4, 5, 6, 1, 2, 3],
        ),
        (
            "playback 08, D.S. al Coda",
            11,
            vec![segno(2), to_coda(4), jump(6, DS, CODA), coda(7)],
            &[1, 2, 3, 4, 5, 6, 2, 3, 4, 7, 8, 9, 10, 11],
        ),
        (
            "playback 10, a fourth time without ending",
            12,
            vec![volta_times(
                1,
                4,
                vec![e(&[1], 3, 4), e(&[2], 5, 8), e(&[3], 9, 10)],
            )],
            &[1, 2, 3, 4, 1, 2, 5, 6, 7, 8, 1, 2, 9, 10, 1, 2, 11, 12],
        ),
        (
            "playback 11",
            10,
            vec![
                segno(2),
                to_coda(2),
                volta(2, vec![e(&[1], 4, 4), e(&[2], 5, 5)]),
                jump(8, DS, CODA),
                coda(9),
            ],
            &[1, 2, 3, 4, 2, 3, 5, 6, 7, 8, 2, 9, 10],
        ),
        (
            "playback 14, everything at once",
            26,
            vec![
                volta(2, vec![e(&[1], 9, 10), e(&[2], 11, 12), e(&[3], 13, 13)]),
                segno(5),
                to_coda(7),
                rep(16, 18),
                jump(23, DS, CODA),
                coda(24),
            ],
            &[
                1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 2, 3, 4, 5, 6, 7, 8, 11, 12, 2, 3, 4, 5, 6, 7, 8, 13, 14, 15,
                16, 17, 18, 16, 17, 18, 19, 20, 21, 22, 23, 5, 6, 7, 24, 25, 26,
            ],
        ),
        (
            "playback 16",
            4,
            vec![fine(2), rep(4, 4), jump(4, DC, Until::Fine)],
            &[1, 2, 3, 4, 4, 1, 2],
        ),
        (
            "playback 17, endings in the coda",
            9,
            vec![
                volta(1, vec![e(&[1], 2, 2), e(&[2], 3, 3)]),
                segno(4),
                to_coda(4),
                jump(5, DS, CODA),
                coda(6),
                volta(7, vec![e(&[1], 8, 8), e(&[2], 9, 9)]),
            ],
            &[1, 2, 1, 3, 4, 5, 4, 6, 7, 8, 7, 9],
        ),
        (
            "playback 19, jump inside the coda",
            4,
            vec![segno(1), to_coda(2), coda(4), jump(4, DS, CODA)],
            &[1, 2, 3, 4, 1, 2, 4],
        ),
        (
            "playback 20, two signs",
            8,
            vec![
                segno_n(1, 1),
                to_coda(1),
                jump(3, JumpTo::Segno(Some(1)), CODA),
                coda(4),
                segno_n(2, 5),
                fine(6),
                jump(8, JumpTo::Segno(Some(2)), Until::Fine),
            ],
            &[1, 2, 3, 1, 4, 5, 6, 7, 8, 5, 6],
        ),
        (
            "playback 22, the reading with one repeat",
            6,
            vec![segno(2), jump(3, DS, Until::End), rep(5, 5)],
            &[1, 2, 3, 2, 3, 4, 5, 5, 6],
        ),
        (
            "playback 22, the other reading, said outright",
            6,
            vec![segno(2), jump(3, DS, Until::End), rep_times(5, 5, 3)],
            &[1, 2, 3, 2, 3, 4, 5, 5, 5, 6],
        ),
        (
            "playback 23, three signs",
            16,
            vec![
                rep(1, 2),
                segno_n(1, 2),
                jump(3, JumpTo::Segno(Some(1)), Until::End),
                rep(6, 7),
                segno_n(2, 9),
                to_coda(10),
                jump(11, JumpTo::Segno(Some(2)), CODA),
                coda(12),
                rep(12, 12),
                rep(13, 14),
                segno_n(3, 13),
                fine(14),
                jump(16, JumpTo::Segno(Some(3)), Until::Fine),
            ],
            &[
                1, 2, 1, 2, 3, 2, 3, 4, 5, 6, 7, 6, 7, 8, 9, 10, 11, 9, 10, 12, 12, 13, 14, 13, 14, 15, 16,
                13, 14,
            ],
        ),
        (
            "playback 25, a jump inside a repeat",
            5,
            vec![rep(1, 2), segno(2), rep(4, 5), jump(4, DS, Until::End)],
            &[1, 2, 1, 2, 3, 4, 5, 4, 2, 3, 4, 5],
        ),
        (
            "playback 31",
            2,
            vec![rep(2, 2), jump(2, DC, Until::End)],
            &[1, 2, 2, 1, 2],
        ),
        (
            "playback 32",
            3,
            vec![segno(2), rep(3, 3), jump(3, DS, Until::End)],
            &[1, 2, 3, 3, 2, 3],
        ),
        (
            "playback 34, second ending after D.C.",
            5,
            vec![
                volta(2, vec![e(&[1], 3, 3), e(&[2], 4, 4)]),
                rep(5, 5),
                jump(5, DC, Until::End),
            ],
            &[1, 2, 3, 2, 4, 5, 5, 1, 2, 4, 5],
        ),
        (
            "playback 38, with repeats",
            5,
            vec![
                rep(2, 2),
                segno(2),
                to_coda(3),
                with_repeats(jump(4, DS, CODA)),
                coda(5),
            ],
            &[1, 2, 2, 3, 4, 2, 2, 3, 5],
        ),
        (
            "playback 39, endings 1. 3. and 2. 4., then none",
            6,
            vec![volta_times(2, 5, vec![e(&[1, 3], 3, 3), e(&[2, 4], 4, 5)])],
            &[1, 2, 3, 2, 4, 5, 2, 3, 2, 4, 5, 2, 6],
        ),
        (
            "playback 41, a third time without ending",
            5,
            vec![volta_times(1, 3, vec![e(&[1], 2, 2), e(&[2], 3, 3)])],
            &[1, 2, 1, 3, 1, 4, 5],
        ),
        (
            "playback 42, endings that lead into a common measure",
            5,
            vec![RoadStep::Repeat(Repeat {
                first: 1,
                last: 5,
                times: 3,
                endings: vec![
                    e(&[1], 2, 2),
                    leads_into(5, &[2], 3, 3),
                    leads_into(5, &[3], 4, 4),
                ],
                open: false,
            })],
            &[1, 2, 1, 3, 5, 1, 4, 5],
        ),
        (
            "playback 44, a jump inside an ending played twice",
            7,
            vec![
                to_coda(1),
                volta(3, vec![e(&[1, 3], 4, 5), e(&[2], 6, 6)]),
                jump(4, DC, CODA),
                coda(7),
            ],
            &[1, 2, 3, 4, 5, 3, 6, 3, 4, 1, 7],
        ),
        (
            "playback 45, endings with repeats",
            7,
            vec![
                segno(2),
                volta(3, vec![e(&[1], 4, 4), e(&[2], 5, 5)]),
                with_repeats(jump(6, DS, Until::End)),
            ],
            &[1, 2, 3, 4, 3, 5, 6, 2, 3, 4, 3, 5, 6, 7],
        ),
        (
            "playback 47, two signs and two codas",
            18,
            vec![
                segno_n(1, 2),
                volta(2, vec![e(&[1], 3, 3), e(&[2], 4, 4)]),
                to_coda_n(1, 4),
                volta(6, vec![e(&[1], 7, 7), e(&[2], 8, 8)]),
                segno_n(2, 9),
                to_coda_n(2, 10),
                jump(11, JumpTo::Segno(Some(1)), Until::Coda(Some(1))),
                coda_n(1, 13),
                jump(15, JumpTo::Segno(Some(2)), Until::Coda(Some(2))),
                coda_n(2, 16),
            ],
            &[
                1, 2, 3, 2, 4, 5, 6, 7, 6, 8, 9, 10, 11, 2, 4, 13, 14, 15, 9, 10, 16, 17, 18,
            ],
        ),
        (
            "playback 48, a sign inside a first ending",
            8,
            vec![
                volta(1, vec![e(&[1], 2, 4), e(&[2], 5, 5)]),
                segno(3),
                to_coda(5),
                jump(7, DS, CODA),
                coda(8),
            ],
            &[1, 2, 3, 4, 1, 5, 6, 7, 3, 4, 1, 5, 8],
        ),
        (
            "playback 50, to coda inside a repeat taken again",
            7,
            vec![
                segno(1),
                to_coda(3),
                rep(1, 4),
                with_repeats(jump(6, DS, CODA)),
                coda(7),
            ],
            &[1, 2, 3, 4, 1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 1, 2, 3, 7],
        ),
        (
            "playback 51, one to coda for two codas",
            11,
            vec![
                segno(3),
                to_coda(4),
                jump(6, DS, Until::Coda(Some(1))),
                coda_n(1, 7),
                jump(9, DS, Until::Coda(Some(2))),
                coda_n(2, 10),
            ],
            &[1, 2, 3, 4, 5, 6, 3, 4, 7, 8, 9, 3, 4, 10, 11],
        ),
        (
            "a repeat inside a later part of a repeat is played each time (common practice)",
            4,
            vec![rep(1, 4), rep(2, 3)],
            &[1, 2, 3, 2, 3, 4, 1, 2, 3, 2, 3, 4],
        ),
        (
            "a jump in place of the repeat sign of a first ending (common practice)",
            5,
            vec![
                segno(2),
                volta(3, vec![e(&[1], 4, 4), e(&[2], 5, 5)]),
                jump(4, DS, Until::End),
            ],
            &[1, 2, 3, 4, 2, 3, 5],
        ),
        ("nothing but measures", 3, vec![], &[1, 2, 3]),
    ];
    for (name, total, steps, wanted) in table {
        let order = Roadmap::new(steps).unroll(total);
        assert_eq!(order.as_deref(), Ok(wanted), "{name}");
    }
}

/// Sections with numbers of their own are roadmaps of their own, played one after another.
#[test]
fn sections_follow_one_another() {
    let play = |sections: Vec<(u32, Vec<RoadStep>)>| -> Vec<u32> {
        let orders = sections
            .into_iter()
            .map(|(total, steps)| Roadmap::new(steps).unroll(total).unwrap_or_default());
        orders.flatten().collect()
    };
    let playback_28 = vec![(2, vec![rep(2, 2), jump(2, DC, Until::End)]), (1, vec![])];
    assert_eq!(play(playback_28), [1, 2, 2, 1, 2, 1]);
    let playback_29 = vec![
        (3, vec![segno(2), rep(3, 3), jump(3, DS, Until::End)]),
        (1, vec![]),
    ];
    assert_eq!(play(playback_29), [1, 2, 3, 3, 2, 3, 1]);
    let playback_35 = vec![
        (2, vec![jump(2, DC, Until::End)]),
        (4, vec![segno(2), fine(3), jump(4, DS, Until::Fine)]),
        (3, vec![fine(2), jump(3, DC, Until::Fine)]),
        (5, vec![segno(2), to_coda(3), jump(4, DS, CODA), coda(5)]),
    ];
    let wanted = [1, 2, 1, 2, 1, 2, 3, 4, 2, 3, 1, 2, 3, 1, 2, 1, 2, 3, 4, 2, 3, 5];
    assert_eq!(play(playback_35), wanted);
}

#[test]
fn problems() {
    let table: Vec<(Vec<RoadStep>, RoadProblem)> = vec![
        (
            vec![to_coda(3), jump(6, DS, CODA), coda(7)],
            RoadProblem::NoSegno {
                jump: 6,
                number: None,
            },
        ),
        (
            vec![segno_n(1, 2), jump(6, JumpTo::Segno(Some(2)), Until::End)],
            RoadProblem::NoSegno {
                jump: 6,
                number: Some(2),
            },
        ),
        (
            vec![segno(2), jump(6, DS, CODA), coda(7)],
            RoadProblem::NoToCoda {
                jump: 6,
                number: None,
            },
        ),
        (
            vec![segno(4), to_coda(3), jump(6, DS, CODA), coda(7)],
            RoadProblem::NoToCoda {
                jump: 6,
                number: None,
            },
        ),
        (
            vec![to_coda(3), jump(6, DC, CODA)],
            RoadProblem::NoCoda {
                jump: 6,
                number: None,
            },
        ),
        (vec![jump(6, DC, Until::Fine)], RoadProblem::NoFine { jump: 6 }),
        (
            vec![segno(4), fine(2), jump(6, DS, Until::Fine)],
            RoadProblem::NoFine { jump: 6 },
        ),
        (
            vec![fine(2), jump(4, DC, Until::Fine), jump(6, DC, Until::End)],
            RoadProblem::NeverReached { jump: 6 },
        ),
        (vec![rep(5, 9)], RoadProblem::Outside { at: 9, total: 8 }),
        (vec![fine(0)], RoadProblem::Outside { at: 0, total: 8 }),
        (vec![rep(5, 3)], RoadProblem::UpsideDown { first: 5, last: 3 }),
        (
            vec![volta(5, vec![e(&[1], 3, 4)])],
            RoadProblem::UpsideDown { first: 5, last: 4 },
        ),
        (
            vec![volta(2, vec![e(&[1], 3, 4), e(&[2], 4, 5)])],
            RoadProblem::EndingAstray { repeat: 2, ending: 4 },
        ),
        (vec![rep_times(1, 8, u16::MAX)], RoadProblem::TooLong),
        (vec![fine(1); 501], RoadProblem::TooLong),
        (vec![volta(1, vec![e(&[1; 600], 2, 2)])], RoadProblem::TooLong),
    ];
    for (steps, wanted) in table {
        let told = format!("{steps:?}");
        let short: String = told.chars().take(200).collect();
        assert_eq!(Roadmap::new(steps).unroll(8), Err(wanted), "{short}");
    }
    assert_eq!(Roadmap::default().unroll(u32::MAX), Err(RoadProblem::TooLong));
    assert_eq!(Roadmap::default().unroll_from(0, 2), Ok(vec![0, 1, 2]));
    assert_eq!(Roadmap::default().unroll(0), Ok(vec![]));
}

#[test]
fn second_time_only() {
    let map = Roadmap::new(vec![
        rep(1, 2),
        RoadStep::Only {
            first: 2,
            last: 2,
            passes: vec![2],
        },
    ]);
    let heard: Vec<u32> = map
        .soundings(3)
        .unwrap_or_default()
        .into_iter()
        .filter(|s| !map.is_silent(*s))
        .map(|s| s.measure)
        .collect();
    assert_eq!(heard, [1, 1, 2, 3]);
}

fn any_step() -> impl Strategy<Value = RoadStep> {
    let at = 0_u32..12;
    let ending = (
        prop::collection::vec(0_u16..4, 0..3),
        0_u32..12,
        0_u32..12,
        prop::option::of(0_u32..12),
    )
        .prop_map(|(passes, first, last, into)| Ending {
            passes,
            first,
            last,
            into,
        });
    let repeat = (
        at.clone(),
        at.clone(),
        0_u16..4,
        prop::collection::vec(ending, 0..3),
    )
        .prop_map(|(first, last, times, endings)| {
            RoadStep::Repeat(Repeat {
                first,
                last,
                times,
                endings,
                open: false,
            })
        });
    let until = prop_oneof![Just(Until::End), Just(Until::Fine), Just(CODA)];
    let to = prop_oneof![Just(DC), Just(DS)];
    let jumps = (at.clone(), to, until, any::<bool>()).prop_map(|(at, to, until, with_repeats)| {
        RoadStep::Jump(Jump {
            at,
            to,
            until,
            with_repeats,
        })
    });
    prop_oneof![
        repeat,
        jumps,
        at.clone().prop_map(segno),
        at.clone().prop_map(to_coda),
        at.clone().prop_map(coda),
        at.prop_map(fine),
    ]
}

proptest! {
    /// Whatever stands in a roadmap, walking it ends, and every measure is one of the piece.
    #[test]
    fn any_roadmap_ends(steps in prop::collection::vec(any_step(), 0..8), total in 0_u32..12) {
        if let Ok(order) = Roadmap::new(steps).unroll(total) {
            prop_assert!(order.len() <= MOST_MEASURES);
            prop_assert!(order.iter().all(|m| (1..=total).contains(m)));
        }
    }
}
