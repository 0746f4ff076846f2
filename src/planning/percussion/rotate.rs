//! Players rotated over a program: each piece by itself as good as it can be, then who has which hand so
//! that the playing is shared fairly and nobody has the same instrument all evening.

use std::collections::BTreeMap;

use crate::music::Family;
use crate::planning::assign::{Limits, Plan, Player, Tenths};

use super::answer::plan;
use super::ask::Question;
use super::evening::{Before, Given, Hand, Turn, Weighed, even};
use super::part_told::PartTold;

/// How long a measure is taken to last where no tempo or meter is known: four beats at 120. Common practice, no source.
const A_MEASURE: Tenths = 20;
/// How long a part is taken to play where no measures are known. Common practice, no source.
const A_PART: Tenths = 600;

/// What the evening is like for the players.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Evening {
    /// How long each player plays, weighed by how much the parts ask, in tenths of a second.
    pub plays: Vec<Tenths>,
    /// How long each would play if it were shared to the second, among those who can.
    pub even: Vec<Tenths>,
    /// Players who play in three pieces or more and have one kind of instrument in all of them, with the kind.
    pub always: Vec<(usize, String)>,
    /// Players who are idle in two pieces running, with the first of the two by its place in the program.
    pub idle: Vec<(usize, usize)>,
}

/// Shares every piece out in program order. `who` gives for every piece the place of each seat among
/// `players`. What a piece leaves out, hands over and walks is the least there is; among players who could
/// take each other's parts `given` exchanges hands for as long as that makes the evening better. `earlier` is what the
/// players bring from earlier concerts.
pub(super) fn rotate(
    questions: &mut [Option<Question>],
    (who, players): (&[Vec<usize>], usize),
    hand_over: bool,
    earlier: &Earlier,
    given: &dyn Fn(&[Turn], &[Before]) -> Given,
    limits: Limits<'_>,
) -> (Vec<Option<Plan>>, Evening) {
    let mut seen: Vec<Vec<String>> = vec![Vec::new(); players];
    let mut plans: Vec<Option<Plan>> = Vec::new();
    for (question, who) in questions.iter_mut().zip(who) {
        let Some(question) = question else {
            plans.push(None);
            continue;
        };
        for (seat, player) in question.players.iter_mut().enumerate() {
            let before = who.get(seat).and_then(|at| seen.get(*at));
            player.had = question
                .stations
                .iter()
                .map(|station| {
                    let had = before.into_iter().flatten().filter(|name| **name == station.name);
                    u32::try_from(had.count()).unwrap_or(u32::MAX)
                })
                .collect();
        }
        let found = plan(question, hand_over, limits);
        for play in found.iter().flat_map(|plan| &plan.plays) {
            let part = question
                .parts
                .get(play.part)
                .map(|part| part.station.name.clone());
            if let Some((seen, name)) = who.get(play.player).and_then(|at| seen.get_mut(*at)).zip(part)
                && !seen.contains(&name)
            {
                seen.push(name);
            }
        }
        plans.push(found);
    }
    let mut kinds = Kinds::default();
    let before: Vec<Before> = (0..players)
        .map(|player| earlier.of(player, &mut kinds))
        .collect();
    let turns: Vec<Turn> = plans
        .iter()
        .zip(questions.iter())
        .zip(who)
        .map(|((plan, question), who)| match (plan, question) {
            // Where no part is known nobody is free.
            (Some(plan), Some(question)) if !question.parts.is_empty() => {
                turn(question, plan, who, &mut kinds)
            }
            _ => Turn::default(),
        })
        .collect();
    let given = given(&turns, &before);
    for (plan, given) in plans.iter_mut().zip(&given) {
        if let Some(plan) = plan {
            hand_out(plan, given);
        }
    }
    let mut evening = told(&turns, &given, players, &kinds);
    evening.even = even(&turns, &before).into_iter().map(|even| even / 4).collect();
    (plans, evening)
}

/// What players had in earlier concerts: how long they played, weighed, and how often they had each kind.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Earlier(pub BTreeMap<usize, (Weighed, BTreeMap<String, i64>)>);

impl Earlier {
    fn of(&self, player: usize, kinds: &mut Kinds) -> Before {
        let Some((plays, had)) = self.0.get(&player) else {
            return Before::default();
        };
        let had = had.iter().map(|(kind, times)| (kinds.number(kind), *times));
        Before {
            plays: *plays,
            kinds: had.collect(),
        }
    }

    /// Adds what a player had in one piece: the parts with how long each was played.
    pub(super) fn add<'p>(&mut self, player: usize, parts: impl Iterator<Item = (&'p PartTold, Tenths)>) {
        let (plays, had) = self.0.entry(player).or_default();
        let mut kinds: Vec<&str> = Vec::new();
        for (part, lasts) in parts {
            *plays = plays.saturating_add(lasts.saturating_mul(asks(part)));
            if !kinds.contains(&kind(part)) {
                kinds.push(kind(part));
            }
        }
        for kind in kinds {
            *had.entry(kind.to_owned()).or_default() += 1;
        }
    }
}

/// The kinds of instruments by number.
#[derive(Default)]
struct Kinds(Vec<String>);

impl Kinds {
    fn number(&mut self, kind: &str) -> usize {
        let known = self.0.iter().position(|known| known == kind);
        known.unwrap_or_else(|| {
            self.0.push(kind.to_owned());
            self.0.len() - 1
        })
    }
}

/// The kind of a part's instrument: who had the triangle, then the claves, then the maracas had one kind all evening.
fn kind(part: &PartTold) -> &str {
    match is_small(&part.station.name, part.station.family) {
        true => "small instruments",
        false => &part.station.name,
    }
}

/// Whether an instrument is held in the hand or lies on a table. What stands on the floor by itself does not, though it
/// counts with the small ones (common practice, no source).
pub fn is_small(name: &str, family: Option<Family>) -> bool {
    let stands = [
        "tam-tam",
        "gong",
        "suspended cymbal",
        "congas",
        "wind chimes",
        "tom-toms",
    ];
    matches!(family, Some(Family::Accessories | Family::World)) && !stands.contains(&name)
}

/// How much of its time a part asks of its player, in quarters: a mallet instrument, the timpani, a snare drum, a drum
/// set and whatever asks for a strong player all of it; other drums and cymbals three quarters; small instruments half.
/// Common practice, no source.
pub(super) fn asks(part: &PartTold) -> Weighed {
    let name = part.station.name.as_str();
    match part.station.family {
        _ if part.strong || ["snare", "drum set"].contains(&name) => 4,
        Some(Family::Mallets | Family::Timpani) => 4,
        family if is_small(name, family) => 2,
        _ => 3,
    }
}

/// How long an entrance plays, or is taken to play where no seconds are known.
pub(super) fn lasts(question: &Question, part: usize, entrance: usize) -> Tenths {
    let Some((music, told)) = question.music.parts.get(part).zip(question.parts.get(part)) else {
        return 0;
    };
    if question.all_at_once {
        return A_PART;
    }
    match question.clock.coarse {
        None => music
            .entrances
            .get(entrance)
            .map_or(0, |entrance| entrance.lasts()),
        Some(_) => told.entrances.get(entrance).map_or(0, |(first, last)| {
            let measures = last.saturating_sub(*first).saturating_add(1);
            A_MEASURE.saturating_mul(Tenths::try_from(measures).unwrap_or(Tenths::MAX))
        }),
    }
}

/// The hands of a plan: what each seat has.
fn turn(question: &Question, plan: &Plan, who: &[usize], kinds: &mut Kinds) -> Turn {
    let seats = question.players.len();
    let mut hands: Vec<Hand> = vec![Hand::default(); seats];
    let mut parts: Vec<Vec<usize>> = vec![Vec::new(); seats];
    for play in &plan.plays {
        let (Some(hand), Some(part)) = (hands.get_mut(play.player), question.parts.get(play.part)) else {
            continue;
        };
        let weighed = lasts(question, play.part, play.entrance).saturating_mul(asks(part));
        hand.plays = hand.plays.saturating_add(weighed);
        let kind = kinds.number(kind(part));
        if !hand.kinds.contains(&kind) {
            hand.kinds.push(kind);
        }
        if let Some(parts) = parts.get_mut(play.player)
            && !parts.contains(&play.part)
        {
            parts.push(play.part);
        }
    }
    hands.iter_mut().for_each(|hand| hand.kinds.sort_unstable());
    let music = &question.music;
    let may = |seat: usize, player: &Player, hand: usize| {
        let has = parts.get(hand).map_or(&[][..], Vec::as_slice);
        let able = |part: &usize| {
            music
                .parts
                .get(*part)
                .is_some_and(|part| player.can.cover(part.needs) && part.given_to.is_none_or(|to| to == seat))
        };
        has.is_empty()
            || !player.absent && has.iter().all(able) && player.most.is_none_or(|most| has.len() <= most)
    };
    let players = question.players.iter().enumerate();
    let row = |(seat, player): (usize, &Player)| (0..seats).map(|hand| may(seat, player, hand)).collect();
    let near = |one: &Vec<usize>, other: &Vec<usize>| {
        one.iter()
            .any(|one| other.iter().any(|other| music.in_one_place(*one, *other)))
    };
    Turn {
        may: players.map(row).collect(),
        who: question
            .players
            .iter()
            .enumerate()
            .map(|(seat, player)| who.get(seat).copied().filter(|_| !player.absent))
            .collect(),
        near: match music.apart.is_empty() {
            true => Vec::new(),
            false => parts
                .iter()
                .map(|one| parts.iter().map(|other| near(one, other)).collect())
                .collect(),
        },
        apart: music.apart.clone(),
        hands,
    }
}

/// Gives each seat the plays of the hand it has now.
fn hand_out(plan: &mut Plan, given: &[usize]) {
    for play in &mut plan.plays {
        let holder = given.iter().position(|hand| *hand == play.player);
        play.player = holder.unwrap_or(play.player);
    }
}

fn told(turns: &[Turn], given: &[Vec<usize>], players: usize, kinds: &Kinds) -> Evening {
    let mut plays: Vec<Weighed> = vec![0; players];
    let mut hands: Vec<Vec<Option<&Hand>>> = vec![vec![None; turns.len()]; players];
    for (at, (turn, given)) in turns.iter().zip(given).enumerate() {
        for (who, hand) in turn.who.iter().zip(given) {
            let (Some(who), Some(hand)) = (*who, turn.hands.get(*hand)) else {
                continue;
            };
            if let Some(plays) = plays.get_mut(who) {
                *plays = plays.saturating_add(hand.plays);
            }
            if let Some(place) = hands.get_mut(who).and_then(|hands| hands.get_mut(at)) {
                *place = Some(hand);
            }
        }
    }
    let mut evening = Evening {
        plays: plays.into_iter().map(|plays| plays / 4).collect(),
        ..Evening::default()
    };
    for (player, hands) in hands.iter().enumerate() {
        let is_idle = |hand: &Option<&Hand>| hand.is_some_and(|hand| hand.kinds.is_empty());
        let idle = hands
            .windows(2)
            .enumerate()
            .filter(|(_, two)| two.iter().all(is_idle));
        evening.idle.extend(idle.map(|(at, _)| (player, at)));
        let played: Vec<&&Hand> = hands
            .iter()
            .flatten()
            .filter(|hand| !hand.kinds.is_empty())
            .collect();
        let [first, others @ ..] = played.as_slice() else {
            continue;
        };
        let same = first
            .kinds
            .iter()
            .find(|kind| others.iter().all(|hand| hand.kinds.contains(kind)));
        if let Some(name) = same
            .and_then(|kind| kinds.0.get(*kind))
            .filter(|_| others.len() > 1)
        {
            evening.always.push((player, name.clone()));
        }
    }
    evening
}
