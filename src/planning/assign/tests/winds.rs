//! Wind players to parts.

use super::*;

fn parts(sections: &[usize]) -> Vec<WindPart> {
    let part = |number: usize, place: usize| WindPart {
        least: 1,
        section: Section {
            number,
            place,
            rank: place,
        },
    };
    let all = sections.iter().enumerate();
    all.flat_map(|(number, &count)| (0..count).map(move |place| part(number, place)))
        .collect()
}

fn sizes(seat: &Seat) -> Vec<usize> {
    let count = seat.lacks.len();
    (0..count)
        .map(|part| seat.part_of.iter().filter(|at| **at == Some(part)).count())
        .collect()
}

#[test]
fn the_lower_parts_get_the_extra_players() {
    // Players of a section, its parts, players to each part from the highest (balance from below;
    // common practice, no source for the exact split).
    let rows: [(usize, usize, &[usize]); 6] = [
        (8, 3, &[2, 3, 3]),
        (7, 3, &[2, 2, 3]),
        // Parts that nobody can be spared for are missing from below: the first part has the tune (common practice,
        // no source).
        (2, 3, &[1, 1, 0]),
        (1, 2, &[1, 0]),
        (9, 2, &[4, 5]),
        (0, 1, &[0]),
    ];
    for (players, count, split) in rows {
        let anybody = WindPlayer {
            can: (0..count).map(|part| (part, 0)).collect(),
            ..WindPlayer::default()
        };
        let seat = seat_winds(&vec![anybody; players], &parts(&[count]));
        assert_eq!(sizes(&seat), split, "{players} players, {count} parts");
    }
}

#[test]
fn players_switch_only_where_a_part_is_short() {
    // Five flutes of whom two can play oboe, and no oboist.
    let flute = WindPlayer {
        can: vec![(0, 0), (1, 0)],
        ..WindPlayer::default()
    };
    let switches = WindPlayer {
        can: vec![(0, 0), (1, 0), (2, 2)],
        ..WindPlayer::default()
    };
    let band = [
        flute.clone(),
        switches.clone(),
        flute.clone(),
        switches,
        flute.clone(),
    ];
    let seat = seat_winds(&band, &parts(&[2, 1]));
    assert_eq!((sizes(&seat), seat.switches), (vec![2, 2, 1], 2));
    assert_eq!(seat.short, (vec![], 0));
    // Without them the oboe is short, and nobody can help.
    let seat = seat_winds(&[flute.clone(), flute], &parts(&[2, 1]));
    assert_eq!((seat.lacks, seat.short), (vec![0, 0, 1], (vec![2], 0)));
}

#[test]
fn a_part_without_anybody_comes_before_a_part_that_is_short() {
    // One player too few either way: the second part gets its one player, though he or she switches for it.
    let parts = [
        WindPart {
            least: 2,
            section: Section::default(),
        },
        WindPart {
            least: 1,
            section: Section {
                number: 1,
                ..Section::default()
            },
        },
    ];
    let stays = WindPlayer {
        can: vec![(0, 0)],
        ..WindPlayer::default()
    };
    let could = WindPlayer {
        can: vec![(0, 0), (1, 5)],
        ..WindPlayer::default()
    };
    let seat = seat_winds(&[stays, could], &parts);
    assert_eq!((sizes(&seat), seat.lacks), (vec![1, 1], vec![1, 0]));
    assert_eq!(seat.short, (vec![0, 1], 2));
}

#[test]
fn who_lacks_what_is_asked_sits_on_the_lower_part() {
    // Two clarinets and two parts, both over the break, and one player who crosses it.
    let player = |lacks: &[usize]| WindPlayer {
        can: vec![(0, lacks.len().min(1) as u32), (1, lacks.len().min(1) as u32)],
        lacks: lacks.to_vec(),
        ability: 0,
    };
    for band in [[player(&[]), player(&[0, 1])], [player(&[0, 1]), player(&[])]] {
        let able = band.iter().position(|who| who.lacks.is_empty());
        let seat = seat_winds(&band, &parts(&[2]));
        assert_eq!(seat.part_of.iter().position(|at| *at == Some(0)), able);
    }
}
