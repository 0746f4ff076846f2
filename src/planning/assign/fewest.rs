//! The fewest players for a piece.

use super::collide::{Unit, collisions, units};
use super::least::{self, Least};
use super::limits::{Count, Limits};
use super::piece::choices;
use super::plan::{Play, plays};
use super::seats;
use super::why::{self, Place, Proof, Why};
use super::{Handing, Music, Player, Tenths};
use super::{apart, clique};

/// The most parts, or entrances where they are handed over, that one question may have.
const MOST_UNITS: usize = 1000;

/// The most entrances of all parts together.
const MOST_ENTRANCES: usize = 4000;

/// How many parts or entrances there are when they are more than can be looked at.
pub(super) fn too_many(music: &Music, hand_over: bool) -> Option<usize> {
    let parts = music.parts.len();
    let entrances = music.parts.iter().map(|part| part.entrances.len());
    let entrances = entrances.fold(0, usize::saturating_add);
    let pairs = music
        .mounted
        .len()
        .max(music.one_player.len())
        .max(music.instead.len());
    let most = parts.max(pairs).max(if hand_over { entrances } else { 0 });
    if most > MOST_UNITS {
        Some(most)
    } else {
        (entrances > MOST_ENTRANCES).then_some(entrances)
    }
}

/// What to count.
#[derive(Clone, Copy, Debug, Default)]
pub struct Fewest<'a> {
    /// Whether a part may change hands in its rests (where it does not stay).
    pub hand_over: bool,
    /// Whether spare parts are left out.
    pub without_spares: bool,
    /// The players there are; without them, as many as it takes who can do everything.
    pub players: Option<&'a [Player]>,
}

/// How many it takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// So many, seated like this.
    Players {
        /// The number found.
        players: usize,
        /// No fewer than this will do. Smaller than `players` only when a limit cut the search.
        at_least: usize,
        /// Who plays what in one seating with that number.
        plays: Vec<Play>,
        /// Why no fewer will do.
        proof: Proof,
    },
    /// These players cannot cover it.
    Cannot(Why),
    /// More parts or entrances than can be looked at, over a thousand.
    TooMany {
        /// How many there are.
        units: usize,
    },
}

/// The fewest players for a piece.
pub fn fewest(music: &Music, ask: Fewest, limits: Limits) -> Answer {
    match ask.players {
        Some(players) if apart::is_said(music, players) => kept_apart(music, players, ask, limits),
        _ => plain(music, ask, limits),
    }
}

/// The fewest of players some of whom are kept apart or have at most so many parts.
fn kept_apart(music: &Music, players: &[Player], ask: Fewest, limits: Limits) -> Answer {
    let mut steps = limits.steps;
    let mut cannot: Option<Answer> = None;
    let mut again = false;
    let mut put = |music: &Music| {
        let answer = plain(music, ask, Limits { steps, ..limits });
        // A search that comes back empty does not say how long it took; this bounds them together.
        steps = steps.saturating_sub(limits.steps / 64).max(limits.steps / 64);
        match answer {
            Answer::Players { .. } => Some(answer),
            _ => {
                let first = cannot.is_none() && !again;
                cannot = first.then_some(answer).or(cannot.take());
                None
            }
        }
        .inspect(|_| again = true)
    };
    let (found, proven) = apart::best(
        music,
        players,
        &mut apart::Asking {
            ask: &mut put,
            cost: &|answer| match answer {
                Answer::Players { players, .. } => {
                    let players = Tenths::try_from(*players).unwrap_or(Tenths::MAX);
                    [players, 0, 0, 0, 0, 0, 0, 0]
                }
                _ => [Tenths::MAX; 8],
            },
            plays: &|answer| match answer {
                Answer::Players { plays, .. } => plays,
                _ => &[],
            },
            proven: &|answer| match answer {
                Answer::Players {
                    players, at_least, ..
                } => players == at_least,
                _ => true,
            },
        },
    );
    match (found, proven) {
        (Ok(answer), true) => answer,
        (Ok(Answer::Players { players, plays, .. }), false) => Answer::Players {
            players,
            at_least: 1,
            plays,
            proof: Proof::CutShort,
        },
        (_, true) => match again {
            // Without such words they could.
            true => Answer::Cannot(Why::Tried {
                steps: limits.steps - steps,
            }),
            false => cannot.unwrap_or(Answer::Cannot(Why::CutShort)),
        },
        _ => Answer::Cannot(Why::CutShort),
    }
}

/// The fewest where nobody is kept apart.
fn plain(music: &Music, ask: Fewest, limits: Limits) -> Answer {
    let mut count = Count::new(limits);
    let several = music.instead.iter().any(|group| group.len() > 1);
    // The smallest set that collides all with all in any choice of alternatives.
    let mut smallest = usize::MAX;
    let mut best: Option<Answer> = None;
    let mut bound = usize::MAX;
    let mut reason = None;
    if let Some(units) = too_many(music, ask.hand_over) {
        return Answer::TooMany { units };
    }
    for played in choices(music) {
        let spared = |part: &usize| !ask.without_spares || !music.parts[*part].spare;
        let played: Vec<usize> = played.into_iter().filter(spared).collect();
        let units = split(music, &played, ask.hand_over);
        count.spend(to_compare(music));
        let answer = of_choice(music, &units, ask, &mut count);
        match &answer {
            Answer::Players {
                players,
                at_least,
                proof,
                ..
            } => {
                bound = bound.min(*at_least);
                smallest = smallest.min(match proof {
                    Proof::Collide(places) => places.len(),
                    _ => 0,
                });
                let fewer = !matches!(&best, Some(Answer::Players { players: best, .. }) if best <= players);
                if fewer {
                    best = Some(answer);
                }
            }
            Answer::Cannot(why) => reason = reason.or(Some(why.clone())),
            Answer::TooMany { .. } => {}
        }
        if count.cut {
            // What was not looked at may take fewer, but no fewer than what is always played.
            if several {
                bound = bound.min(floor_of_always_played(music, ask, limits));
            }
            break;
        }
    }
    match best {
        Some(Answer::Players {
            players,
            plays,
            proof,
            ..
        }) => Answer::Players {
            proof: match proof {
                _ if bound < players => Proof::CutShort,
                Proof::Collide(places) if smallest < players && !always_played(music, &places) => {
                    Proof::Tried { steps: count.steps }
                }
                proof => proof,
            },
            at_least: bound.min(players),
            players,
            plays,
        },
        _ if count.cut => Answer::Cannot(Why::CutShort),
        _ => Answer::Cannot(reason.unwrap_or(Why::Tried { steps: count.steps })),
    }
}

/// How many choices of alternatives are tried the quick way before all of them are looked through.
const TRIED_QUICKLY: usize = 4;

/// Whether the players that are asked about surely cannot cover a piece: what [`fewest`] says to that, without why
/// and without a seating. Where one entrance after another finds a player at once, as nearly always, nothing is
/// searched for.
pub fn surely_too_few(music: &Music, ask: Fewest, limits: Limits) -> bool {
    !sits_at_once(music, ask)
        && matches!(
            fewest(music, ask, limits),
            Answer::Cannot(Why::TooFew { .. } | Why::Tried { .. })
        )
}

/// Whether all that is played in some choice of alternatives finds players without any looking ahead.
fn sits_at_once(music: &Music, ask: Fewest) -> bool {
    let Some(players) = ask.players else { return true };
    if too_many(music, ask.hand_over).is_some() {
        return false;
    }
    let spared = |part: &usize| !ask.without_spares || !music.parts[*part].spare;
    choices(music).take(TRIED_QUICKLY).any(|played| {
        let played: Vec<usize> = played.into_iter().filter(spared).collect();
        let units = split(music, &played, ask.hand_over);
        let against = collisions(music, &units);
        let kinds = seats::kinds(&units, players);
        least::first_fit(&against, &kinds).is_some() || {
            let mut in_time: Vec<usize> = (0..units.len()).collect();
            in_time.sort_by_key(|&at| units[at].plays.first().map(|play| play.2));
            least::seated_in_order(&in_time, &against, &kinds).is_some()
        }
    })
}

/// What it takes to compare all entrances, in steps.
pub(super) fn to_compare(music: &Music) -> u64 {
    let entrances: usize = music.parts.iter().map(|part| part.entrances.len()).sum();
    1 + (entrances as u64 / 32).pow(2)
}

/// No fewer players than this whatever alternatives are chosen; looked for only a little.
fn floor_of_always_played(music: &Music, ask: Fewest, limits: Limits) -> usize {
    const A_LITTLE: u64 = 5_000;
    let spared = |part: usize| ask.without_spares && music.parts[part].spare;
    let parts = 0..music.parts.len();
    let always: Vec<usize> = parts
        .filter(|&part| !spared(part) && always_played(music, &[(part, None)]))
        .collect();
    let units = split(music, &always, ask.hand_over);
    let mut count = Count::new(Limits {
        steps: A_LITTLE,
        ..limits
    });
    clique::largest(&collisions(music, &units), &mut count)
        .len()
        .max(1)
}

/// Whether all these parts are played whatever alternatives are chosen.
fn always_played(music: &Music, places: &[Place]) -> bool {
    let may_go = |part: usize| music.instead.iter().flatten().any(|set| set.contains(&part));
    places.iter().all(|place| !may_go(place.0))
}

/// The units of the parts played, whole or entrance by entrance.
pub(super) fn split(music: &Music, played: &[usize], hand_over: bool) -> Vec<Unit> {
    let passes = |part: usize| hand_over && music.parts[part].handing == Handing::MayPass;
    units(music, played, &passes)
}

fn of_choice(music: &Music, units: &[Unit], ask: Fewest, count: &mut Count) -> Answer {
    let against = collisions(music, units);
    let kinds = match ask.players {
        None => seats::anybody(units.len()),
        Some(players) => {
            if let Some(part) = why::nobody(music, units, players) {
                return Answer::Cannot(Why::Nobody(part));
            }
            seats::kinds(units, players)
        }
    };
    let clique = clique::largest(&against, count);
    let places = |set: &[usize]| -> Vec<Place> {
        set.iter()
            .map(|&at| why::place(&units[at], ask.hand_over))
            .collect()
    };
    let demands = match ask.players {
        Some(_) => why::demands(&against, &kinds, count),
        None => Vec::new(),
    };
    if let Some((set, able)) = why::too_few(&demands, &kinds) {
        return Answer::Cannot(Why::TooFew {
            places: places(&set),
            able,
        });
    }
    let cut_before = count.cut;
    let ask = Least {
        units,
        against: &against,
        kinds: &kinds,
        demands: &demands,
    };
    let (players, at_least, seated) = match ask.search(clique.len(), count) {
        Some(found) => found,
        None if count.cut => {
            let Some(seated) = least::first_fit(&against, &kinds) else {
                return Answer::Cannot(Why::CutShort);
            };
            (least::used(&seated), clique.len(), seated)
        }
        None => return Answer::Cannot(Why::Tried { steps: count.steps }),
    };
    let proof = if players == clique.len() && !cut_before {
        Proof::Collide(places(&clique))
    } else if at_least == players {
        Proof::Tried { steps: count.steps }
    } else {
        Proof::CutShort
    };
    Answer::Players {
        players,
        at_least,
        plays: plays(units, &seated),
        proof,
    }
}

/// The most that sounds at once, counting the times needed to change: no piece takes fewer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Floor {
    /// At least so many players.
    pub players: usize,
    /// The entrances of which no player can play two, as part and place in the part.
    pub entrances: Vec<Place>,
    /// From when to when they come.
    pub from_to: Option<(Tenths, Tenths)>,
    /// Whether there is no larger such set (a limit may have cut the search).
    pub largest: bool,
}

/// The floor for the given parts, played whole or not.
pub fn floor(music: &Music, played: &[usize], limits: Limits) -> Floor {
    let mut count = Count::new(limits);
    let played: Vec<usize> = played
        .iter()
        .copied()
        .filter(|&part| part < music.parts.len())
        .collect();
    let mut units = units(music, &played, &|_| true);
    let fits = units.len() <= MOST_UNITS && too_many(music, false).is_none();
    units.truncate(if fits { MOST_UNITS } else { MOST_UNITS / 4 });
    let set = clique::largest(&collisions(music, &units), &mut count);
    let times = || {
        set.iter()
            .flat_map(|&at| units[at].plays.iter().map(|play| play.2))
    };
    let from = times().map(|entrance| entrance.start()).min();
    let to = times().map(|entrance| entrance.end()).max();
    Floor {
        players: set.len(),
        entrances: set.iter().map(|&at| why::place(&units[at], true)).collect(),
        from_to: from.zip(to),
        largest: fits && !count.cut,
    }
}
