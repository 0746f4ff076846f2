//! Players put to seats and units of teaching put in order: the same optimum on every kept case.
//!
//! `tests/outside/orders/instances.json` holds the cases with their proven answers;
//! `tests/outside/orders/prepare` has networkx and OR-Tools CP-SAT solve them again, and their times stand beside ours.
//! Run with `--features outside`; the folder is `$LEVARE_OUTSIDE` or `target/outside`.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Instant;

use levare::planning::assign::{Section, WindPart, WindPlayer, seat_winds};
use levare::planning::teach::core::{Job, Timetable, plan};
use serde_json::Value;

/// Far more steps than any of them needs.
const STEPS: u64 = 50_000_000;

fn read(path: &Path) -> Value {
    let text = std::fs::read_to_string(path)
        .unwrap_or_else(|why| panic!("{}: {why}; run tests/outside/orders/prepare", path.display()));
    serde_json::from_str(&text).expect("the file is JSON")
}

fn kept(what: &str) -> Vec<Value> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/orders/instances.json");
    list(&read(&here)[what])
}

fn solved() -> Value {
    let folder = std::env::var_os("LEVARE_OUTSIDE").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/outside"),
        PathBuf::from,
    );
    read(&folder.join("orders.json"))
}

fn list(value: &Value) -> Vec<Value> {
    value.as_array().expect("a list").clone()
}

fn number(value: &Value) -> i64 {
    value.as_i64().expect("a number")
}

/// Prints the middle and the longest of our times beside theirs, in microseconds.
fn beside(what: &str, mut ours: Vec<i64>, mut theirs: Vec<i64>) {
    ours.sort_unstable();
    theirs.sort_unstable();
    let middle = |all: &[i64]| (all[all.len() / 2], all[all.len() - 1]);
    eprintln!(
        "{what}: ours {:?}, theirs {:?} (median and slowest, microseconds)",
        middle(&ours),
        middle(&theirs)
    );
}

/// The most seats that are filled, the least cost of that, and by how many players the parts that are short are
/// short of all who could play any of them.
fn seated(case: &Value) -> (i64, i64, i64) {
    // Every seat is a part that wants one player; whoever is left stands aside at no cost.
    let mut parts = Vec::new();
    let mut seats: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    let one = |number: usize, least: usize| WindPart {
        least,
        section: Section {
            number,
            place: 0,
            rank: 0,
        },
    };
    for part in list(&case["parts"]) {
        for _ in 0..number(&part[1]) {
            let name = part[0].as_str().expect("a name").to_owned();
            seats.entry(name).or_default().push(parts.len());
            parts.push(one(parts.len(), 1));
        }
    }
    let total = parts.len();
    parts.push(one(total, 0));
    let players: Vec<WindPlayer> = list(&case["players"])
        .iter()
        .map(|ways| {
            let mut can = vec![(total, 0)];
            for way in list(ways) {
                let cost = u32::try_from(number(&way[1])).expect("a small number");
                let name = way[0].as_str().expect("a name");
                can.extend(seats.get(name).into_iter().flatten().map(|seat| (*seat, cost)));
            }
            WindPlayer {
                can,
                lacks: Vec::new(),
                ability: 0,
            }
        })
        .collect();
    let found = seat_winds(&players, &parts);
    let empty: usize = found.lacks.iter().sum();
    let (wanted, able) = (found.short.0.len(), found.short.1);
    (
        (total - empty) as i64,
        i64::try_from(found.switches).expect("a small number"),
        wanted as i64 - able as i64,
    )
}

#[test]
fn as_many_seats_are_filled_and_at_no_more_cost() {
    let (all, solved) = (kept("seats"), solved());
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for case in &all {
        let id = case["id"].as_str().expect("a name");
        let started = Instant::now();
        let (filled, cost, short) = seated(case);
        ours.push(started.elapsed().as_micros() as i64);
        theirs.push(number(&solved[id]["microseconds"]));
        for answers in [&case["answers"], &solved[id]] {
            assert_eq!(filled, number(&answers["max_seats"]), "{id}");
            assert_eq!(cost, number(&answers["min_cost_at_max"]), "{id}");
        }
        // The parts that are told as short are short of exactly the seats that stay empty.
        assert_eq!(short, number(&case["answers"]["total_seats"]) - filled, "{id}");
    }
    assert_eq!(all.len(), 36);
    beside("seats", ours, theirs);
}

fn jobs(case: &Value, due: impl Fn(i64) -> Option<i64>) -> Vec<Job> {
    let units = list(&case["units"]);
    let place = |name: &Value| units.iter().position(|unit| unit["id"] == *name);
    units
        .iter()
        .map(|unit| Job {
            ends: vec![u32::try_from(number(&unit["weeks"])).expect("a small number")],
            due: due(number(&unit["due"])).map(|due| u32::try_from(due.max(0)).expect("a small number")),
            after: list(&unit["after"])
                .iter()
                .map(|name| place(name).expect("a unit"))
                .collect(),
        })
        .collect()
}

/// Whether nothing need be late, which must be proven either way.
fn in_time(id: &str, found: Option<Timetable>) -> bool {
    let found = found.expect("there is no circle");
    assert!(found.proven, "{id} is not proven");
    found.late == 0
}

#[test]
fn no_order_is_shorter_or_less_late() {
    let (all, solved) = (kept("orders"), solved());
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    let mut circles = 0;
    for case in &all {
        let id = case["id"].as_str().expect("a name");
        let (kept, again) = (&case["answers"], &solved[id]);
        assert_eq!(kept["cyclic"], again["cyclic"], "{id}");
        if kept["cyclic"] == true {
            assert_eq!(plan(&jobs(case, Some), 1, STEPS), None, "{id}");
            circles += 1;
            continue;
        }
        let many = case["units"].as_array().map_or(0, Vec::len);
        for answers in [kept, again] {
            let weeks = number(&answers["critical_path_weeks"]);
            let by = |weeks: i64| plan(&jobs(case, |_| Some(weeks)), many, STEPS);
            assert!(in_time(id, by(weeks)) && !in_time(id, by(weeks - 1)), "{id}");
        }
        let started = Instant::now();
        let late = number(&kept["min_max_lateness"]);
        let by = |late: i64| plan(&jobs(case, |due| Some(due + late)), 1, STEPS);
        assert!(in_time(id, by(late)) && !in_time(id, by(late - 1)), "{id}");
        ours.push(started.elapsed().as_micros() as i64);
        theirs.push(number(&again["microseconds"]));
        assert_eq!(late, number(&again["min_max_lateness"]), "{id}");
        // With any number at a time, each begins as soon as what comes before it is done.
        let free = plan(&jobs(case, |_| None), many, STEPS).expect("there is no circle");
        for (unit, start) in list(&case["units"]).iter().zip(&free.starts) {
            let name = unit["id"].as_str().expect("a name");
            assert_eq!(
                i64::from(*start),
                number(&kept["earliest_start"][name]),
                "{id} {name}"
            );
        }
    }
    assert_eq!(all.len(), 36);
    assert!(circles > 0 && circles * 2 < all.len(), "{circles} circles");
    beside("orders", ours, theirs);
}
