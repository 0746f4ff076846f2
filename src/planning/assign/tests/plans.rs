//! Plans for the players there are.

use super::*;

#[test]
fn a_plan_and_its_priorities() {
    let music = drawn(
        "snare     xx..xx..
         triangle  ..xx..xx
         bells     xx..xx..
         drum      ..xx..xx",
        0,
    );
    // Two players, four parts: whoever plays two goes to and fro three times.
    let plan = assign(&music, &able(&[&[], &[]]), false, Limits::USUAL);
    assert_eq!(
        (plan.walks, plan.most, plan.least, plan.proven),
        (6, 80, 80, true)
    );
    // Handing over costs more than walking.
    let plan = assign(&music, &able(&[&[], &[]]), true, Limits::USUAL);
    assert_eq!((plan.walks, plan.handed_over.len()), (6, 0));
    // Three players: one plays two parts, two play one each.
    let plan = assign(&music, &able(&[&[], &[], &[]]), false, Limits::USUAL);
    assert_eq!((plan.walks, plan.most, plan.least), (3, 80, 40));
    // Four: nobody walks; a fifth has nothing to do.
    let plan = assign(&music, &able(&[&[], &[], &[], &[], &[]]), false, Limits::USUAL);
    assert_eq!((plan.walks, plan.most, plan.least), (0, 40, 0));
}

#[test]
fn variety_is_the_last_word() {
    let music = drawn("snare xxxx\nbells xxxx", 0);
    let mut players = able(&[&[], &[]]);
    players[0].had = vec![3, 0];
    let plan = assign(&music, &players, false, Limits::USUAL);
    let who: Vec<usize> = plan.plays.iter().map(|play| play.player).collect();
    assert_eq!((who, plan.had), (vec![1, 0], 0));
    // Unless the director has decided.
    let mut given = music.clone();
    given.parts[0].given_to = Some(0);
    let plan = assign(&given, &players, false, Limits::USUAL);
    let who: Vec<usize> = plan.plays.iter().map(|play| play.player).collect();
    assert_eq!((who, plan.had), (vec![0, 1], 3));
}

#[test]
fn handing_over_where_it_must_be() {
    // Three parts, each with each at some time: two players can do it if one part changes hands.
    let music = drawn("snare xx..xx\nbells xxxx..\ntriangle ..xxxx", 0);
    let plan = assign(&music, &able(&[&[], &[]]), true, Limits::USUAL);
    assert!(plan.left_out.vital.is_empty() && plan.proven);
    assert_eq!(plan.handed_over.len(), 1);
    let plan = assign(&music, &able(&[&[], &[]]), false, Limits::USUAL);
    assert_eq!((plan.left_out.vital.len(), plan.handed_over.len()), (1, 0));
}

#[test]
fn what_is_left_out_and_why() {
    const MALLETS: u32 = 1;
    let mut music = drawn(
        "snare     xxxx....
         bells     xxxxxxxx
         triangle  xx......
         drum      xxx.....",
        0,
    );
    music.parts[1].needs = Abilities::of(&[MALLETS]);
    let two = able(&[&[MALLETS], &[]]);
    // No two of the four fit one player.
    let out = leave_out(&music, &two, false, Limits::USUAL);
    assert_eq!(out.vital, [2, 3], "the least playing is lost");
    let every = (0..4).map(|part| (part, None)).collect();
    assert_eq!(
        out.why,
        Some(Why::TooFew {
            places: every,
            able: vec![0, 1]
        })
    );

    // What may be spared goes first, though it plays longer.
    music.parts[0].spare = true;
    let out = leave_out(&music, &two, false, Limits::USUAL);
    assert_eq!((out.vital, out.spare), (vec![2], vec![0]));

    // Nobody there can play the bells.
    let mut away = able(&[&[MALLETS], &[], &[], &[]]);
    away[0].absent = true;
    let out = leave_out(&music, &away, false, Limits::USUAL);
    assert_eq!((out.vital, out.why), (vec![1], Some(Why::Nobody(1))));

    // Two mallet parts at once, one mallet player among many.
    music.parts[2].needs = Abilities::of(&[MALLETS]);
    let out = leave_out(&music, &able(&[&[MALLETS], &[], &[], &[]]), false, Limits::USUAL);
    assert_eq!(out.vital, [2]);
    assert_eq!(
        out.why,
        Some(Why::TooFew {
            places: vec![(1, None), (2, None)],
            able: vec![0]
        })
    );

    // An alternative that can be played is preferred to leaving out.
    music.instead = vec![vec![vec![1], vec![2]]];
    music.parts[2].needs = Abilities::NONE;
    let out = leave_out(&music, &able(&[&[], &[], &[]]), false, Limits::USUAL);
    assert_eq!((out.vital, out.instead, out.why), (vec![], vec![1], None));
}
