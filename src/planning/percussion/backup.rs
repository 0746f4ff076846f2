//! What happens if somebody is missing.

use crate::planning::assign::{self, Limits, Plan};

use super::ask::Question;
use super::program::ConcertPlan;
use super::words;

/// What happens to the program without one player.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Backup {
    /// Who is missing, among the players of the concert.
    pub player: usize,
    /// Each piece that player plays in.
    pub pieces: Vec<BackupPiece>,
}

/// What happens to one piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupPiece {
    /// The piece, by its place in the program.
    pub piece: usize,
    /// Parts that others take, with who takes them; all others keep theirs unless `anew`.
    pub taken: Vec<(String, usize)>,
    /// Parts that nobody plays then and somebody does now, and whether the music needs them.
    pub lost: Vec<(String, bool)>,
    /// Whether the piece has to be shared out anew, since that loses less.
    pub anew: bool,
    /// Whether nothing better exists.
    pub proven: bool,
}

/// For every player who is there and plays anything.
pub(super) fn backups(
    plan: &ConcertPlan,
    plans: &[Option<Plan>],
    hand_over: bool,
    limits: Limits<'_>,
) -> Vec<Backup> {
    let players = 0..plan.players.len();
    let of = |player: usize| {
        if (limits.stop)() {
            return None;
        }
        let pieces = plan.pieces.iter().enumerate().zip(plans);
        let pieces: Vec<BackupPiece> = pieces
            .filter_map(|((at, piece), now)| {
                let plays = piece.duties.get(player).is_some_and(|duties| !duties.is_empty());
                let seat = piece
                    .who
                    .iter()
                    .position(|who| *who == player)
                    .filter(|_| plays)?;
                without(
                    at,
                    piece.question.as_ref()?,
                    &piece.who,
                    now.as_ref()?,
                    seat,
                    hand_over,
                    limits,
                )
            })
            .collect();
        (!pieces.is_empty()).then_some(Backup { player, pieces })
    };
    players.filter_map(of).collect()
}

fn without(
    at: usize,
    question: &Question,
    who: &[usize],
    now: &Plan,
    seat: usize,
    hand_over: bool,
    limits: Limits<'_>,
) -> Option<BackupPiece> {
    let mut players = question.players.clone();
    players.get_mut(seat)?.absent = true;
    let holder = |part: usize| -> Option<usize> {
        let mut plays = now.plays.iter().filter(|play| play.part == part);
        let first = plays.next()?.player;
        (plays.all(|play| play.player == first) && first != seat).then_some(first)
    };
    // First with all others keeping their parts, which is what can be done on the day itself.
    let mut kept = question.music.clone();
    for (part, one) in kept.parts.iter_mut().enumerate() {
        one.given_to = holder(part);
    }
    let easy = assign::assign(&kept, &players, hand_over, limits);
    let worth = |plan: &Plan| (plan.left_out.vital.len(), plan.left_out.spare.len());
    let least = worth(now);
    let (then, anew) = match worth(&easy) <= least {
        true => (easy, false),
        false => {
            let free = assign::assign(&question.music, &players, hand_over, limits);
            match worth(&free) < worth(&easy) {
                true => (free, true),
                false => (easy, false),
            }
        }
    };
    let played = |plan: &Plan, part: usize| plan.plays.iter().any(|play| play.part == part);
    let lost = |parts: &[usize], vital: bool| -> Vec<(String, bool)> {
        let lost = parts.iter().filter(|part| played(now, **part));
        lost.map(|part| (words::part(question, *part), vital)).collect()
    };
    let mut taken: Vec<(String, usize)> = Vec::new();
    for play in &then.plays {
        let had = |player: usize| {
            let mut plays = now.plays.iter();
            plays.any(|one| one.part == play.part && one.player == player)
        };
        if had(play.player) {
            continue;
        }
        let one = (words::part(question, play.part), who.get(play.player).copied()?);
        if !taken.contains(&one) {
            taken.push(one);
        }
    }
    let mut gone = lost(&then.left_out.vital, true);
    gone.extend(lost(&then.left_out.spare, false));
    Some(BackupPiece {
        piece: at,
        taken,
        lost: gone,
        anew,
        proven: then.proven || (then.plays.is_empty() && then.left_out.proven),
    })
}
