//! What was found out about a concert, in sentences.

use crate::catalogue::Snapshot;
use crate::planning::assign::Tenths;
use crate::text::sentences::{capital, is_are, joined};

use super::ask::Question;
use super::backup::BackupPiece;
use super::between::{Gap, MOVING};
use super::pins::Whose;
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

/// What stands there before the concert begins, and what lies ready; a sentence each, none where nobody plays.
pub fn set_up(plan: &ConcertPlan) -> Vec<String> {
    let names = |small: bool| -> Vec<String> {
        let all = plan.standing.iter();
        let all = all.filter(|one| one.is_small == small && !one.is_lacking);
        all.map(|one| one.name.clone()).collect()
    };
    let mut lines = Vec::new();
    let (large, small) = (names(false), names(true));
    if !large.is_empty() {
        lines.push(format!(
            "Set up before the concert, to stay where it stands: {}.",
            joined(&large)
        ));
    }
    if !small.is_empty() {
        lines.push(format!("Lay ready: {}.", joined(&small)));
    }
    lines
}

/// That nobody knows how long it is between the pieces, where that matters.
pub fn no_time_between(plan: &ConcertPlan) -> Option<String> {
    let matters = plan.between.is_none()
        && plan
            .gaps
            .iter()
            .any(|gap| !gap.ways.is_empty() || !gap.passes.is_empty());
    matters.then(|| {
        "The card does not say how long it is from piece to piece. Write it after \"length\", such as \"1:30 between pieces\".".to_owned()
    })
}

/// What happens between two pieces, a line each; none where that is nothing.
pub fn gap(snapshot: &Snapshot, plan: &ConcertPlan, gap: &Gap) -> Vec<String> {
    let mut lines = Vec::new();
    let time = plan
        .between
        .map(|between| format!("{} between pieces", clock(between)));
    let mut first: Vec<String> = time.into_iter().collect();
    if gap.other_players {
        first.push("other players come on".to_owned());
    }
    if !gap.known {
        first.push("who has to move is not known, since one of the two pieces has no card".to_owned());
    }
    if !first.is_empty() {
        lines.push(format!("{}.", capital(&first.join("; "))));
    }
    if !gap.passes.is_empty() {
        let passes = gap.passes.iter().map(|pass| {
            format!(
                "{} lays the {} ready for {}",
                plan.name(snapshot, pass.from),
                pass.name,
                plan.name(snapshot, pass.to)
            )
        });
        lines.push(format!("{}.", passes.collect::<Vec<_>>().join(", ")));
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
            "That is not much: a change of players with percussion takes {} to {} (from memory).",
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
            for held in duties.iter().flat_map(|duty| &duty.bag) {
                if !sticks.contains(&held.as_str()) {
                    sticks.push(held);
                }
            }
            if !names.is_empty() {
                told.push(format!("no. {number} {}", joined(&names)));
            } else if piece.free.contains(&player) {
                told.push(format!("no. {number} free"));
            }
        }
        let passes = plan.gaps.iter().flat_map(|gap| {
            let mine = gap.passes.iter().filter(|pass| pass.from == player);
            mine.map(|pass| {
                let before = gap.after.saturating_add(2);
                format!(
                    "the {} for {} before no. {before}",
                    pass.name,
                    plan.name(snapshot, pass.to)
                )
            })
        });
        let passes: Vec<String> = passes.collect();
        let mut line = format!("{name}: {}.", told.join(", "));
        if told.is_empty() {
            line = format!("{name}: nothing.");
        }
        if !passes.is_empty() {
            line.push_str(&format!(" Lays ready {}.", passes.join(", ")));
        }
        if !sticks.is_empty() {
            line.push_str(&format!(" Stick bag: {}.", sticks.join(", ")));
        }
        lines.push(line);
    }
    lines
}

/// How the evening is shared: how long everybody plays, who is idle twice running, who has one thing all evening.
pub fn evening(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<String> {
    let there = plan
        .players
        .iter()
        .enumerate()
        .filter(|(_, one)| !one.seat.absent);
    let there: Vec<usize> = there.map(|(player, _)| player).collect();
    let plays = |player: &usize| plan.evening.plays.get(*player).copied().unwrap_or(0);
    let pieces = plan.pieces.iter().filter(|piece| piece.answer.is_some());
    if pieces.count() < 2 {
        return Vec::new();
    }
    let band = |player: &usize| plan.players.get(*player).map(|one| one.band);
    let mut lines = Vec::new();
    for own in there.chunk_by(|one, other| band(one) == band(other)) {
        if own.len() < 2 || own.iter().map(plays).fold(0, Tenths::saturating_add) == 0 {
            continue;
        }
        let each: Vec<String> = own
            .iter()
            .map(|player| format!("{} {}", plan.name(snapshot, *player), clock(plays(player))))
            .collect();
        let even = own.iter().filter_map(|player| plan.evening.even.get(*player));
        lines.push(format!(
            "Playing time: {}. Shared to the second, nobody would have more than {}.",
            each.join(", "),
            clock(even.max().copied().unwrap_or(0))
        ));
    }
    if !lines.is_empty() {
        lines.push(
            "In that, small instruments count half, other drums and cymbals three quarters.".to_owned(),
        );
        let rough = |question: &Question| question.all_at_once || question.clock.coarse.is_some();
        if plan
            .pieces
            .iter()
            .filter_map(|piece| piece.question.as_ref())
            .any(rough)
        {
            lines.push(
                "It is a guess where a card does not say the measures, the meter or the tempo.".to_owned(),
            );
        }
    }
    for (player, first) in &plan.evening.idle {
        lines.push(format!(
            "{} is free in no. {} and no. {}.",
            plan.name(snapshot, *player),
            first.saturating_add(1),
            first.saturating_add(2)
        ));
    }
    for (player, kind) in &plan.evening.always {
        lines.push(format!(
            "{} has {kind} all evening.",
            plan.name(snapshot, *player)
        ));
    }
    lines
}

/// What was decided for the whole evening and not for one piece, a sentence each.
pub fn decided(plan: &ConcertPlan) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for line in plan
        .pieces
        .iter()
        .filter_map(|piece| piece.question.as_ref())
        .flat_map(|question| super::words::decided_for(question, |whose| whose >= Whose::Concert))
    {
        if !lines.contains(&line) {
            lines.push(line);
        }
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
    let mut takers: Vec<(usize, Vec<&str>)> = Vec::new();
    for (part, player) in &one.taken {
        match takers.iter_mut().find(|(known, _)| known == player) {
            Some((_, parts)) => parts.push(part),
            None => takers.push((*player, vec![part])),
        }
    }
    let taken: Vec<String> = takers
        .iter()
        .map(|(player, parts)| format!("{} takes {}", plan.name(snapshot, *player), joined(parts)))
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
        let names = joined(&lost);
        told.push(format!("{names} {} left out", is_are(lost.len(), &names)));
    }
    if !one.proven {
        told.push("not every way was tried".to_owned());
    }
    format!("no. {}: {}", one.piece.saturating_add(1), told.join(", "))
}
