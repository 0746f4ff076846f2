//! The winds of a piece for programs. Parts and groups of players are numbered from 0.

use serde::Serialize;

use crate::planning::winds::{Cover, Depth, Fits, WindSharing, words};

/// Who plays which wind part.
#[derive(Serialize)]
pub struct WindsLine {
    /// `nobody`, `sections`, `parts` or `notes`: how deep the answer goes.
    depth: &'static str,
    notes: Vec<String>,
    players: Vec<PlayersLine>,
    parts: Vec<PartLine>,
    short: Vec<ShortLine>,
    uncovered: Vec<UncoveredLine>,
    without_part: Vec<IdleLine>,
    covered: bool,
}

#[derive(Serialize)]
struct PlayersLine {
    players: usize,
    instrument: String,
    count: usize,
    over_the_break: Option<bool>,
    up_to: Option<String>,
    down_to: Option<String>,
    treble_clef: bool,
    switch_to: Vec<String>,
}

#[derive(Serialize)]
struct PartLine {
    part: usize,
    name: String,
    least: usize,
    needed: bool,
    open: bool,
    range: Option<String>,
    over_the_break: bool,
    seated: Vec<SeatedLine>,
    unable: usize,
}

#[derive(Serialize)]
struct SeatedLine {
    players: usize,
    count: usize,
}

#[derive(Serialize)]
struct ShortLine {
    parts: Vec<usize>,
    want: usize,
    able: usize,
    says: String,
}

#[derive(Serialize)]
struct UncoveredLine {
    part: usize,
    covers: Vec<CoverLine>,
    by: Option<usize>,
}

/// One way to cover a part; what does not belong to its kind is not there.
#[derive(Serialize, Default)]
struct CoverLine {
    way: &'static str,
    part: Option<String>,
    instrument: Option<String>,
    players: Option<usize>,
    could: Option<usize>,
    rewrite: Option<String>,
    clef: Option<&'static str>,
    fits: Option<bool>,
    octaves: Option<i32>,
    source: Option<&'static str>,
}

#[derive(Serialize)]
struct IdleLine {
    players: usize,
    count: usize,
    could: Vec<usize>,
}

/// The winds of a piece.
pub fn line(sharing: &WindSharing) -> WindsLine {
    let says = words::short(sharing);
    WindsLine {
        depth: match sharing.depth {
            Depth::Nobody => "nobody",
            Depth::SectionsOnly => "sections",
            Depth::PartsOnly => "parts",
            Depth::Parts => "notes",
        },
        notes: words::coarse(sharing),
        players: players(sharing),
        parts: parts(sharing),
        short: sharing
            .short
            .iter()
            .zip(says)
            .map(|(short, says)| ShortLine {
                parts: short.parts.clone(),
                want: short.want,
                able: short.able,
                says,
            })
            .collect(),
        uncovered: sharing
            .uncovered
            .iter()
            .map(|one| UncoveredLine {
                part: one.part,
                covers: one.covers.iter().map(cover).collect(),
                by: one.by,
            })
            .collect(),
        without_part: sharing
            .idle
            .iter()
            .map(|idle| IdleLine {
                players: idle.players,
                count: idle.count,
                could: idle.could.iter().map(|(part, _)| *part).collect(),
            })
            .collect(),
        covered: sharing.all_covered(),
    }
}

fn players(sharing: &WindSharing) -> Vec<PlayersLine> {
    let all = sharing.players.iter().enumerate();
    all.map(|(at, players)| PlayersLine {
        players: at,
        instrument: players.instrument.clone(),
        count: players.count,
        over_the_break: players.over_the_break,
        up_to: players.up_to.map(|pitch| pitch.to_string()),
        down_to: players.down_to.map(|pitch| pitch.to_string()),
        treble_clef: players.treble_clef,
        switch_to: players.switch_to.clone(),
    })
    .collect()
}

fn parts(sharing: &WindSharing) -> Vec<PartLine> {
    let all = sharing.parts.iter().enumerate();
    all.map(|(at, part)| PartLine {
        part: at,
        name: part.name.clone(),
        least: part.least,
        needed: part.spare.is_none(),
        open: part.open,
        range: part.range.map(|range| range.to_string()),
        over_the_break: part.over_the_break,
        seated: part
            .seated
            .iter()
            .map(|&(players, count)| SeatedLine { players, count })
            .collect(),
        unable: part.unable,
    })
    .collect()
}

fn cover(cover: &Cover) -> CoverLine {
    match cover {
        Cover::SameLine { part, players, .. } => CoverLine {
            way: "same line",
            part: Some(part.clone()),
            players: Some(*players),
            ..CoverLine::default()
        },
        Cover::Cue { part, players, .. } => CoverLine {
            way: "cue",
            part: Some(part.clone()),
            players: Some(*players),
            ..CoverLine::default()
        },
        Cover::Instead { part } => CoverLine {
            way: "instead",
            part: Some(part.clone()),
            ..CoverLine::default()
        },
        Cover::Allowed {
            instrument,
            players,
            could,
        } => CoverLine {
            way: "allowed",
            could: Some(*could),
            instrument: Some(instrument.clone()),
            players: Some(*players),
            ..CoverLine::default()
        },
        Cover::Usual {
            instrument,
            players,
            could,
            rewrite,
            clef,
            fits,
            source,
        } => CoverLine {
            way: "usual",
            could: Some(*could),
            instrument: Some(instrument.clone()),
            players: Some(*players),
            rewrite: Some(rewrite.sounds()),
            clef: *clef,
            fits: match fits {
                Fits::NotKnown => None,
                Fits::Yes(_) | Fits::Octaves(..) => Some(true),
                Fits::No(..) => Some(false),
            },
            octaves: match fits {
                Fits::Octaves(octaves, _) => Some(*octaves),
                Fits::Yes(_) => Some(0),
                _ => None,
            },
            source: Some(source),
            ..CoverLine::default()
        },
    }
}
