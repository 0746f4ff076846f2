//! Limits are kept and said, and no numbers do harm.

use super::*;

#[test]
fn a_limit_is_said() {
    let rows: Vec<String> = (0..40)
        .map(|at| {
            (0..120)
                .map(|s| if (s * (at + 3)) % 11 < 2 { 'x' } else { '.' })
                .collect()
        })
        .collect();
    let music = drawn(&rows.join("\n"), 10);
    for limits in [
        Limits {
            steps: 60,
            stop: &|| false,
        },
        Limits {
            steps: u64::MAX,
            stop: &|| true,
        },
    ] {
        let ask = Fewest {
            hand_over: true,
            ..Fewest::default()
        };
        let answer = fewest(&music, ask, limits);
        let Answer::Players {
            players,
            at_least,
            proof,
            plays,
        } = answer
        else {
            panic!("{answer:?}");
        };
        assert!(players >= at_least && !plays.is_empty());
        assert!(players == at_least || proof == Proof::CutShort);
        let plan = assign(&music, &able(&[&[], &[], &[]]), true, limits);
        assert!(!plan.proven);
    }
}

#[test]
fn hostile_numbers_do_no_harm() {
    let huge = Part {
        entrances: vec![Entrance::new(Tenths::MIN, Tenths::MAX), Entrance::new(5, -5)],
        station: usize::MAX,
        given_to: Some(usize::MAX),
        ..Part::default()
    };
    let music = Music {
        parts: vec![huge.clone(), huge],
        changes: Changes::new(vec![vec![Tenths::MIN, Tenths::MAX]], Tenths::MAX),
        mounted: vec![(9, 0)],
        one_player: vec![vec![7, 1], vec![]],
        instead: vec![vec![vec![0, 0], vec![99]], vec![]],
        apart: vec![(0, 9), (1, 1)],
        handing_rest: Tenths::MAX,
    };
    for hand_over in [false, true] {
        fewest(
            &music,
            Fewest {
                hand_over,
                ..Fewest::default()
            },
            Limits::USUAL,
        );
        assign(&music, &able(&[&[], &[99]]), hand_over, Limits::USUAL);
    }
    floor(&music, &[0, 1, 55], Limits::USUAL);
    let many = Music {
        parts: vec![Part::default(); 3000],
        ..Music::default()
    };
    let answer = fewest(&many, Fewest::default(), Limits::USUAL);
    assert_eq!(answer, Answer::TooMany { units: 3000 });
    assert!(!assign(&many, &able(&[&[]]), false, Limits::USUAL).proven);
}
