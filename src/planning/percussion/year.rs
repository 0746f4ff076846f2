//! Several concerts of a year together: who has which instruments over all of them.
//!
//! Each piece is shared out as well as it can be by itself, and then players trade whole sets of parts over all the
//! concerts, for as long as a trade shares the playing more fairly or spares somebody the same instrument again.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::assign::{Limits, Tenths};

use super::ask::Question;
use super::assigned::{AssignedPiece, places, players};
use super::evening::share;
use super::few;
use super::program::{PiecePlan, piece_plan};
use super::rotate::{Earlier, rotate};
use super::setting::{Setting, absent_percussionists};

/// A piece of one of the concerts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YearPiece {
    /// The concert.
    pub concert: EntryId,
    /// The piece.
    pub piece: EntryId,
    /// Its title.
    pub title: String,
    /// The movements that are played; empty for all.
    pub movements: Vec<u32>,
    /// The bands that play it.
    pub bands: Vec<EntryId>,
}

/// A percussionist over the year.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YearPlayer {
    /// The band.
    pub band: EntryId,
    /// The seat.
    pub seat: String,
    /// For each concert, in order, the instruments and in how many of its pieces.
    pub had: Vec<(EntryId, Vec<(String, usize)>)>,
    /// How long the player plays in all, in tenths of a second; none where that is not known of some part.
    pub plays: Option<Tenths>,
}

/// Who has what over several concerts, in the order of the bands' seats; and whether all trades were looked at.
pub fn year(snapshot: &Snapshot, pieces: &[YearPiece], limits: Limits<'_>) -> (Vec<YearPlayer>, bool) {
    limits.for_all(|limits| shared(snapshot, pieces, limits))
}

fn shared(snapshot: &Snapshot, pieces: &[YearPiece], limits: Limits<'_>) -> Vec<YearPlayer> {
    let settings: Vec<(String, Option<Setting>)> = pieces
        .iter()
        .map(|one| {
            let mut setting = Setting::new(snapshot, one.piece, one.bands.clone());
            setting.concert = Some(one.concert);
            setting.movements.clone_from(&one.movements);
            if let Some(card) = snapshot.entry(one.concert).and_then(|entry| entry.concert()) {
                setting.leave_at_home(&absent_percussionists(card, snapshot));
                setting.without_those_not_there(card.day());
            }
            (one.title.clone(), Some(setting))
        })
        .collect();
    let players = players(snapshot, &settings);
    let mut questions: Vec<Option<Question>> = settings
        .iter()
        .map(|(_, setting)| setting.as_ref()?.question(snapshot))
        .collect();
    let who: Vec<Vec<usize>> = settings
        .iter()
        .map(|(_, setting)| setting.as_ref().map_or(Vec::new(), |one| places(one, &players)))
        .collect();
    // What is said of a concert counts in each by itself.
    let mut rest = questions.as_mut_slice();
    let mut at = 0;
    for own in pieces.chunk_by(|one, other| one.concert == other.concert) {
        let (these, others) = rest.split_at_mut(own.len().min(rest.len()));
        let who = who.get(at..at + these.len()).unwrap_or(&[]);
        few::leave_out(these, who, players.len(), limits);
        at += own.len();
        rest = others;
    }
    let earlier = Earlier::default();
    let (plans, _) = rotate(
        &mut questions,
        (&who, players.len()),
        false,
        &earlier,
        &|turns, before| share(turns, before, limits),
        limits,
    );
    let parts = settings
        .into_iter()
        .zip(questions)
        .zip(who.into_iter().zip(plans));
    let shared: Vec<PiecePlan> = parts
        .map(|(((title, setting), question), (who, plan))| {
            let piece = AssignedPiece {
                title,
                setting,
                question,
                who,
                plan,
            };
            piece_plan(snapshot, piece, players.len(), limits)
        })
        .collect();
    let mut concerts: Vec<EntryId> = pieces.iter().map(|one| one.concert).collect();
    concerts.dedup();
    let of = |at: usize| {
        let had = concerts.iter().map(|concert| {
            let mut all: Vec<(String, usize)> = Vec::new();
            let own = pieces
                .iter()
                .zip(&shared)
                .filter(|(one, _)| one.concert == *concert);
            for (_, plan) in own {
                let mut here: Vec<&str> = Vec::new();
                for duty in plan.duties.get(at).into_iter().flatten() {
                    if !here.contains(&duty.station.as_str()) {
                        here.push(&duty.station);
                    }
                }
                for name in here {
                    match all.iter_mut().find(|(known, _)| known == name) {
                        Some((_, count)) => *count += 1,
                        None => all.push((name.to_owned(), 1)),
                    }
                }
            }
            (*concert, all)
        });
        let duties = shared.iter().filter_map(|plan| plan.duties.get(at)).flatten();
        let plays = duties.map(|duty| duty.lasts).sum::<Option<Tenths>>();
        (had.collect(), plays)
    };
    let found = players.iter().enumerate().map(|(at, player)| {
        let (had, plays) = of(at);
        YearPlayer {
            band: player.band,
            seat: player.seat.name.clone(),
            had,
            plays,
        }
    });
    found.collect()
}
