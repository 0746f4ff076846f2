//! What a catalogue lacks: sets that are to be played or are wanted, missing parts, copies that are short.

use jiff::civil::Date;

use crate::catalogue::conditions::Evaluator;
use crate::catalogue::copies;
use crate::catalogue::model::Piece;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::{Copies, Money};
use crate::planning::find::pieces;
use crate::planning::teach::{TO_A_PIECE, needs, weeks};

/// For what is bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Scope {
    /// For all concerts to come, and what is wanted beside.
    Everything,
    /// For one concert.
    Concert(EntryId),
    /// These pieces.
    Pieces(Vec<EntryId>),
}

/// A set that is not there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetWanted {
    /// The piece.
    pub id: EntryId,
    /// Its title.
    pub name: String,
    /// The concert it is for; none where it is a wish.
    pub concert: Option<(String, Date)>,
    /// The day of its first rehearsal, where that is known.
    pub rehearsed: Option<Date>,
    /// Why it is wanted, in the card's own words; empty where the card says no more.
    pub wish: Option<String>,
}

/// Why a part is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The card says that it is missing.
    Missing,
    /// The card says that more are wanted.
    Short,
    /// There are fewer copies than stands.
    Fewer {
        /// The copies.
        copies: u32,
        /// The players.
        players: u32,
    },
}

/// Copies of a part that are not there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartWanted {
    /// The piece.
    pub id: EntryId,
    /// Its title.
    pub name: String,
    /// The part.
    pub part: String,
    /// How many copies.
    pub count: u32,
    /// Why.
    pub why: Why,
    /// What one copy costs, where a card says it.
    pub each: Option<Money>,
    /// Who publishes it; empty where no card says so.
    pub seller: String,
}

/// All that is lacking.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Wanting {
    /// The sets.
    pub sets: Vec<SetWanted>,
    /// The parts.
    pub parts: Vec<PartWanted>,
    /// Pieces of a program of which no card says whether the set is there.
    pub not_known: Vec<String>,
    /// Titles on a program that mean no one card.
    pub no_card: Vec<String>,
}

/// Whether the set of a piece is there: by what its card says of the shelf, or because it was performed, which an old
/// wish does not take back.
pub fn is_there(piece: &Piece) -> bool {
    piece.has_set() == Some(true) || !piece.performed.is_empty()
}

/// The concerts that something is bought for, each with its day where it has one.
fn concerts(snapshot: &Snapshot, scope: &Scope) -> Vec<EntryId> {
    match scope {
        Scope::Everything => {
            let mut found: Vec<(Option<Date>, EntryId)> = snapshot
                .entries()
                .filter_map(|(id, entry)| {
                    let day = entry.concert()?.day();
                    day.is_none_or(|day| day >= snapshot.today).then_some((day, id))
                })
                .collect();
            found.sort_by_key(|(day, id)| (day.is_none(), *day, *id));
            found.into_iter().map(|(_, id)| id).collect()
        }
        Scope::Concert(id) => vec![*id],
        Scope::Pieces(_) => Vec::new(),
    }
}

/// What is lacking.
pub fn wanting(snapshot: &Snapshot, scope: &Scope) -> Wanting {
    let mut found = Wanting::default();
    let mut seen: Vec<EntryId> = Vec::new();
    for concert in concerts(snapshot, scope) {
        found.of_concert(snapshot, concert, &mut seen);
    }
    match scope {
        Scope::Everything => {
            for id in pieces(snapshot) {
                if seen.contains(&id) {
                    continue;
                }
                let Some(entry) = snapshot.entry(id) else { continue };
                let Some(piece) = entry.piece() else { continue };
                if let Some(wish) = piece.wanted.first().filter(|_| !is_there(piece)) {
                    found.sets.push(SetWanted {
                        id,
                        name: entry.name.clone(),
                        concert: None,
                        rehearsed: None,
                        wish: Some(wish.value.clone()),
                    });
                } else if piece.has_set() == Some(true) {
                    found.missing(id, &entry.name, piece);
                }
            }
        }
        Scope::Pieces(ids) => {
            for id in ids {
                let Some(entry) = snapshot.entry(*id) else {
                    continue;
                };
                let Some(piece) = entry.piece() else { continue };
                match is_there(piece) {
                    true => found.missing(*id, &entry.name, piece),
                    false => found.sets.push(SetWanted {
                        id: *id,
                        name: entry.name.clone(),
                        concert: None,
                        rehearsed: None,
                        wish: piece.wanted.first().map(|said| said.value.clone()),
                    }),
                }
            }
        }
        Scope::Concert(_) => {}
    }
    found
}

impl Wanting {
    fn of_concert(&mut self, snapshot: &Snapshot, id: EntryId, seen: &mut Vec<EntryId>) {
        let Some(entry) = snapshot.entry(id) else { return };
        let Some(concert) = entry.concert() else { return };
        let day = concert.day();
        let rows = concert
            .program
            .iter()
            .zip(Evaluator::new(snapshot).pieces_of(concert));
        for (place, (listed, subject)) in rows.enumerate() {
            let title = &listed.title.value.name;
            let Some(subject) = subject else {
                if !self.no_card.contains(title) {
                    self.no_card.push(title.clone());
                }
                continue;
            };
            if seen.contains(&subject.id) {
                continue;
            }
            seen.push(subject.id);
            let piece = subject.piece;
            let bands: Vec<EntryId> = snapshot
                .listings_at(subject.id, id, place)
                .iter()
                .flat_map(|listing| listing.bands.iter().copied())
                .collect();
            if is_there(piece) {
                self.missing(subject.id, title, piece);
                self.fewer(snapshot, subject.id, title, piece, &bands, day);
                continue;
            }
            if piece.wanted.is_empty() && piece.price.is_none() {
                self.not_known.push(title.clone());
                continue;
            }
            self.sets.push(SetWanted {
                id: subject.id,
                name: title.clone(),
                concert: day.map(|day| (entry.name.clone(), day)),
                rehearsed: day.and_then(|day| first_rehearsal(snapshot, &bands, piece, day)),
                wish: piece.wanted.first().map(|said| said.value.clone()),
            });
        }
    }

    /// What its card says is missing or short.
    fn missing(&mut self, id: EntryId, name: &str, piece: &Piece) {
        let missing = piece.library.missing.iter().map(|said| (said, Why::Missing));
        let short = piece.library.short.iter().map(|said| (said, Why::Short));
        for (said, why) in missing.chain(short).filter(|(said, _)| said.is_certain()) {
            if said.value.is_nothing() {
                continue;
            }
            let count = said.value.count.unwrap_or(1);
            let bare = Copies {
                count: None,
                extra: false,
                short: false,
                as_of: None,
                ..said.value.clone()
            };
            self.part(id, name, piece, bare.to_string(), count, why);
        }
    }

    /// The copies that are fewer than the stands of the bands that play it.
    fn fewer(
        &mut self,
        snapshot: &Snapshot,
        id: EntryId,
        name: &str,
        piece: &Piece,
        bands: &[EntryId],
        day: Option<Date>,
    ) {
        // What one band plays after another is counted for the larger one.
        let mut short: Vec<(String, u32, Why)> = Vec::new();
        for band in bands {
            let sections = snapshot.sections(&[*band], day);
            for instrument in copies::counted(snapshot, piece) {
                let Some(counted) = copies::of(snapshot, piece, instrument, &sections) else {
                    continue;
                };
                if counted.short() == 0 {
                    continue;
                }
                let why = Why::Fewer {
                    copies: counted.copies,
                    players: counted.players,
                };
                match short.iter_mut().find(|(known, ..)| *known == counted.instrument) {
                    Some(known) if known.1 < counted.short() => {
                        *known = (counted.instrument.clone(), counted.short(), why);
                    }
                    Some(_) => {}
                    None => short.push((counted.instrument.clone(), counted.short(), why)),
                }
            }
        }
        for (part, count, why) in short {
            // What the card itself says is missing is among these.
            let said = self
                .parts
                .iter()
                .any(|known| known.id == id && known.part.starts_with(part.as_str()));
            if !said {
                self.part(id, name, piece, part, count, why);
            }
        }
    }

    fn part(&mut self, id: EntryId, name: &str, piece: &Piece, part: String, count: u32, why: Why) {
        self.parts.push(PartWanted {
            id,
            name: name.to_owned(),
            part,
            count,
            why,
            each: piece
                .library
                .part_price
                .as_ref()
                .filter(|said| !said.open)
                .map(|said| said.value.clone()),
            seller: piece.house().map(|said| said.value.clone()).unwrap_or_default(),
        });
    }
}

/// The day of the first rehearsal of a piece for a concert; none where nobody knows when its bands meet.
fn first_rehearsal(snapshot: &Snapshot, bands: &[EntryId], piece: &Piece, day: Date) -> Option<Date> {
    let takes = needs::weeks_of(snapshot, piece).unwrap_or(TO_A_PIECE) as usize;
    let first = bands.iter().filter_map(|band| {
        let card = snapshot.entry(*band)?.ensemble()?;
        card.meeting().on.as_ref()?;
        let (before, _) = weeks::weeks(card, snapshot.today, day.yesterday().ok()?);
        let week = before.get(before.len().saturating_sub(takes))?;
        week.days.first().copied()
    });
    first.min()
}
