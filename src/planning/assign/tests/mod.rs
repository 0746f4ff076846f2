//! Tests over drawn pieces: a row a part, a column a second, `x` where it plays.

mod apart;
mod brute;
mod counts;
mod graphs;
mod limits;
mod plans;
mod published;
mod winds;

use super::*;

/// A piece from a drawing; every part is at its own station, and all changes take `change` tenths.
fn drawn(drawing: &str, change: Tenths) -> Music {
    let rows: Vec<&str> = drawing
        .lines()
        .map(str::trim)
        .filter(|row| !row.is_empty())
        .collect();
    let part = |(at, row): (usize, &&str)| {
        let bars = row.split_whitespace().last().unwrap_or("");
        let mut entrances = Vec::new();
        let mut start = None;
        for (second, mark) in bars.chars().chain(['.']).enumerate() {
            match (mark, start) {
                ('x', None) => start = Some(second),
                ('.', Some(from)) => {
                    entrances.push(Entrance::new(10 * from as Tenths, 10 * second as Tenths));
                    start = None;
                }
                _ => {}
            }
        }
        Part {
            station: at,
            entrances,
            ..Part::default()
        }
    };
    let count = rows.len();
    let walk = |from: usize| (0..count).map(|to| if from == to { 0 } else { change }).collect();
    Music {
        parts: rows.iter().enumerate().map(part).collect(),
        changes: Changes::new((0..count).map(walk).collect(), 0),
        ..Music::default()
    }
}

/// Players from what each can do.
fn able(abilities: &[&[u32]]) -> Vec<Player> {
    let player = |can: &&[u32]| Player {
        can: Abilities::of(can),
        ..Player::default()
    };
    abilities.iter().map(player).collect()
}
