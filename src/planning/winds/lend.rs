//! Covers shared out together: a player who takes one part that nobody has cannot take another, nor leave a part of
//! the own that needs everybody.

use crate::catalogue::sections::same_chair;
use crate::planning::assign::{Section, WindPart, WindPlayer, seat_winds};

use super::told::{Cover, Part, Players, Uncovered};

/// Says of each part that nobody has who covers it, so that as many as can be are covered, and of every cover how many
/// players could leave where they are. What covers without moving anybody needs no choice.
pub fn lend(uncovered: &mut [Uncovered], parts: &[Part], players: &[Players]) {
    let free = |instrument: &str| -> usize {
        let of_it = players
            .iter()
            .enumerate()
            .filter(|(_, one)| same_chair(&one.instrument, instrument));
        of_it.map(|(at, one)| spared(at, one, parts)).sum()
    };
    let mut instruments: Vec<String> = Vec::new();
    for cover in uncovered.iter_mut().flat_map(|one| &mut one.covers) {
        let Some((instrument, could)) = moves(cover) else {
            continue;
        };
        *could = free(instrument);
        if !instruments.iter().any(|known| same_chair(known, instrument)) {
            instruments.push(instrument.clone());
        }
    }
    let needs: Vec<usize> = (0..uncovered.len())
        .filter(|at| {
            let one = uncovered.get(*at);
            let needed = one
                .and_then(|one| parts.get(one.part))
                .is_some_and(|part| part.spare.is_none());
            needed && one.is_some_and(|one| one.covers.iter().all(|cover| !cover.stays()))
        })
        .collect();
    let wanted: Vec<WindPart> = (0..needs.len())
        .map(|number| WindPart {
            least: 1,
            section: Section {
                number,
                // Of parts that cannot all be covered the upper ones of the score come first.
                rank: number,
                place: 0,
            },
        })
        .collect();
    let mut lent: Vec<(&String, WindPlayer)> = Vec::new();
    for instrument in &instruments {
        let can: Vec<(usize, u32)> = needs
            .iter()
            .enumerate()
            .filter_map(|(at, of)| {
                let covers = &uncovered.get(*of)?.covers;
                let found = covers.iter().position(|cover| takes(cover, instrument))?;
                Some((at, u32::try_from(found).ok()?))
            })
            .collect();
        let player = WindPlayer {
            can,
            ..WindPlayer::default()
        };
        lent.extend((0..free(instrument)).map(|_| (instrument, player.clone())));
    }
    let asked: Vec<WindPlayer> = lent.iter().map(|(_, player)| player.clone()).collect();
    let seat = seat_winds(&asked, &wanted);
    for ((instrument, _), part) in lent.iter().zip(&seat.part_of) {
        let one = part.and_then(|at| uncovered.get_mut(*needs.get(at)?));
        let Some(one) = one else { continue };
        let by = one.covers.iter().position(|cover| takes(cover, instrument));
        one.by = one.by.or(by);
    }
}

/// Whether a cover is players of this instrument, who have the notes as far as is known.
fn takes(cover: &Cover, instrument: &str) -> bool {
    let theirs = cover.instrument().is_some_and(|one| same_chair(one, instrument));
    theirs && !cover.lacks_notes()
}

/// How many of a group of players could leave the parts that they have: those without a part, and those whose part has
/// more than it needs.
fn spared(at: usize, players: &Players, parts: &[Part]) -> usize {
    let mut seated = 0;
    let mut free = 0;
    for part in parts {
        let here = part.seated.iter().find(|(who, _)| *who == at);
        let Some((_, count)) = here else { continue };
        seated += count;
        free += (*count).min(part.players().saturating_sub(part.least));
    }
    players.count.saturating_sub(seated) + free
}

/// The instrument whose players would change their part, with how many of them could.
fn moves(cover: &mut Cover) -> Option<(&String, &mut usize)> {
    match cover {
        Cover::Allowed {
            instrument, could, ..
        }
        | Cover::Usual {
            instrument, could, ..
        } => Some((instrument, could)),
        Cover::SameLine { .. } | Cover::Cue { .. } | Cover::Instead { .. } => None,
    }
}
