//! A concert's sharing for programs: a line for the concert, then a line a piece as for a piece by itself.
//!
//! In the concert's line players and pieces are numbered from 0, players over all bands; `seats` of a piece
//! gives for each player of its own line the number over all.

use std::io::{self, Write};

use serde::Serialize;

use super::json::piece_line;
use crate::catalogue::Snapshot;
use crate::cli::args::Assign;
use crate::cli::report::lines;
use crate::planning::percussion::{ConcertPlan, Duty, PiecePlan, Way};

#[derive(Serialize)]
struct ConcertLine<'p> {
    about: &'static str,
    concert: &'p str,
    notes: &'p [String],
    between: Option<i64>,
    players: Vec<PlayerLine<'p>>,
    program: Vec<ProgramLine<'p>>,
    gaps: Vec<GapLine<'p>>,
    backups: Vec<BackupLine<'p>>,
    standing: Vec<StandingLine<'p>>,
}

#[derive(Serialize)]
struct PlayerLine<'p> {
    player: usize,
    name: &'p str,
    band: &'p str,
    plays: Vec<String>,
    absent: bool,
}

#[derive(Serialize)]
struct ProgramLine<'p> {
    place: usize,
    title: &'p str,
    card: bool,
    seats: &'p [usize],
    free: &'p [usize],
    cells: Vec<CellLine<'p>>,
    left_out: Vec<LostLine<'p>>,
}

#[derive(Serialize)]
struct CellLine<'p> {
    player: usize,
    duties: Vec<DutyLine<'p>>,
    ways: Vec<WayLine<'p>>,
}

#[derive(Serialize)]
struct DutyLine<'p> {
    part: usize,
    name: &'p str,
    station: &'p str,
    sticks: Option<&'p str>,
    page: Option<&'p str>,
    movement: Option<u32>,
    measures: &'p str,
    first: Option<u32>,
    event: bool,
    lasts: Option<i64>,
    handed_over: bool,
}

#[derive(Serialize)]
struct WayLine<'p> {
    from: &'p str,
    to: &'p str,
    after: Option<u32>,
    before: Option<u32>,
    measures: usize,
    in_break: bool,
    there: Option<i64>,
    needed: Option<i64>,
    from_memory: bool,
    times: usize,
}

#[derive(Serialize)]
struct GapLine<'p> {
    after: usize,
    known: bool,
    other_players: bool,
    passes: Vec<PassLine<'p>>,
    ways: Vec<CrossingLine<'p>>,
    short: bool,
}

#[derive(Serialize)]
struct PassLine<'p> {
    name: &'p str,
    from: usize,
    to: usize,
}

#[derive(Serialize)]
struct CrossingLine<'p> {
    player: usize,
    from: &'p str,
    to: &'p str,
}

#[derive(Serialize)]
struct BackupLine<'p> {
    player: usize,
    pieces: Vec<BackupPieceLine<'p>>,
}

#[derive(Serialize)]
struct BackupPieceLine<'p> {
    place: usize,
    taken: Vec<TakenLine<'p>>,
    lost: Vec<LostLine<'p>>,
    anew: bool,
    proven: bool,
}

#[derive(Serialize)]
struct TakenLine<'p> {
    name: &'p str,
    player: usize,
}

#[derive(Serialize)]
struct LostLine<'p> {
    name: &'p str,
    vital: bool,
}

#[derive(Serialize)]
struct StandingLine<'p> {
    name: &'p str,
    family: Option<&'static str>,
    pieces: &'p [usize],
}

/// Tells it.
pub fn tell(snapshot: &Snapshot, plan: &ConcertPlan, asked: &Assign, out: &mut dyn Write) -> io::Result<()> {
    lines::line(&concert_line(snapshot, plan), out)?;
    for piece in &plan.pieces {
        let (Some(setting), Some(question), Some(answer)) = (&piece.setting, &piece.question, &piece.answer)
        else {
            continue;
        };
        lines::line(&piece_line(snapshot, setting, question, answer, asked), out)?;
    }
    Ok(())
}

fn concert_line<'p>(snapshot: &'p Snapshot, plan: &'p ConcertPlan) -> ConcertLine<'p> {
    let name = |id| snapshot.entry(id).map_or("", |entry| entry.name.as_str());
    let players = plan.players.iter().enumerate().map(|(player, one)| PlayerLine {
        player,
        name: &one.seat.name,
        band: name(one.band),
        plays: one.seat.can.words(),
        absent: one.seat.absent,
    });
    let gaps = plan.gaps.iter().map(|gap| GapLine {
        after: gap.after,
        known: gap.known,
        other_players: gap.other_players,
        passes: gap
            .passes
            .iter()
            .map(|pass| PassLine {
                name: &pass.name,
                from: pass.from,
                to: pass.to,
            })
            .collect(),
        ways: gap
            .ways
            .iter()
            .map(|way| CrossingLine {
                player: way.player,
                from: &way.from,
                to: &way.to,
            })
            .collect(),
        short: gap.short,
    });
    let backups = plan.backups.iter().map(|backup| BackupLine {
        player: backup.player,
        pieces: backup
            .pieces
            .iter()
            .map(|one| BackupPieceLine {
                place: one.piece,
                taken: one
                    .taken
                    .iter()
                    .map(|(name, player)| TakenLine {
                        name,
                        player: *player,
                    })
                    .collect(),
                lost: lost(&one.lost),
                anew: one.anew,
                proven: one.proven,
            })
            .collect(),
    });
    ConcertLine {
        about: "concert",
        concert: name(plan.concert),
        notes: &plan.notes,
        between: plan.between,
        players: players.collect(),
        program: plan.pieces.iter().enumerate().map(program_line).collect(),
        gaps: gaps.collect(),
        backups: backups.collect(),
        standing: plan
            .standing
            .iter()
            .map(|one| StandingLine {
                name: &one.name,
                family: one.family.map(|family| family.name()),
                pieces: &one.pieces,
            })
            .collect(),
    }
}

fn program_line((place, piece): (usize, &PiecePlan)) -> ProgramLine<'_> {
    let cells = piece.duties.iter().zip(&piece.ways).enumerate();
    ProgramLine {
        place,
        title: &piece.title,
        card: piece.setting.is_some(),
        seats: &piece.who,
        free: &piece.free,
        cells: cells
            .filter(|(_, (duties, _))| !duties.is_empty())
            .map(|(player, (duties, ways))| CellLine {
                player,
                duties: duties.iter().map(duty_line).collect(),
                ways: ways.iter().map(way_line).collect(),
            })
            .collect(),
        left_out: lost(&piece.left_out),
    }
}

fn duty_line(duty: &Duty) -> DutyLine<'_> {
    DutyLine {
        part: duty.part,
        name: &duty.name,
        station: &duty.station,
        sticks: duty.sticks.as_deref(),
        page: duty.page.as_deref(),
        movement: duty.movement,
        measures: &duty.measures,
        first: duty.first,
        event: duty.event,
        lasts: duty.lasts,
        handed_over: duty.handed_over,
    }
}

fn way_line(way: &Way) -> WayLine<'_> {
    WayLine {
        from: &way.from,
        to: &way.to,
        after: way.after,
        before: way.before,
        measures: way.measures,
        in_break: way.in_break,
        there: way.there,
        needed: way.needed,
        from_memory: way.from_memory,
        times: way.times,
    }
}

fn lost(parts: &[(String, bool)]) -> Vec<LostLine<'_>> {
    parts
        .iter()
        .map(|(name, vital)| LostLine { name, vital: *vital })
        .collect()
}
