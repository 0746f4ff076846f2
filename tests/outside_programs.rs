//! Choosing a concert against optima proven by OR-Tools CP-SAT.
//!
//! `tests/outside/programs/prepare` writes them, from a seed. Run with `--features outside`; the folder is
//! `$LEVARE_OUTSIDE` or `target/outside`.

use std::path::PathBuf;
use std::time::Instant;

use levare::planning::choose::core::cover::{Charge, Offer, cheapest};
use levare::planning::choose::core::{Found, Kinds, Problem, Row, best};
use levare::planning::teach::core::{Job, plan};
use serde_json::Value;

/// Far more steps than any of them needs.
const STEPS: u64 = 200_000_000;

fn cases(what: &str) -> Vec<Value> {
    let folder = std::env::var_os("LEVARE_OUTSIDE").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/outside"),
        PathBuf::from,
    );
    let path = folder.join("programs.json");
    let text = std::fs::read_to_string(&path)
        .unwrap_or_else(|why| panic!("{}: {why}; run tests/outside/programs/prepare", path.display()));
    let all: Value = serde_json::from_str(&text).expect("the file is JSON");
    all[what].as_array().expect("a list").clone()
}

fn number(value: &Value) -> i64 {
    value.as_i64().expect("a number")
}

/// The pieces that the band has the percussionists for, by their places.
fn playable(case: &Value) -> Vec<&Value> {
    let most = number(&case["constraints"]["players_percussion"]);
    let all = case["pieces"].as_array().expect("a list");
    all.iter()
        .filter(|piece| number(&piece["percussion"]) <= most)
        .collect()
}

fn solve(case: &Value) -> Option<Found> {
    let limits = &case["constraints"];
    let limit = |name: &str| number(&limits[name]);
    let pieces = playable(case);
    let place = |id: &Value| pieces.iter().position(|piece| piece["id"] == *id);
    let weights = |of: &dyn Fn(&Value) -> i64| pieces.iter().map(|piece| of(piece)).collect::<Vec<i64>>();
    let is = |piece: &Value, name: &str| i64::from(piece[name].as_bool().expect("yes or no"));
    let row = |weights: Vec<i64>, low: Option<i64>, high: Option<i64>| Row { weights, low, high };
    let kinds = |name: &str, most: &str, least: Option<&str>| {
        let mut known: Vec<&Value> = pieces.iter().map(|piece| &piece[name]).collect();
        known.sort_by_key(|value| value.to_string());
        known.dedup();
        let of = |piece: &&Value| {
            known
                .iter()
                .position(|value| **value == piece[name])
                .into_iter()
                .collect()
        };
        Kinds {
            of: pieces.iter().map(of).collect(),
            most: Some(limit(most) as usize),
            least_different: least.map_or(0, |least| limit(least) as usize),
            most_different: None,
        }
    };
    let gap = limit("gap_s");
    let mut pinned = Vec::new();
    for id in case["required"].as_array().expect("a list") {
        pinned.push(place(id)?);
    }
    let pairs = case["conflicts"].as_array().expect("a list");
    let problem = Problem {
        values: weights(&|piece| number(&piece["value"])),
        fewest: limit("kmin") as usize,
        most: limit("kmax") as usize,
        rows: vec![
            row(
                weights(&|piece| number(&piece["duration_s"]) + gap),
                Some(limit("tmin") + gap),
                Some(limit("tmax") + gap),
            ),
            row(
                weights(&|piece| match piece["owned"].as_bool() {
                    Some(true) => 0,
                    _ => number(&piece["price_cents"]),
                }),
                None,
                Some(limit("budget_cents")),
            ),
            row(
                weights(&|piece| number(&piece["grade_x10"]) - limit("avg_grade_max_x10")),
                None,
                Some(0),
            ),
            row(
                weights(&|piece| i64::from(number(&piece["grade_x10"]) >= limit("hard_from_x10"))),
                None,
                Some(limit("max_hard")),
            ),
            row(weights(&|piece| is(piece, "opener")), Some(1), None),
            row(weights(&|piece| is(piece, "closer")), Some(1), None),
            row(
                weights(&|piece| is(piece, "opener") | is(piece, "closer")),
                Some(2),
                None,
            ),
        ],
        kinds: vec![
            kinds("style", "max_per_style", Some("min_styles")),
            kinds("tonic", "max_per_tonic", Some("min_tonics")),
            kinds("composer", "max_per_composer", None),
        ],
        apart: pairs
            .iter()
            .filter_map(|pair| Some((place(&pair[0])?, place(&pair[1])?)))
            .collect(),
        pinned,
        holds: &|_| true,
        accepts: &|_| true,
    };
    Some(best(&problem, STEPS, false))
}

#[test]
fn the_same_optimum_on_every_case() {
    let mut times: Vec<(u128, u64, String)> = Vec::new();
    let mut wrong = Vec::new();
    let all = cases("instances");
    for case in &all {
        let name = format!("{} ({} pieces)", case["id"], case["n"]);
        let started = Instant::now();
        let found = solve(case);
        let took = started.elapsed().as_micros();
        let ours = found
            .as_ref()
            .and_then(|found| found.chosen.as_ref().map(|_| found.value));
        let proven = found.as_ref().is_none_or(Found::proven);
        let theirs = case["answers"]["optimal_value"].as_i64();
        if ours != theirs || !proven {
            wrong.push(format!("{name}: {ours:?}, CP-SAT {theirs:?}, proven {proven}"));
        }
        times.push((took, found.map_or(0, |found| found.steps), name));
    }
    assert!(all.len() >= 20, "only {} cases", all.len());
    assert!(wrong.is_empty(), "{wrong:#?}");
    times.sort();
    let shown = |(took, steps, name): &(u128, u64, String)| format!("{name}: {took} us, {steps} steps");
    eprintln!(
        "median {}",
        times.get(times.len() / 2).map_or(String::new(), shown)
    );
    eprintln!("slowest {}", times.last().map_or(String::new(), shown));
}

#[test]
fn no_purchase_costs_less() {
    let all = cases("purchases");
    let mut times = Vec::new();
    for case in &all {
        let places = |value: &Value| {
            let all = value.as_array().expect("a list");
            all.iter().map(|at| number(at) as usize).collect::<Vec<usize>>()
        };
        let offer = |offer: &Value| Offer {
            price: number(&offer["price"]) as u64,
            seller: number(&offer["seller"]) as usize,
            holds: places(&offer["items"]),
        };
        let charge = |charge: &Value| Charge {
            fee: number(&charge["fee"]) as u64,
            free_from: charge["free_from_cents"].as_u64(),
        };
        let offers: Vec<Offer> = case["offers"]
            .as_array()
            .expect("a list")
            .iter()
            .map(offer)
            .collect();
        let charges: Vec<Charge> = case["charges"]
            .as_array()
            .expect("a list")
            .iter()
            .map(charge)
            .collect();
        let things: Vec<usize> = (0..number(&case["items"]) as usize).collect();
        let started = Instant::now();
        let found = cheapest(&offers, &charges, &things, STEPS).expect("everything is offered");
        times.push(started.elapsed().as_micros());
        assert!(found.proven, "{}", case["id"]);
        assert_eq!(
            Some(found.cost),
            case["answers"]["optimal_cents"].as_u64(),
            "{}",
            case["id"]
        );
    }
    assert!(all.len() >= 20, "only {} purchases", all.len());
    times.sort_unstable();
    eprintln!(
        "purchases: median {} us, slowest {:?} us",
        times[times.len() / 2],
        times.last()
    );
}

#[test]
fn no_plan_of_teaching_is_late_less() {
    let all = cases("schedules");
    let mut times = Vec::new();
    let mut late = 0;
    for case in &all {
        let jobs: Vec<Job> = case["jobs"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|job| {
                let numbers = |name: &str| {
                    let all = job[name].as_array().expect("a list");
                    all.iter().map(number).collect::<Vec<i64>>()
                };
                Job {
                    ends: numbers("ends").into_iter().map(|end| end as u32).collect(),
                    due: job["due"].as_u64().map(|due| due as u32),
                    after: numbers("after").into_iter().map(|at| at as usize).collect(),
                }
            })
            .collect();
        let started = Instant::now();
        let found = plan(&jobs, number(&case["hands"]) as usize, STEPS).expect("there is no circle");
        times.push(started.elapsed().as_micros());
        let theirs = (
            number(&case["answers"]["late"]) as u32,
            number(&case["answers"]["weeks"]) as u32,
        );
        assert_eq!((found.late, found.weeks), theirs, "{}", case["id"]);
        assert!(found.proven, "{}", case["id"]);
        late += usize::from(found.late > 0);
    }
    // Half of them would be too easy.
    assert!(all.len() >= 40 && late * 2 > all.len(), "{late} of {}", all.len());
    times.sort_unstable();
    eprintln!(
        "plans: median {} us, slowest {:?} us",
        times[times.len() / 2],
        times.last()
    );
}
