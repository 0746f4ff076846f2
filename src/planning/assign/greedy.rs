//! What to leave out, at a glance: for when a limit cuts the search.

use super::bits::Bits;
use super::collide::{Unit, collisions, units};
use super::{Music, Player, seats};

/// Without any search: parts one after another, vital ones first, each left out when it does
/// not fit beside those before it at the first player who is free.
pub(super) fn greedy(music: &Music, players: &[Player], played: &[usize]) -> Vec<usize> {
    let mut order = played.to_vec();
    order.sort_by_key(|&part| (music.parts[part].spare, part));
    let mut hands: Vec<Vec<usize>> = vec![Vec::new(); players.len()];
    let mut out = Vec::new();
    for part in order {
        let fits = |player: &usize| {
            let mut with = hands[*player].clone();
            with.push(part);
            let units = units(music, &with, &|_| false);
            let takes = |unit: &Unit| seats::can_take(*player, &players[*player], unit);
            units.iter().all(takes) && collisions(music, &units).iter().all(Bits::is_empty)
        };
        // Parts bound to one player are simply left out here, all but the first.
        let bound = music
            .one_player
            .iter()
            .any(|group| group.contains(&part) && hands.iter().flatten().any(|has| group.contains(has)));
        match (0..players.len()).find(fits).filter(|_| !bound) {
            Some(player) => hands[player].push(part),
            None => out.push(part),
        }
    }
    out.sort_unstable();
    out
}
