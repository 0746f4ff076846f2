//! What was found out about a concert, in sentences.

use crate::catalogue::Snapshot;
use crate::planning::assign::Tenths;
use crate::text::sentences::{capital, joined};

use super::backup::BackupPiece;
use super::between::{Carry, Gap, MOVING};
use super::program::ConcertPlan;

/// When it is, as the card says it: `2026-12-10, 19:00`.
pub fn date(snapshot: &Snapshot, plan: &ConcertPlan) -> Option<String> {
    let on = snapshot.entry(plan.concert)?.concert()?.on.as_ref()?;
    Some(on.value.to_string())
}

/// Minutes and seconds: `1:30`.
fn clock(tenths: Tenths) -> String {
    let seconds = tenths / 10;
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

fn carried(snapshot: &Snapshot, plan: &ConcertPlan, things: &[Carry]) -> String {
    let told: Vec<String> = things
        .iter()
        .map(|thing| {
            let by: Vec<String> = thing
                .by
                .iter()
                .map(|player| plan.name(snapshot, *player))
                .collect();
            match by.is_empty() {
                true => thing.name.clone(),
                false => format!("{} ({})", thing.name, joined(&by)),
            }
        })
        .collect();
    told.join(", ")
}

/// What stands there when the first piece begins; nothing where nobody plays in it.
pub fn set_up(plan: &ConcertPlan) -> Option<String> {
    let first = plan.standing.iter().filter(|one| one.pieces.contains(&0));
    let names: Vec<String> = first.map(|one| one.name.clone()).collect();
    (!names.is_empty()).then(|| format!("Set up for the first piece: {}.", joined(&names)))
}

/// What happens between two pieces, a line each; at least one line.
pub fn gap(snapshot: &Snapshot, plan: &ConcertPlan, gap: &Gap) -> Vec<String> {
    let mut lines = Vec::new();
    let time = match plan.between {
        Some(between) => format!("{} between pieces", clock(between)),
        None => "between pieces, nobody knows how long".to_owned(),
    };
    let mut first = vec![time];
    if gap.other_players {
        first.push("other players come on".to_owned());
    }
    if !gap.known {
        first.push("not certain, since one of the two pieces has no card".to_owned());
    }
    if gap.known && gap.bring.is_empty() && gap.away.is_empty() {
        first.push("nothing has to be moved".to_owned());
    }
    lines.push(format!("{}.", capital(&first.join("; "))));
    if !gap.bring.is_empty() {
        lines.push(format!("Bring: {}.", carried(snapshot, plan, &gap.bring)));
    }
    if !gap.away.is_empty() {
        lines.push(format!(
            "No longer needed: {}.",
            carried(snapshot, plan, &gap.away)
        ));
    }
    if !gap.ways.is_empty() {
        let ways: Vec<String> = gap
            .ways
            .iter()
            .map(|way| {
                format!(
                    "{} from {} to {}",
                    plan.name(snapshot, way.player),
                    way.from,
                    way.to
                )
            })
            .collect();
        lines.push(format!("Moves: {}.", ways.join(", ")));
    }
    if gap.short {
        lines.push(format!(
            "That is not much: with percussion to move, a change takes {} to {} (from memory).",
            clock(MOVING.0),
            clock(MOVING.1)
        ));
    }
    lines
}

/// A paragraph a player: what he or she plays in each piece, carries and brings along.
pub fn duty_list(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<String> {
    let mut lines = Vec::new();
    for player in 0..plan.players.len() {
        let absent = plan.players.get(player).is_some_and(|one| one.seat.absent);
        let name = plan.name(snapshot, player);
        if absent {
            lines.push(format!("{name}: not there."));
            continue;
        }
        let mut told: Vec<String> = Vec::new();
        let mut sticks: Vec<&str> = Vec::new();
        for (at, piece) in plan.pieces.iter().enumerate() {
            let number = at.saturating_add(1);
            let duties = piece.duties.get(player).map_or(&[][..], Vec::as_slice);
            let names: Vec<String> = duties.iter().map(|duty| duty.name.clone()).collect();
            for held in duties.iter().filter_map(|duty| duty.sticks.as_deref()) {
                if !sticks.contains(&held) {
                    sticks.push(held);
                }
            }
            if !names.is_empty() {
                told.push(format!("{number} {}", joined(&names)));
            } else if piece.free.contains(&player) {
                told.push(format!("{number} free"));
            }
        }
        let moved = |things: fn(&Gap) -> &[Carry]| -> Vec<String> {
            let things = plan.gaps.iter().flat_map(|gap| {
                let before = gap.after.saturating_add(2);
                things(gap).iter().map(move |thing| (before, thing))
            });
            things
                .filter(|(_, thing)| thing.by.contains(&player))
                .map(|(before, thing)| format!("{} before {before}", thing.name))
                .collect()
        };
        let mut line = format!("{name}: {}.", told.join("; "));
        if told.is_empty() {
            line = format!("{name}: nothing.");
        }
        let (bring, away) = (moved(|gap| &gap.bring), moved(|gap| &gap.away));
        if !bring.is_empty() {
            line.push_str(&format!(" Brings on {}.", bring.join(", ")));
        }
        if !away.is_empty() {
            line.push_str(&format!(" Takes off {}.", away.join(", ")));
        }
        if !sticks.is_empty() {
            line.push_str(&format!(" Stick bag: {}.", sticks.join(", ")));
        }
        lines.push(line);
    }
    lines
}

/// A paragraph for each player who plays: what happens without him or her.
pub fn backups(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<String> {
    plan.backups
        .iter()
        .map(|backup| {
            let pieces: Vec<String> = backup
                .pieces
                .iter()
                .map(|one| without(snapshot, plan, one))
                .collect();
            format!(
                "Without {}, {}.",
                plan.name(snapshot, backup.player),
                pieces.join("; ")
            )
        })
        .collect()
}

/// What happens in one piece when somebody is missing: `in 2 P3 takes snare`.
pub fn without(snapshot: &Snapshot, plan: &ConcertPlan, one: &BackupPiece) -> String {
    let taken: Vec<String> = one
        .taken
        .iter()
        .map(|(part, player)| format!("{} takes {part}", plan.name(snapshot, *player)))
        .collect();
    let lost: Vec<String> = one
        .lost
        .iter()
        .map(|(part, vital)| match vital {
            true => part.clone(),
            false => format!("{part} (not needed)"),
        })
        .collect();
    let mut told = Vec::new();
    if !taken.is_empty() {
        let anew = if one.anew { "shared out again, " } else { "" };
        told.push(format!("{anew}{}", taken.join(", ")));
    }
    if !lost.is_empty() {
        told.push(format!("{} is left out", joined(&lost)).replacen(
            " is left",
            if lost.len() > 1 { " are left" } else { " is left" },
            1,
        ));
    }
    if !one.proven {
        told.push("not every way was tried".to_owned());
    }
    format!("no. {}: {}", one.piece.saturating_add(1), told.join(", "))
}
