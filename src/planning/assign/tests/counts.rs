//! Fewest players, the floor, and their proofs.

use super::*;

/// The number of players, whole parts and handed over, and how the first is proven.
fn count(music: &Music) -> (usize, usize, Proof) {
    let ask = |hand_over| match fewest(
        music,
        Fewest {
            hand_over,
            ..Fewest::default()
        },
        Limits::USUAL,
    ) {
        Answer::Players {
            players,
            at_least,
            proof,
            ..
        } => {
            assert_eq!(players, at_least);
            (players, proof)
        }
        other => panic!("{other:?}"),
    };
    let (whole, proof) = ask(false);
    (whole, ask(true).0, proof)
}

#[test]
fn fewest_players() {
    let collide = |parts: &[usize]| Proof::Collide(parts.iter().map(|&part| (part, None)).collect());
    // Drawing, time to change in tenths, players when parts stay, when they may be handed over,
    // the floor, and the parts that collide all with all.
    type Row = (
        &'static str,
        Tenths,
        usize,
        usize,
        usize,
        Option<&'static [usize]>,
    );
    let rows: [Row; 6] = [
        ("", 0, 0, 0, 0, Some(&[])),
        (
            "snare  xxxx....
             bells  ....xxxx",
            0,
            1,
            1,
            1,
            Some(&[0]),
        ),
        // The same where changing takes a second.
        (
            "snare  xxxx....
             bells  ....xxxx",
            10,
            2,
            2,
            2,
            Some(&[0, 1]),
        ),
        // Three parts, each with each at some time, never three at once.
        (
            "snare     xx..xx
             bells     xxxx..
             triangle  ..xxxx",
            0,
            3,
            2,
            2,
            Some(&[0, 1, 2]),
        ),
        // Five in a ring, each collides with the next only: three players, though no three
        // collide, so only a search can tell.
        (
            "a  x...x
             b  xx...
             c  .xx..
             d  ..xx.
             e  ...xx",
            0,
            3,
            2,
            2,
            None,
        ),
        (
            "snare  xx......xx
             bells  ...xx.....
             drum   ..........x",
            10,
            2,
            2,
            2,
            Some(&[0, 2]),
        ),
    ];
    for (drawing, change, whole, passed, at_once, clique) in rows {
        let music = drawn(drawing, change);
        let (found, free, proof) = count(&music);
        assert_eq!((found, free), (whole, passed), "{drawing}");
        let all: Vec<usize> = (0..music.parts.len()).collect();
        assert_eq!(floor(&music, &all, Limits::USUAL).players, at_once, "{drawing}");
        match clique {
            Some(parts) if parts.len() > 1 => assert_eq!(proof, collide(parts), "{drawing}"),
            Some(_) => assert!(matches!(proof, Proof::Collide(_)), "{drawing}"),
            None => assert!(matches!(proof, Proof::Tried { .. }), "{drawing} {proof:?}"),
        }
    }
}

#[test]
fn the_floor_names_its_moment() {
    let music = drawn("snare ....xxxx....\nbells xx..xx......\ndrum .....x......", 0);
    let floor = floor(&music, &[0, 1, 2], Limits::USUAL);
    assert_eq!(floor.entrances, [(0, Some(0)), (1, Some(1)), (2, Some(0))]);
    assert_eq!(floor.from_to, Some((40, 80)));
}

/// Times in hours. Each row: intervals, fewest rooms, source.
#[test]
fn interval_partitioning_as_published() {
    type Row = (&'static [(Tenths, Tenths)], usize, &'static str);
    let rows: [Row; 2] = [
        (
            &[
                (8, 11),
                (13, 15),
                (9, 10),
                (8, 10),
                (15, 16),
                (16, 19),
                (18, 19),
                (8, 10),
                (9, 14),
                (11, 16),
                (17, 19),
                (9, 13),
            ],
            6,
            "J. Sarraille, California State University Stanislaus, CS4440 (2020), exercise 3",
        ),
        (
            &[
                (13, 15),
                (17, 22),
                (12, 17),
                (9, 10),
                (12, 15),
                (9, 11),
                (11, 14),
                (10, 15),
                (16, 19),
                (12, 14),
                (18, 23),
                (8, 11),
            ],
            6,
            "the same course, the example of the take-home exercise 3",
        ),
    ];
    for (intervals, rooms, source) in rows {
        let part = |&(start, end): &(Tenths, Tenths)| Part {
            entrances: vec![Entrance::new(start, end)],
            ..Part::default()
        };
        let music = Music {
            parts: intervals.iter().map(part).collect(),
            ..Music::default()
        };
        let (whole, passed, proof) = count(&music);
        assert_eq!((whole, passed), (rooms, rooms), "{source}");
        assert!(
            matches!(proof, Proof::Collide(set) if set.len() == rooms),
            "{source}"
        );
    }
}

#[test]
fn what_changes_the_count() {
    let base = || drawn("snare xxxx\ntriangle xxxx\nbells ....xxxx", 0);
    let mounted = Music {
        mounted: vec![(0, 1)],
        ..base()
    };
    assert_eq!(count(&mounted).0, 1);

    let together = Music {
        one_player: vec![vec![0, 1]],
        ..base()
    };
    assert_eq!(count(&together).0, 1, "the director says that one player does it");

    let instead = Music {
        instead: vec![vec![vec![0], vec![1]]],
        ..base()
    };
    assert_eq!(count(&instead).0, 1);

    let mut spare = base();
    spare.parts[1].spare = true;
    let ask = Fewest {
        without_spares: true,
        ..Fewest::default()
    };
    let Answer::Players { players, .. } = fewest(&spare, ask, Limits::USUAL) else {
        panic!("it can be played");
    };
    assert_eq!((count(&spare).0, players), (2, 1));

    let mut stays = drawn("snare xx..xx\nbells xxxx..\ntriangle ..xxxx", 0);
    stays
        .parts
        .iter_mut()
        .for_each(|part| part.handing = Handing::Stays);
    assert_eq!(count(&stays).1, 3, "nothing may be handed over");
}

#[test]
fn times_to_change() {
    let changes = Changes::new(vec![vec![0, 30, 100], vec![50, 0, 20], vec![]], 40).with_hands(vec![0, 25]);
    // From and to as station and sticks; the time in tenths.
    let rows = [
        ((0, 0), (0, 0), 0),
        ((0, 0), (0, 1), 40),
        ((0, 0), (2, 0), 100),
        ((0, 0), (2, 1), 100),
        ((0, 0), (1, 0), 55),
        ((1, 0), (0, 0), 75),
        ((1, 0), (2, 1), 65),
        ((2, 0), (7, 0), 0),
    ];
    for (from, to, time) in rows {
        assert_eq!(changes.time(from, to), time, "{from:?} {to:?}");
    }
    let shorter = changes.shortest();
    assert_eq!(shorter.time((0, 0), (2, 0)), 50, "over the second station");
}
