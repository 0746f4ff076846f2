//! The question: parts with their entrances, and the players there are.

use super::Changes;

/// A time or a stretch of time in tenths of a second.
pub type Tenths = i64;

/// A stretch in which a part plays, in tenths of a second from the start of the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Entrance {
    start: Tenths,
    end: Tenths,
}

impl Entrance {
    /// From `start` to `end`; lasts a tenth at least.
    pub fn new(start: Tenths, end: Tenths) -> Self {
        Entrance {
            start,
            end: end.max(start.saturating_add(1)),
        }
    }

    /// When it begins.
    pub fn start(self) -> Tenths {
        self.start
    }

    /// When it is over.
    pub fn end(self) -> Tenths {
        self.end
    }

    /// How long it plays.
    pub fn lasts(self) -> Tenths {
        self.end.saturating_sub(self.start)
    }
}

/// Up to 64 abilities, as the caller numbers them: a part needs some, a player has some.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Abilities(pub u64);

impl Abilities {
    /// None needed, or none had.
    pub const NONE: Abilities = Abilities(0);

    /// Those with the given numbers; a number above 63 is one that nobody has, kept as the last.
    pub fn of(numbers: &[u32]) -> Self {
        Abilities(numbers.iter().fold(0, |all, &at| all | 1 << at.min(63)))
    }

    /// Whether all that `needed` names is here.
    pub fn cover(self, needed: Abilities) -> bool {
        needed.0 & !self.0 == 0
    }
}

/// Whether a part stays with one player.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Handing {
    /// Its instrument may be handed over in its rests, entrance by entrance.
    #[default]
    MayPass,
    /// All its entrances go to one player.
    Stays,
}

/// One percussion part: one instrument through the piece.
#[derive(Clone, Debug, Default)]
pub struct Part {
    /// The station at which it is played, a row of [`Changes`].
    pub station: usize,
    /// The sticks or mallets it takes; equal numbers are the same sticks, at whatever station.
    pub sticks: usize,
    /// The sticks at the beginning and at the end of each entrance, where they change within the part; an entrance
    /// that is missing here is played with [`Part::sticks`].
    pub held: Vec<(usize, usize)>,
    /// What its player must be able to do.
    pub needs: Abilities,
    /// When it plays, in any order.
    pub entrances: Vec<Entrance>,
    /// How long its player has to be there before each entrance, as to retune a drum; a missing figure is 0.
    pub ready: Vec<Tenths>,
    /// Whether it may be left out (optional, or the same as what another plays).
    pub spare: bool,
    /// Whether it may change hands where handing over is asked about.
    pub handing: Handing,
    /// The player, by number, whom the director has already given it to.
    pub given_to: Option<usize>,
    /// Players, by number, who may not have it.
    pub not_for: Vec<usize>,
}

impl Part {
    /// The sticks with which an entrance begins and those with which it ends.
    pub fn sticks_in(&self, entrance: usize) -> (usize, usize) {
        self.held
            .get(entrance)
            .copied()
            .unwrap_or((self.sticks, self.sticks))
    }

    /// How long its player has to be there before an entrance, coming from elsewhere.
    pub fn ready_before(&self, entrance: usize) -> Tenths {
        self.ready.get(entrance).map_or(0, |time| *time.max(&0))
    }

    /// How long it plays in all.
    pub fn plays(&self) -> Tenths {
        let lasts = self.entrances.iter().map(|entrance| entrance.lasts());
        lasts.fold(0, Tenths::saturating_add)
    }
}

/// The percussion of a piece.
#[derive(Clone, Debug, Default)]
pub struct Music {
    /// Its parts; all other fields call a part by its place here.
    pub parts: Vec<Part>,
    /// Times between stations.
    pub changes: Changes,
    /// Pairs of parts set up so that one player plays both, even at once.
    pub mounted: Vec<(usize, usize)>,
    /// Groups of parts that one player must play.
    pub one_player: Vec<Vec<usize>>,
    /// Alternatives: of each group one set of parts is played and the others are not, the preferred one
    /// first. A part is played only where every group that names it plays it.
    pub instead: Vec<Vec<Vec<usize>>>,
    /// Pairs of players who never share a station: neither the same part, nor two parts at one station, nor two that
    /// are mounted together. Only [`super::assign`] and [`super::fewest`] know of them.
    pub apart: Vec<(usize, usize)>,
    /// The least rest in which a part goes from one player to another: entrances that follow each other sooner stay
    /// with one player.
    pub handing_rest: Tenths,
}

impl Music {
    /// Whether two parts are in one place: at one station, or mounted together. Of three parts the first may be
    /// mounted with the second, and the second with the third, without the first being near the third.
    pub fn in_one_place(&self, one: usize, other: usize) -> bool {
        let station = |part: usize| self.parts.get(part).map(|part| part.station);
        one == other
            || station(one) == station(other)
            || self.mounted.contains(&(one, other))
            || self.mounted.contains(&(other, one))
    }
}

/// A percussionist.
#[derive(Clone, Debug, Default)]
pub struct Player {
    /// What this player can do.
    pub can: Abilities,
    /// Not there today: plays nothing.
    pub absent: bool,
    /// For every station, how often this player has had it before; a missing figure is 0.
    pub had: Vec<u32>,
    /// The most parts this player may have; none for as many as come. Only [`super::assign`] and [`super::fewest`]
    /// know of it.
    pub most: Option<usize>,
}

/// Every way to settle the alternatives: which parts are played, the preferred ways first.
pub fn choices(music: &Music) -> impl Iterator<Item = Vec<usize>> + '_ {
    let groups: Vec<&Vec<Vec<usize>>> = music.instead.iter().filter(|group| group.len() > 1).collect();
    let mut wheel: Option<Vec<usize>> = Some(vec![0; groups.len()]);
    std::iter::from_fn(move || {
        let at = wheel.clone()?;
        let mut played = vec![true; music.parts.len()];
        for (group, &kept) in groups.iter().zip(&at) {
            let others = group.iter().enumerate().filter(|(place, _)| *place != kept);
            for &part in others.flat_map(|(_, set)| set) {
                if let Some(plays) = played.get_mut(part) {
                    *plays = false;
                }
            }
        }
        let turned = (0..groups.len())
            .rev()
            .find(|&turn| at[turn] + 1 < groups[turn].len());
        wheel = turned.map(|turn| {
            let mut next = at;
            next[turn] += 1;
            next[turn + 1..].fill(0);
            next
        });
        Some((0..played.len()).filter(|&part| played[part]).collect())
    })
}
