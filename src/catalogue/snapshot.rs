//! The whole catalogue at one moment, as command line and editor share it.

use std::collections::{HashMap, HashSet};
use std::sync::{Arc, OnceLock};

use jiff::civil::Date;

use crate::music::Instruments;
use crate::notation::Kind;
use crate::notation::row::RowName;

use super::conditions::{Lexicon, Step, grade_cards};
use super::entry::{Entry, NameUse, Wants};
use super::file::CardFile;
use super::instruments;
use super::model::{Bundle, Facts, Handbook, Piece};
use super::names::{self, Names};
use super::sections::meant_by;
use super::worked::Worked;

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
    /// How the cards hang together; shared with the snapshot before when an edit left that as it was.
    web: Arc<Web>,
    /// The names that conditions may use, put together when one is read.
    lexicon: Lexicon,
    /// A digest of all names of other cards on cards, worked out when somebody asks.
    used: OnceLock<u64>,
    /// The skills that rows ask: the first card that does, and whether others do too.
    asked: OnceLock<HashMap<String, (EntryId, bool)>>,
    /// The criteria of the band's own grades, read when somebody asks.
    steps: OnceLock<Vec<Step>>,
}

/// So many pieces of one title are meant at most where a title is used; more would make uses times cards.
const MOST_OF_ONE_TITLE: usize = 64;

/// So many pieces of one title are asked at most who wrote them.
const MOST_COMPARED: usize = 1_000;

/// How the cards hang together by name.
#[derive(Debug)]
struct Web {
    names: Names,
    /// Uses of a name, by the name as compared.
    used: HashMap<String, Vec<(EntryId, u32)>>,
    /// The concerts to come that list a piece.
    programs: HashMap<EntryId, Vec<Listing>>,
    instruments: Arc<Instruments>,
    handbook: Option<EntryId>,
    /// Names that no card goes by, as compared, each with how many cards use it.
    unfound: Vec<(String, usize)>,
    /// Names on lines that were meant to start a card and do not, as compared.
    lost: HashSet<String>,
    ensembles: Vec<EntryId>,
    /// A digest of every card that is not a piece, and of the names of all cards and where they stand.
    context: u64,
    /// What follows from the cards that judge pieces, worked out when somebody asks.
    worked: Worked,
}

/// How many names without a card are compared with cards that nobody names.
const MOST_UNFOUND: usize = 300;

/// A concert that lists a piece, with the bands that play it there.
#[derive(Debug, Clone, PartialEq)]
pub struct Listing {
    /// The concert.
    pub concert: EntryId,
    /// The piece's place in the program, counted from 0.
    pub place: usize,
    /// The bands.
    pub bands: Vec<EntryId>,
    /// Whether a name that no card goes by says who plays.
    pub unknown: bool,
}

/// A band that a piece is judged for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Judge {
    /// The ensemble.
    pub ensemble: EntryId,
    /// The concert that makes it earnest; none when the piece is only on the shelf.
    pub concert: Option<EntryId>,
    /// Whether what does not fit is told in full strength; see [`Snapshot::shelf_is_quiet`].
    pub in_full: bool,
}

impl Web {
    fn empty() -> Web {
        Web {
            names: Names::default(),
            used: HashMap::new(),
            programs: HashMap::new(),
            instruments: instruments::standard(),
            handbook: None,
            unfound: Vec::new(),
            lost: HashSet::new(),
            ensembles: Vec::new(),
            context: 0,
            worked: Worked::default(),
        }
    }
}

impl Snapshot {
    /// Puts a catalogue together. The files are sorted by their paths.
    pub fn new(mut files: Vec<Arc<CardFile>>, today: Date) -> Snapshot {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        let mut snapshot = Snapshot {
            today,
            files,
            web: Arc::new(Web::empty()),
            lexicon: Lexicon::default(),
            used: OnceLock::new(),
            asked: OnceLock::new(),
            steps: OnceLock::new(),
        };
        // Each step looks things up in what the steps before it have put together.
        let mut web = snapshot.index();
        web.instruments = instruments::of(&snapshot);
        snapshot.web = Arc::new(web);
        let programs = snapshot.listings();
        if let Some(web) = Arc::get_mut(&mut snapshot.web) {
            web.programs = programs;
        }
        snapshot
    }

    /// The catalogue after an edit. Where no card changed its kind, its name, its writers, the names it uses,
    /// or (other than a piece) anything at all, the cards hang together as before and nothing is put together anew.
    pub fn after(&self, mut files: Vec<Arc<CardFile>>, today: Date) -> Snapshot {
        files.sort_by(|a, b| a.path.cmp(&b.path));
        let same = self.today == today
            && self.files.len() == files.len()
            && self
                .files
                .iter()
                .zip(&files)
                .all(|(before, now)| Arc::ptr_eq(before, now) || same_face(before, now));
        if !same {
            return Snapshot::new(files, today);
        }
        Snapshot {
            today,
            files,
            web: Arc::clone(&self.web),
            lexicon: Lexicon::default(),
            used: OnceLock::new(),
            asked: OnceLock::new(),
            steps: OnceLock::new(),
        }
    }

    /// A digest of all that pieces are judged by: every card that is not a piece, and the names of all cards.
    pub fn context(&self) -> u64 {
        self.web.context
    }

    /// A digest of all names of bands, skills and other cards that cards use: what makes a card idle.
    pub fn used_names(&self) -> u64 {
        *self.used.get_or_init(|| {
            let mut digest = xxhash_rust::xxh3::Xxh3::new();
            for file in &self.files {
                digest.update(&file.used.to_le_bytes());
            }
            digest.digest()
        })
    }

    /// All criteria that stand for one of the band's own grades, the lowest first.
    pub fn grade_cards(&self) -> &[Step] {
        self.steps.get_or_init(|| grade_cards(self))
    }

    /// Whether a card other than this one asks a skill of this name, be it in a line or in a row.
    pub fn others_ask(&self, name: &str, than: EntryId) -> bool {
        let name = names::key(name);
        let in_lines = self.web.used.get(&name).into_iter().flatten();
        let mut in_lines = in_lines.filter(|(user, _)| *user != than);
        let asks = |(user, index): &(EntryId, u32)| {
            let name = self
                .entry(*user)
                .and_then(|entry| entry.uses.get(*index as usize));
            name.is_some_and(|name| name.wants == Wants::Skill)
        };
        let in_rows = || self.asked_in_rows().get(&name);
        in_lines.any(asks) || in_rows().is_some_and(|(first, more)| *first != than || *more)
    }

    fn asked_in_rows(&self) -> &HashMap<String, (EntryId, bool)> {
        self.asked.get_or_init(|| {
            let mut found: HashMap<String, (EntryId, bool)> = HashMap::new();
            for (file, cards) in (0u32..).zip(&self.files) {
                for (skill, entry) in &cards.asked {
                    let id = EntryId { file, entry: *entry };
                    let known = found.entry(skill.clone()).or_insert((id, false));
                    known.1 |= known.0 != id;
                }
            }
            found
        })
    }

    fn index(&self) -> Web {
        let mut web = Web::empty();
        let mut context = xxhash_rust::xxh3::Xxh3::new();
        for (id, entry) in all(&self.files) {
            web.lost.extend(entry.lost.iter().map(|name| names::key(name)));
            let Some(kind) = entry.kind else { continue };
            if kind.is_named() {
                web.names.add(kind, &entry.name, id);
            } else {
                web.handbook.get_or_insert(id);
            }
            if kind == Kind::Ensemble {
                web.ensembles.push(id);
            }
            context.update(kind.word().as_bytes());
            context.update(entry.name.as_bytes());
            for place in [id.file, id.entry, entry.name_span.start, entry.name_span.end] {
                context.update(&place.to_le_bytes());
            }
            if kind == Kind::Piece {
                for person in &entry.face.by {
                    context.update(person.name.as_bytes());
                    web.names.add_person(&person.name, id);
                }
                if let Some(house) = &entry.face.house {
                    context.update(house.as_bytes());
                    web.names.add_house(house, id);
                }
            } else {
                if let Facts::Bundle(Bundle { from: Some(from), .. }) = entry.facts() {
                    web.names.add_house(&from.value, id);
                }
                context.update(&entry.digest.to_le_bytes());
            }
            for (index, name) in entry.uses.iter().enumerate() {
                web.used
                    .entry(names::key(&name.name))
                    .or_default()
                    .push((id, index as u32));
            }
        }
        web.unfound = self.unfound_in(&web);
        for (name, count) in &web.unfound {
            context.update(name.as_bytes());
            context.update(&count.to_le_bytes());
        }
        let mut lost: Vec<&String> = web.lost.iter().collect();
        lost.sort();
        for name in lost {
            context.update(name.as_bytes());
        }
        context.update(self.today.to_string().as_bytes());
        web.context = context.digest();
        web
    }

    /// The first names that are used and that no card goes by, in order.
    fn unfound_in(&self, web: &Web) -> Vec<(String, usize)> {
        let is_found = |name: &NameUse| {
            let kinds = Kind::ALL.into_iter().filter(|kind| name.wants.takes(*kind));
            name.name.is_empty()
                || name.wants == Wants::Skill
                || kinds
                    .into_iter()
                    .any(|kind| web.names.of(kind, &name.name).next().is_some())
        };
        let mut found: Vec<(String, usize)> = Vec::new();
        for (key, uses) in &web.used {
            let name = uses
                .first()
                .and_then(|(id, index)| self.entry(*id)?.uses.get(*index as usize));
            if name.is_some_and(|name| !is_found(name)) {
                let mut cards: Vec<EntryId> = uses.iter().map(|(id, _)| *id).collect();
                cards.dedup();
                found.push((key.clone(), cards.len()));
            }
        }
        found.sort();
        found.truncate(MOST_UNFOUND);
        found
    }

    fn listings(&self) -> HashMap<EntryId, Vec<Listing>> {
        let mut programs: HashMap<EntryId, Vec<Listing>> = HashMap::new();
        for (id, entry) in self.entries() {
            let Some(concert) = entry.concert() else { continue };
            // A concert that is over judges nobody any more; its band has grown or left.
            let last_day = concert.on.as_ref().and_then(|on| on.value.day.last());
            if last_day.is_some_and(|day| day < self.today) {
                continue;
            }
            // A band that no card is called leaves open who plays; nobody else is put in its place.
            let named = |names: &mut dyn Iterator<Item = &str>| -> Option<Vec<EntryId>> {
                names.map(|name| self.ensemble_named(name)).collect()
            };
            let concert_bands = named(&mut concert.bands.iter().map(|band| band.value.name.as_str()));
            for (place, listed) in concert.program.iter().enumerate() {
                let title = &listed.title.value;
                let own = named(&mut listed.bands.iter().map(String::as_str));
                let said = match &own {
                    Some(own) if own.is_empty() => &concert_bands,
                    own => own,
                };
                let bands = match said {
                    Some(none) if none.is_empty() => self.usual_bands(),
                    Some(bands) => bands.clone(),
                    None => Vec::new(),
                };
                let unknown = said.is_none();
                for piece in self.pieces_titled(&title.name, title.by.as_deref()) {
                    programs.entry(piece).or_default().push(Listing {
                        concert: id,
                        place,
                        bands: bands.clone(),
                        unknown,
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
        let named = entry.kind.filter(|kind| kind.is_named());
        let here = |id: &EntryId| self.entry(*id).is_some_and(|found| Arc::ptr_eq(found, entry));
        match named {
            Some(kind) => self.names().of(kind, &entry.name).find(here),
            None => self.entries().map(|(id, _)| id).find(here),
        }
    }

    pub(super) fn worked(&self) -> &Worked {
        &self.web.worked
    }

    /// The names that conditions may use.
    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    /// The names of all cards.
    pub fn names(&self) -> &Names {
        &self.web.names
    }

    /// The instruments: the standard ones with those of the catalogue's own cards.
    pub fn instruments(&self) -> &Instruments {
        &self.web.instruments
    }

    /// The handbook's card.
    pub fn handbook_card(&self) -> Option<(EntryId, &Arc<Entry>)> {
        let id = self.web.handbook?;
        Some((id, self.entry(id)?))
    }

    /// What the handbook says.
    pub fn handbook(&self) -> Option<&Handbook> {
        self.handbook_card().and_then(|(_, entry)| entry.handbook())
    }

    /// The names of a piece's wind parts, with the handbook's in place of `the usual`; movements are left out.
    pub fn part_names<'s>(&'s self, piece: &'s Piece) -> impl Iterator<Item = &'s RowName> {
        let usual = self.handbook().map_or(&[][..], |handbook| &handbook.usual);
        let rows = piece.parts.iter();
        rows.flat_map(move |row| row.names.iter().flat_map(move |name| meant_by(row, name, usual)))
    }

    /// All ensembles.
    pub fn ensembles(&self) -> &[EntryId] {
        &self.web.ensembles
    }

    /// The ensemble of a name.
    pub fn ensemble_named(&self, name: &str) -> Option<EntryId> {
        self.web.names.of(Kind::Ensemble, name).next()
    }

    /// The pieces of a title; where somebody is named, those that they had a hand in.
    pub fn pieces_titled(&self, title: &str, by: Option<&str>) -> Vec<EntryId> {
        let all = self.web.names.of(Kind::Piece, title).take(MOST_COMPARED);
        match by {
            Some(by) => all
                .filter(|id| self.is_by(*id, by))
                .take(MOST_OF_ONE_TITLE)
                .collect(),
            None => all.take(MOST_OF_ONE_TITLE).collect(),
        }
    }

    fn is_by(&self, id: EntryId, by: &str) -> bool {
        let by = names::key(by);
        self.entry(id).is_some_and(|entry| {
            let mut writers = entry.face.by.iter();
            writers.any(|person| names::key(&person.name).contains(&by))
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
            .flat_map(|kind| self.web.names.of(*kind, &name.name))
            .collect()
    }

    /// Every place where a card's name is used, that card's own head not included.
    pub fn uses_of(&self, id: EntryId) -> Vec<(EntryId, &NameUse)> {
        let Some(entry) = self.entry(id) else {
            return Vec::new();
        };
        let Some(kind) = entry.kind else { return Vec::new() };
        // Of a title that many pieces bear, the later ones are never meant; and what a bare title means is the same
        // wherever it stands.
        let mut titled = None;
        if kind == Kind::Piece {
            let mut all = self.web.names.of(kind, &entry.name).take(MOST_COMPARED);
            let Some(place) = all.position(|other| other == id) else {
                return Vec::new();
            };
            titled = Some(place < MOST_OF_ONE_TITLE);
        }
        let is_meant = |name: &NameUse| match (titled, name.wants, &name.by) {
            (Some(titled), Wants::Card(Kind::Piece), None) => titled,
            _ => self.meant(name).contains(&id),
        };
        self.web
            .used
            .get(&names::key(&entry.name))
            .into_iter()
            .flatten()
            .filter_map(|(user, index)| Some((*user, self.entry(*user)?.uses.get(*index as usize)?)))
            .filter(|(_, name)| name.wants.takes(kind) && is_meant(name))
            .collect()
    }

    /// Names that no card goes by, each with a use of it and how many cards use it; at most a few hundred.
    pub fn unfound(&self) -> impl Iterator<Item = (&NameUse, usize)> {
        self.web.unfound.iter().filter_map(|(key, count)| {
            let (id, index) = self.web.used.get(key)?.first()?;
            Some((self.entry(*id)?.uses.get(*index as usize)?, *count))
        })
    }

    /// Whether a line that was meant to start a card and does not has this name.
    pub fn is_lost(&self, name: &str) -> bool {
        !self.web.lost.is_empty() && self.web.lost.contains(&names::key(name))
    }

    /// The concerts to come that list a piece.
    pub fn listings_of(&self, piece: EntryId) -> &[Listing] {
        self.web.programs.get(&piece).map_or(&[], Vec::as_slice)
    }

    /// How a row of a concert's program lists a piece.
    pub fn listings_at(&self, piece: EntryId, concert: EntryId, place: usize) -> &[Listing] {
        // They stand in the order of the concerts and their rows.
        let all = self.listings_of(piece);
        let before = |listing: &Listing| (listing.concert, listing.place) < (concert, place);
        let rest = all.get(all.partition_point(before)..).unwrap_or(&[]);
        let here = |listing: &Listing| (listing.concert, listing.place) == (concert, place);
        rest.get(..rest.partition_point(here)).unwrap_or(&[])
    }

    /// Whether pieces that no concert to come lists are left in peace: what does not fit them is then a hint.
    /// As long as no concert to come lists a piece, the cards are all there is to look at, and what does not
    /// fit the band is told in full strength.
    pub fn shelf_is_quiet(&self) -> bool {
        !self.web.programs.is_empty()
    }

    /// The bands that a piece is judged for: those of the concerts to come that list it, in earnest;
    /// else the handbook's, else the only one there is.
    pub fn judges(&self, piece: EntryId) -> Vec<Judge> {
        let mut judges: Vec<Judge> = Vec::new();
        if !self.is_judged(piece) {
            return judges;
        }
        for listing in self.listings_of(piece) {
            for band in &listing.bands {
                if !judges.iter().any(|judge| judge.ensemble == *band) {
                    judges.push(Judge {
                        ensemble: *band,
                        concert: Some(listing.concert),
                        in_full: true,
                    });
                }
            }
        }
        // Where a concert's band is not known, nobody knows for whom the piece is judged.
        let unknown = self.listings_of(piece).iter().any(|listing| listing.unknown);
        if judges.is_empty() && !unknown {
            judges.extend(self.bands_of(piece).into_iter().map(|ensemble| Judge {
                ensemble,
                concert: None,
                in_full: !self.shelf_is_quiet(),
            }));
        }
        judges
    }

    /// Whether a piece is judged for a band at all: a warm-up may say that it is not.
    pub fn is_judged(&self, piece: EntryId) -> bool {
        self.entry(piece).is_none_or(|entry| !entry.face.unjudged)
    }

    /// The bands that play a piece where no concert says so: those on its card, else the usual ones.
    pub fn bands_of(&self, piece: EntryId) -> Vec<EntryId> {
        let said = self.entry(piece).map_or(&[][..], |entry| &entry.face.bands);
        let named: Vec<EntryId> = said.iter().filter_map(|band| self.ensemble_named(band)).collect();
        match said.is_empty() {
            true => self.usual_bands(),
            false => named,
        }
    }

    /// The handbook's bands; where it names none, the only one there is.
    pub fn usual_bands(&self) -> Vec<EntryId> {
        self.worked().usual_bands(|| self.the_usual_bands()).to_vec()
    }

    fn the_usual_bands(&self) -> Vec<EntryId> {
        let said = self.handbook().map_or(&[][..], |handbook| &handbook.bands);
        match (said, self.web.ensembles.as_slice()) {
            ([], [only]) => vec![*only],
            // A name that is no band's is told; another band is not judged in its place.
            _ => said
                .iter()
                .filter_map(|band| self.ensemble_named(&band.value.name))
                .collect(),
        }
    }
}

/// Whether two states of a file look the same to all other cards.
fn same_face(before: &CardFile, now: &CardFile) -> bool {
    let same = |a: &Arc<Entry>, b: &Arc<Entry>| {
        Arc::ptr_eq(a, b)
            || (a.kind == b.kind
                && a.name == b.name
                && a.name_span == b.name_span
                && a.lost == b.lost
                && same_uses(&a.uses, &b.uses)
                && match a.kind {
                    Some(Kind::Piece) => a.face.by == b.face.by && a.face.house == b.face.house,
                    _ => a.digest == b.digest,
                })
    };
    before.path == now.path
        && before.entries.len() == now.entries.len()
        && before.entries.iter().zip(&now.entries).all(|(a, b)| same(a, b))
}

/// Whether the same names are used in the same order; where they stand may have shifted.
fn same_uses(before: &[NameUse], now: &[NameUse]) -> bool {
    let same = |a: &NameUse, b: &NameUse| {
        a.wants == b.wants && a.name == b.name && a.by == b.by && a.field == b.field
    };
    before.len() == now.len() && before.iter().zip(now).all(|(a, b)| same(a, b))
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

#[cfg(test)]
mod tests {
    use super::*;

    fn file(path: &str, text: &str) -> Arc<CardFile> {
        Arc::new(CardFile::read(path, text))
    }

    fn snapshot(text: &str) -> Snapshot {
        Snapshot::new(vec![file("a.levare", text)], jiff::civil::date(2026, 10, 20))
    }

    const YEAR: &str = "\
handbook
  for \"Older\"
ensemble \"Older\"
ensemble \"Younger\"
piece \"On the shelf\"
piece \"Played\"
piece \"Over\"
concert \"To come\"
  on 2026-12-10
  for \"Younger\"
  program
    \"Played\"
concert \"Past\"
  on 2026-05-10
  for \"Younger\"
  program
    \"Over\"
";

    #[test]
    fn a_piece_is_judged_for_the_bands_that_play_it() {
        let snapshot = snapshot(YEAR);
        let judged = |title: &str| {
            let piece = snapshot.pieces_titled(title, None)[0];
            let judges = snapshot.judges(piece);
            let judge = judges.first().expect("somebody judges it");
            (
                snapshot
                    .entry(judge.ensemble)
                    .map(|entry| entry.name.clone())
                    .unwrap_or_default(),
                judge.concert.is_some(),
            )
        };
        assert_eq!(judged("Played"), ("Younger".to_owned(), true));
        assert_eq!(judged("On the shelf"), ("Older".to_owned(), false));
        assert_eq!(
            judged("Over"),
            ("Older".to_owned(), false),
            "a concert that is over judges nobody"
        );
    }

    #[test]
    fn a_piece_says_who_plays_it_or_that_nobody_judges_it() {
        let text = format!("{YEAR}piece \"Theirs\"\n  for \"Younger\"\npiece \"Warm-up\"\n  judged no\n");
        let snapshot = snapshot(&text);
        let judges = |title: &str| snapshot.judges(snapshot.pieces_titled(title, None)[0]);
        let names: Vec<&str> = judges("Theirs")
            .iter()
            .filter_map(|judge| Some(snapshot.entry(judge.ensemble)?.name.as_str()))
            .collect();
        assert_eq!(names, ["Younger"]);
        assert!(judges("Warm-up").is_empty());
    }

    #[test]
    fn the_only_ensemble_judges_when_nobody_is_named() {
        let one = snapshot("ensemble \"Only\"\npiece \"A\"\n");
        assert_eq!(one.judges(one.pieces_titled("A", None)[0]).len(), 1);
        let two = snapshot("ensemble \"One\"\nensemble \"Two\"\npiece \"A\"\n");
        assert_eq!(
            two.judges(two.pieces_titled("A", None)[0]).len(),
            0,
            "nobody knows which"
        );
    }

    #[test]
    fn an_edit_inside_a_piece_leaves_the_web_as_it_was() {
        let before = snapshot(YEAR);
        let after = |from: &str, to: &str| {
            before.after(vec![file("a.levare", &YEAR.replace(from, to))], before.today)
        };
        let inside = after("piece \"Played\"\n", "piece \"Played\"\n  measures 88\n");
        assert!(Arc::ptr_eq(&inside.web, &before.web));
        let shifted = after("concert \"To come\"\n", "concert \"To come\"\n\n");
        assert!(
            !Arc::ptr_eq(&shifted.web, &before.web),
            "a concert judges, so any change of it counts"
        );
        for (from, to) in [
            ("piece \"Played\"", "piece \"Renamed\""),
            ("piece \"Played\"\n", "piece \"Played\"\n  by Ida Quell\n"),
            ("piece \"Played\"\n", "piece \"Played\"\n  asks ties\n"),
            ("ensemble \"Older\"\n", "ensemble \"Older\"\n  keys Bb major\n"),
        ] {
            assert!(!Arc::ptr_eq(&after(from, to).web, &before.web), "{to}");
        }
    }
}
