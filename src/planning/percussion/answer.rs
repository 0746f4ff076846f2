//! The answers: how many it takes and why, and who plays what.

use crate::music::Instruments;
use crate::planning::assign::{
    self, Answer as Found, Changes, Fewest, Limits, Music, Place, Plan, Proof, Why, choices, fewest, floor,
};

use super::ask::Question;
use super::clock::Sounding;
use super::told::{Move, Turn, moves, turns};

/// How many players it takes, and why no fewer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// The number; none where it cannot be done.
    pub players: Option<usize>,
    /// No fewer than this will do; smaller than `players` only when the search was cut short.
    pub at_least: usize,
    /// Why, in words that stand after "because"; nothing where nothing has to be said.
    pub because: Because,
    /// Whether nothing was left untried.
    pub proven: bool,
}

/// Why it takes so many, or why it cannot be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Because {
    /// There is nothing to play.
    Nothing,
    /// These sound at once, from the first to the second measure.
    AtOnce(Vec<usize>, Sounding, Sounding),
    /// These come too close for one player to have two of them.
    TooClose(Vec<usize>),
    /// Every other way was tried.
    Tried,
    /// It was not looked at to the end.
    CutShort,
    /// Nobody who is there can play this part.
    Nobody(usize),
    /// Of these nobody can play two, and only these players can play any of them.
    TooFew(Vec<usize>, Option<(Sounding, Sounding)>, Vec<usize>),
}

/// A part that is not played.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Left {
    /// The part.
    pub part: usize,
    /// Whether the music needs it.
    pub vital: bool,
    /// Whether nobody who is there can play it.
    pub nobody: bool,
}

/// Who plays what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sharing {
    /// Each player's turns, by seat.
    pub turns: Vec<Vec<Turn>>,
    /// The moves between them.
    pub moves: Vec<Move>,
    /// Parts that are not played.
    pub left: Vec<Left>,
    /// Why not all can be played.
    pub because: Option<Because>,
    /// Parts that another is played in place of.
    pub instead: Vec<usize>,
    /// Parts that change hands.
    pub handed_over: Vec<usize>,
    /// Whether nothing better exists; false when the search was cut short.
    pub proven: bool,
}

/// All that is found out about a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// The most that sound at once, changes not counted.
    pub at_once: Count,
    /// The fewest players for all parts, each part staying with one player.
    pub all: Count,
    /// The fewest when what may be spared is left out.
    pub without_spares: Count,
    /// The fewest when parts may be handed over between entrances.
    pub handing_over: Count,
    /// The fewest of the players there are.
    pub of_these: Option<Count>,
    /// The fewest of them when parts may be handed over.
    pub of_these_handing_over: Option<Count>,
    /// Who plays what; none where nobody is known.
    pub sharing: Option<Sharing>,
}

impl Answer {
    /// Whether every part that the music needs has a player.
    pub fn covers(&self, question: &Question) -> bool {
        let given = self
            .sharing
            .as_ref()
            .is_some_and(|sharing| sharing.left.iter().all(|left| !left.vital));
        let needed = question.no_time.iter().any(|part| part.spare.is_none()) || question.cut;
        (given || question.parts.is_empty()) && !needed
    }
}

/// What stands beside a card: the count of all parts, and who plays what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Brief {
    /// The fewest players for all parts, each part staying with one player.
    pub all: Count,
    /// Who plays what; none where nobody is known.
    pub sharing: Option<Sharing>,
}

/// Finds out only that, which is much less work.
pub fn brief(question: &Question, instruments: &Instruments, limits: Limits<'_>) -> Brief {
    brief_with(
        question,
        plan(question, false, limits).as_ref(),
        instruments,
        limits,
    )
}

/// Finds it out beside a plan.
pub(super) fn brief_with(
    question: &Question,
    plan: Option<&Plan>,
    instruments: &Instruments,
    limits: Limits<'_>,
) -> Brief {
    Brief {
        all: fewest_of(question, limits),
        sharing: plan.map(|plan| sharing(question, plan, instruments)),
    }
}

/// The fewest players for all parts, each part staying with one player.
pub fn fewest_of(question: &Question, limits: Limits<'_>) -> Count {
    counted(question, fewest(&question.music, Fewest::default(), limits))
}

/// Finds it all out.
pub fn answer(question: &Question, instruments: &Instruments, hand_over: bool, limits: Limits<'_>) -> Answer {
    let plan = plan(question, hand_over, limits);
    answer_with(question, plan.as_ref(), instruments, limits)
}

/// Shares the piece out; none where nobody is known.
pub(super) fn plan(question: &Question, hand_over: bool, limits: Limits<'_>) -> Option<Plan> {
    let there = question.knows_players.then_some(question.players.as_slice())?;
    Some(assign::assign(&question.music, there, hand_over, limits))
}

/// Finds out the rest beside a plan.
pub(super) fn answer_with(
    question: &Question,
    plan: Option<&Plan>,
    instruments: &Instruments,
    limits: Limits<'_>,
) -> Answer {
    let music = &question.music;
    let count = |ask: Fewest<'_>| counted(question, fewest(music, ask, limits));
    let there = question.knows_players.then_some(question.players.as_slice());
    let of_these = |hand_over| {
        there.map(|players| {
            count(Fewest {
                hand_over,
                players: Some(players),
                ..Fewest::default()
            })
        })
    };
    Answer {
        at_once: at_once(question, limits),
        all: count(Fewest::default()),
        without_spares: count(Fewest {
            without_spares: true,
            ..Fewest::default()
        }),
        handing_over: count(Fewest {
            hand_over: true,
            ..Fewest::default()
        }),
        of_these: of_these(false),
        of_these_handing_over: of_these(true),
        sharing: plan.map(|plan| sharing(question, plan, instruments)),
    }
}

/// The most that sound at once: the floor with all changes free.
fn at_once(question: &Question, limits: Limits<'_>) -> Count {
    let music = Music {
        changes: Changes::default(),
        ..question.music.clone()
    };
    let played = choices(&music).next().unwrap_or_default();
    let found = floor(&music, &played, limits);
    Count {
        players: Some(found.players),
        at_least: found.players,
        because: because(question, &found.entrances),
        proven: found.largest,
    }
}

fn counted(question: &Question, found: Found) -> Count {
    match found {
        Found::Players { players: 0, .. } => Count {
            players: Some(0),
            at_least: 0,
            because: Because::Nothing,
            proven: true,
        },
        Found::Players {
            players,
            at_least,
            proof,
            ..
        } => Count {
            players: Some(players),
            at_least,
            proven: at_least == players,
            because: match proof {
                Proof::Collide(places) => because(question, &places),
                Proof::Tried { .. } => Because::Tried,
                Proof::CutShort => Because::CutShort,
            },
        },
        Found::Cannot(why) => Count {
            players: None,
            at_least: 0,
            because: cannot(question, &why),
            proven: !matches!(why, Why::CutShort | Why::TooMany { .. }),
        },
        Found::TooMany { .. } => Count {
            players: None,
            at_least: 0,
            because: Because::CutShort,
            proven: false,
        },
    }
}

fn cannot(question: &Question, why: &Why) -> Because {
    match why {
        Why::Nobody(part) => Because::Nobody(*part),
        Why::TooFew { places, able } => match because(question, places) {
            Because::AtOnce(parts, first, last) => Because::TooFew(parts, Some((first, last)), able.clone()),
            Because::TooClose(parts) => Because::TooFew(parts, None, able.clone()),
            other => other,
        },
        Why::Tried { .. } => Because::Tried,
        Why::CutShort | Why::TooMany { .. } => Because::CutShort,
    }
}

/// What collides: at one moment where there is one, else too close together.
fn because(question: &Question, places: &[Place]) -> Because {
    let mut parts: Vec<usize> = places.iter().map(|place| place.0).collect();
    parts.sort_unstable();
    parts.dedup();
    if parts.is_empty() {
        return Because::Nothing;
    }
    // Where one part may be played in place of another, the place told is one that holds for both.
    let groups = question.music.instead.iter();
    let groups = groups.filter(|group| group.iter().flatten().any(|part| parts.contains(part)));
    let others: Vec<Place> = groups
        .flatten()
        .flatten()
        .filter(|part| !parts.contains(part))
        .map(|part| (*part, None))
        .collect();
    let whichever: Vec<Place> = places.iter().copied().chain(others).collect();
    match together(question, &whichever).or_else(|| together(question, places)) {
        Some((first, last)) => Because::AtOnce(parts, first, last),
        None => Because::TooClose(parts),
    }
}

/// The first stretch in which all these sound.
fn together(question: &Question, places: &[Place]) -> Option<(Sounding, Sounding)> {
    let spans = |&(part, entrance): &Place| -> Vec<(usize, usize)> {
        let all = question.parts.get(part).map_or(&[][..], |part| &part.entrances);
        match entrance {
            Some(at) => all.get(at).into_iter().copied().collect(),
            None => all.to_vec(),
        }
    };
    let (first, rest) = places.split_first()?;
    let mut common = spans(first);
    for place in rest {
        let others = spans(place);
        let mut both = Vec::new();
        for one in &common {
            for other in &others {
                let (from, to) = (one.0.max(other.0), one.1.min(other.1));
                if from <= to {
                    both.push((from, to));
                }
            }
        }
        common = both;
    }
    let (from, to) = common.into_iter().min()?;
    let measure = |at: usize| question.clock.measures.get(at).copied();
    Some((measure(from)?, measure(to)?))
}

fn sharing(question: &Question, plan: &Plan, instruments: &Instruments) -> Sharing {
    let out = &plan.left_out;
    let nobody = |part: usize| {
        let needs = question.music.parts.get(part).map(|part| part.needs);
        let can = |needs| {
            question
                .players
                .iter()
                .any(|who| !who.absent && who.can.cover(needs))
        };
        needs.is_some_and(|needs| !can(needs))
    };
    let left = |vital: bool| {
        move |&part: &usize| Left {
            part,
            vital,
            nobody: nobody(part),
        }
    };
    Sharing {
        turns: turns(question, plan),
        moves: moves(question, plan, instruments),
        left: out
            .vital
            .iter()
            .map(left(true))
            .chain(out.spare.iter().map(left(false)))
            .collect(),
        because: out.why.as_ref().map(|why| cannot(question, why)),
        instead: out.instead.clone(),
        handed_over: plan.handed_over.clone(),
        proven: plan.proven || (plan.plays.is_empty() && out.proven),
    }
}
