//! The whole catalogue at one moment, as command line and editor share it.

use std::collections::HashMap;
use std::sync::Arc;

use jiff::civil::Date;

use crate::music::Instruments;
use crate::notation::Kind;

use super::entry::{Entry, NameUse, Wants};
use super::file::CardFile;
use super::instruments;
use super::model::Handbook;
use super::names::{self, Names};

/// Where a card stands: the file's place in the snapshot and the card's place in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct EntryId {
    /// The index of the file.
    pub file: u32,
    /// The index of the card in the file.
    pub entry: u32,
}

/// The catalogue at one moment. Nothing in it changes; an edit makes another.
#[derive(Debug)]
pub struct Snapshot {
    /// Today's date, given from outside.
    pub today: Date,
    files: Vec<Arc<CardFile>>,
    names: Names,
    /// Uses of a name, by the name as compared.
    used: HashMap<String, Vec<(EntryId, u32)>>,
    /// The concerts to come that list a piece.
    programs: HashMap<EntryId, Vec<Listing>>,
    instruments: Arc<Instruments>,
    handbook: Option<EntryId>,
    ensembles: Vec<EntryId>,
    /// A digest of every card that is not a piece, and of the names of all cards.
    pub context: u64,
}

/// A concert that lists a piece, with the bands that play it there.
#[derive(Debug, Clone, PartialEq)]
pub struct Listing {
    /// The concert.
    pub concert: EntryId,
    /// The piece's place in the program, counted from 0.
    pub place: usize,
    /// The bands.
    pub bands: Vec<EntryId>,
}

/// A band that a piece is judged for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Judge {
    /// The ensemble.
    pub ensemble: EntryId,
    /// The concert that makes it earnest; none when the piece is only on the shelf.
    pub concert: Option<EntryId>,
}

impl Snapshot {
    /// Puts a catalogue together. The files are sorted by their paths.
    pub fn new(mut files: Vec<Arc<CardFile>>, today: Date) -> Snapshot {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        let mut snapshot = Snapshot {
            today,
            files,
            names: Names::default(),
            used: HashMap::new(),
            programs: HashMap::new(),
            instruments: Arc::new(Instruments::standard().clone()),
            handbook: None,
            ensembles: Vec::new(),
            context: 0,
        };
        snapshot.index();
        snapshot.instruments = instruments::of(&snapshot);
        snapshot.programs = snapshot.listings();
        snapshot
    }

    fn index(&mut self) {
        let mut names = Names::default();
        let mut used: HashMap<String, Vec<(EntryId, u32)>> = HashMap::new();
        let mut context = xxhash_rust::xxh3::Xxh3::new();
        for (id, entry) in all(&self.files) {
            let Some(kind) = entry.kind else { continue };
            if kind.is_named() {
                names.add(kind, &entry.name, id);
            } else {
                self.handbook.get_or_insert(id);
            }
            if kind == Kind::Ensemble {
                self.ensembles.push(id);
            }
            context.update(kind.word().as_bytes());
            context.update(entry.name.as_bytes());
            if kind == Kind::Piece {
                if let Some(piece) = entry.piece() {
                    for person in &piece.by {
                        context.update(person.name.as_bytes());
                    }
                }
            } else {
                context.update(&entry.digest.to_le_bytes());
            }
            for (index, name) in entry.uses.iter().enumerate() {
                used.entry(names::key(&name.name))
                    .or_default()
                    .push((id, index as u32));
            }
        }
        context.update(self.today.to_string().as_bytes());
        self.context = context.digest();
        self.names = names;
        self.used = used;
    }

    fn listings(&self) -> HashMap<EntryId, Vec<Listing>> {
        let mut programs: HashMap<EntryId, Vec<Listing>> = HashMap::new();
        for (id, entry) in self.entries() {
            let Some(concert) = entry.concert() else { continue };
            // A concert that is over judges nobody any more; its band has grown or left.
            let over = concert
                .on
                .as_ref()
                .and_then(|on| on.value.day.last())
                .is_some_and(|day| day < self.today);
            if over {
                continue;
            }
            let concert_bands: Vec<EntryId> = concert
                .bands
                .iter()
                .filter_map(|band| self.ensemble_named(&band.value.name))
                .collect();
            for (place, listed) in concert.program.iter().enumerate() {
                let title = &listed.title.value;
                let own: Vec<EntryId> = listed
                    .bands
                    .iter()
                    .filter_map(|name| self.ensemble_named(name))
                    .collect();
                let bands = if own.is_empty() {
                    concert_bands.clone()
                } else {
                    own
                };
                let bands = if bands.is_empty() {
                    self.usual_bands()
                } else {
                    bands
                };
                for piece in self.pieces_titled(&title.name, title.by.as_deref()) {
                    programs.entry(piece).or_default().push(Listing {
                        concert: id,
                        place,
                        bands: bands.clone(),
                    });
                }
            }
        }
        programs
    }

    /// The files in the order of their paths.
    pub fn files(&self) -> &[Arc<CardFile>] {
        &self.files
    }

    /// The file at a path below the catalogue's folder.
    pub fn file(&self, path: &str) -> Option<(usize, &Arc<CardFile>)> {
        let index = self.files.binary_search_by(|file| (*file.path).cmp(path)).ok()?;
        Some((index, self.files.get(index)?))
    }

    /// All cards in order.
    pub fn entries(&self) -> impl Iterator<Item = (EntryId, &Arc<Entry>)> {
        all(&self.files)
    }

    /// A card.
    pub fn entry(&self, id: EntryId) -> Option<&Arc<Entry>> {
        self.files.get(id.file as usize)?.entries.get(id.entry as usize)
    }

    /// The file that holds a card.
    pub fn file_of(&self, id: EntryId) -> Option<&Arc<CardFile>> {
        self.files.get(id.file as usize)
    }

    /// Where a card stands, found by the card itself.
    pub fn locate(&self, entry: &Arc<Entry>) -> Option<EntryId> {
        self.entries()
            .find(|(_, found)| Arc::ptr_eq(found, entry))
            .map(|(id, _)| id)
    }

    /// The names of all cards.
    pub fn names(&self) -> &Names {
        &self.names
    }

    /// The instruments: the standard ones with those of the catalogue's own cards.
    pub fn instruments(&self) -> &Instruments {
        &self.instruments
    }

    /// The handbook's card.
    pub fn handbook_card(&self) -> Option<(EntryId, &Arc<Entry>)> {
        let id = self.handbook?;
        Some((id, self.entry(id)?))
    }

    /// What the handbook says.
    pub fn handbook(&self) -> Option<&Handbook> {
        self.handbook_card().and_then(|(_, entry)| entry.handbook())
    }

    /// All ensembles.
    pub fn ensembles(&self) -> &[EntryId] {
        &self.ensembles
    }

    /// The ensemble of a name.
    pub fn ensemble_named(&self, name: &str) -> Option<EntryId> {
        self.names.of(Kind::Ensemble, name).next()
    }

    /// The pieces of a title; where somebody is named, those that they had a hand in.
    pub fn pieces_titled(&self, title: &str, by: Option<&str>) -> Vec<EntryId> {
        let all: Vec<EntryId> = self.names.of(Kind::Piece, title).collect();
        match by {
            Some(by) => all.into_iter().filter(|id| self.is_by(*id, by)).collect(),
            None => all,
        }
    }

    fn is_by(&self, id: EntryId, by: &str) -> bool {
        let by = names::key(by);
        self.entry(id)
            .and_then(|entry| entry.piece())
            .is_some_and(|piece| {
                piece
                    .by
                    .iter()
                    .any(|person| names::key(&person.name).contains(&by))
            })
    }

    /// The cards that a use of a name means.
    pub fn meant(&self, name: &NameUse) -> Vec<EntryId> {
        let kinds: &[Kind] = match name.wants {
            Wants::Card(Kind::Piece) => return self.pieces_titled(&name.name, name.by.as_deref()),
            Wants::Card(kind) => &[kind],
            Wants::ListOrBook => &[Kind::List],
            Wants::CriteriaOrList => &[Kind::Criteria, Kind::List],
            Wants::Skill => &[Kind::Skill],
            Wants::PastEnsemble => &[Kind::Ensemble],
        };
        kinds
            .iter()
            .flat_map(|kind| self.names.of(*kind, &name.name))
            .collect()
    }

    /// Every place where a card's name is used, that card's own head not included.
    pub fn uses_of(&self, id: EntryId) -> Vec<(EntryId, &NameUse)> {
        let Some(entry) = self.entry(id) else {
            return Vec::new();
        };
        let Some(kind) = entry.kind else { return Vec::new() };
        self.used
            .get(&names::key(&entry.name))
            .into_iter()
            .flatten()
            .filter_map(|(user, index)| Some((*user, self.entry(*user)?.uses.get(*index as usize)?)))
            .filter(|(_, name)| name.wants.takes(kind) && self.meant(name).contains(&id))
            .collect()
    }

    /// The concerts to come that list a piece.
    pub fn listings_of(&self, piece: EntryId) -> &[Listing] {
        self.programs.get(&piece).map_or(&[], Vec::as_slice)
    }

    /// The bands that a piece is judged for: those of the concerts to come that list it, in earnest;
    /// else the handbook's, else the only one there is.
    pub fn judges(&self, piece: EntryId) -> Vec<Judge> {
        let mut judges: Vec<Judge> = Vec::new();
        for listing in self.listings_of(piece) {
            for band in &listing.bands {
                if !judges.iter().any(|judge| judge.ensemble == *band) {
                    judges.push(Judge {
                        ensemble: *band,
                        concert: Some(listing.concert),
                    });
                }
            }
        }
        if judges.is_empty() {
            judges.extend(self.usual_bands().into_iter().map(|ensemble| Judge {
                ensemble,
                concert: None,
            }));
        }
        judges
    }

    /// The handbook's bands, else the only one there is.
    pub fn usual_bands(&self) -> Vec<EntryId> {
        let named: Vec<EntryId> = self
            .handbook()
            .into_iter()
            .flat_map(|handbook| &handbook.bands)
            .filter_map(|band| self.ensemble_named(&band.value.name))
            .collect();
        match (named.is_empty(), self.ensembles.as_slice()) {
            (true, [only]) => vec![*only],
            _ => named,
        }
    }
}

fn all(files: &[Arc<CardFile>]) -> impl Iterator<Item = (EntryId, &Arc<Entry>)> {
    files.iter().enumerate().flat_map(|(file, cards)| {
        cards.entries.iter().enumerate().map(move |(entry, card)| {
            let id = EntryId {
                file: file as u32,
                entry: entry as u32,
            };
            (id, card)
        })
    })
}
