//! The geometry over rosters: nothing overlaps, all is on the sheet, and the counts are the roster's.

use std::sync::Arc;

use proptest::prelude::*;

use crate::catalogue::{CardFile, Snapshot};
use crate::pages::checked;
use crate::planning::winds;

use super::ink::Letters;
use super::*;

/// What else stands on the floor, from the left upper to the right lower point: the totals, the podium with the
/// conductor's stand, and what the signs mean.
const TAKEN: [[(f64, f64); 2]; 3] = [
    [(30.0, 696.0), (210.0, 806.0)],
    [(488.0, 684.0), (568.0, 750.0)],
    [(760.0, 696.0), (1030.0, 806.0)],
];

/// The plan of the only band, for the first piece if there is one.
fn planned(text: &str) -> (Plan, usize) {
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let piece = snapshot.entries().find(|(_, entry)| entry.piece().is_some());
    let piece = piece.map(|(id, _)| id);
    let bands = snapshot.ensembles();
    let winds = winds::of_band(&snapshot, piece, bands, &[], &[]);
    let players = winds.players.iter().map(|players| players.count).sum();
    (plan(&snapshot, bands, &winds, piece), players)
}

/// The corners of a square that stands at an angle.
fn corners(at: (f64, f64), (wide, high): (f64, f64), angle: f64) -> [(f64, f64); 4] {
    let (sin, cos) = (90.0 - angle).to_radians().sin_cos();
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| {
        let (x, y) = (x * wide / 2.0, y * high / 2.0);
        (at.0 + x * cos - y * sin, at.1 + x * sin + y * cos)
    })
}

/// Whether two upright or turned boxes share a point: no line along a side of either parts them.
fn overlap(a: &[(f64, f64); 4], b: &[(f64, f64); 4]) -> bool {
    let parted = |one: &[(f64, f64); 4], other: &[(f64, f64); 4]| {
        (0..2).any(|side| {
            let axis = (one[side + 1].0 - one[side].0, one[side + 1].1 - one[side].1);
            let along = |points: &[(f64, f64); 4]| {
                let all = points.map(|(x, y)| x * axis.0 + y * axis.1);
                (
                    all.iter().copied().fold(f64::MAX, f64::min),
                    all.iter().copied().fold(f64::MIN, f64::max),
                )
            };
            let ((low, high), (from, to)) = (along(one), along(other));
            high < from || to < low
        })
    };
    !parted(a, b) && !parted(b, a)
}

type Box4 = ([(f64, f64); 4], String);

fn boxes(layout: &Layout) -> Vec<Box4> {
    let mut all = Vec::new();
    for row in &layout.rows {
        for chair in &row.chairs {
            let square = corners(chair.at, (chair.side, chair.side), chair.angle);
            all.push((square, format!("chair {}", chair.words)));
        }
        for stand in &row.stands {
            all.push((
                corners(stand.at, (stand.wide, 1.0), stand.angle),
                "stand".to_owned(),
            ));
        }
        for name in row.names.iter().chain([&row.tag]) {
            for (words, at) in &name.lines {
                let wide = Letters::new(name.size).bold().width(words);
                all.push((corners(*at, (wide, name.size * 0.7), name.angle), words.clone()));
            }
        }
    }
    all
}

fn faults(layout: &Layout) -> Vec<String> {
    let all = boxes(layout);
    let mut faults = Vec::new();
    for [(left, top), (right, low)] in TAKEN {
        let taken = [(left, top), (right, top), (right, low), (left, low)];
        let over = all.iter().filter(|(one, _)| overlap(one, &taken));
        faults.extend(over.map(|(_, name)| format!("{name} stands in a corner or on the podium")));
    }
    for (at, (one, name)) in all.iter().enumerate() {
        for (other, second) in &all[..at] {
            if overlap(one, other) {
                faults.push(format!("{second} and {name} overlap"));
            }
        }
        let inside = |(x, y): &(f64, f64)| (0.0..=SHEET.0).contains(x) && (190.0..=SHEET.1).contains(y);
        if !one.iter().all(inside) {
            faults.push(format!("{name} is off the floor"));
        }
    }
    faults
}

fn sound(plan: &Plan, players: usize) -> Result<(), TestCaseError> {
    let layout = layout(plan);
    let chairs: usize = layout.rows.iter().map(|row| row.chairs.len()).sum();
    prop_assert_eq!(chairs, players);
    prop_assert_eq!(plan.chairs(), players);
    for (row, blocks) in layout.rows.iter().zip(&plan.rows) {
        prop_assert_eq!((row.chairs.len(), row.stands.len()), Plan::totals(blocks));
    }
    let found = faults(&layout);
    prop_assert!(found.is_empty(), "{:?}", found);
    for paper in [Paper::Letter, Paper::A4] {
        let faults = checked::misplaced(&sheet(plan, paper), &[]);
        prop_assert!(faults.is_empty(), "{:?}", faults);
    }
    let faults = checked::faults(&html("a & b", Paper::A4, std::slice::from_ref(plan)));
    prop_assert!(faults.is_empty(), "{:?}", faults);
    Ok(())
}

const INSTRUMENTS: [&str; 14] = [
    "flute",
    "oboe",
    "clarinet",
    "bass clarinet",
    "bassoon",
    "alto sax",
    "tenor sax",
    "baritone sax",
    "trumpet",
    "horn",
    "trombone",
    "euphonium",
    "tuba",
    "string bass",
];
const ROWS: [&str; 12] = [
    "flute",
    "oboe, bassoon",
    "clarinet 1",
    "clarinet 2",
    "saxes",
    "alto sax",
    "low reeds",
    "trumpet, horn",
    "low brass",
    "trombone",
    "percussion",
    "clarinet, low brass",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(250))]

    #[test]
    fn chairs_stand_apart_and_are_all_there(
        heads in proptest::collection::vec((proptest::sample::select(&INSTRUMENTS[..]), 0..19u32), 0..14),
        rows in proptest::collection::vec(proptest::sample::subsequence(&ROWS[..], 1..4), 0..7),
        piece in any::<bool>(),
    ) {
        let mut text = "ensemble \"B\"\n  players\n".to_owned();
        heads.iter().for_each(|(name, count)| text.push_str(&format!("    {name}  {count}\n")));
        if !rows.is_empty() {
            text.push_str("  rows\n");
            rows.iter().for_each(|row| text.push_str(&format!("    {}\n", row.join(", "))));
        }
        if piece {
            text.push_str("piece \"A\"\n  parts  flute 1-2, clarinet 1-3, trumpet 1-2, tuba\n");
        }
        let (plan, players) = planned(&text);
        sound(&plan, players)?;
    }
}

#[test]
fn parts_on_the_chairs() {
    let text = "ensemble \"B\"\n  players  flute 3, clarinet 6, tuba 1, tenor sax 1\n  rows\n    flute, clarinet 1\n    clarinet 2, tenor sax, low brass\npiece \"A\"\n  parts  flute, clarinet 1-3, tuba\n";
    let (plan, _) = planned(text);
    let told: Vec<String> = plan
        .rows
        .iter()
        .flatten()
        .map(|block| format!("{}: {}", block.name, block.chairs.join("|")))
        .collect();
    assert_eq!(
        told,
        [
            "flute: ||",
            "clarinet 1: 1|1|2",
            "clarinet 2: 2|3|3",
            "tenor sax: –",
            "tuba: "
        ]
    );
    // Two chairs on one part share a stand: 2 for the flutes, 2 and 2 for the clarinets.
    assert_eq!(Plan::totals(&plan.rows[0]), (6, 4));
}

#[test]
fn a_planted_overlap_is_seen() {
    let (plan, _) = planned("ensemble \"B\"\n  players  flute 8, tuba 4\n");
    let mut layout = layout(&plan);
    assert!(faults(&layout).is_empty());
    layout.rows[0].chairs[1].at = layout.rows[0].chairs[0].at;
    assert!(!faults(&layout).is_empty());
}

#[test]
fn odd_rosters_get_a_word() {
    let table = [
        ("ensemble \"B\"\n", "No chairs"),
        (
            "ensemble \"B\"\n  players  flute\n",
            "Head count not certain: flute.",
        ),
        (
            "ensemble \"B\"\n  players  flute 2, tuba 1\n  rows\n    flute\n",
            "No row on the card names tuba",
        ),
        ("ensemble \"B\"\n  players  flute 2\n", "a usual setup"),
        ("ensemble \"<B>&\"\n  players  flute 2\n", "&lt;B&gt;&amp;"),
    ];
    for (text, wanted) in table {
        let (plan, players) = planned(text);
        let page = html("B", Paper::Letter, std::slice::from_ref(&plan));
        assert!(page.contains(wanted), "{text}");
        sound(&plan, players).expect("it is sound");
    }
}
