//! What happens if somebody is missing.

use crate::planning::assign::{self, Limits, Music, Part, Plan, Player};

use super::ask::Question;
use super::assigned::AssignedPiece;
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

/// There are as many questions as players times pieces, and each of them is a small change to one that is
/// answered; what takes longer than this many steps is told as not tried to the end.
const MOST_STEPS: u64 = 30_000;

/// For every player who is there and plays anything.
pub(super) fn backups(
    plan: &ConcertPlan,
    assigned: &[AssignedPiece],
    hand_over: bool,
    limits: Limits<'_>,
) -> Vec<Backup> {
    let limits = Limits {
        steps: limits.steps.min(MOST_STEPS),
        ..limits
    };
    let players = 0..plan.players.len();
    let of = |player: usize| {
        if (limits.stop)() {
            return None;
        }
        let pieces = plan.pieces.iter().enumerate().zip(assigned);
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
                    now.plan.as_ref()?,
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
    let (music, players) = question.without(seat);
    // First with all others keeping their parts, which is what can be done on the day itself.
    let easy = with_others_keeping(&music, &players, now, seat, hand_over, limits);
    let (vital, spare) = (now.left_out.vital.len(), now.left_out.spare.len());
    let worth = (
        vital.saturating_add(easy.vital.len()),
        spare.saturating_add(easy.spare.len()),
    );
    let mut then = (easy, false);
    if worth > (vital, spare) {
        let plan = assign::assign(&music, &players, hand_over, limits);
        let all = Outcome::of(&plan);
        match (all.vital.len(), all.spare.len()) < worth {
            true => then = (all, true),
            // As it is, nothing better is known; whether there is, only a search to the end can tell.
            false => then.0.proven &= all.proven,
        }
    }
    let (then, anew) = then;
    let lost = |parts: &[usize], vital: bool| -> Vec<(String, bool)> {
        let lost = parts
            .iter()
            .filter(|part| now.plays.iter().any(|play| play.part == **part));
        lost.map(|part| (words::part(question, *part), vital)).collect()
    };
    let mut taken: Vec<(String, usize)> = Vec::new();
    for &(part, player) in &then.plays {
        let had = now
            .plays
            .iter()
            .any(|one| (one.part, one.player) == (part, player));
        let Some(who) = who.get(player).copied().filter(|_| !had) else {
            continue;
        };
        let one = (words::part(question, part), who);
        if !taken.contains(&one) {
            taken.push(one);
        }
    }
    let mut gone = lost(&then.vital, true);
    gone.extend(lost(&then.spare, false));
    Some(BackupPiece {
        piece: at,
        taken,
        lost: gone,
        anew,
        proven: then.proven,
    })
}

/// A plan by the places of parts in the question: who plays what, what the music needs and is not played, what
/// may be spared and is not, and whether nothing better exists.
struct Outcome {
    plays: Vec<(usize, usize)>,
    vital: Vec<usize>,
    spare: Vec<usize>,
    proven: bool,
}

impl Outcome {
    fn of(plan: &Plan) -> Outcome {
        Outcome {
            plays: plan.plays.iter().map(|play| (play.part, play.player)).collect(),
            vital: plan.left_out.vital.clone(),
            spare: plan.left_out.spare.clone(),
            proven: plan.proven || (plan.plays.is_empty() && plan.left_out.proven),
        }
    }
}

/// Only what the missing player has is given to others; what is left out already stays out.
fn with_others_keeping(
    all: &Music,
    players: &[Player],
    now: &Plan,
    seat: usize,
    hand_over: bool,
    limits: Limits<'_>,
) -> Outcome {
    let mut kept: Vec<usize> = now.plays.iter().map(|play| play.part).collect();
    kept.sort_unstable();
    kept.dedup();
    let holder = |part: usize| -> Option<usize> {
        let mut plays = now.plays.iter().filter(|play| play.part == part);
        let first = plays.next()?.player;
        (plays.all(|play| play.player == first) && first != seat).then_some(first)
    };
    // Of sets that lose as much the first is taken, so what nobody holds now comes first: others keep theirs.
    kept.sort_by_key(|part| holder(*part).is_some());
    let place = |part: &usize| kept.iter().position(|kept| kept == part);
    let parts = kept.iter().filter_map(|&at| {
        Some(Part {
            given_to: holder(at),
            ..all.parts.get(at)?.clone()
        })
    });
    let music = Music {
        parts: parts.collect(),
        changes: all.changes.clone(),
        mounted: all
            .mounted
            .iter()
            .filter_map(|(one, other)| place(one).zip(place(other)))
            .collect(),
        one_player: all
            .one_player
            .iter()
            .map(|group| group.iter().filter_map(place).collect())
            .collect(),
        instead: Vec::new(),
        apart: all.apart.clone(),
        handing_rest: all.handing_rest,
    };
    let found = Outcome::of(&assign::assign(&music, players, hand_over, limits));
    let back = |part: usize| kept.get(part).copied();
    Outcome {
        plays: found
            .plays
            .into_iter()
            .filter_map(|(part, player)| Some((back(part)?, player)))
            .collect(),
        vital: found.vital.into_iter().filter_map(back).collect(),
        spare: found.spare.into_iter().filter_map(back).collect(),
        proven: found.proven,
    }
}
