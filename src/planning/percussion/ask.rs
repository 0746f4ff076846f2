//! A piece as the question who plays what: its parts with the times they sound, and the players.

use std::collections::BTreeMap;

use crate::catalogue::course;
use crate::catalogue::model::{Ensemble, Handbook, Piece, Plays};
use crate::catalogue::percussion::{self, Spare, When};
use crate::music::instruments::key;
use crate::music::{Family, Instruments};
use crate::notation::row::Fact;
use crate::notation::values::{Able, Stretch};
use crate::planning::assign::{Abilities, Changes, Entrance, Music, Part, Player, Tenths};

use super::change::{ChangeTimes, Station};
use super::clock::{Clock, Pace};
use super::part_told::PartTold;
use super::pins::{Decided, Pins, Whose};
use super::skill::{Players, instrument_of};

/// The most parts that are looked at; no piece has so many.
const MOST_PARTS: usize = 400;
/// The most players that are looked at; no band has so many percussionists.
const MOST_PLAYERS: u32 = 60;

/// A percussionist.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seat {
    /// The seat or initials; `Player 1` where the band only counts its percussionists.
    pub name: String,
    /// What this player plays.
    pub can: Plays,
    /// Whether this player is not there.
    pub absent: bool,
}

/// The percussionists of bands that play together; none where no card says how many there are.
pub fn seats(bands: &[&Ensemble]) -> Option<Vec<Seat>> {
    let mut seats = Vec::new();
    let mut known = false;
    for band in bands {
        let Some(players) = band.percussion_players() else {
            continue;
        };
        known = true;
        let before = seats.len();
        seats.extend(band.percussionists.iter().map(|player| Seat {
            name: player.seat.clone(),
            can: player.can.clone(),
            absent: false,
        }));
        if seats.len() == before {
            seats.extend((1..=players.min(MOST_PLAYERS)).map(|number| Seat {
                name: format!("Player {}", before.saturating_add(number as usize)),
                can: Plays::default(),
                absent: false,
            }));
        }
    }
    seats.truncate(MOST_PLAYERS as usize);
    known.then_some(seats)
}

/// What is asked about.
pub struct Asked<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// The movements that are played, by number; empty for all.
    pub movements: &'a [u32],
    /// The players; none where they are not known.
    pub seats: Option<&'a [Seat]>,
    /// The handbook.
    pub handbook: Option<&'a Handbook>,
    /// The instruments of the catalogue.
    pub instruments: &'a Instruments,
    /// Who can play what.
    pub who: Players<'a>,
    /// What the director decided beforehand.
    pub pins: Pins<'a>,
    /// Which end of a tempo is taken.
    pub pace: Pace,
    /// Whether figures from memory fill in where the handbook gives no time.
    pub memory: bool,
}

impl Asked<'_> {
    /// The movement's number and the place among the piece's courses of those measures; none where the movement
    /// is not played.
    fn course_of(&self, group: &percussion::Course) -> Option<(Option<u32>, usize)> {
        let Some(index) = group.movement else {
            return Some((None, 0));
        };
        let number = self.piece.movements.get(index)?.number;
        let played = self.movements.is_empty() || self.movements.contains(&number);
        played.then_some((Some(number), index.saturating_add(1)))
    }
}

/// The director's words about a piece, or some of them.
#[derive(Debug, Clone, Default)]
pub(super) struct DirectorsWords {
    /// About each part.
    pub(super) decided: Vec<Decided>,
    /// Who plays nothing.
    pub(super) out: Vec<(usize, Whose)>,
    /// Who is kept apart.
    pub(super) apart: Vec<((usize, usize), Whose)>,
    /// Who has at most so many parts.
    pub(super) most: Vec<(usize, u32, Whose)>,
}

/// A piece ready to be shared out.
#[derive(Debug, Clone)]
pub struct Question {
    /// For the solver; its parts are those told, in the same order.
    pub music: Music,
    /// The parts that have a time.
    pub parts: Vec<PartTold>,
    /// The parts of which the card does not say when they sound, or not for certain.
    pub no_time: Vec<PartTold>,
    /// The players, for the solver; empty where nobody is known.
    pub players: Vec<Player>,
    /// The seats of those players.
    pub seats: Vec<Seat>,
    /// Whether it is known who there is.
    pub knows_players: bool,
    /// When the measures sound.
    pub clock: Clock,
    /// Whether all parts are taken as sounding throughout, since the card tells no measures at all.
    pub all_at_once: bool,
    /// How long changes take.
    pub times: ChangeTimes,
    /// Whether more parts stand on the card than can be looked at.
    pub cut: bool,
    /// The stations as the solver numbers them.
    pub stations: Vec<Station>,
    /// For every part, which of the players can play it by the roster.
    can: Vec<Vec<bool>>,
    /// What the director decided about each of the parts.
    pub decided: Vec<Decided>,
    /// Who plays nothing because the director decided so, and where.
    pub out: Vec<(usize, Whose)>,
    /// Pairs of players, by seat, who are never at one instrument.
    pub apart: Vec<((usize, usize), Whose)>,
    /// The most parts that players may have, by seat.
    pub most: Vec<(usize, u32, Whose)>,
    /// The most pieces of the concert that players may play in, by seat.
    pub most_pieces: Vec<(usize, u32, Whose)>,
}

impl Question {
    /// Puts the question together.
    pub fn of(asked: &Asked<'_>) -> Question {
        let courses = course::Course::all(asked.piece);
        let groups = percussion::courses(asked.piece, asked.instruments, &[]);
        Question::put(asked, &courses, &groups, None)
    }

    /// Puts the question together where every part has its seconds; none where it takes no seconds to see that
    /// there is no question. The courses and the percussion are those of the piece, without the handbook's groups.
    pub fn timed(
        asked: &Asked<'_>,
        courses: &[course::Course<'_>],
        groups: &[percussion::Course],
    ) -> Option<Question> {
        let seats = asked.seats?;
        let played = groups.iter().filter(|group| asked.course_of(group).is_some());
        let needed = played
            .flat_map(|group| &group.parts)
            .filter(|part| part.spare.is_none());
        let players = needed.clone().map(|part| part.players as usize).sum::<usize>();
        let anything = seats
            .iter()
            .all(|seat| seat.can == Plays::default() && !seat.absent);
        // Where each part has a player of its own, and everybody plays everything, nobody has to walk.
        let free = asked.pins.is_empty() && needed.clone().all(|part| part.assigned.is_empty());
        let enough = anything && free && players <= seats.len() && !needed.clone().any(|part| part.strong);
        let tells = |group: &percussion::Course| group.parts.iter().any(|part| part.when != When::Unknown);
        if enough || !groups.iter().any(tells) {
            return None;
        }
        let mut clock = Clock::default();
        let mut at = 0;
        for group in groups {
            let Some(course) = asked.course_of(group).and_then(|(_, index)| courses.get(index)) else {
                continue;
            };
            clock.add(at, course, (reach(group, false), reach(group, true)), asked.pace);
            at += 1;
        }
        clock
            .coarse
            .is_none()
            .then(|| Question::put(asked, courses, groups, Some(clock)))
    }

    /// Puts the question; with the clock of the courses where it is known already.
    fn put(
        asked: &Asked<'_>,
        courses: &[course::Course<'_>],
        groups: &[percussion::Course],
        known: Option<Clock>,
    ) -> Question {
        let mut told = Vec::new();
        let is_known = known.is_some();
        let mut clock = known.unwrap_or_default();
        let mut at = 0;
        for group in groups {
            let Some((number, index)) = asked.course_of(group) else {
                continue;
            };
            let Some(course) = courses.get(index) else {
                continue;
            };
            if !is_known {
                clock.add(at, course, (reach(group, false), reach(group, true)), asked.pace);
            }
            // For every part of the course, where its copies stand among all.
            let mut copies_of: Vec<Vec<usize>> = Vec::new();
            for part in &group.parts {
                let mut places = Vec::new();
                let copies = part.players.min(MOST_PLAYERS);
                for copy in 1..=copies {
                    let mut one = part_told(asked, part, number);
                    if copies > 1 {
                        one.name = format!("{} ({copy} of {copies})", one.name);
                    }
                    places.push(told.len());
                    told.push((at, one));
                    if told.len() > MOST_PARTS {
                        break;
                    }
                }
                copies_of.push(places);
            }
            // The first copy takes the place of the first, the second that of the second.
            for (part, places) in group.parts.iter().zip(&copies_of) {
                for originals in part.instead_of.iter().filter_map(|at| copies_of.get(*at)) {
                    for (copy, place) in places.iter().enumerate() {
                        let original = originals.get(copy).or(originals.last());
                        if let (Some((_, one)), Some(original)) = (told.get_mut(*place), original) {
                            one.instead_of.push(*original);
                        }
                    }
                }
            }
            at += 1;
        }
        let cut = told.len() > MOST_PARTS;
        told.truncate(MOST_PARTS);
        let all_at_once = told.iter().all(|(_, part)| !part.timed);
        let mut question = Question {
            music: Music::default(),
            parts: Vec::new(),
            no_time: Vec::new(),
            players: Vec::new(),
            seats: asked.seats.map(<[Seat]>::to_vec).unwrap_or_default(),
            knows_players: asked.seats.is_some(),
            clock,
            all_at_once: all_at_once && !told.is_empty(),
            times: times(asked),
            cut,
            stations: Vec::new(),
            can: Vec::new(),
            decided: Vec::new(),
            out: asked.pins.out(asked.seats.unwrap_or(&[])),
            apart: asked.pins.apart(asked.seats.unwrap_or(&[])),
            most: asked.pins.most_parts(asked.seats.unwrap_or(&[])),
            most_pieces: asked.pins.most_pieces(asked.seats.unwrap_or(&[])),
        };
        for (at, _) in &question.out {
            if let Some(seat) = question.seats.get_mut(*at) {
                seat.absent = true;
            }
        }
        question.place(told);
        question.ask(asked);
        question
    }

    /// Gives the parts their entrances, and takes out those that have none.
    fn place(&mut self, told: Vec<(usize, PartTold)>) {
        let mut new_place = vec![None; told.len()];
        for (at, (course, mut part)) in told.into_iter().enumerate() {
            if self.all_at_once {
                part.entrances = vec![(0, 0)];
            } else {
                part.entrances = entrances(&self.clock, course, &part);
            }
            if part.entrances.is_empty() {
                // A part that is silent throughout needs nobody; measures that the piece does not have are a
                // slip that must not pass for silence.
                if !part.timed || !part.stretches.is_empty() {
                    self.no_time.push(part);
                }
            } else {
                if let Some(place) = new_place.get_mut(at) {
                    *place = Some(self.parts.len());
                }
                self.parts.push(part);
            }
        }
        for part in &mut self.parts {
            let places = part.instead_of.iter();
            part.instead_of = places
                .filter_map(|at| new_place.get(*at).copied().flatten())
                .collect();
        }
    }

    /// Asks the solver's question.
    fn ask(&mut self, asked: &Asked<'_>) {
        let mut stations: Vec<Station> = Vec::new();
        let mut sticks: Vec<&str> = Vec::new();
        let mut parts = Vec::new();
        let seconds = self.clock.coarse.is_none() && !self.all_at_once;
        let decided = self.parts.iter();
        self.decided = decided
            .map(|part| asked.pins.about(part, &self.seats, asked.who))
            .collect();
        self.can = self.able(asked.who);
        let (needs, abilities) = self.abilities(None);
        for (part, needs) in self.parts.iter().zip(needs) {
            let station = place_of(&mut stations, &part.station);
            let mut numbered = |words| {
                let known = sticks.iter().position(|known| *known == words);
                known.unwrap_or_else(|| {
                    sticks.push(words);
                    sticks.len() - 1
                })
            };
            let whole = numbered(part.sticks.as_deref().unwrap_or(""));
            let mut held = Vec::new();
            if !part.sticks_in.is_empty() {
                let measure = |at: usize| self.clock.measures.get(at).map_or(0, |sounding| sounding.measure);
                held.extend(part.entrances.iter().map(|(first, last)| {
                    let ends = (part.held_in(measure(*first)), part.held_in(measure(*last)));
                    (numbered(ends.0), numbered(ends.1))
                }));
            }
            let mut ready = Vec::new();
            if !part.retunes.is_empty() && seconds {
                let measure = |at: usize| self.clock.measures.get(at).map_or(0, |sounding| sounding.measure);
                ready.extend(part.entrances.iter().enumerate().map(|(nth, (first, _))| {
                    let before = nth.checked_sub(1).and_then(|before| part.entrances.get(before));
                    let before = before.map_or(0, |(_, last)| measure(*last));
                    let within = |at: u32| before < at && at <= measure(*first);
                    let drums = part.retunes.iter().filter(|(at, _)| within(*at));
                    self.times.retuning(drums.map(|(_, drums)| drums).sum())
                }));
            }
            parts.push(Part {
                ready,
                station,
                sticks: whole,
                held,
                needs,
                entrances: part.entrances.iter().map(|span| self.entrance(*span)).collect(),
                spare: part.spare.is_some(),
                ..Part::default()
            });
        }
        // Where seconds are not known, only what sounds at once counts.
        let [walks, otherwise] = match seconds {
            true => self.times.walks(&stations, asked.instruments),
            false => [Vec::new(), Vec::new()],
        };
        self.music = Music {
            // Sticks lie where they are used, so others are taken up within the time for the way; only at one and the
            // same instrument is a change of them a change by itself.
            changes: Changes::new(walks, if seconds { self.times.sticks() } else { 0 })
                .with_other_sticks(otherwise),
            mounted: self.mounted(asked),
            one_player: self.shared(),
            instead: self.instead(),
            apart: self.apart.iter().map(|(pair, _)| *pair).collect(),
            handing_rest: if seconds { self.times.handing_over() } else { 0 },
            parts,
        };
        self.stations = stations;
        self.players = self
            .seats
            .iter()
            .zip(abilities)
            .enumerate()
            .map(|(at, (seat, can))| Player {
                can,
                absent: seat.absent,
                had: Vec::new(),
                most: self.most_of(at),
            })
            .collect();
    }

    /// The most parts that a player may have.
    fn most_of(&self, seat: usize) -> Option<usize> {
        let said = self.most.iter().find(|(at, ..)| *at == seat);
        said.and_then(|(_, most, _)| usize::try_from(*most).ok())
    }

    /// Who is out by the director's word besides; the question is asked as if the seat were away.
    pub(super) fn leave_out(&mut self, seat: usize) {
        if let Some(player) = self.players.get_mut(seat) {
            player.absent = true;
        }
        if let Some(seat) = self.seats.get_mut(seat) {
            seat.absent = true;
        }
    }

    /// The music and the players with only some of the director's words: what is decided about each part, who is out,
    /// who is kept apart, and who has at most so much.
    pub(super) fn with_only(&self, words: &DirectorsWords) -> (Music, Vec<Player>) {
        let mut question = self.clone();
        question.decided.clone_from(&words.decided);
        let (needs, abilities) = question.abilities(None);
        let mut music = question.music;
        for (part, needs) in music.parts.iter_mut().zip(needs) {
            part.needs = needs;
        }
        music.apart = words.apart.iter().map(|(pair, _)| *pair).collect();
        let mut players = question.players;
        for (at, (player, can)) in players.iter_mut().zip(abilities).enumerate() {
            let was_out = self.out.iter().any(|(out, _)| *out == at);
            let is_out = words.out.iter().any(|(out, _)| *out == at);
            player.can = can;
            player.absent = is_out || player.absent && !was_out;
            let most = words.most.iter().find(|(seat, ..)| *seat == at);
            player.most = most.and_then(|(_, most, _)| usize::try_from(*most).ok());
        }
        (music, players)
    }

    /// How long a player who comes from elsewhere has to be at a part before an entrance, as to retune a drum.
    pub fn ready_before(&self, part: usize, entrance: usize) -> Tenths {
        let part = self.music.parts.get(part);
        part.map_or(0, |part| part.ready_before(entrance))
    }

    /// Whether one entrance ends with other sticks than those with which another begins, each by part and place.
    pub fn other_sticks(&self, from: (usize, usize), to: (usize, usize)) -> bool {
        let part = |at: usize| self.music.parts.get(at);
        let held = part(from.0).zip(part(to.0));
        held.is_some_and(|(one, other)| one.sticks_in(from.1).1 != other.sticks_in(to.1).0)
    }

    /// What each part needs and what each player brings for it, in the solver's numbers; as if one more player were
    /// missing.
    fn abilities(&self, missing: Option<usize>) -> (Vec<Abilities>, Vec<Abilities>) {
        // The director's word goes before what the roster says.
        let parts = self.can.iter().zip(&self.decided);
        let able: Vec<Vec<bool>> = parts
            .map(|(can, decided)| {
                let seats = can.iter().enumerate();
                let allowed = |(at, can): (usize, &bool)| decided.allows(at, missing).unwrap_or(*can);
                seats.map(allowed).collect()
            })
            .collect();
        let kinds = kinds(&able);
        let needs = |can: &Vec<bool>| match can.iter().all(|can| *can) {
            true => Abilities::NONE,
            false => Abilities::of(&[kinds.iter().position(|kind| *kind == can).unwrap_or(63) as u32]),
        };
        let brings = |who: usize| {
            let numbered = kinds.iter().enumerate();
            let all = numbered.filter(|(_, kind)| kind.get(who) == Some(&true));
            Abilities::of(&all.map(|(at, _)| at as u32).collect::<Vec<_>>())
        };
        (
            able.iter().map(needs).collect(),
            (0..self.seats.len()).map(brings).collect(),
        )
    }

    /// The question and its players as they are without one player: what was to be this player's alone is anybody's.
    pub(super) fn without(&self, seat: usize) -> (Music, Vec<Player>) {
        let mut music = self.music.clone();
        let mut players = self.players.clone();
        if self.decided.iter().any(|decided| decided.is_only_for(seat)) {
            let (needs, abilities) = self.abilities(Some(seat));
            for (part, needs) in music.parts.iter_mut().zip(needs) {
                part.needs = needs;
            }
            for (player, can) in players.iter_mut().zip(abilities) {
                player.can = can;
            }
        }
        if let Some(player) = players.get_mut(seat) {
            player.absent = true;
        }
        (music, players)
    }

    /// For every part, which of the players can play it by the roster.
    fn able(&self, who: Players<'_>) -> Vec<Vec<bool>> {
        let strong_known = |name: &str| self.seats.iter().any(|seat| who.is_strong(&seat.can, name));
        let can = |part: &PartTold, seat: &Seat| {
            part.names.iter().all(|name| {
                let strong = !part.strong || !strong_known(name) || who.is_strong(&seat.can, name);
                strong && who.can_play(&seat.can, name)
            }) && !lacks(part, seat)
        };
        let of = |part| self.seats.iter().map(|seat| can(part, seat)).collect();
        self.parts.iter().map(of).collect()
    }

    /// Pairs of parts that one player covers, even at once, as the handbook says.
    fn mounted(&self, asked: &Asked<'_>) -> Vec<(usize, usize)> {
        let groups = asked.handbook.map(Handbook::covered_together).unwrap_or_default();
        let in_group = |part: &PartTold, group: &[String]| {
            part.names.iter().all(|name| {
                group.iter().any(|words| {
                    key(words) == key(name)
                        || instrument_of(asked.instruments, words)
                            .is_some_and(|found| found.name == part.station.name)
                })
            })
        };
        let mut pairs = Vec::new();
        for group in &groups {
            let members = self
                .parts
                .iter()
                .enumerate()
                .filter(|(_, part)| in_group(part, group));
            let members: Vec<usize> = members.map(|(at, _)| at).collect();
            for (nth, &one) in members.iter().enumerate() {
                pairs.extend(members.iter().skip(nth + 1).map(|&other| (one, other)));
            }
        }
        // What the card gives to one player is set up for one player.
        for group in self.shared() {
            for (nth, &one) in group.iter().enumerate() {
                pairs.extend(
                    group
                        .iter()
                        .skip(nth + 1)
                        .map(|&other| (one.min(other), one.max(other))),
                );
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        pairs
    }

    /// Groups of parts that the card gives to one player.
    fn shared(&self) -> Vec<Vec<usize>> {
        let mut groups: BTreeMap<(Option<u32>, usize), Vec<usize>> = BTreeMap::new();
        for (at, part) in self.parts.iter().enumerate() {
            if let Some(group) = part.shared {
                groups.entry((part.movement, group)).or_default().push(at);
            }
        }
        groups.into_values().filter(|group| group.len() > 1).collect()
    }

    /// Parts of which some are played in place of others, the originals first.
    fn instead(&self) -> Vec<Vec<Vec<usize>>> {
        // One for one: `easy snare` and `advanced snare` may both stand for the snare.
        let mut single: Vec<Vec<usize>> = Vec::new();
        for (at, part) in self.parts.iter().enumerate() {
            let [original] = part.instead_of.as_slice() else {
                continue;
            };
            if *original == at {
                continue;
            }
            match single
                .iter_mut()
                .find(|group| group.contains(original) || group.contains(&at))
            {
                Some(group) if !group.contains(&at) => group.push(at),
                Some(group) if !group.contains(original) => group.insert(0, *original),
                Some(_) => {}
                None => single.push(vec![*original, at]),
            }
        }
        // One for several: a drum set in place of snare, bass drum and cymbals, and of whatever stands for those.
        let mut groups: Vec<Vec<Vec<usize>>> = Vec::new();
        for (at, part) in self.parts.iter().enumerate() {
            if part.instead_of.len() < 2 {
                continue;
            }
            let stand_ins = single
                .iter()
                .filter(|group| group.iter().any(|member| part.instead_of.contains(member)))
                .flatten();
            let mut replaced: Vec<usize> = part.instead_of.iter().chain(stand_ins).copied().collect();
            replaced.retain(|other| *other != at);
            replaced.sort_unstable();
            replaced.dedup();
            groups.push(vec![replaced, vec![at]]);
        }
        let single = single
            .into_iter()
            .map(|group| group.into_iter().map(|part| vec![part]).collect());
        single.chain(groups).collect()
    }

    fn entrance(&self, (first, last): (usize, usize)) -> Entrance {
        let measures = &self.clock.measures;
        match (measures.get(first), measures.get(last)) {
            (Some(first), Some(last)) => Entrance::new(first.start, last.end),
            _ => Entrance::new(0, 10),
        }
    }
}

/// Whether the roster says that the player cannot yet do what the part asks.
fn lacks(part: &PartTold, seat: &Seat) -> bool {
    seat.can.cannot.iter().any(|able| match able {
        Able::Roll => part.rolls,
        Able::ReadPitches => part.station.family == Some(Family::Mallets),
        Able::Tune => part.station.family == Some(Family::Timpani),
        Able::FourMallets => part
            .sticks
            .as_deref()
            .is_some_and(|sticks| sticks.starts_with("four") || sticks.starts_with('4')),
        // Every part has rhythms; a player who only plays by ear is the director's to place.
        Able::ReadRhythms => false,
    })
}

/// The different sets of players who can play some part, those of parts for everybody left out.
fn kinds(able: &[Vec<bool>]) -> Vec<&Vec<bool>> {
    let mut kinds: Vec<&Vec<bool>> = Vec::new();
    for can in able {
        if !can.iter().all(|can| *can) && !kinds.contains(&can) && kinds.len() < 63 {
            kinds.push(can);
        }
    }
    kinds
}

fn place_of(stations: &mut Vec<Station>, wanted: &Station) -> usize {
    let known = stations.iter().position(|station| station == wanted);
    known.unwrap_or_else(|| {
        stations.push(wanted.clone());
        stations.len() - 1
    })
}

/// The last measure, or event, in which a part of the course is known to play.
fn reach(course: &percussion::Course, events: bool) -> u32 {
    let stretches = course.parts.iter().flat_map(|part| match (&part.when, events) {
        (When::Measures(stretches), false) | (When::Events(stretches), true) => stretches.as_slice(),
        _ => &[],
    });
    let ends = stretches.map(|stretch| match stretch.last {
        u32::MAX => stretch.first,
        last => last,
    });
    ends.max().unwrap_or(0)
}

/// Changeover times, doubled where they rest on memory and the players are young: "double every figure for
/// grades 0.5 to 1.5" (from memory).
fn times(asked: &Asked<'_>) -> ChangeTimes {
    let mut times = ChangeTimes::of(asked.handbook.map_or(&[], |handbook| handbook.change.as_slice()));
    let young = asked
        .piece
        .grades
        .iter()
        .filter(|grade| grade.is_certain())
        .any(|grade| grade.value.high <= 150);
    times.memory = match (asked.memory, young) {
        (false, _) => 0,
        (true, false) => 1,
        (true, true) => 2,
    };
    times
}

fn part_told(asked: &Asked<'_>, part: &percussion::Part, movement: Option<u32>) -> PartTold {
    let (stretches, events) = match &part.when {
        When::Measures(stretches) => (stretches.clone(), false),
        When::Events(stretches) => (stretches.clone(), true),
        When::Unknown => (Vec::new(), false),
    };
    let timed = part.when != When::Unknown;
    let name = part.names.first().map_or("", String::as_str);
    let known = instrument_of(asked.instruments, name);
    PartTold {
        name: part.name(),
        movement,
        row: part.span,
        name_span: part.name_span,
        sticks: part
            .sticks
            .clone()
            .or_else(|| known.and_then(|known| known.sticks.as_ref().map(ToString::to_string))),
        sticks_in: part.sticks_in.clone(),
        retunes: part.retunes.clone(),
        page: page_of(asked.piece, &part.names, asked.instruments),
        stretches,
        events,
        timed,
        spare: part.spare.as_ref().map(|spare| match spare {
            Spare::Doubled(words) => words.clone(),
            Spare::Optional => "optional".to_owned(),
        }),
        instead_of: Vec::new(),
        station: Station {
            name: known.map_or_else(|| name.to_owned(), |known| known.name.to_string()),
            family: known.map(|known| known.family),
        },
        strong: part.strong,
        rolls: part.rolls,
        shared: part.group.filter(|_| part.shared),
        assigned: part.assigned.clone(),
        entrances: Vec::new(),
        names: part.names.clone(),
    }
}

/// The printed page on which a part stands.
fn page_of(piece: &Piece, names: &[String], instruments: &Instruments) -> Option<String> {
    let same = |words: &str| {
        names.iter().any(|name| {
            key(name) == key(words)
                || match (
                    instrument_of(instruments, name),
                    instrument_of(instruments, words),
                ) {
                    (Some(one), Some(other)) => one.name == other.name,
                    _ => false,
                }
        })
    };
    let page = piece.pages.iter().find(|row| {
        let named = row.names.iter().skip(1).any(|name| same(&name.text));
        named
            || row.facts.iter().any(|fact| match &fact.what {
                Fact::Instruments { names, not: false } => names.iter().any(|name| same(&name.text)),
                _ => false,
            })
    })?;
    page.names.first().map(|name| name.one_form())
}

/// Runs of sounding measures in which a part plays.
fn entrances(clock: &Clock, course: usize, part: &PartTold) -> Vec<(usize, usize)> {
    let mut sorted = part.stretches.clone();
    sorted.sort_by_key(|stretch| stretch.first);
    // Joined, so that one look tells whether a measure is played.
    let mut joined: Vec<Stretch> = Vec::new();
    for stretch in sorted {
        match joined.last_mut() {
            Some(before) if stretch.first <= before.last.saturating_add(1) => {
                before.last = before.last.max(stretch.last);
            }
            _ => joined.push(stretch),
        }
    }
    let plays = |measure: u32| {
        let after = joined.partition_point(|stretch| stretch.first <= measure);
        let stretch = after.checked_sub(1).and_then(|at| joined.get(at));
        stretch.is_some_and(|stretch| measure <= stretch.last)
    };
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for (at, sounding) in clock.measures.iter().enumerate() {
        if sounding.course != course || sounding.event != part.events || !plays(sounding.measure) {
            continue;
        }
        match runs.last_mut() {
            Some(run) if run.1.checked_add(1) == Some(at) => run.1 = at,
            _ => runs.push((at, at)),
        }
    }
    runs
}
