//! Wind players put to parts, against seatings proven by OR-Tools CP-SAT.
//!
//! `tests/outside/winds/prepare` writes them, from a seed, and says what is best. Run with `--features outside`; the
//! folder is `$LEVARE_OUTSIDE` or `target/outside`.

use std::path::PathBuf;

use levare::planning::assign::{Section, WindPart, WindPlayer, seat_winds};
use serde_json::Value;

fn cases() -> Vec<Value> {
    let folder = std::env::var_os("LEVARE_OUTSIDE").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/outside"),
        PathBuf::from,
    );
    let path = folder.join("winds.json");
    let text = std::fs::read_to_string(&path)
        .unwrap_or_else(|why| panic!("{}: {why}; run tests/outside/winds/prepare", path.display()));
    let all: Value = serde_json::from_str(&text).expect("the file is JSON");
    all["cases"].as_array().expect("a list").clone()
}

fn number(value: &Value) -> usize {
    usize::try_from(value.as_u64().expect("a number")).expect("a small one")
}

fn numbers(value: &Value) -> Vec<usize> {
    value.as_array().expect("a list").iter().map(number).collect()
}

/// How good a seating is, grade by grade, as the cases count it; less is better.
fn grades(players: &[WindPlayer], parts: &[WindPart], part_of: &[Option<usize>]) -> Vec<usize> {
    let deepest =
        |of: fn(&Section) -> usize| parts.iter().map(|part| of(&part.section)).max().unwrap_or(0) + 1;
    let (ranks, places) = (deepest(|section| section.rank), deepest(|section| section.place));
    let level = ranks.max(places) + 1;
    let sits: Vec<usize> = (0..parts.len())
        .map(|at| part_of.iter().filter(|part| **part == Some(at)).count())
        .collect();
    let both = || parts.iter().zip(&sits);
    let even = |(part, sits): (&WindPart, &usize)| -> usize {
        let order = |seat: usize| match seat < part.least {
            true => part.section.rank,
            false => places - 1 - part.section.place,
        };
        (0..*sits).map(|seat| seat * level + order(seat)).sum()
    };
    let seated = || {
        let all = players.iter().zip(part_of);
        all.filter_map(|(player, part)| Some((player, (*part)?)))
    };
    let price = |(player, part): (&WindPlayer, usize)| {
        let way = player.can.iter().find(|(can, _)| *can == part);
        way.map_or(0, |(_, price)| *price as usize)
    };
    let above = |(player, part): (&WindPlayer, usize)| match player.lacks.contains(&part) {
        true => ranks - parts[part].section.rank,
        false => 0,
    };
    let least_able = players.iter().map(|who| who.ability).max().unwrap_or(0);
    let below =
        |(player, part): (&WindPlayer, usize)| parts[part].section.rank * (least_able + 1 - player.ability);
    vec![
        both()
            .filter(|(part, sits)| part.least > 0 && **sits == 0)
            .count(),
        both().map(|(part, sits)| part.least.saturating_sub(*sits)).sum(),
        part_of.iter().filter(|part| part.is_none()).count(),
        seated().map(price).sum(),
        both().map(even).sum(),
        seated().map(above).sum(),
        seated().map(below).sum(),
    ]
}

#[test]
fn no_seating_is_better() {
    let all = cases();
    let mut wrong = Vec::new();
    for case in &all {
        let parts: Vec<WindPart> = case["parts"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|part| WindPart {
                least: number(&part["least"]),
                section: Section {
                    number: number(&part["section"]),
                    place: number(&part["place"]),
                    rank: number(&part["rank"]),
                },
            })
            .collect();
        let players: Vec<WindPlayer> = case["players"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|player| WindPlayer {
                can: player["can"]
                    .as_array()
                    .expect("a list")
                    .iter()
                    .map(|way| (number(&way[0]), number(&way[1]) as u32))
                    .collect(),
                lacks: numbers(&player["lacks"]),
                ability: number(&player["ability"]),
            })
            .collect();
        let seat = seat_winds(&players, &parts);
        let ours = grades(&players, &parts, &seat.part_of);
        let theirs = numbers(&case["best"]);
        if ours != theirs {
            wrong.push(format!("{}: {ours:?}, CP-SAT {theirs:?}", case["id"]));
        }
        // Where a part lacks players, the parts that are named want more than all who can play any of them.
        let lacking = seat.lacks.iter().any(|lack| *lack > 0);
        let wanted: usize = seat.short.0.iter().map(|part| parts[*part].least).sum();
        if lacking != (wanted > seat.short.1) {
            wrong.push(format!("{}: {:?} proves nothing", case["id"], seat.short));
        }
    }
    assert!(all.len() >= 100, "only {} cases", all.len());
    assert!(wrong.is_empty(), "{} of {}: {wrong:#?}", wrong.len(), all.len());
    eprintln!("{} bands seated as well as can be", all.len());
}
