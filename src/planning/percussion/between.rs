//! Between two pieces: what goes from hand to hand, and who has to be elsewhere.
//!
//! All large instruments of the evening stand there from the beginning and stay where they stand (common practice, no
//! source): only what is held in the hand or lies on a table goes from player to player.

use crate::catalogue::Snapshot;
use crate::planning::assign::Tenths;

use super::program::{ConcertPlan, PiecePlan};

/// From memory, since nobody publishes such figures: a change of pieces in which percussion is moved takes
/// 45 s to 90 s.
pub const MOVING: (Tenths, Tenths) = (450, 900);

/// What happens between two pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gap {
    /// The piece before, by its place in the program.
    pub after: usize,
    /// Whether both pieces have a card; otherwise nothing of the rest is certain.
    pub known: bool,
    /// Whether other players come on.
    pub other_players: bool,
    /// Small instruments that another player has next: whoever had them last lays them ready.
    pub passes: Vec<Pass>,
    /// Players who begin the next piece elsewhere than they ended this one.
    pub ways: Vec<Crossing>,
    /// Whether other players come on in less time than a change with percussion takes (figures from memory:
    /// [`MOVING`]).
    pub short: bool,
}

/// An instrument that goes from one player to another between two pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pass {
    /// The instrument.
    pub name: String,
    /// Who had it last, among the players of the concert.
    pub from: usize,
    /// Who has it next.
    pub to: usize,
}

/// A player who goes from one instrument to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Crossing {
    /// The player.
    pub player: usize,
    /// Where the piece before left him or her.
    pub from: String,
    /// Where the next piece begins.
    pub to: String,
}

/// All gaps of a program, in order.
pub(super) fn gaps(plan: &ConcertPlan) -> Vec<Gap> {
    (1..plan.pieces.len()).map(|next| gap(plan, next)).collect()
}

/// The instruments of a piece that are neither owned nor borrowed: nobody can set them up.
pub(super) fn not_there(snapshot: &Snapshot, piece: &PiecePlan) -> Vec<String> {
    let (Some(setting), Some(question)) = (&piece.setting, &piece.question) else {
        return Vec::new();
    };
    let lacking = setting.lacking(snapshot, question).into_iter();
    lacking.filter(|one| one.there == 0).map(|one| one.name).collect()
}

fn gap(plan: &ConcertPlan, next: usize) -> Gap {
    let after = next.saturating_sub(1);
    // Who plays an instrument in a piece: the first who has it, or the last.
    let players = |at: usize, name: &str| -> Vec<usize> {
        let all = plan.pieces.get(at).map_or(&[][..], |piece| &piece.duties);
        let all = all.iter().enumerate();
        all.filter(|(_, duties)| duties.iter().any(|duty| duty.station == name))
            .map(|(player, _)| player)
            .collect()
    };
    let small = plan.standing.iter().filter(|one| one.is_small);
    let passes = small.filter_map(|one| {
        let to = *players(next, &one.name).first()?;
        let before = (0..next).rev().map(|at| players(at, &one.name));
        let from = before.into_iter().find(|players| !players.is_empty())?;
        let passes = (!from.contains(&to)).then(|| from.first().copied()).flatten()?;
        Some(Pass {
            name: one.name.clone(),
            from: passes,
            to,
        })
    });
    let passes: Vec<Pass> = passes.collect();
    let bands = |at: usize| {
        let setting = plan.pieces.get(at).and_then(|piece| piece.setting.as_ref());
        setting.map(|setting| setting.bands.clone())
    };
    let other_players = bands(after)
        .zip(bands(next))
        .is_some_and(|(before, comes)| before != comes);
    Gap {
        after,
        known: bands(after).is_some() && bands(next).is_some(),
        other_players,
        ways: crossings(plan, after, next),
        short: other_players && plan.between.is_some_and(|between| between < MOVING.0),
        passes,
    }
}

fn crossings(plan: &ConcertPlan, after: usize, next: usize) -> Vec<Crossing> {
    let (Some(before), Some(comes)) = (plan.pieces.get(after), plan.pieces.get(next)) else {
        return Vec::new();
    };
    let mut crossings = Vec::new();
    for player in 0..plan.players.len() {
        let last = before.last_station(player);
        let first = comes.first_station(player);
        if let (Some(from), Some(to)) = (last, first)
            && from != to
        {
            crossings.push(Crossing {
                player,
                from: from.to_owned(),
                to: to.to_owned(),
            });
        }
    }
    crossings
}
