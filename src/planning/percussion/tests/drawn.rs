//! Drawn cards: whatever is answered can be played.

use std::fmt::Write;

use proptest::prelude::*;

use super::{catalogue, first};
use crate::notation::Kind;
use crate::planning::assign::Limits;
use crate::planning::percussion::{ConcertPlan, can_play};

const NAMES: [&str; 6] = [
    "bells",
    "timpani",
    "snare",
    "bass drum",
    "triangle",
    "crash cymbals",
];
const PLAYS: [&str; 5] = [
    "",
    "mallets",
    "snare, bass drum",
    "everything but timpani",
    "accessories, cymbals",
];

/// A row: the instrument, where it begins, how long it plays and rests, how often, and whether it may be spared.
type Row = (usize, u32, u32, u32, u32, bool);

fn piece(number: usize, rows: &[Row]) -> String {
    let mut text = format!(
        "piece \"Piece {number}\"\n  meter 4/4\n  tempo quarter = 120\n  measures 200\n  percussion\n"
    );
    for (at, (name, start, long, rest, often, spare)) in rows.iter().enumerate() {
        let stretches: Vec<String> = (0..*often)
            .map(|nth| start + nth * (long + rest))
            .map(|from| format!("{from}-{}", from + long - 1))
            .collect();
        let spare = if *spare { ", optional" } else { "" };
        writeln!(
            text,
            "    {} {}  {}{spare}",
            NAMES[*name],
            at + 1,
            stretches.join(", ")
        )
        .expect("a string takes it");
    }
    text
}

fn rows() -> impl Strategy<Value = Vec<Row>> {
    let row = (
        0..NAMES.len(),
        1u32..30,
        1u32..12,
        1u32..12,
        1u32..5,
        any::<bool>(),
    );
    prop::collection::vec(row, 1..7)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_is_given_out_can_be_played(
        pieces in prop::collection::vec(rows(), 1..4),
        seats in prop::collection::vec(0..PLAYS.len(), 1..6),
        absent in 0usize..8,
        hand_over in any::<bool>(),
    ) {
        let mut text = "handbook\n  change 2.5 s to a neighboring instrument, 4 s from snare to bass drum\nensemble \"Band\"\n  percussionists\n".to_owned();
        for (at, plays) in seats.iter().enumerate() {
            writeln!(text, "    Q{at}  {}", PLAYS[*plays]).expect("a string takes it");
        }
        for (number, rows) in pieces.iter().enumerate() {
            text += &piece(number, rows);
        }
        text += "concert \"Evening\"\n  on 2026-12-10\n  for \"Band\"\n  program\n";
        for number in 0..pieces.len() {
            writeln!(text, "    \"Piece {number}\"").expect("a string takes it");
        }
        let snapshot = catalogue(&text);
        let without = [format!("Q{absent}")];
        let id = first(&snapshot, Kind::Concert);
        let plan = ConcertPlan::of(&snapshot, id, None, &without, hand_over, Limits::USUAL).expect("a concert");
        prop_assert_eq!(plan.pieces.len(), pieces.len());
        for (piece, rows) in plan.pieces.iter().zip(&pieces) {
            let question = piece.question.as_ref().expect("a question");
            let sharing = piece.answer.as_ref().and_then(|answer| answer.sharing.as_ref()).expect("a sharing");
            prop_assert_eq!(question.parts.len(), rows.len());
            // Every entrance has one player, or the part is told as left out.
            for (at, part) in question.parts.iter().enumerate() {
                let mut played: Vec<usize> = sharing
                    .turns
                    .iter()
                    .flatten()
                    .filter(|turn| turn.part == at)
                    .flat_map(|turn| turn.entrances.iter().copied())
                    .collect();
                played.sort_unstable();
                match sharing.left.iter().any(|left| left.part == at) {
                    true => prop_assert!(played.is_empty()),
                    false => prop_assert_eq!(played, (0..part.entrances.len()).collect::<Vec<_>>()),
                }
            }
            for (seat, turns) in question.seats.iter().zip(&sharing.turns) {
                prop_assert!(!seat.absent || turns.is_empty());
                let mut spans = Vec::new();
                for turn in turns {
                    let part = &question.parts[turn.part];
                    let name = part.name.trim_end_matches(|c: char| c.is_ascii_digit()).trim();
                    prop_assert!(can_play(&seat.can, name, snapshot.instruments()), "{} plays {}", seat.name, name);
                    for entrance in &turn.entrances {
                        let (from, to) = part.entrances[*entrance];
                        let clock = &question.clock.measures;
                        spans.push((clock[from].start, clock[to].end, part));
                    }
                }
                spans.sort_by_key(|span| span.0);
                for two in spans.windows(2) {
                    let ((_, end, from), (start, _, to)) = (two[0], two[1]);
                    let needed = question.times.time(&from.station, &to.station, false, snapshot.instruments()).0;
                    prop_assert!(start - end >= needed, "{} to {}: {} of {}", from.name, to.name, start - end, needed);
                }
            }
        }
        // Nobody stands in for somebody with what he or she cannot play.
        for one in plan.backups.iter().flat_map(|backup| &backup.pieces) {
            for (name, player) in &one.taken {
                let name = name.trim_end_matches(|c: char| c.is_ascii_digit()).trim();
                let seat = &plan.players[*player].seat;
                prop_assert!(!seat.absent && can_play(&seat.can, name, snapshot.instruments()));
            }
        }
    }
}
