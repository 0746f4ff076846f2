//! Libraries written by hand.

use std::sync::Arc;

use super::*;
use crate::catalogue::CardFile;

const CARDS: &str = "ensemble \"Band\"
  players         flute 8, clarinet 10

piece \"Old Rope\"
  by              Ida Quell
  parts           flute, clarinet 1-2, tuba
  library
    place           closet, box 4
    copies          1 score, 5 flute, 5 clarinet 1, 5 clarinet 2
    missing         tuba
    lent            2026-05-01 to the high school, due 2026-09-01
    price           50 USD
  performed       2025-12-05 \"Band\", took 5 weeks, result I II
  performed       2019-05-01

piece \"Loose Leaves\"
  parts           flute, clarinet
  library
    copies          9 flute

piece \"Only Wanted\"
  wanted
";

fn snapshot() -> Snapshot {
    let file = Arc::new(CardFile::read("a.levare", CARDS));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

#[test]
fn a_shelf_tells_what_there_is_and_what_is_amiss() {
    let snapshot = snapshot();
    let shelf = shelf(&snapshot, &[]);
    let [loose, rope] = &shelf.sets[..] else {
        panic!("two sets")
    };
    assert_eq!(
        (loose.name.as_str(), loose.score, loose.copies),
        ("Loose Leaves", Some(false), 9)
    );
    assert_eq!(rope.place.as_deref(), Some("closet, box 4"));
    assert_eq!(
        (rope.score, rope.copies, rope.missing.as_slice()),
        (Some(true), 16, ["tuba".to_owned()].as_slice())
    );
    assert_eq!(
        rope.fewer
            .iter()
            .map(|few| (few.instrument.as_str(), few.short()))
            .collect::<Vec<_>>(),
        [("flute", 3)]
    );
    assert!(rope.lent[0].over);
    let days: Vec<String> = rope
        .history
        .iter()
        .filter_map(|past| past.day)
        .map(|day| day.to_string())
        .collect();
    assert_eq!(days, ["2025-12-05", "2019-05-01"]);
    assert_eq!(rope.history[0].said, ["took 5 weeks", "result I II"]);
    assert_eq!(
        rope.rests_until(snapshot.today),
        Some(jiff::civil::date(2027, 12, 6))
    );
    assert_eq!(
        (shelf.worth.as_slice(), shelf.unpriced),
        ([("USD".to_owned(), 5000)].as_slice(), 1)
    );
}

#[test]
fn a_sheet_goes_out_and_comes_back() {
    let snapshot = snapshot();
    let shelf = shelf(&snapshot, &[]);
    let rows = sheet::rows(&snapshot, &shelf);
    let drawn: Vec<(&str, Option<u32>)> = rows
        .iter()
        .map(|row| (row.part.as_str(), row.on_the_card))
        .collect();
    let wanted = [
        ("flute", Some(9)),
        ("score", None),
        ("clarinet", None),
        ("score", Some(1)),
        ("flute", Some(5)),
        ("clarinet 1", Some(5)),
        ("clarinet 2", Some(5)),
        ("tuba", None),
    ];
    assert_eq!(drawn, wanted);
    let filled = "\u{feff}piece;by;place;part;on card;counted\r\nOld Rope;;;flute;5;7\r\nOld Rope;;;Tuba;;1\r\nOld Rope;;;clarinet 1;5;5\r\nOld Rope;;;clarinet 2;5;\r\nOld Rope;;;flute;5;8\r\nNo Such;;;flute;;3\r\nOld Rope;;;flute;;many\r\n";
    let back = counted::read(&snapshot, filled).expect("the columns are there");
    let changes: Vec<(&str, Option<u32>, u32)> = back
        .changes
        .iter()
        .map(|one| (one.part.as_str(), one.was, one.now))
        .collect();
    assert_eq!(changes, [("flute", Some(5), 7), ("tuba", None, 1)]);
    assert_eq!((back.same, back.blank), (1, 1));
    let lines: Vec<usize> = back.not_understood.iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [6, 7, 8]);
    assert_eq!(counted::read(&snapshot, "piece,part\nOld Rope,flute\n"), None);
}

#[test]
fn tables_are_read_as_spreadsheets_write_them() {
    let rows = counted::table("a,\"b, \"\"c\"\"\",d\n\"two\nlines\",x\n\n1,2");
    let cells: Vec<(usize, Vec<&str>)> = rows
        .iter()
        .map(|(line, row)| (*line, row.iter().map(String::as_str).collect()))
        .collect();
    assert_eq!(
        cells,
        [
            (1, vec!["a", "b, \"c\"", "d"]),
            (2, vec!["two\nlines", "x"]),
            (5, vec!["1", "2"])
        ]
    );
}
