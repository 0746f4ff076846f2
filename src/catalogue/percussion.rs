//! What a piece's percussion rows need: which parts sound when, what may be spared, and the most that
//! sound at once.

use std::cell::OnceCell;
use std::collections::{BTreeMap, HashMap};

use crate::music::Instruments;
use crate::music::instruments::key;
use crate::notation::row::{Fact, Relation, RowFact, RowItem, RowName};
use crate::notation::values::{Pin, Place, Point, Stretch};
use crate::text::Span;

use super::instruments::instrument_named;
use super::model::{Piece, Said, pins};

/// When a part sounds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum When {
    /// In these measures; an empty list is silence.
    Measures(Vec<Stretch>),
    /// At these cued events, which have no measures.
    Events(Vec<Stretch>),
    /// The card does not say, or not for certain.
    Unknown,
}

/// Why a part may be spared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spare {
    /// Another part has its line; the words of the card, such as `same as flute 1`.
    Doubled(String),
    /// The card says that it is optional.
    Optional,
}

/// One part: what one row asks of one player, or of the players it counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The instruments as written; several where the row gives them to one player.
    pub names: Vec<String>,
    /// The row.
    pub span: Span,
    /// The names in the row.
    pub name_span: Span,
    /// How many players it takes; at least one.
    pub players: u32,
    /// When it sounds.
    pub when: When,
    /// Whether and why it may be spared.
    pub spare: Option<Spare>,
    /// The parts whose place it takes, by their places in the course; it sounds only if those do not.
    pub instead_of: Vec<usize>,
    /// The group that it belongs to: one player covers all parts of a group. The handbook's groups come
    /// first, then those that rows of the card make.
    pub group: Option<usize>,
    /// Whether the card itself gives it to one player with another part.
    pub shared: bool,
    /// Who is to play it and who is not, by its row.
    pub assigned: Vec<Said<Pin>>,
    /// Whether the card asks for a strong player.
    pub strong: bool,
    /// Whether the card says that it rolls.
    pub rolls: bool,
    /// What it is struck with, where the card says so for the whole part.
    pub sticks: Option<String>,
    /// Measures from which drums are tuned otherwise, with how many drums that are.
    pub retunes: Vec<(u32, u32)>,
    /// What it is struck with only in some measures, in the order of the card.
    pub sticks_in: Vec<(Stretch, String)>,
}

impl Part {
    /// The names in one phrase: `triangle and claves`.
    pub fn name(&self) -> String {
        self.names.join(" and ")
    }

    /// Whether it must be played: it takes nobody's place and may not be spared.
    pub fn is_needed(&self) -> bool {
        self.spare.is_none() && self.instead_of.is_empty()
    }

    /// Whether it sounds in a measure, or at an event.
    pub fn sounds_at(&self, place: u32, events: bool) -> bool {
        stretches(self, events)
            .iter()
            .any(|stretch| stretch.first <= place && place <= stretch.last)
    }

    /// How many measures or events it sounds in, where that is known.
    pub fn length(&self) -> Option<u64> {
        match &self.when {
            When::Measures(stretches) | When::Events(stretches) => Some(
                stretches
                    .iter()
                    .map(|s| u64::from(s.last.saturating_sub(s.first)) + 1)
                    .sum(),
            ),
            When::Unknown => None,
        }
    }
}

/// A stretch of time with its own measures: the piece, or one of its movements.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    /// The movement, by its place in the piece; none for the piece's own rows.
    pub movement: Option<usize>,
    /// The parts in the order of the card.
    pub parts: Vec<Part>,
}

/// The most parts that sound at once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtOnce {
    /// How many players they take.
    pub players: u32,
    /// Where, with the parts that sound there by their place in the course; at most [`PLACES`] of them.
    pub places: Vec<(Stretch, Vec<usize>)>,
    /// Whether the places are events and no measures.
    pub events: bool,
}

/// How many places of [`AtOnce`] are kept; more help nobody.
pub const PLACES: usize = 16;

/// The courses of a piece: its own rows, and those of each movement. `together` holds the groups of
/// instruments that one player covers, as the handbook names them.
pub fn courses(piece: &Piece, instruments: &Instruments, together: &[Vec<String>]) -> Vec<Course> {
    let own = std::iter::once((None, piece));
    let movements = piece.movements.iter().enumerate();
    own.chain(movements.map(|(at, movement)| (Some(at), &movement.piece)))
        .filter(|(_, piece)| !piece.percussion.is_empty())
        .map(|(movement, piece)| Course {
            movement,
            parts: parts(piece, instruments, together),
        })
        .collect()
}

fn parts(piece: &Piece, instruments: &Instruments, together: &[Vec<String>]) -> Vec<Part> {
    let groups = Groups::of(together, instruments);
    let mut parts: Vec<Part> = Vec::new();
    let mut replaces: Vec<&[RowName]> = Vec::new();
    let mut shares: Vec<&[RowName]> = Vec::new();
    for row in &piece.percussion {
        let replaced = targets(row, &[Relation::InsteadOf]);
        let shared = targets(row, &[Relation::SharedWith]);
        for (names, name_span) in players_of(row) {
            let first = names.first().map_or("", String::as_str);
            let group = groups.of_part(first);
            parts.push(Part {
                span: row.span,
                name_span,
                players: row
                    .facts
                    .iter()
                    .find_map(|fact| match fact.what {
                        Fact::Players(low, _) if fact.is_certain() => Some(low.max(1)),
                        _ => None,
                    })
                    .unwrap_or(1),
                when: when(row, piece),
                spare: spare(row),
                instead_of: Vec::new(),
                group,
                shared: false,
                assigned: pins(&row.facts),
                strong: row.facts.iter().any(|fact| fact.what == Fact::Strong),
                rolls: row.facts.iter().any(|fact| match fact.what {
                    Fact::Saying(said, _) => ["rolls", "closed rolls", "open rolls"].contains(&said.0),
                    _ => false,
                }),
                sticks: sticks(row),
                sticks_in: sticks_in(row, piece),
                retunes: retunes(row, piece),
                names,
            });
            replaces.push(replaced);
            shares.push(shared);
        }
    }
    or_on(piece, &mut parts, &mut replaces, &mut shares, instruments);
    let relate = |names: &&[RowName]| !names.is_empty();
    let doubled = parts
        .iter()
        .any(|part| matches!(part.spare, Some(Spare::Doubled(_))));
    if !doubled && !replaces.iter().chain(&shares).any(relate) {
        return parts;
    }
    let index = Index::of(&parts, instruments);
    replace(&mut parts, &replaces, &index);
    share(&mut parts, &shares, together.len(), &index);
    keep_one_of_two(&mut parts, &index);
    parts
}

/// `xylophone 33-48, or bells`: the same part once more on the other instrument, in place of the first.
fn or_on<'p>(
    piece: &'p Piece,
    parts: &mut Vec<Part>,
    replaces: &mut Vec<&'p [RowName]>,
    shares: &mut Vec<&'p [RowName]>,
    instruments: &Instruments,
) {
    for row in &piece.percussion {
        for other in targets(row, &[Relation::Or]) {
            // Where the other stands in a row of its own, that row says how it is played.
            let own = instrument_named(instruments, &other.text).map(|found| found.name.clone());
            let is_other = |name: &String| {
                key(name) == key(&other.text)
                    || own.is_some()
                        && instrument_named(instruments, name).map(|found| found.name.clone()) == own
            };
            let there = parts.iter().any(|part| part.names.iter().any(is_other));
            let Some(part) = parts.iter().find(|part| part.span == row.span).filter(|_| !there) else {
                continue;
            };
            parts.push(Part {
                names: vec![other.text.clone()],
                name_span: other.span,
                ..part.clone()
            });
            replaces.push(&row.names);
            shares.push(&[]);
        }
    }
}

/// The handbook's one-player groups by the names in them.
struct Groups<'i> {
    instruments: &'i Instruments,
    keys: HashMap<String, usize>,
    named: HashMap<&'i str, usize>,
}

impl<'i> Groups<'i> {
    fn of(together: &[Vec<String>], instruments: &'i Instruments) -> Groups<'i> {
        let mut groups = Groups {
            instruments,
            keys: HashMap::new(),
            named: HashMap::new(),
        };
        for (at, group) in together.iter().enumerate() {
            for name in group {
                groups.keys.entry(key(name)).or_insert(at);
                if let Some(found) = instrument_named(instruments, name) {
                    groups.named.entry(&found.name).or_insert(at);
                }
            }
        }
        groups
    }

    /// The first group that holds a part of this name.
    fn of_part(&self, name: &str) -> Option<usize> {
        if self.keys.is_empty() {
            return None;
        }
        let by_key = self.keys.get(&key(name)).copied();
        let found = instrument_named(self.instruments, name);
        let by_instrument = found.and_then(|found| self.named.get(&*found.name).copied());
        by_key.into_iter().chain(by_instrument).min()
    }
}

/// The parts by their names, put together when a row names another.
struct Index<'i> {
    instruments: &'i Instruments,
    names: Vec<Vec<String>>,
    by_key: OnceCell<HashMap<String, Vec<usize>>>,
    by_instrument: OnceCell<HashMap<&'i str, Vec<usize>>>,
}

impl<'i> Index<'i> {
    fn of(parts: &[Part], instruments: &'i Instruments) -> Index<'i> {
        Index {
            instruments,
            names: parts.iter().map(|part| part.names.clone()).collect(),
            by_key: OnceCell::new(),
            by_instrument: OnceCell::new(),
        }
    }

    /// The part that words name, other than the one they stand in.
    fn find(&self, except: usize, words: &str) -> Option<usize> {
        // Names are compared before instruments, so that `snare` is not taken for `easy snare`.
        let all = || {
            self.names
                .iter()
                .zip(0..)
                .flat_map(|(names, at)| names.iter().map(move |name| (name, at)))
        };
        let by_key = self.by_key.get_or_init(|| {
            let mut found: HashMap<String, Vec<usize>> = HashMap::new();
            for (name, at) in all() {
                found.entry(key(name)).or_default().push(at);
            }
            found
        });
        let other = |places: &Vec<usize>| places.iter().copied().find(|at| *at != except);
        if let Some(found) = by_key.get(&key(words)).and_then(other) {
            return Some(found);
        }
        let wanted = instrument_named(self.instruments, words)?;
        let by_instrument = self.by_instrument.get_or_init(|| {
            let mut found: HashMap<&str, Vec<usize>> = HashMap::new();
            for (name, at) in all() {
                if let Some(instrument) = instrument_named(self.instruments, name) {
                    found.entry(&instrument.name).or_default().push(at);
                }
            }
            found
        });
        by_instrument.get(&*wanted.name).and_then(other)
    }
}

/// What the row says that it is struck with.
fn sticks(row: &RowItem) -> Option<String> {
    row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Sticks(words, None | Some(Place::Throughout)) => Some(words.clone()),
        _ => None,
    })
}

/// A drum that is tuned twice for one measure counts once.
fn retunes(row: &RowItem, piece: &Piece) -> Vec<(u32, u32)> {
    let mut drums: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for fact in row.facts.iter().filter(|fact| fact.is_certain()) {
        let (from, place) = match &fact.what {
            Fact::Retune(from, _, Some(place)) => (from.to_string(), place),
            Fact::Change(from, _, Some(place)) => (from.to_string(), place),
            _ => continue,
        };
        let Some(stretch) = piece.stretch_of(place) else {
            continue;
        };
        let known = drums.entry(stretch.first).or_default();
        if !known.contains(&from) {
            known.push(from);
        }
    }
    let counted = drums.into_iter();
    counted
        .map(|(measure, drums)| (measure, u32::try_from(drums.len()).unwrap_or(u32::MAX)))
        .collect()
}

fn sticks_in(row: &RowItem, piece: &Piece) -> Vec<(Stretch, String)> {
    let placed = row.facts.iter().filter_map(|fact| match &fact.what {
        Fact::Sticks(_, Some(Place::Throughout)) => None,
        Fact::Sticks(words, Some(place)) => Some((piece.stretch_of(place)?, words.clone())),
        _ => None,
    });
    placed.collect()
}

/// Finds the parts whose place others take. A part whose measures are not said plays where those do.
fn replace(parts: &mut [Part], replaces: &[&[RowName]], index: &Index<'_>) {
    for (at, names) in replaces.iter().enumerate() {
        let mut found: Vec<usize> = Vec::new();
        for name in *names {
            found.extend(index.find(at, &name.one_form()));
        }
        found.sort_unstable();
        found.dedup();
        let mut when = When::Unknown;
        for original in found.iter().filter_map(|at| parts.get(*at)) {
            when = both(when, &original.when);
        }
        if let Some(part) = parts.get_mut(at) {
            if part.when == When::Unknown {
                part.when = when;
            }
            // What may be left out is the other way of playing it, not the part itself.
            if !found.is_empty() && part.spare == Some(Spare::Optional) {
                part.spare = None;
            }
            part.instead_of = found;
        }
    }
}

fn both(one: When, other: &When) -> When {
    match (one, other) {
        (When::Unknown, other) => other.clone(),
        (When::Measures(mut all), When::Measures(more)) => {
            all.extend(more);
            When::Measures(all)
        }
        (When::Events(mut all), When::Events(more)) => {
            all.extend(more);
            When::Events(all)
        }
        (one, _) => one,
    }
}

/// Puts parts that the card gives to one player in a group of their own.
fn share(parts: &mut [Part], shares: &[&[RowName]], mut next: usize, index: &Index<'_>) {
    for (at, names) in shares.iter().enumerate() {
        for name in *names {
            let Some(other) = index.find(at, &name.one_form()) else {
                continue;
            };
            let group = parts.get(other).and_then(|part| part.group).unwrap_or(next);
            next = next.max(group.saturating_add(1));
            for part in [at, other] {
                if let Some(part) = parts.get_mut(part) {
                    part.group = Some(group);
                    part.shared = true;
                }
            }
        }
    }
}

/// The names of a row, one list for each player: all together where one player has them.
fn players_of(row: &RowItem) -> Vec<(Vec<String>, Span)> {
    let one = row.facts.iter().any(|fact| fact.what == Fact::OnePlayer);
    // Several numbers in a name are several parts: `snare 1 and 2` takes two players.
    let named = row.names.iter().flat_map(|name| {
        let numbers = name
            .numbers
            .map(|(first, last)| first..=last.min(first.saturating_add(30)));
        let texts: Vec<String> = match numbers {
            Some(numbers) => numbers.map(|number| format!("{} {number}", name.text)).collect(),
            None => vec![name.text.clone()],
        };
        texts.into_iter().map(|text| (text, name.span))
    });
    if !one {
        return named.map(|(name, span)| (vec![name], span)).collect();
    }
    let all: Vec<(String, Span)> = named.collect();
    let (Some(first), Some(last)) = (all.first(), all.last()) else {
        return Vec::new();
    };
    let span = Span::new(first.1.start, last.1.end);
    vec![(all.into_iter().map(|(name, _)| name).collect(), span)]
}

/// The names that the first relation of these kinds in a row stands to.
fn targets<'r>(row: &'r RowItem, kinds: &[Relation]) -> &'r [RowName] {
    let found = row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Relation {
            relation, targets, ..
        } if kinds.contains(relation) => Some(targets.as_slice()),
        _ => None,
    });
    found.unwrap_or(&[])
}

/// The first relation of these kinds in a row, with its target.
fn target<'r>(row: &'r RowItem, kinds: &[Relation]) -> Option<(Relation, &'r str)> {
    // What holds only somewhere spares nobody elsewhere.
    row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Relation {
            relation,
            target,
            place: None | Some(Place::Throughout),
            ..
        } if kinds.contains(relation) => Some((*relation, target.as_str())),
        _ => None,
    })
}

fn spare(row: &RowItem) -> Option<Spare> {
    // What the director wrote in can be left out again.
    let optional = |fact: &RowFact| matches!(fact.what, Fact::Optional | Fact::WrittenIn);
    if row.facts.iter().any(optional) {
        return Some(Spare::Optional);
    }
    target(row, &[Relation::SameAs, Relation::With, Relation::Doubles])
        .map(|(relation, target)| Spare::Doubled(format!("{} {target}", relation.words())))
}

/// Where two percussion parts name each other as the same, only the later one may be spared.
fn keep_one_of_two(parts: &mut [Part], index: &Index<'_>) {
    let doubled: Vec<Option<usize>> = (0..parts.len())
        .map(|at| match parts.get(at).and_then(|part| part.spare.as_ref()) {
            Some(Spare::Doubled(words)) => ["same as ", "with ", "doubles "]
                .iter()
                .find_map(|lead| words.strip_prefix(lead))
                .and_then(|name| index.find(at, name)),
            _ => None,
        })
        .collect();
    for (at, other) in doubled.iter().enumerate() {
        let Some(other) = *other else { continue };
        let each_other = other > at && doubled.get(other).copied().flatten() == Some(at);
        if let Some(part) = parts.get_mut(at).filter(|_| each_other) {
            part.spare = None;
        }
    }
}

fn when(row: &RowItem, piece: &Piece) -> When {
    let mut measures = Vec::new();
    let mut events = Vec::new();
    let mut silent = Vec::new();
    for fact in row.facts.iter().filter(|fact| fact.is_certain()) {
        match &fact.what {
            Fact::Plays(Place::Throughout, _) => measures.push(Stretch {
                first: 1,
                last: piece.measures.as_ref().map_or(u32::MAX, |said| said.value),
            }),
            Fact::Plays(place, _) => measures.extend(stretch_of(piece, place)),
            Fact::Tacet(None) => return When::Measures(Vec::new()),
            Fact::Tacet(Some(place)) => silent.extend(stretch_of(piece, place)),
            Fact::Events(stretch) => events.push(*stretch),
            _ => {}
        }
    }
    // `except 33-40` and `all but 33-40`: it plays all the rest.
    if measures.is_empty() && events.is_empty() && !silent.is_empty() {
        measures.push(Stretch {
            first: 1,
            last: piece.measures.as_ref().map_or(u32::MAX, |said| said.value),
        });
    }
    for silent in silent {
        measures = measures
            .iter()
            .flat_map(|plays| without(*plays, silent))
            .collect();
    }
    // Measures that run backward are a slip, which another rule names.
    measures.retain(|stretch| stretch.first <= stretch.last);
    match (measures.is_empty(), events.is_empty()) {
        (false, _) => When::Measures(measures),
        (true, false) => When::Events(events),
        (true, true) => When::Unknown,
    }
}

/// The measures of a place. A part that plays at a mark plays until the next one.
fn stretch_of(piece: &Piece, place: &Place) -> Option<Stretch> {
    let Place::At(Point::Mark(_)) = place else {
        return piece.stretch_of(place);
    };
    let stretch = piece.stretch_of(place)?;
    let next = piece
        .marks
        .iter()
        .map(|mark: &Said<_>| mark.value.measure)
        .filter(|measure| *measure > stretch.first)
        .min();
    Some(Stretch {
        last: next.map_or(stretch.last, |next| next.saturating_sub(1)),
        ..stretch
    })
}

/// A stretch without the measures of another: up to two stretches.
fn without(plays: Stretch, silent: Stretch) -> Vec<Stretch> {
    if silent.last < plays.first || plays.last < silent.first {
        return vec![plays];
    }
    let mut left = Vec::new();
    if plays.first < silent.first {
        left.push(Stretch {
            last: silent.first - 1,
            ..plays
        });
    }
    if silent.last < plays.last {
        left.push(Stretch {
            first: silent.last.saturating_add(1),
            ..plays
        });
    }
    left
}

/// The most parts that sound at once among those that count, and where. None where nothing is known
/// to sound.
pub fn at_once(course: &Course, counts: impl Fn(&Part) -> bool) -> Option<AtOnce> {
    most_of(course, |_, part| counts(part))
}

/// The most alternatives of a card that are all tried against one another.
const MOST_INSTEAD: usize = 6;

/// The most needed parts that sound at once where the card's alternatives are taken so that these are as few as
/// can be: a `drum set instead of snare and bass drum` takes one player. The printed parts win where it is even.
pub fn fewest_at_once(course: &Course) -> Option<AtOnce> {
    let printed = at_once(course, Part::is_needed)?;
    let instead = course.parts.iter().enumerate();
    let instead = instead.filter(|(_, part)| !part.instead_of.is_empty());
    let instead: Vec<(usize, &Part)> = instead.take(MOST_INSTEAD).collect();
    let ways = 1..1usize << instead.len();
    let others = ways.filter_map(|way| {
        let taken = instead.iter().enumerate();
        let taken: Vec<(usize, &Part)> = taken
            .filter(|(bit, _)| way >> bit & 1 == 1)
            .map(|(_, instead)| *instead)
            .collect();
        let mut replaced: Vec<usize> = Vec::new();
        for at in taken.iter().flat_map(|(_, part)| &part.instead_of) {
            // Two alternatives for one part are not both played.
            if replaced.contains(at) {
                return None;
            }
            replaced.push(*at);
        }
        most_of(course, |at, part| {
            let chosen = taken.iter().any(|(taken, _)| *taken == at);
            chosen || part.is_needed() && !replaced.contains(&at)
        })
    });
    // The first of the fewest wins.
    std::iter::once(printed)
        .chain(others)
        .min_by_key(|most| most.players)
}

fn most_of(course: &Course, counts: impl Fn(usize, &Part) -> bool) -> Option<AtOnce> {
    let of = |events: bool| most(course, &counts, events);
    match (of(false), of(true)) {
        (Some(measures), Some(events)) if events.players > measures.players => Some(events),
        (None, events) => events,
        (measures, _) => measures,
    }
}

fn stretches(part: &Part, events: bool) -> &[Stretch] {
    match (&part.when, events) {
        (When::Measures(stretches), false) | (When::Events(stretches), true) => stretches,
        _ => &[],
    }
}

fn most(course: &Course, counts: &impl Fn(usize, &Part) -> bool, events: bool) -> Option<AtOnce> {
    let counted: Vec<(usize, &Part)> = course
        .parts
        .iter()
        .enumerate()
        .filter(|(at, part)| counts(*at, part))
        .collect();
    // What comes in and goes out where: a sweep from the first measure to the last.
    let mut changes: BTreeMap<u64, Vec<(usize, bool)>> = BTreeMap::new();
    for (at, (_, part)) in counted.iter().enumerate() {
        for stretch in stretches(part, events) {
            changes
                .entry(u64::from(stretch.first))
                .or_default()
                .push((at, true));
            let after = u64::from(stretch.last) + 1;
            changes.entry(after).or_default().push((at, false));
        }
    }
    let mut playing = vec![0u32; counted.len()];
    let mut groups: BTreeMap<usize, u32> = BTreeMap::new();
    let mut players: u32 = 0;
    let mut best: u32 = 0;
    let mut where_best: Vec<Stretch> = Vec::new();
    let ends: Vec<u64> = changes.keys().copied().skip(1).collect();
    for ((start, changed), end) in changes.iter().zip(ends) {
        for (at, comes_in) in changed {
            let (Some(now), Some((_, part))) = (playing.get_mut(*at), counted.get(*at)) else {
                continue;
            };
            let before = *now;
            *now = if *comes_in {
                before.saturating_add(1)
            } else {
                before.saturating_sub(1)
            };
            let (started, stopped) = (before == 0 && *now > 0, before > 0 && *now == 0);
            let weight = match part.group {
                None => part.players,
                Some(group) => {
                    let held = groups.entry(group).or_default();
                    let was = *held;
                    *held = match (started, stopped) {
                        (true, _) => was.saturating_add(1),
                        (_, true) => was.saturating_sub(1),
                        _ => was,
                    };
                    u32::from((was == 0) != (*held == 0))
                }
            };
            if started {
                players = players.saturating_add(weight);
            } else if stopped {
                players = players.saturating_sub(weight);
            }
        }
        if players > best {
            best = players;
            where_best.clear();
        }
        if players == best && best > 0 && where_best.len() < PLACES {
            where_best.push(Stretch {
                first: u32::try_from(*start).unwrap_or(u32::MAX),
                last: u32::try_from(end.saturating_sub(1)).unwrap_or(u32::MAX),
            });
        }
    }
    let sounding = |stretch: &Stretch| -> Vec<usize> {
        counted
            .iter()
            .filter(|(_, part)| part.sounds_at(stretch.first, events))
            .map(|(at, _)| *at)
            .collect()
    };
    let mut places: Vec<(Stretch, Vec<usize>)> = Vec::new();
    for stretch in where_best {
        let parts = sounding(&stretch);
        match places.last_mut() {
            // The same parts go on, though one of them is written in two stretches.
            Some((before, same)) if *same == parts && before.last.checked_add(1) == Some(stretch.first) => {
                before.last = stretch.last;
            }
            _ => places.push((stretch, parts)),
        }
    }
    (best > 0).then_some(AtOnce {
        players: best,
        places,
        events,
    })
}

#[cfg(test)]
mod tests;
