//! Percussion and wind assignment against optima proven by OR-Tools CP-SAT and networkx.
//!
//! `tests/outside/percussion/prepare` writes them, from a seed. Run with `--features outside`; the
//! folder is `$LEVARE_OUTSIDE` or `target/outside`.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::time::Instant;

use levare::planning::assign::{
    Abilities, Answer, Changes, Entrance, Fewest, Handing, Limits, Music, Part, Plan, Play, Player, Proof,
    Section, WindPart, WindPlayer, assign, fewest, floor, keeps_apart, leave_out, seat_winds,
};
use serde_json::Value;

#[path = "outside_percussion/cards.rs"]
mod cards;

fn folder() -> PathBuf {
    std::env::var_os("LEVARE_OUTSIDE").map_or_else(
        || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/outside"),
        PathBuf::from,
    )
}

fn file() -> Value {
    let path = folder().join("percussion.json");
    let text = std::fs::read_to_string(&path)
        .unwrap_or_else(|why| panic!("{}: {why}; run tests/outside/percussion/prepare", path.display()));
    serde_json::from_str(&text).expect("the file is JSON")
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn number(value: &Value) -> usize {
    value.as_u64().expect("a number") as usize
}

fn numbers(value: &Value) -> Vec<usize> {
    list(value).iter().map(number).collect()
}

fn times(value: &Value) -> Vec<i64> {
    numbers(value).into_iter().map(|time| time as i64).collect()
}

fn abilities(value: &Value) -> Abilities {
    Abilities::of(&numbers(value).iter().map(|&at| at as u32).collect::<Vec<_>>())
}

fn music(case: &Value) -> Music {
    let part = |part: &Value| Part {
        station: number(&part["station"]),
        sticks: number(&part["sticks"]),
        held: list(&part["held"])
            .iter()
            .map(|ends| (number(&ends[0]), number(&ends[1])))
            .collect(),
        needs: abilities(&part["needs"]),
        entrances: list(&part["spans"])
            .iter()
            .map(|span| Entrance::new(times(span)[0], times(span)[1]))
            .collect(),
        ready: times(&part["ready"]),
        spare: part["spare"] == true,
        handing: if part["stays"] == true {
            Handing::Stays
        } else {
            Handing::MayPass
        },
        ..Part::default()
    };
    let walks = list(&case["walks"]).iter().map(times).collect();
    Music {
        parts: list(&case["parts"]).iter().map(part).collect(),
        changes: Changes::new(walks, number(&case["sticks"]) as i64).with_hands(times(&case["hands"])),
        mounted: list(&case["mounted"])
            .iter()
            .map(|pair| (number(&pair[0]), number(&pair[1])))
            .collect(),
        one_player: list(&case["one_player"]).iter().map(numbers).collect(),
        instead: list(&case["instead"])
            .iter()
            .map(|group| numbers(group).into_iter().map(|part| vec![part]).collect())
            .collect(),
        ..Music::default()
    }
}

fn players(case: &Value) -> Vec<Player> {
    let player = |player: &Value| Player {
        can: abilities(&player["can"]),
        absent: player["absent"] == true,
        had: numbers(&player["had"])
            .into_iter()
            .map(|had| had as u32)
            .collect(),
        ..Player::default()
    };
    list(&case["players"]).iter().map(player).collect()
}

/// That nobody plays two entrances that collide, nor anything he or she cannot.
fn check_plays(music: &Music, players: Option<&[Player]>, plays: &[Play]) {
    for (at, one) in plays.iter().enumerate() {
        let part = &music.parts[one.part];
        if let Some(players) = players {
            let who = &players[one.player];
            assert!(who.can.cover(part.needs) && !who.absent, "{one:?}");
        }
        for other in &plays[..at] {
            let second = &music.parts[other.part];
            let pair =
                |&pair: &(usize, usize)| pair == (one.part, other.part) || pair == (other.part, one.part);
            let bound = |group: &Vec<usize>| group.contains(&one.part) && group.contains(&other.part);
            if one.part == other.part || music.mounted.iter().any(pair) {
                continue;
            }
            if music.one_player.iter().any(bound) {
                assert_eq!(one.player, other.player, "{one:?} {other:?}");
                continue;
            }
            if one.player != other.player {
                continue;
            }
            let (a, b) = (part.entrances[one.entrance], second.entrances[other.entrance]);
            let ((from, first, early), (to, second, late)) = if a <= b {
                ((part, one.entrance, a), (second, other.entrance, b))
            } else {
                ((second, other.entrance, b), (part, one.entrance, a))
            };
            let needed = music.changes.time(
                (from.station, from.sticks_in(first).1),
                (to.station, to.sticks_in(second).0),
            );
            let ready = if from.station == to.station {
                0
            } else {
                to.ready_before(second)
            };
            let needed = needed + ready;
            assert!(late.start() - early.end() >= needed, "{one:?} {other:?}");
        }
    }
}

#[derive(Default)]
struct Tally {
    compared: usize,
    ours: Vec<f64>,
    theirs: Vec<f64>,
}

fn middle_and_worst(times: &mut [f64]) -> String {
    times.sort_by(f64::total_cmp);
    match times {
        [] => "-".to_owned(),
        times => format!("{:8.3} {:9.3}", times[times.len() / 2], times[times.len() - 1]),
    }
}

#[test]
fn percussion_as_proven_outside() {
    let file = file();
    let mut tallies: BTreeMap<String, Tally> = BTreeMap::new();
    let mut faults = Vec::new();
    for case in list(&file["cases"]) {
        let (music, players) = (music(case), players(case));
        let mut compare = |key: String, ours: Value, start: Instant| {
            let spent = start.elapsed().as_secs_f64() * 1000.0;
            let tally = tallies.entry(key.clone()).or_default();
            tally.compared += 1;
            tally.ours.push(spent);
            tally.theirs.extend(case["ms"][&key].as_f64());
            if ours != case["optima"][&key] {
                faults.push(format!(
                    "{} {key}: {ours} and {}",
                    case["id"], case["optima"][&key]
                ));
            }
        };
        for (way, hand_over) in [("fixed", false), ("free", true)] {
            let asks = [
                (
                    "fewest",
                    Fewest {
                        hand_over,
                        ..Fewest::default()
                    },
                ),
                (
                    "without_spares",
                    Fewest {
                        hand_over,
                        without_spares: true,
                        players: None,
                    },
                ),
                (
                    "roster",
                    Fewest {
                        hand_over,
                        without_spares: false,
                        players: Some(&players),
                    },
                ),
            ];
            for (name, ask) in asks {
                let start = Instant::now();
                let answer = fewest(&music, ask, Limits::USUAL);
                compare(format!("{way} {name}"), found(&music, ask, &answer), start);
            }
            let start = Instant::now();
            let out = leave_out(&music, &players, hand_over, Limits::USUAL);
            assert!(out.proven, "{}", case["id"]);
            let lost: i64 = out
                .vital
                .iter()
                .chain(&out.spare)
                .map(|&part| music.parts[part].plays())
                .sum();
            compare(
                format!("{way} out"),
                (vec![out.vital.len() as i64, out.spare.len() as i64, lost]).into(),
                start,
            );
        }
        let all: Vec<usize> = (0..music.parts.len()).collect();
        let start = Instant::now();
        let floor = floor(&music, &all, Limits::USUAL);
        compare("floor".to_owned(), floor.players.into(), start);
        if !case["optima"]["plan"].is_null() {
            let start = Instant::now();
            let plan = assign(&music, &players, false, Limits::USUAL);
            check_plan(&music, &players, &plan);
            assert!(plan.proven, "{}", case["id"]);
            let worth = vec![plan.walks as i64, plan.most, plan.least, plan.had as i64];
            compare("plan".to_owned(), worth.into(), start);
        }
        if !case["optima"]["kept"].is_null() {
            let start = Instant::now();
            let (music, players) = kept_apart(case, &music, &players);
            let plan = assign(&music, &players, false, Limits::USUAL);
            check_plays(&music, Some(&players), &plan.plays);
            assert!(keeps_apart(&music, &players, &plan.plays), "{}", case["id"]);
            let all = plan.left_out.vital.is_empty() && plan.left_out.spare.is_empty();
            let worth = match all {
                true => vec![plan.walks as i64, plan.most, plan.least, plan.had as i64].into(),
                false => "not all".into(),
            };
            compare("kept".to_owned(), worth, start);
        }
        if !case["optima"]["handed"].is_null() {
            let start = Instant::now();
            let plan = assign(&music, &players, true, Limits::USUAL);
            check_plan(&music, &players, &plan);
            compare("handed".to_owned(), plan.handed_over.len().into(), start);
        }
    }
    println!(
        "{:20} {:>5}  ours: median and worst ms, then CP-SAT's",
        "", "cases"
    );
    for (key, tally) in &mut tallies {
        let (ours, theirs) = (
            middle_and_worst(&mut tally.ours),
            middle_and_worst(&mut tally.theirs),
        );
        println!("{key:20} {:5}  {ours}   {theirs}", tally.compared);
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
    assert!(tallies.len() == 12 && tallies.values().all(|tally| tally.compared > 10));
}

/// The same with pairs of players kept apart, and players who have at most so many parts.
fn kept_apart(case: &Value, music: &Music, players: &[Player]) -> (Music, Vec<Player>) {
    let apart = list(&case["apart"]).iter().map(numbers);
    let music = Music {
        apart: apart.map(|pair| (pair[0], pair[1])).collect(),
        ..music.clone()
    };
    let most = list(&case["most"])
        .iter()
        .map(|most| most.as_u64().map(|most| most as usize));
    let players = players.iter().cloned().zip(most);
    (
        music,
        players.map(|(player, most)| Player { most, ..player }).collect(),
    )
}

fn check_plan(music: &Music, players: &[Player], plan: &Plan) {
    check_plays(music, Some(players), &plan.plays);
    let want: usize = music.parts.iter().map(|part| part.entrances.len()).sum();
    assert_eq!(plan.plays.len(), want);
}

/// The number found; nothing when these players cannot.
fn found(music: &Music, ask: Fewest, answer: &Answer) -> Value {
    match answer {
        Answer::Players {
            players,
            at_least,
            plays,
            proof,
        } => {
            assert_eq!(players, at_least);
            assert_ne!(*proof, Proof::CutShort);
            check_plays(music, ask.players, plays);
            (*players).into()
        }
        _ => Value::Null,
    }
}

/// Random networks: as many parts with a player as in the largest matching (Hopcroft and Karp's), at the cost of
/// the cheapest largest flow (network simplex), both by networkx; and where parts stay empty, the set that is named
/// proves exactly how many must.
#[test]
fn networks_as_by_networkx() {
    let file = file();
    let cases = list(&file["networks"]);
    assert!(cases.len() > 20);
    for case in cases {
        let count = number(&case["parts"]);
        let part = |number: usize| WindPart {
            least: 1,
            section: Section {
                number,
                ..Section::default()
            },
        };
        let parts: Vec<WindPart> = (0..count).map(part).collect();
        let way = |way: &Value| (number(&way[0]), number(&way[1]) as u32);
        let player = |can: &Value| WindPlayer {
            can: list(can).iter().map(way).collect(),
            ..WindPlayer::default()
        };
        let players: Vec<WindPlayer> = list(&case["players"]).iter().map(player).collect();
        let seat = seat_winds(&players, &parts);
        let empty = seat.lacks.iter().sum::<usize>();
        let seated = seat.part_of.iter().flatten().count();
        let found = (count - empty, seated, seat.switches as usize);
        let wanted = (
            number(&case["matched"]),
            number(&case["seated"]),
            number(&case["cost"]),
        );
        assert_eq!(found, wanted, "{}", case["id"]);
        assert_eq!(empty, seat.short.0.len() - seat.short.1, "{}", case["id"]);
    }
}
