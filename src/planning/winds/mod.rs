//! Wind parts of a piece shared out: from the card, the bands' head counts and the handbook to who plays what.
//!
//! [`of_piece`] reads the parts and the players off the cards, has the flow of least cost put players to parts
//! ([`seat_winds`](super::assign::seat_winds)), and looks for what may cover the parts that nobody has. What comes
//! back is plain data; [`words`] says it. Where a card lists no parts only the sections are counted, where no part
//! says anything of its notes nothing is said of them; both are called so.

mod cover;
mod lend;
mod parts;
mod reach;
mod roster;
mod seating;
mod told;
pub mod words;

#[cfg(test)]
mod tests;

pub use roster::{MOST_PLAYERS, is_away};
pub use seating::is_switch;
pub use told::{
    Balance, Cover, Depth, Fits, Idle, Limit, LimitBy, Part, Players, Short, Spare, Uncovered, WindSharing,
};

use crate::catalogue::model::{Ensemble, Handbook, Piece};
use crate::catalogue::sections::same_chair;
use crate::catalogue::{EntryId, Snapshot};
use crate::music::Instruments;
use crate::music::groups::Group;
use crate::notation::names::cut_number;

use cover::Covers;
use parts::Written;
use reach::Reach;
use seating::Table;

/// What is asked about.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// The title.
    pub title: &'a str,
    /// The piece.
    pub piece: &'a Piece,
    /// The movements that are played, by number; empty for all.
    pub movements: &'a [u32],
    /// The bands that play it together, by name.
    pub bands: &'a [(&'a str, &'a Ensemble)],
    /// Who is not there: words such as `1 tuba`. Words that name no instrument are left to others.
    pub absent: &'a [String],
    /// The handbook.
    pub handbook: Option<&'a Handbook>,
    /// The instruments of the catalogue.
    pub instruments: &'a Instruments,
}

/// Who plays which wind part of a piece, for bands that play it together; none where the card is no piece.
/// `movements` are those that are played, by number, all where it is empty; `absent` holds words such as `1 tuba`.
pub fn of_piece(
    snapshot: &Snapshot,
    piece: EntryId,
    bands: &[EntryId],
    movements: &[u32],
    absent: &[String],
) -> Option<WindSharing> {
    snapshot.entry(piece)?.piece()?;
    Some(of_band(snapshot, Some(piece), bands, movements, absent))
}

/// The same, or without a piece only who there is.
pub fn of_band(
    snapshot: &Snapshot,
    piece: Option<EntryId>,
    bands: &[EntryId],
    movements: &[u32],
    absent: &[String],
) -> WindSharing {
    let bands: Vec<(&str, &Ensemble)> = bands
        .iter()
        .filter_map(|id| {
            let band = snapshot.entry(*id)?;
            Some((band.name.as_str(), band.ensemble()?))
        })
        .collect();
    let entry = piece.and_then(|id| snapshot.entry(id));
    let nothing = Piece::default();
    share(&Asked {
        title: entry.map_or("", |entry| entry.name.as_str()),
        piece: entry.and_then(|entry| entry.piece()).unwrap_or(&nothing),
        movements,
        bands: &bands,
        absent,
        handbook: snapshot.handbook(),
        instruments: snapshot.instruments(),
    })
}

/// Who plays which wind part.
pub fn share(asked: &Asked<'_>) -> WindSharing {
    let cards: Vec<&Ensemble> = asked.bands.iter().map(|(_, band)| *band).collect();
    let roster = roster::roster(&cards, asked.absent, asked.instruments);
    let usual = asked.handbook.map_or(&[][..], |handbook| &handbook.usual);
    let (all, cut) = parts::written(asked.piece, asked.movements, usual, asked.instruments);
    let (instead, written): (Vec<Written<'_>>, Vec<Written<'_>>) = all
        .into_iter()
        .filter(|part| !part.is_silent())
        .partition(Written::is_instead);
    let reach = Reach {
        bands: &cards,
        handbook: asked.handbook,
        instruments: asked.instruments,
    };
    let balance = asked.handbook.map_or(Balance::Lower, balance);
    let fewest = asked.handbook.and_then(Handbook::fewest_to_a_part);
    let mut parts = told(asked, &written, &roster, fewest);
    let short = seating::seat(Table {
        written: &written,
        parts: &mut parts,
        players: &roster.players,
        reach,
        balance,
    });
    let covers = Covers {
        written: &written,
        instead: &instead,
        parts: &parts,
        players: &roster.players,
        reach,
    };
    let mut uncovered = uncovered(&covers);
    lend::lend(&mut uncovered, covers.parts, covers.players);
    let idle = idle(&covers);
    WindSharing {
        piece: asked.title.to_owned(),
        bands: asked.bands.iter().map(|(name, _)| (*name).to_owned()).collect(),
        depth: match () {
            () if roster.players.is_empty() && roster.open_counts.is_empty() => Depth::Nobody,
            () if parts.is_empty() => Depth::SectionsOnly,
            () if !written.iter().any(Written::says_notes) => Depth::PartsOnly,
            () => Depth::Parts,
        },
        uncovered,
        short,
        idle,
        balance,
        fewest,
        open_counts: roster.open_counts,
        cut: cut || roster.cut,
        parts,
        players: roster.players,
    }
}

/// `extra players on the upper parts`, `extra players to the first parts` in the handbook turns the balance.
fn balance(handbook: &Handbook) -> Balance {
    match handbook.extra_players_upper() {
        true => Balance::Upper,
        false => Balance::Lower,
    }
}

/// The parts before anybody sits.
fn told(
    asked: &Asked<'_>,
    written: &[Written<'_>],
    roster: &roster::Roster,
    fewest: Option<u32>,
) -> Vec<Part> {
    let complete = asked.piece.complete_with.as_ref().map(|said| &said.value);
    let mut parts: Vec<Part> = Vec::new();
    for part in written {
        let instrument = match part.instruments.as_slice() {
            [one] => asked.instruments.find(one).exact(),
            _ => None,
        };
        let mut instruments = part.instruments.clone();
        if let Some(group) = part.group {
            let members = asked.instruments.all().iter().filter(|one| group.holds(one));
            instruments = members.map(|one| one.name.to_string()).collect();
        }
        // `part 1` of which no instrument is named can be anybody's.
        let open = (instruments.is_empty() && !is_in_band(roster, &part.own))
            || roster
                .open_counts
                .iter()
                .any(|count| reads(count, &instruments, asked.instruments));
        let spare = spare(part, written, roster, complete);
        let divided = written
            .iter()
            .any(|other| other.own == part.own && other.number != part.number);
        let least = match (&spare, open) {
            (Some(_), _) | (_, true) => 0,
            _ if divided => fewest.unwrap_or(1).clamp(1, 64) as usize,
            _ => 1,
        };
        parts.push(Part {
            name: part.name.clone(),
            instruments,
            least,
            spare,
            over_the_break: part.over_the_break(instrument),
            range: part.range(instrument),
            seated: Vec::new(),
            unable: 0,
            open,
        });
    }
    parts
}

/// Whether a band's card counts players under this very name.
fn is_in_band(roster: &roster::Roster, name: &str) -> bool {
    let wanted = crate::music::instruments::key(name);
    roster
        .players
        .iter()
        .any(|players| crate::music::instruments::key(&players.instrument) == wanted)
}

/// Whether players of this name, an instrument or a grouping, read parts for one of the instruments.
fn reads(name: &str, parts_for: &[String], instruments: &Instruments) -> bool {
    let group = Group::read(name);
    parts_for.iter().any(|one| {
        same_chair(one, name)
            || group.is_some_and(|group| instruments.find(one).exact().is_some_and(|one| group.holds(one)))
    })
}

/// Why a part may be left out in this piece.
fn spare(
    part: &Written<'_>,
    written: &[Written<'_>],
    roster: &roster::Roster,
    complete: Option<&Vec<u32>>,
) -> Option<Spare> {
    if let (Some(complete), Some(number)) = (complete, part.number)
        && part.is_flexible()
        && !complete.contains(&number)
    {
        return Some(Spare::NotNeeded);
    }
    let base = |clef: &str| {
        let one = part.instruments.first()?.strip_suffix(clef)?.trim_end();
        written
            .iter()
            .find(|other| other.instruments.first().is_some_and(|other| other == one))
    };
    if let Some(base) = base("T.C.").or_else(|| base("B.C.")) {
        return Some(Spare::OtherClef(base.name.clone()));
    }
    let spare = part.spare()?;
    if !matches!(spare, Spare::Doubled(_)) {
        return Some(spare);
    }
    // The other part has its line only if somebody plays that one; what is no part of the card gets the benefit
    // of the doubt.
    let mut targets = part.targets(&parts::SAME_LINE).map(|(_, target, _)| target);
    let there = targets.any(|target| {
        let own = cut_number(target, true).words;
        let named = written
            .iter()
            .find(|other| other.own == own || other.name == target);
        named.is_none_or(|named| {
            roster.players.iter().any(|players| {
                named
                    .instruments
                    .iter()
                    .any(|one| same_chair(one, &players.instrument))
            }) || named.instruments.is_empty()
        })
    });
    there.then_some(spare)
}

fn uncovered(covers: &Covers<'_, '_>) -> Vec<Uncovered> {
    let silent = |part: &Part| {
        part.players() == 0 && !part.open && !matches!(part.spare, Some(Spare::Group | Spare::OtherClef(_)))
    };
    covers
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| silent(part))
        .map(|(at, _)| Uncovered {
            part: at,
            covers: covers.of(at),
            by: None,
        })
        .collect()
}

fn idle(covers: &Covers<'_, '_>) -> Vec<Idle> {
    let all = covers.players.iter().enumerate();
    all.filter_map(|(at, players)| {
        let busy: usize = covers
            .parts
            .iter()
            .flat_map(|part| &part.seated)
            .filter(|(who, _)| *who == at)
            .map(|(_, count)| count)
            .sum();
        let count = players.count.saturating_sub(busy);
        (count > 0).then(|| Idle {
            players: at,
            count,
            could: covers.could(&players.instrument),
        })
    })
    .collect()
}
