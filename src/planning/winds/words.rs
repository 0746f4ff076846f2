//! What was found out about the winds, in sentences.

use crate::catalogue::sections::same_chair;
use crate::music::{Instruments, Interval};
use crate::text::sentences::{capital, counted, joined, plural};

use super::seating::is_switch;
use super::told::{
    Balance, Cover, Depth, Fits, Idle, Limit, LimitBy, Part, Players, Short, Spare, Uncovered, WindSharing,
};

fn names(sharing: &WindSharing, parts: &[usize]) -> String {
    let all: Vec<String> = parts
        .iter()
        .filter_map(|at| sharing.parts.get(*at))
        .map(|part| part.name.clone())
        .collect();
    joined(&all)
}

/// How deep the answer goes, where that is not all the way; empty where it is.
pub fn coarse(sharing: &WindSharing) -> Vec<String> {
    let mut said = Vec::new();
    match sharing.depth {
        Depth::Nobody => said.push(match sharing.bands.as_slice() {
            [] => "No card says which band plays it, so no wind player can be given a part. Write the band's name after \"for\" in the handbook.".to_owned(),
            _ => "The band's card counts no wind players, so none can be given a part. Write how many there are after \"players\".".to_owned(),
        }),
        Depth::SectionsOnly => said.push(format!(
            "The card lists no wind parts, so this is only a count of the sections: {}. List the parts after \"parts\", and they can be shared out.",
            heads(sharing)
        )),
        Depth::PartsOnly => said.push(
            "The card gives no ranges for the wind parts, so players are assigned by number alone, whatever the notes."
                .to_owned(),
        ),
        Depth::Parts => {}
    }
    if !sharing.open_counts.is_empty() && sharing.depth != Depth::Nobody {
        let mut all: Vec<String> = sharing.open_counts.iter().map(|name| plural(name)).collect();
        all.dedup();
        said.push(format!(
            "The band's card does not say for certain how many {} there are, so their parts are left open.",
            joined(&all)
        ));
    }
    if sharing.cut {
        said.push(
            "There are more players or parts here than any band has, so not all of them were looked at."
                .to_owned(),
        );
    }
    said
}

/// The sections with their head counts: `7 flutes, 1 oboe and 10 clarinets`.
pub fn heads(sharing: &WindSharing) -> String {
    let mut all: Vec<(&str, usize)> = Vec::new();
    for players in &sharing.players {
        match all.iter_mut().find(|(name, _)| *name == players.instrument) {
            Some((_, count)) => *count = count.saturating_add(players.count),
            None => all.push((&players.instrument, players.count)),
        }
    }
    let told: Vec<String> = all.iter().map(|(name, count)| counted(*count, name)).collect();
    joined(&told)
}

/// Who plays a part: `5 clarinets, all able to cross the break`, `1 flute, who switches`, `nobody`.
pub fn who(sharing: &WindSharing, part: &Part, instruments: &Instruments) -> String {
    if part.players() == 0 {
        return match (part.open, &part.spare) {
            (true, _) => "open".to_owned(),
            (_, None) => "nobody".to_owned(),
            (_, Some(spare)) => format!("nobody ({})", spared(spare)),
        };
    }
    let mut told: Vec<(String, usize, bool)> = Vec::new();
    for (at, count) in &part.seated {
        let Some(players) = sharing.players.get(*at) else {
            continue;
        };
        let switches = is_switch(players, part, instruments);
        match told
            .iter_mut()
            .find(|(name, _, other)| *name == players.instrument && *other == switches)
        {
            Some((_, sum, _)) => *sum = sum.saturating_add(*count),
            None => told.push((players.instrument.clone(), *count, switches)),
        }
    }
    let all: Vec<String> = told
        .iter()
        .map(|(name, count, switches)| match (switches, count) {
            (false, _) => counted(*count, name),
            (true, 1) => format!("{} who switches", counted(1, name)),
            (true, _) => format!("{} who switch", counted(*count, name)),
        })
        .collect();
    let mut told = joined(&all);
    let sit = part.players();
    if part.unable == sit {
        told.push_str(match part.over_the_break && over(sharing, part) == 0 {
            true => ", none of whom can cross the break yet",
            false => ", beyond what they play",
        });
    } else if part.unable > 0 {
        let able = sit.saturating_sub(part.unable);
        told.push_str(&match part.over_the_break {
            true => format!(", {able} of whom can cross the break"),
            false => format!(", {able} of whom have the notes"),
        });
    } else if part.over_the_break && over(sharing, part) == sit {
        told.push_str(match sit {
            1 => ", able to cross the break",
            _ => ", all able to cross the break",
        });
    }
    told
}

/// How many of those seated at a part are said to play over the break.
fn over(sharing: &WindSharing, part: &Part) -> usize {
    let able = part.seated.iter().filter(|(at, _)| {
        sharing
            .players
            .get(*at)
            .is_some_and(|players| players.over_the_break == Some(true))
    });
    able.map(|(_, count)| count).sum()
}

fn spared(spare: &Spare) -> String {
    match spare {
        Spare::Optional => "may be left out".to_owned(),
        Spare::Doubled(words) => words.clone(),
        Spare::OtherClef(part) => format!("{part} in another clef"),
        Spare::NotNeeded => "complete without it".to_owned(),
        Spare::Group => "a group".to_owned(),
    }
}

/// Why not every part has enough players: one sentence for every set of parts that wants too many.
pub fn short(sharing: &WindSharing) -> Vec<String> {
    sharing
        .short
        .iter()
        .map(|short| too_few(sharing, short))
        .collect()
}

fn too_few(sharing: &WindSharing, short: &Short) -> String {
    let parts = names(sharing, &short.parts);
    let most = short
        .parts
        .iter()
        .filter_map(|at| sharing.parts.get(*at))
        .map(|part| part.least)
        .max();
    let each = match most {
        Some(least) if least > 1 && short.parts.len() > 1 => {
            format!(" (the handbook says {least} to a part)")
        }
        Some(least) if least > 1 => " (so the handbook says)".to_owned(),
        _ => String::new(),
    };
    let want = format!(
        "{parts} {} {}{each}",
        if short.parts.len() == 1 { "wants" } else { "want" },
        counted(short.want, "player")
    );
    let can = match (short.able, short.parts.len()) {
        (0, 1) => "nobody can play it".to_owned(),
        (0, _) => "nobody can play any of them".to_owned(),
        (able, 1) => format!("{able} can play it"),
        (able, _) => format!("{able} can play any of them"),
    };
    capital(&format!("{want}; {can}."))
}

/// What is short, and what may cover it. That nobody plays a part is said once.
pub fn amiss(sharing: &WindSharing) -> Vec<String> {
    let uncovered = |at: &usize| {
        sharing
            .uncovered
            .iter()
            .any(|one| one.part == *at && nobody(sharing, one).is_some())
    };
    let short = sharing
        .short
        .iter()
        .filter(|short| short.able > 0 || !short.parts.iter().all(uncovered));
    let short = short.map(|short| too_few(sharing, short));
    let covers: Vec<String> = sharing
        .uncovered
        .iter()
        .filter_map(|one| nobody(sharing, one))
        .collect();
    short.chain(covers).collect()
}

/// What may cover the parts that nobody has, a sentence or two a part.
pub fn uncovered(sharing: &WindSharing) -> Vec<String> {
    let parts = sharing.uncovered.iter();
    parts.filter_map(|one| nobody(sharing, one)).collect()
}

fn nobody(sharing: &WindSharing, uncovered: &Uncovered) -> Option<String> {
    let part = sharing.parts.get(uncovered.part)?;
    let name = &part.name;
    // What moves nobody comes first, then who covers it when all such parts are shared out together.
    let mut told: Vec<usize> = (0..uncovered.covers.len()).collect();
    told.sort_by_key(|at| {
        let moves = uncovered.covers.get(*at).and_then(Cover::instrument).is_some();
        (moves, uncovered.by != Some(*at))
    });
    let mut ways: Vec<String> = told
        .iter()
        .take(4)
        .filter_map(|at| {
            let words = cover(uncovered.covers.get(*at)?);
            Some(format!("{words}{}", cost(sharing, uncovered, *at)))
        })
        .collect();
    let head = match &part.spare {
        // A line that another part has is covered where that part has players.
        Some(Spare::Doubled(words)) => {
            let there = uncovered.covers.iter().find_map(|cover| match cover {
                Cover::SameLine { part, .. } => Some(part.clone()),
                _ => None,
            });
            return Some(capital(&match there {
                Some(other) => {
                    format!("{name} has nobody and may be left out: {other} has its line ({words}).")
                }
                None => format!("{name} has nobody; it is {words}."),
            }));
        }
        Some(Spare::Optional) => {
            return Some(capital(&format!(
                "{name} has nobody and may be left out (optional)."
            )));
        }
        Some(Spare::NotNeeded) => {
            return Some(capital(&format!(
                "{name} has nobody; the piece is complete without it."
            )));
        }
        Some(Spare::OtherClef(_) | Spare::Group) => return None,
        None => format!("{name} has nobody."),
    };
    if ways.is_empty() {
        return Some(capital(&format!(
            "{head} No other part on the card has its line, and nobody in the band usually covers it. Look in the score for a cue, or leave it out."
        )));
    }
    let last = ways.len() > 1;
    if let Some(first) = ways.first_mut() {
        *first = capital(first);
    }
    let ways = match last {
        true => ways.join("; or "),
        false => ways.join(""),
    };
    Some(capital(&format!("{head} {ways}.")))
}

/// What a cover costs elsewhere; nothing where its players can be spared.
fn cost(sharing: &WindSharing, uncovered: &Uncovered, at: usize) -> String {
    let Some(
        Cover::Allowed {
            instrument, could, ..
        }
        | Cover::Usual {
            instrument, could, ..
        },
    ) = uncovered.covers.get(at)
    else {
        return String::new();
    };
    // A cover that does not have the notes is not worth weighing.
    let lacks_notes = uncovered.covers.get(at).is_some_and(Cover::lacks_notes);
    if uncovered.by == Some(at) || lacks_notes {
        return String::new();
    }
    if *could == 0 {
        let theirs: Vec<usize> = (0..sharing.parts.len())
            .filter(|at| sits(sharing, *at, instrument))
            .collect();
        return match theirs.len() {
            0 => String::new(),
            1 => format!(", but then {} has too few", names(sharing, &theirs)),
            _ => format!(", but then one of {} has too few", names(sharing, &theirs)),
        };
    }
    let others: Vec<usize> = sharing
        .uncovered
        .iter()
        .filter(|other| other.part != uncovered.part)
        .filter(|other| {
            let by = other.by.and_then(|at| other.covers.get(at));
            by.and_then(Cover::instrument).is_some_and(|by| by == instrument)
        })
        .map(|other| other.part)
        .collect();
    match others.len() {
        taken if taken < *could => String::new(),
        1 => format!(", if nobody has to cover {}", names(sharing, &others)),
        _ => format!(", if nobody has to cover one of {}", names(sharing, &others)),
    }
}

/// Whether players of an instrument sit at a part.
fn sits(sharing: &WindSharing, at: usize, instrument: &str) -> bool {
    let seated = sharing.parts.get(at).map_or(&[][..], |part| &part.seated);
    seated.iter().any(|(who, _)| {
        sharing
            .players
            .get(*who)
            .is_some_and(|players| same_chair(&players.instrument, instrument))
    })
}

/// One way to cover a part.
fn cover(cover: &Cover) -> String {
    match cover {
        Cover::SameLine {
            part, players: count, ..
        } => format!("{part} has its line, with {}", counted(*count, "player")),
        Cover::Cue {
            part,
            players: count,
            place,
        } => {
            let place = place.as_ref().map_or(String::new(), |place| format!(" {place}"));
            format!("it is cued{place} in {part}, with {}", counted(*count, "player"))
        }
        Cover::Instead { part } => format!("the card has {part} instead"),
        Cover::Allowed {
            instrument, players, ..
        } => {
            format!("the card also gives it to {instrument} ({players})")
        }
        Cover::Usual {
            instrument,
            players,
            rewrite,
            clef,
            fits,
            ..
        } => format!(
            "{instrument} ({players}) could play it, {}{}",
            match rewritten(*rewrite, *clef).as_str() {
                "as it is" => "from the part as it is",
                how => how,
            },
            reach(fits)
        ),
    }
}

/// How a part's notes are written for another instrument.
pub fn rewritten(rewrite: Interval, clef: Option<&str>) -> String {
    let clef = clef.map_or(String::new(), |clef| format!(" in {clef}"));
    match rewrite == Interval::UNISON {
        true if clef.is_empty() => "as it is".to_owned(),
        true => format!("the same notes rewritten{clef}"),
        false => format!("rewritten {}{clef}", rewrite.sounds()),
    }
}

fn reach(fits: &Fits) -> String {
    match fits {
        Fits::NotKnown => String::new(),
        Fits::Yes(limit) => format!(", which is in {}", reached(limit)),
        Fits::Octaves(octaves, limit) => {
            let way = if *octaves > 0 { "up" } else { "down" };
            format!(" and an octave {way} from there, to lie in {}", reached(limit))
        }
        Fits::No(range, limit) => format!(", but that comes to {range} and goes beyond {}", reached(limit)),
    }
}

fn reached(limit: &Limit) -> String {
    let range = limit.range;
    match limit.said_by {
        LimitBy::Band => format!("its range in this band, {range}"),
        LimitBy::Chart(source) => format!("the range {range} of the chart ({source})"),
        LimitBy::Table => format!("the instrument's full range, {range} (from memory)"),
    }
}

/// Players for whom the card lists no part, in a sentence an instrument.
pub fn idle(sharing: &WindSharing) -> Vec<String> {
    let mut all: Vec<(&Players, usize, &Idle)> = Vec::new();
    for idle in &sharing.idle {
        let Some(players) = sharing.players.get(idle.players) else {
            continue;
        };
        match all
            .iter_mut()
            .find(|(other, ..)| other.instrument == players.instrument)
        {
            Some((_, count, _)) => *count = count.saturating_add(idle.count),
            None => all.push((players, idle.count, idle)),
        }
    }
    // Where no parts are listed at all, everybody is idle, and that has been said.
    if sharing.depth <= Depth::SectionsOnly {
        return Vec::new();
    }
    let mut bare: Vec<String> = Vec::new();
    let mut said: Vec<String> = Vec::new();
    for (players, count, idle) in all {
        let name = counted(count, &players.instrument);
        let ways: Vec<String> = idle
            .could
            .iter()
            .filter_map(|(part, rewrite)| {
                let part = sharing.parts.get(*part).filter(|part| part.players() > 0)?;
                let what = match part.name.starts_with("part ") {
                    true => part.name.clone(),
                    false => format!("the {} part", part.name),
                };
                Some(format!("{what} ({})", rewritten(*rewrite, None)))
            })
            .take(2)
            .collect();
        if ways.is_empty() {
            bare.push(name);
            continue;
        }
        let (has, read) = match count {
            1 => ("has", "this player could be given"),
            _ => ("have", "they could be given"),
        };
        said.push(format!(
            "{name} {has} no part on the card; {read} {}.",
            ways.join(" or ")
        ));
    }
    if !bare.is_empty() {
        said.push(format!("There is no part on the card for {}.", joined(&bare)));
    }
    said
}

/// How extra players were dealt out, where a section is divided.
pub fn balance(sharing: &WindSharing) -> Option<String> {
    let stem = |part: &Part| {
        let bare = part.name.trim_end_matches(|c: char| c.is_ascii_digit());
        (bare.len() < part.name.len()).then(|| bare.to_owned())
    };
    let divided = sharing.parts.iter().any(|one| {
        let mut others = sharing
            .parts
            .iter()
            .filter(|other| stem(one).is_some() && stem(one) == stem(other));
        one.players() > 0 && others.any(|other| one.players().abs_diff(other.players()) == 1)
    });
    divided.then(|| {
        match sharing.balance {
            Balance::Lower => "Sections are divided evenly, extra players on the lower parts; to turn that around, write \"extra players on the upper parts\" after \"players\" in the handbook.",
            Balance::Upper => "Sections are divided evenly, extra players on the upper parts, as the handbook says.",
        }
        .to_owned()
    })
}
