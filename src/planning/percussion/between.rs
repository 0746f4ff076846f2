//! Between two pieces: what comes and goes, who carries it, and who has to be elsewhere.

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
    /// Instruments that no piece before used, and that are there to be brought.
    pub bring: Vec<Carry>,
    /// Instruments that no piece from here on uses.
    pub away: Vec<Carry>,
    /// Players who begin the next piece elsewhere than they ended this one.
    pub ways: Vec<Crossing>,
    /// Whether things are to be moved in less time than that takes (figures from memory: [`MOVING`]).
    pub short: bool,
}

/// An instrument to be moved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carry {
    /// The instrument.
    pub name: String,
    /// Who moves it, among the players of the concert.
    pub by: Vec<usize>,
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
pub(super) fn gaps(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<Gap> {
    let gone: Vec<Vec<String>> = plan
        .pieces
        .iter()
        .map(|piece| not_there(snapshot, piece))
        .collect();
    (1..plan.pieces.len())
        .map(|next| gap(plan, &gone, next))
        .collect()
}

/// The instruments of a piece that are neither owned nor borrowed: nobody can carry them.
fn not_there(snapshot: &Snapshot, piece: &PiecePlan) -> Vec<String> {
    let (Some(setting), Some(question)) = (&piece.setting, &piece.question) else {
        return Vec::new();
    };
    let lacking = setting.lacking(snapshot, question).into_iter();
    lacking.filter(|one| one.there == 0).map(|one| one.name).collect()
}

fn gap(plan: &ConcertPlan, gone: &[Vec<String>], next: usize) -> Gap {
    let after = next.saturating_sub(1);
    let stations = |at: usize| -> Vec<&str> {
        let piece = plan.pieces.get(at);
        let duties = piece.into_iter().flat_map(|piece| piece.duties.iter().flatten());
        let mut names: Vec<&str> = Vec::new();
        for duty in duties {
            if !names.contains(&duty.station.as_str()) {
                names.push(&duty.station);
            }
        }
        names
    };
    let used = |name: &str, mut places: std::ops::Range<usize>| places.any(|at| stations(at).contains(&name));
    let plays = |at: usize, name: &str| -> Vec<usize> {
        let players = plan.pieces.get(at).map_or(&[][..], |piece| &piece.duties);
        let players = players.iter().enumerate();
        players
            .filter(|(_, duties)| duties.iter().any(|duty| duty.station == name))
            .map(|(player, _)| player)
            .take(1)
            .collect()
    };
    // Whoever is idle next has the time to take things off.
    let idle: Vec<usize> = plan.pieces.get(next).map_or(Vec::new(), |piece| {
        let before = plan.pieces.get(after);
        let here = |player: &&usize| before.is_some_and(|before| before.who.contains(player));
        piece.free.iter().filter(here).copied().collect()
    });
    let there = |at: usize, name: &str| {
        !gone
            .get(at)
            .is_some_and(|gone| gone.iter().any(|one| one == name))
    };
    let bring: Vec<Carry> = stations(next)
        .into_iter()
        .filter(|name| !used(name, 0..next) && there(next, name))
        .map(|name| Carry {
            name: name.to_owned(),
            by: plays(next, name),
        })
        .collect();
    let away: Vec<Carry> = stations(after)
        .into_iter()
        .filter(|name| !used(name, next..plan.pieces.len()) && there(after, name))
        .enumerate()
        .map(|(nth, name)| Carry {
            name: name.to_owned(),
            by: match nth.checked_rem(idle.len()).and_then(|at| idle.get(at)) {
                Some(player) => vec![*player],
                None => plays(after, name),
            },
        })
        .collect();
    let bands = |at: usize| {
        let setting = plan.pieces.get(at).and_then(|piece| piece.setting.as_ref());
        setting.map(|setting| setting.bands.clone())
    };
    let moves = !bring.is_empty() || !away.is_empty();
    Gap {
        after,
        known: bands(after).is_some() && bands(next).is_some(),
        other_players: bands(after)
            .zip(bands(next))
            .is_some_and(|(before, comes)| before != comes),
        ways: crossings(plan, after, next),
        short: moves && plan.between.is_some_and(|between| between < MOVING.0),
        bring,
        away,
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
