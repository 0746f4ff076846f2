//! The page for the door, whatever is put on it.

use proptest::prelude::*;

use super::*;
use crate::pages::checked::{faults, misplaced, plain, read};
use crate::pages::paper::Area;

fn plays(instrument: &str, measures: &str, enters: &str) -> Does {
    Does::Plays(Plays {
        instrument: instrument.to_owned(),
        sticks: Some("soft mallets".to_owned()),
        station: None,
        page: Some("perc. 2".to_owned()),
        measures: measures.to_owned(),
        enters: Some(enters.to_owned()),
    })
}

fn goes(to: &str, measures: usize) -> Does {
    Does::Goes(Goes {
        to: to.to_owned(),
        measures: Some(measures),
        after: Some("after m. 40".to_owned()),
        seconds: Some("8 s".to_owned()),
        times: 1,
    })
}

/// A program of so many pieces for so many players, with moves and something carried.
fn program(players: usize, pieces: usize) -> DoorPage {
    const INSTRUMENTS: [&str; 6] = [
        "Snare",
        "Suspended cymbal",
        "Bells",
        "Tambourine",
        "Bass drum",
        "Timpani",
    ];
    let cell = |piece: usize, player: usize| {
        let (one, other) = (
            INSTRUMENTS[(piece + player) % 6],
            INSTRUMENTS[(piece + 2 * player + 1) % 6],
        );
        match (piece + player) % 4 {
            0 => vec![
                plays(one, "1-40", "m. 1"),
                goes(other, 4),
                plays(other, "45-60", "m. 45"),
            ],
            3 => Vec::new(),
            _ => vec![plays(one, "9-16, 33-48", "m. 9")],
        }
    };
    DoorPage {
        concert: "Winter evening".to_owned(),
        date: "Thursday, December 10, 2026, 7 pm".to_owned(),
        place: "Seventh Grade Band".to_owned(),
        players: (1..=players)
            .map(|number| Player {
                band: String::new(),
                seat: format!("P{number}"),
                absent: number == 4,
            })
            .collect(),
        pieces: (0..pieces)
            .map(|piece| PieceRow {
                number: format!("{}", piece + 1),
                title: [
                    "Harbor Parade",
                    "Snow on the Signal House",
                    "Bells of Marrow Lane",
                ][piece % 3]
                    .to_owned(),
                under: "3:28".to_owned(),
                cells: (0..players).map(|player| cell(piece, player)).collect(),
                left_out: vec![LeftOut {
                    part: "Claves".to_owned(),
                    why: "may be spared".to_owned(),
                }],
                coarse: None,
            })
            .collect(),
        changes: (1..pieces)
            .map(|after| Change {
                after,
                time: Some("1:30".to_owned()),
                duties: (0..players)
                    .map(|player| {
                        if player % 2 == 0 {
                            vec!["bells on".to_owned()]
                        } else {
                            Vec::new()
                        }
                    })
                    .collect(),
            })
            .collect(),
        stations: INSTRUMENTS
            .iter()
            .map(|name| Stand {
                name: (*name).to_owned(),
                shape: Shape::Drum,
                pieces: vec!["1".to_owned()],
            })
            .collect(),
        winds: band(14, pieces),
        notes: vec![Note {
            about: "If P1 is absent".to_owned(),
            says: "P3 takes the snare in 1.".to_owned(),
        }],
    }
}

/// Wind parts in so many pieces.
fn band(parts: usize, pieces: usize) -> Winds {
    const NAMES: [&str; 7] = [
        "Flute 1",
        "Bass clarinet",
        "Alto sax 2",
        "Trumpet 3",
        "Horn",
        "Euphonium T.C.",
        "Tuba",
    ];
    let cell = |part: usize, piece: usize| WindCell {
        words: ["4", "", "1 flute", "nobody (alto sax?)"][(part + piece) % 4].to_owned(),
        amiss: (part + piece) % 4 == 3,
    };
    Winds {
        pieces: (1..=pieces).map(|number| number.to_string()).collect(),
        rows: (0..parts)
            .map(|part| WindRow {
                part: NAMES[part % 7].to_owned(),
                cells: (0..pieces.max(1)).map(|piece| cell(part, piece)).collect(),
            })
            .collect(),
    }
}

/// All that must hold of a page.
fn check(door: &DoorPage, paper: Paper) -> Vec<String> {
    let mut wrong = faults(&html(std::slice::from_ref(door), paper));
    let laid = sheets(door, paper);
    let mut seen = Vec::new();
    let mut noted = String::new();
    for one in &laid {
        let places: Vec<Area> = one.places.iter().map(|(_, area)| *area).collect();
        wrong.extend(misplaced(&one.sheet, &places));
        for (place, area) in &one.places {
            let text = read(&one.sheet, area);
            let must = must_say(door, *place);
            // Where not all fits, the page says so.
            let cut = text.contains("morelines");
            for words in must.iter().map(|words| plain(words)) {
                if !text.contains(&words) && !cut {
                    wrong.push(format!("{place:?} says {text:?} and not {words:?}"));
                }
            }
            if *place == Place::Notes {
                noted.push_str(&text);
            }
            seen.push(*place);
        }
    }
    // The notes go on from the foot on sheets of their own.
    for words in door.notes.iter().flat_map(|note| [&note.about, &note.says]) {
        if !noted.contains(&plain(words)) {
            wrong.push(format!("the notes do not say {words:?}"));
        }
    }
    for player in 0..door.players.len() {
        for piece in 0..door.pieces.len() {
            let times = seen
                .iter()
                .filter(|place| **place == Place::Cell(piece, player))
                .count();
            if times != 1 {
                wrong.push(format!(
                    "the cell of piece {piece}, player {player} is there {times} times"
                ));
            }
        }
        if !seen.contains(&Place::Head(Some(player))) {
            wrong.push(format!("player {player} has no head"));
        }
    }
    let firsts = seen.iter().filter_map(|place| match place {
        Place::Winds(first) => Some(*first),
        _ => None,
    });
    if firsts.clone().next().is_some() == (door.winds.rows.is_empty() || door.pieces.is_empty())
        || firsts.clone().any(|first| first > door.winds.rows.len())
    {
        wrong.push(format!("the winds are at {:?}", firsts.collect::<Vec<_>>()));
    }
    // The title of a piece by itself stands over the page.
    let alone = door.pieces.len() == 1 && door.pieces[0].number.is_empty();
    for piece in 0..door.pieces.len() {
        if !alone && !seen.contains(&Place::Piece(piece)) {
            wrong.push(format!("piece {piece} is not there"));
        }
    }
    wrong
}

fn must_say(door: &DoorPage, place: Place) -> Vec<String> {
    match place {
        Place::Title => vec![door.concert.clone(), door.date.clone(), door.place.clone()],
        Place::Head(Some(player)) => vec![door.players[player].seat.clone()],
        Place::Piece(piece) => vec![
            door.pieces[piece].number.clone(),
            door.pieces[piece].title.clone(),
        ],
        Place::Cell(piece, player) => {
            let cell = &door.pieces[piece].cells[player];
            let absent = door.players[player].absent;
            let mut all: Vec<String> = Vec::new();
            if cell.is_empty() {
                all.push(if absent { "away" } else { "tacet" }.to_owned());
            }
            for does in cell {
                match does {
                    Does::NotKnown => all.push("not known".to_owned()),
                    Does::Plays(plays) => {
                        all.push(plays.instrument.clone());
                        all.push(plays.measures.clone());
                        all.extend(plays.enters.clone());
                        all.extend(plays.page.clone());
                        all.extend(plays.sticks.clone());
                    }
                    Does::Goes(goes) => {
                        all.push(format!("to {}", goes.to));
                        all.extend(goes.measures.map(|count| match count {
                            0 => "no measure".to_owned(),
                            1 => "1 measure".to_owned(),
                            count => format!("{count} measures"),
                        }));
                    }
                }
            }
            all
        }
        Place::LeftOut(piece) => {
            let all = door.pieces[piece].left_out.iter();
            all.flat_map(|left| [left.part.clone(), left.why.clone()])
                .collect()
        }
        Place::Carry(change, Some(player)) => door.changes[change].duties[player].clone(),
        // Which rows stand there is read off the next place; all of them together are looked at below.
        Place::Winds(_) => door.winds.pieces.clone(),
        Place::Floor => door.stations.iter().map(|stand| stand.name.clone()).collect(),
        // All of them together are looked at above.
        Place::Notes | Place::Head(None) | Place::Carry(_, None) => Vec::new(),
    }
}

#[test]
fn programs_of_every_size_fit() {
    for paper in [Paper::Letter, Paper::A4, Paper::Tabloid, Paper::A3] {
        for players in [0, 1, 3, 6, 10, 30] {
            for pieces in [0, 1, 2, 5, 8] {
                let door = program(players, pieces);
                let wrong = check(&door, paper);
                assert!(
                    wrong.is_empty(),
                    "{players} players, {pieces} pieces:\n{}",
                    wrong.join("\n")
                );
            }
        }
    }
}

#[test]
fn notes_that_the_foot_has_no_room_for_stand_on_sheets_of_their_own() {
    for (notes, words) in [(3, 60), (15, 90), (1, 3_000)] {
        let mut door = program(7, 8);
        door.notes = (0..notes)
            .map(|at| Note {
                about: format!("Without P{at}:"),
                says: (0..words)
                    .map(|word| format!("word{at}of{word}"))
                    .collect::<Vec<_>>()
                    .join(" "),
            })
            .collect();
        for paper in [Paper::Letter, Paper::A4] {
            let wrong = check(&door, paper);
            assert!(wrong.is_empty(), "{notes} notes:\n{}", wrong.join("\n"));
        }
    }
}

#[test]
fn a_small_program_is_one_sheet_in_large_type() {
    // Players, pieces, sheets at most, type at least.
    for (players, pieces, most, least) in [
        (3, 2, 1, 13.0),
        (6, 2, 1, 11.0),
        (6, 3, 2, 11.0),
        (10, 8, 7, 11.0),
    ] {
        let laid = sheets(&program(players, pieces), Paper::Letter);
        let size = laid[0].name_size;
        assert!(
            laid.len() <= most && size >= least,
            "{players} players, {pieces} pieces: {} sheets, type of {size}",
            laid.len()
        );
    }
}

#[test]
fn one_part_after_another_is_told_or_the_page_says_that_more_follows() {
    let mut door = program(2, 1);
    door.pieces[0].cells[0] = (0..300)
        .map(|at| plays(&format!("Gong {at}"), "1-2", "m. 1"))
        .collect();
    let wrong = check(&door, Paper::Letter);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(html(&[door], Paper::Letter).contains("more lines"));
}

#[test]
fn every_wind_part_stands_somewhere_in_type_that_is_read() {
    for paper in [Paper::Letter, Paper::A4, Paper::Tabloid] {
        for (parts, pieces) in [(1, 1), (14, 1), (14, 6), (40, 10), (200, 4)] {
            let mut door = program(6, 3);
            door.winds = band(parts, pieces);
            for (at, row) in door.winds.rows.iter_mut().enumerate() {
                row.part = format!("{} {at}.", row.part);
            }
            let laid = sheets(&door, paper);
            let wrong = check(&door, paper);
            assert!(wrong.is_empty(), "{parts}, {pieces}: {}", wrong.join("\n"));
            let winds = laid.iter().flat_map(|one| {
                let places = one.places.iter();
                let winds = places.filter(|(place, _)| matches!(place, Place::Winds(_)));
                winds.map(|(_, area)| read(&one.sheet, area)).collect::<Vec<_>>()
            });
            let winds: String = winds.collect();
            for row in &door.winds.rows {
                assert_eq!(
                    winds.matches(&plain(&row.part)).count(),
                    1,
                    "{} in {winds}",
                    row.part
                );
            }
        }
    }
}

#[test]
fn a_single_piece_fills_its_sheet_and_has_no_empty_column() {
    let mut door = program(4, 1);
    door.changes.clear();
    door.pieces[0].number.clear();
    door.pieces[0].left_out.clear();
    let laid = sheets(&door, Paper::Letter);
    assert_eq!(laid.len(), 1);
    assert!(laid[0].name_size >= 15.0, "type of {}", laid[0].name_size);
    let out = laid[0]
        .places
        .iter()
        .any(|(place, _)| matches!(place, Place::LeftOut(_)));
    assert!(!out, "a column for what is left out, and nothing is");
    assert!(laid[0].places.iter().any(|(place, _)| *place == Place::Winds(0)));
}

#[test]
fn cells_that_are_not_there_are_tacet() {
    let mut door = program(3, 2);
    door.pieces[0].cells.clear();
    door.changes[0].duties.clear();
    let laid = sheets(&door, Paper::Letter);
    let texts: Vec<String> = laid[0]
        .places
        .iter()
        .map(|(_, area)| read(&laid[0].sheet, area))
        .collect();
    assert!(
        texts.iter().filter(|text| *text == "tacet").count() >= 3,
        "{texts:?}"
    );
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z&<>\"' .,0-9-]{0,24}",
        1 => ".{0,24}",
        1 => "[A-Za-z]{30,80}",
        1 => "(<b>|]]>|&amp;|--|'|\u{202e}|\u{0}|\u{301}|\u{1f941}|大|\u{a0}){0,9}",
    ]
}

fn does() -> impl Strategy<Value = Does> {
    let one = || proptest::option::of(words());
    prop_oneof![
        (words(), one(), one(), one(), words(), one()).prop_map(
            |(instrument, sticks, station, page, measures, enters)| {
                Does::Plays(Plays {
                    instrument,
                    sticks,
                    station,
                    page,
                    measures,
                    enters,
                })
            }
        ),
        (
            words(),
            proptest::option::of(0..200_usize),
            one(),
            one(),
            0..4_usize
        )
            .prop_map(|(to, measures, after, seconds, times)| {
                Does::Goes(Goes {
                    to,
                    measures,
                    after,
                    seconds,
                    times,
                })
            }),
    ]
}

fn winds(pieces: usize) -> impl Strategy<Value = Winds> {
    let cell = (words(), any::<bool>()).prop_map(|(words, amiss)| WindCell { words, amiss });
    let cells = proptest::collection::vec(cell, pieces.max(1));
    let row = (words(), cells).prop_map(|(part, cells)| WindRow { part, cells });
    let numbers = proptest::collection::vec("[0-9]{1,2}", pieces);
    (proptest::collection::vec(row, 0..60), numbers).prop_map(|(rows, pieces)| Winds { pieces, rows })
}

fn doors() -> impl Strategy<Value = DoorPage> {
    (0..9_usize, 0..5_usize).prop_flat_map(|(players, pieces)| {
        let cells = proptest::collection::vec(proptest::collection::vec(does(), 0..4), players);
        let left = (words(), words()).prop_map(|(part, why)| LeftOut { part, why });
        let row = (
            words(),
            words(),
            words(),
            cells,
            proptest::collection::vec(left, 0..3),
            proptest::option::of(words()),
        )
            .prop_map(|(number, title, under, cells, left_out, coarse)| PieceRow {
                number,
                title,
                under,
                cells,
                left_out,
                coarse,
            });
        let duties = proptest::collection::vec(proptest::collection::vec(words(), 0..3), players);
        let change = (0..6_usize, proptest::option::of(words()), duties)
            .prop_map(|(after, time, duties)| Change { after, time, duties });
        let player = (words(), any::<bool>()).prop_map(|(seat, absent)| Player {
            seat,
            band: String::new(),
            absent,
        });
        let stand =
            (words(), proptest::collection::vec("[0-9]{1,2}", 0..4)).prop_map(|(name, pieces)| Stand {
                name,
                shape: Shape::Timpani,
                pieces,
            });
        let note = (words(), words()).prop_map(|(about, says)| Note { about, says });
        (
            (words(), words(), words()),
            proptest::collection::vec(player, players),
            proptest::collection::vec(row, pieces),
            proptest::collection::vec(change, 0..4),
            proptest::collection::vec(stand, 0..12),
            proptest::collection::vec(note, 0..5),
            winds(pieces),
        )
            .prop_map(
                |((concert, date, place), players, pieces, changes, stations, notes, winds)| DoorPage {
                    winds,
                    concert,
                    date,
                    place,
                    players,
                    pieces,
                    changes,
                    stations,
                    notes,
                },
            )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn whatever_is_written_keeps_its_place(door in doors()) {
        for paper in [Paper::Letter, Paper::A4] {
            let wrong = check(&door, paper);
            prop_assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        }
    }
}
