//! Who sits where: the rows of a band's card filled with chairs. Parts and sections only, never a name.

use crate::catalogue::model::{Ensemble, Piece};
use crate::catalogue::sections::shares;
use crate::catalogue::{EntryId, Snapshot, cupboard, instrument_named};
use crate::music::groups::Group;
use crate::music::instruments::key;
use crate::music::{Family, Instrument, Instruments};
use crate::notation::row::RowName;
use crate::planning::percussion::is_small;
use crate::planning::winds::{Players, WindSharing};
use crate::text::sentences::capital;

/// The most rows that are drawn.
pub const MOST_ROWS: usize = 10;

/// A band set up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// The band.
    pub band: String,
    /// The piece whose parts stand on the chairs.
    pub piece: Option<String>,
    /// The rows from the podium outward, each from the left of whoever looks at the page.
    pub rows: Vec<Vec<Block>>,
    /// The percussion behind them.
    pub stations: Vec<Station>,
    /// Whether the rows are a usual arrangement because the card has none.
    pub usual: bool,
    /// What is to be said beside the picture.
    pub notes: Vec<String>,
}

/// Neighbors of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// What stands behind them: `clarinet 1`, `alto sax`.
    pub name: String,
    /// The same in fewer letters.
    pub short: String,
    /// What stands on each chair; empty where the section has one part.
    pub chairs: Vec<String>,
}

/// A percussion station.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// What stands there.
    pub name: String,
    /// How it is drawn.
    pub kind: StationKind,
    /// Small things on it, for a table.
    pub things: Vec<String>,
    /// The pieces of an evening that use it, by number; empty where all do, or where it is no evening.
    pub pieces: Vec<usize>,
}

/// How a station is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StationKind {
    /// Kettles, so many.
    Timpani(usize),
    /// Bars in a row.
    Mallets,
    /// One drum or cymbal.
    Drum,
    /// A table for small things.
    Table,
}

impl Plan {
    /// All chairs.
    pub fn chairs(&self) -> usize {
        self.rows.iter().flatten().map(|block| block.chairs.len()).sum()
    }

    /// The chairs and stands of a row.
    pub fn totals(row: &[Block]) -> (usize, usize) {
        let chairs = row.iter().map(|block| block.chairs.len()).sum();
        let stands = row.iter().map(|block| stands(&block.chairs).len()).sum();
        (chairs, stands)
    }
}

/// Which chairs of a block share a stand: neighbors on the same part, two and two.
pub fn stands(chairs: &[String]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < chairs.len() {
        let shared = chairs
            .get(at + 1)
            .is_some_and(|next| Some(next) == chairs.get(at));
        let last = at + usize::from(shared);
        found.push((at, last));
        at = last + 1;
    }
    found
}

/// The setup of bands that play together, with the parts of a piece where its winds are given. The rows are those
/// of the first band that has any.
pub fn plan(snapshot: &Snapshot, bands: &[EntryId], winds: &WindSharing, piece: Option<EntryId>) -> Plan {
    let instruments = snapshot.instruments();
    let cards: Vec<&Ensemble> = bands
        .iter()
        .filter_map(|id| snapshot.entry(*id)?.ensemble())
        .collect();
    let names: Vec<&str> = bands
        .iter()
        .filter_map(|id| Some(snapshot.entry(*id)?.name.as_str()))
        .collect();
    let piece = piece.and_then(|id| snapshot.entry(id));
    let mut plan = Plan {
        band: names.join(" and "),
        piece: piece.map(|entry| entry.name.clone()),
        ..Plan::default()
    };
    let people = sections(winds);
    let rows = cards.iter().map(|card| &card.rows).find(|rows| !rows.is_empty());
    let mut wanted: Vec<Vec<Place>> = match rows {
        Some(rows) => rows
            .iter()
            .take(MOST_ROWS)
            .map(|row| {
                let names = row.names.iter();
                names.flat_map(|name| meant(name, &people, instruments)).collect()
            })
            .collect(),
        None => usual(&people, instruments),
    };
    plan.usual = rows.is_none() && !people.is_empty();
    if rows.is_some_and(|rows| rows.len() > MOST_ROWS) {
        plan.notes
            .push(format!("Only the first {MOST_ROWS} rows are drawn."));
    }
    only_once(&mut wanted);
    // Sections that no row names go to the last row, and are told.
    let lost: Vec<usize> = (0..people.len())
        .filter(|at| !wanted.iter().flatten().any(|(section, _)| section == at))
        .collect();
    if !lost.is_empty() {
        let told: Vec<&str> = lost
            .iter()
            .filter_map(|at| people.get(*at))
            .map(|section| section.instrument.as_str())
            .collect();
        plan.notes.push(format!(
            "No row on the card names {}; drawn last.",
            told.join(", ")
        ));
        wanted.push(lost.into_iter().map(|at| (at, None)).collect());
    }
    let has_parts = !winds.parts.is_empty();
    plan.rows = fill(&wanted, &people, piece.is_some() && has_parts, instruments);
    if piece.is_some() && !has_parts {
        plan.notes
            .push("The card lists no wind parts, so the chairs show none.".to_owned());
    }
    plan.notes.extend(letters(&people, instruments));
    if !winds.open_counts.is_empty() {
        let mut open = winds.open_counts.clone();
        open.dedup();
        plan.notes
            .push(format!("Head count not certain: {}.", open.join(", ")));
    }
    if winds.cut {
        plan.notes.push("More players than can be drawn.".to_owned());
    }
    plan.stations = stations(&cards, piece.and_then(|entry| entry.piece()), instruments);
    plan
}

/// A section's place in a row: the section, and the part numbers where the row says them.
type Place = (usize, Option<(u32, u32)>);

/// The players of one instrument and what each has to play, in the order of the parts.
#[derive(Debug)]
struct People {
    instrument: String,
    /// The part of each player; none who has no part in this piece.
    parts: Vec<Option<String>>,
}

fn sections(winds: &WindSharing) -> Vec<People> {
    let mut all: Vec<People> = Vec::new();
    for players in &winds.players {
        if !all.iter().any(|people| people.instrument == players.instrument) {
            all.push(People {
                instrument: players.instrument.clone(),
                parts: Vec::new(),
            });
        }
    }
    for people in &mut all {
        let of_it = |players: &Players| players.instrument == people.instrument;
        for part in &winds.parts {
            let seated = part
                .seated
                .iter()
                .filter(|(who, _)| winds.players.get(*who).is_some_and(of_it));
            let count: usize = seated.map(|(_, count)| count).sum();
            people
                .parts
                .extend(std::iter::repeat_n(Some(part.name.clone()), count));
        }
        let idle: usize = winds
            .idle
            .iter()
            .filter(|idle| winds.players.get(idle.players).is_some_and(of_it))
            .map(|idle| idle.count)
            .sum();
        people.parts.extend(std::iter::repeat_n(None, idle));
    }
    all
}

/// The sections that a name in a row means, with the part numbers where it has some.
fn meant(name: &RowName, people: &[People], instruments: &Instruments) -> Vec<Place> {
    let exact = |wanted: &str| people.iter().position(|one| key(&one.instrument) == key(wanted));
    let found = instrument_named(instruments, &name.text).map(|one| one.name.to_string());
    if let Some(at) = found.as_deref().and_then(exact).or_else(|| exact(&name.text)) {
        return vec![(at, name.numbers)];
    }
    let Some(group) = Group::read(&name.text).filter(|_| found.is_none()) else {
        return Vec::new();
    };
    let mut held: Vec<(u16, usize)> = people
        .iter()
        .enumerate()
        .filter_map(|(at, one)| {
            let instrument = instruments.find(&one.instrument).exact()?;
            group.holds(instrument).then_some((instrument.order, at))
        })
        .collect();
    held.sort_unstable();
    held.into_iter().map(|(_, at)| (at, None)).collect()
}

/// A section named by itself sits there and not once more where a grouping names it; numbered parts of a section
/// may sit apart.
fn only_once(rows: &mut [Vec<Place>]) {
    let mut seen: Vec<Place> = Vec::new();
    for row in rows {
        row.retain(|one| {
            let new = match one.1 {
                None => !seen.iter().any(|(at, _)| *at == one.0),
                Some(_) => !seen.contains(one) && !seen.contains(&(one.0, None)),
            };
            if new {
                seen.push(*one);
            }
            new
        });
    }
}

/// Rows as bands often sit, where the card says nothing (common practice, no source).
fn usual(people: &[People], instruments: &Instruments) -> Vec<Vec<Place>> {
    let row_of = |instrument: Option<&Instrument>| match instrument {
        Some(one) if Group::LowReeds.holds(one) => 2,
        Some(one) => match one.family {
            Family::Flutes | Family::DoubleReeds => 0,
            Family::Clarinets => 1,
            Family::Saxes | Family::Horns => 2,
            _ => 3,
        },
        None => 3,
    };
    let mut rows: Vec<Vec<(u16, usize)>> = vec![Vec::new(); 4];
    for (at, one) in people.iter().enumerate() {
        let instrument = instruments.find(&one.instrument).exact();
        if let Some(row) = rows.get_mut(row_of(instrument)) {
            row.push((instrument.map_or(u16::MAX, |one| one.order), at));
        }
    }
    rows.into_iter()
        .map(|mut row| {
            row.sort_unstable();
            row.into_iter().map(|(_, at)| (at, None)).collect()
        })
        .filter(|row: &Vec<_>| !row.is_empty())
        .collect()
}

/// Deals the players of each section out to its blocks.
fn fill(
    wanted: &[Vec<Place>],
    people: &[People],
    of_piece: bool,
    instruments: &Instruments,
) -> Vec<Vec<Block>> {
    // How many sit in each block, by the section and the block's place among the section's blocks.
    let sizes: Vec<Vec<usize>> = people
        .iter()
        .enumerate()
        .map(|(at, one)| {
            let blocks: Vec<Option<(u32, u32)>> = wanted
                .iter()
                .flatten()
                .filter(|(section, _)| *section == at)
                .map(|(_, numbers)| *numbers)
                .collect();
            block_sizes(&blocks, one, of_piece)
        })
        .collect();
    let mut next = vec![0usize; people.len()];
    let mut taken = vec![0usize; people.len()];
    let mut rows = Vec::new();
    for row in wanted {
        let mut blocks = Vec::new();
        for (at, numbers) in row {
            let (Some(one), Some(next), Some(taken)) =
                (people.get(*at), next.get_mut(*at), taken.get_mut(*at))
            else {
                continue;
            };
            let size = sizes
                .get(*at)
                .and_then(|sizes| sizes.get(*next))
                .copied()
                .unwrap_or(0);
            *next += 1;
            let parts = one.parts.iter().skip(*taken).take(size);
            let chairs: Vec<String> = parts
                .map(|part| on_chair(part.as_deref(), &one.instrument, *numbers, of_piece, instruments))
                .collect();
            *taken += size;
            if !chairs.is_empty() {
                blocks.push(block(one, *numbers, chairs, instruments));
            }
        }
        if !blocks.is_empty() {
            rows.push(blocks);
        }
    }
    rows
}

/// `clarinet 1` and `clarinet 2` in the rows: by the piece's own parts where they bear these numbers, else evenly.
fn block_sizes(blocks: &[Option<(u32, u32)>], people: &People, of_piece: bool) -> Vec<usize> {
    let all = people.parts.len();
    if blocks.len() < 2 {
        return vec![all; blocks.len()];
    }
    let part = |number: u32| format!("{} {number}", people.instrument);
    let by_piece: Vec<usize> = blocks
        .iter()
        .map(|numbers| {
            let numbers = numbers.map_or(0..=0, |(first, last)| first..=last.min(first.saturating_add(64)));
            let named: Vec<String> = numbers.map(part).collect();
            let has = |part: &&Option<String>| part.as_ref().is_some_and(|part| named.contains(part));
            people.parts.iter().filter(has).count()
        })
        .collect();
    if of_piece && by_piece.iter().sum::<usize>() == all && by_piece.iter().all(|size| *size > 0) {
        return by_piece;
    }
    let count = u32::try_from(all).unwrap_or(u32::MAX);
    let many = u32::try_from(blocks.len()).unwrap_or(u32::MAX);
    let mut sizes: Vec<usize> = shares(count, many)
        .into_iter()
        .map(|share| share as usize)
        .collect();
    // Whatever is left of more blocks than can be shared among stays empty.
    sizes.resize(blocks.len(), 0);
    sizes
}

fn block(
    people: &People,
    numbers: Option<(u32, u32)>,
    chairs: Vec<String>,
    instruments: &Instruments,
) -> Block {
    let number = match numbers {
        None => String::new(),
        Some((first, last)) if first == last => format!(" {first}"),
        Some((first, last)) => format!(" {first}-{last}"),
    };
    Block {
        name: format!("{}{number}", people.instrument),
        short: format!("{}{number}", shorter(&people.instrument, instruments)),
        chairs,
    }
}

/// A shorter name that is still said: `bass cl`, `bari sax`; else a few letters.
fn shorter(instrument: &str, instruments: &Instruments) -> String {
    let known = instruments.find(instrument).exact();
    let named = known
        .into_iter()
        .flat_map(|one| one.aliases.iter().chain(&one.abbreviations))
        .map(|name| name.replace('.', ""))
        .filter(|name| {
            let first = name.split(' ').next().unwrap_or("");
            first.chars().count() > 2 && (4..instrument.chars().count()).contains(&name.chars().count())
        })
        .min_by_key(|name| name.chars().count());
    match named.filter(|_| instrument.contains(' ')) {
        Some(name) => name,
        None => short(instrument, instruments),
    }
}

/// A few letters for an instrument: `Fl`, `B cl`.
fn short(instrument: &str, instruments: &Instruments) -> String {
    let known = instruments.find(instrument).exact();
    let letters = known.and_then(|one| one.abbreviations.first()).map_or_else(
        || instrument.chars().take(4).collect::<String>(),
        |short| short.replace('.', ""),
    );
    capital(letters.trim())
}

/// What stands on a chair: the number of the part; letters where it is another instrument's; a dash where the piece
/// has none.
fn on_chair(
    part: Option<&str>,
    instrument: &str,
    numbers: Option<(u32, u32)>,
    of_piece: bool,
    instruments: &Instruments,
) -> String {
    if !of_piece {
        return numbers
            .filter(|(first, last)| first == last)
            .map_or_else(String::new, |(number, _)| number.to_string());
    }
    let Some(part) = part else { return "–".to_owned() };
    if key(part) == key(instrument) {
        return String::new();
    }
    let cut = crate::notation::names::cut_number(part, true);
    let number = cut
        .numbers
        .map(|(number, _)| number.to_string())
        .unwrap_or_default();
    match key(cut.words) == key(instrument) {
        true => number,
        false => format!("{}{number}", short(cut.words, instruments)),
    }
}

/// What the letters on chairs stand for: `Low: low voices`.
fn letters(people: &[People], instruments: &Instruments) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for section in people {
        for part in section.parts.iter().flatten() {
            let words = crate::notation::names::cut_number(part, true).words;
            let says = format!("{}: {words}", short(words, instruments));
            if key(words) != key(&section.instrument) && !said.contains(&says) {
                said.push(says);
            }
        }
    }
    said
}

/// The percussion behind the winds: what the piece asks, else what the room holds.
fn stations(cards: &[&Ensemble], piece: Option<&Piece>, instruments: &Instruments) -> Vec<Station> {
    let mut names: Vec<(String, Vec<u32>)> = Vec::new();
    match piece {
        Some(piece) => {
            let own = piece.percussion.iter();
            let movements = piece
                .movements
                .iter()
                .flat_map(|movement| &movement.piece.percussion);
            for name in own.chain(movements).flat_map(|row| &row.names) {
                names.push((name.text.clone(), Vec::new()));
            }
        }
        None => {
            for owned in cards.iter().flat_map(|card| &card.owns) {
                names.push((owned.value.name.clone(), owned.value.sizes.clone()));
            }
        }
    }
    let kettles = || {
        let owned = cards.iter().flat_map(|card| &card.owns).map(|said| &said.value);
        cupboard::timpani(owned, instruments).len()
    };
    let mut found: Vec<Station> = Vec::new();
    let mut table: Vec<String> = Vec::new();
    for (name, sizes) in names.into_iter().take(200) {
        let known = instrument_named(instruments, &name);
        let name = known.map_or(name, |one| one.name.to_string());
        let kind = match known.map(|one| one.family) {
            Some(Family::Timpani) => {
                let count = sizes.len().max(kettles()).clamp(1, 5);
                StationKind::Timpani(if sizes.is_empty() && kettles() == 0 {
                    2
                } else {
                    count
                })
            }
            Some(Family::Mallets) => StationKind::Mallets,
            Some(Family::Battery) => StationKind::Drum,
            family @ Some(Family::Accessories | Family::World) if !is_small(&name, family) => {
                StationKind::Drum
            }
            _ => StationKind::Table,
        };
        if kind == StationKind::Table {
            if !table.contains(&name) {
                table.push(name);
            }
        } else if !found.iter().any(|station| station.name == name) {
            found.push(Station {
                name,
                kind,
                things: Vec::new(),
                pieces: Vec::new(),
            });
        }
    }
    // Timpani at one end, mallets beside them, drums in the middle, small things at the other end (common
    // practice, no source).
    found.sort_by_key(|station| match station.kind {
        StationKind::Timpani(_) => 3,
        StationKind::Mallets => 0,
        StationKind::Drum => 1,
        StationKind::Table => 2,
    });
    if !table.is_empty() {
        let at = found
            .iter()
            .position(|station| matches!(station.kind, StationKind::Timpani(_)))
            .unwrap_or(found.len());
        found.insert(
            at,
            Station {
                name: "small percussion".to_owned(),
                kind: StationKind::Table,
                things: table,
                pieces: Vec::new(),
            },
        );
    }
    found
}
