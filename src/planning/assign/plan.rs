//! A finished plan: who plays what, and what it costs.

use super::Tenths;
use super::collide::Unit;
use super::leave_out::LeftOut;

/// One entrance and its player.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Play {
    /// The part.
    pub part: usize,
    /// Which of the part's entrances, as they were given.
    pub entrance: usize,
    /// Who plays it.
    pub player: usize,
}

/// Every entrance with its player, by part and entrance.
pub(super) fn plays(units: &[Unit], seated: &[usize]) -> Vec<Play> {
    let mut plays: Vec<Play> = units
        .iter()
        .zip(seated)
        .flat_map(|(unit, &player)| {
            unit.plays.iter().map(move |&(part, entrance, _)| Play {
                part,
                entrance,
                player,
            })
        })
        .collect();
    plays.sort_unstable();
    plays
}

/// How good a plan is; less is better, the first that differs decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Worth {
    pub(super) walks: usize,
    pub(super) most: Tenths,
    /// The least playing of one player, negated.
    pub(super) least: Tenths,
    pub(super) had: u64,
}

/// Who plays what in a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Every entrance that is played, by part and entrance.
    pub plays: Vec<Play>,
    /// What is not played, and why.
    pub left_out: LeftOut,
    /// The parts that change hands.
    pub handed_over: Vec<usize>,
    /// How often a player goes from one place to another, all players together.
    pub walks: usize,
    /// No plan with as few parts left out and handed over has fewer walks than this.
    pub walks_at_least: usize,
    /// The longest that one player plays, in tenths of a second.
    pub most: Tenths,
    /// The shortest that one player who is there plays.
    pub least: Tenths,
    /// How often players had, before, the stations they have here.
    pub had: u64,
    /// Whether nothing better exists in any respect; false when a limit cut the search.
    pub proven: bool,
    /// Steps of the whole search.
    pub steps: u64,
}
