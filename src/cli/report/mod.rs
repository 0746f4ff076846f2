//! What was found, gathered from the catalogues, and the forms in which it is told.

pub mod aloud;
pub mod cards;
pub mod drawing;
pub mod lines;
pub mod merge_request;
pub mod sarif;

use std::collections::HashMap;
use std::sync::{Arc, OnceLock};

use crate::assist::lines::{FindingLine, Lines as FindingLines};
use crate::catalogue::known::{Known, Mark};
use crate::catalogue::{Entry, EntryId};
use crate::cores;
use crate::disk::DiskProblem;
use crate::findings::{Finding, Related, Round, Severity};
use crate::notation::Kind;
use crate::text::{Encoding, Lines, Position, Span};

use super::progress::Progress;
use super::room::{Room, Sheet};

/// All that was found.
pub struct Report<'r> {
    /// What is told, in the order of files and cards.
    pub told: Vec<Told<'r>>,
    /// What could not be used.
    pub problems: Vec<&'r DiskProblem>,
    /// Hints that are weaker than what was asked for.
    pub hints: usize,
    /// Stronger findings that are weaker than what was asked for.
    pub weaker: usize,
    /// Known findings left out.
    pub known: usize,
    /// Findings left out that were there at the commit asked about, or are known.
    pub since: usize,
    /// Findings in the files of known findings that are no longer found.
    pub gone: usize,
    /// How many cards were read.
    pub cards: usize,
}

/// One finding with all that is needed to tell it.
pub struct Told<'r> {
    /// The catalogue it is in.
    pub shelf: Arc<Shelf<'r>>,
    /// The file.
    pub sheet: &'r Sheet,
    /// The lines of the file.
    pub lines: Arc<Lines>,
    /// Where the card stands.
    pub id: EntryId,
    /// The card.
    pub entry: Arc<Entry>,
    /// The finding; its places count from the start of the card.
    pub finding: Finding,
    /// Whether it is one of the known findings.
    pub known: bool,
    /// What it is known by.
    pub mark: Mark,
}

/// A catalogue with what is needed to find places in it.
pub struct Shelf<'r> {
    room: &'r Room,
    /// The lines of each file, made when a finding in it is told.
    lines: Vec<OnceLock<Arc<Lines>>>,
}

/// A place in a file.
pub struct Place<'r> {
    /// The file.
    pub sheet: &'r Sheet,
    /// Its lines.
    pub lines: Arc<Lines>,
    /// Where, in bytes from the start of the file.
    pub span: Span,
}

/// What to tell.
#[derive(Debug, Clone, Copy)]
pub struct Wish {
    /// The weakest findings.
    pub least: Severity,
    /// Known ones too.
    pub all: bool,
}

impl<'r> Report<'r> {
    /// Reads all cards that were asked about.
    pub fn of(rooms: impl IntoIterator<Item = (&'r Room, Known)>, wish: Wish) -> Report<'r> {
        let mut report = Report {
            told: Vec::new(),
            problems: Vec::new(),
            hints: 0,
            weaker: 0,
            known: 0,
            since: 0,
            gone: 0,
            cards: 0,
        };
        for (room, known) in rooms {
            report.add(room, known, wish);
        }
        report
    }

    /// What programs follow each finding by over time, in the order of the findings: it stays when lines above come
    /// and go, and no two have the same.
    pub fn fingerprints(&self) -> Vec<String> {
        let mut seen: HashMap<&Mark, u32> = HashMap::new();
        let each = self.told.iter().map(|told| {
            let nth = seen.entry(&told.mark).or_default();
            let print = format!("{:016x}", told.mark.digest(*nth));
            *nth = nth.saturating_add(1);
            print
        });
        each.collect()
    }

    fn add(&mut self, room: &'r Room, mut known: Known, wish: Wish) {
        self.problems.extend(&room.problems);
        let shelf = Arc::new(Shelf::of(room));
        let cards: Vec<(EntryId, &Arc<Entry>, &'r Sheet)> = room
            .snapshot
            .entries()
            .filter_map(|(id, entry)| Some((id, entry, room.sheets.get(id.file as usize)?)))
            .filter(|(_, _, sheet)| sheet.asked)
            .collect();
        let mut progress = Progress::new();
        let round = Round::of(&room.snapshot);
        // Pieces go first: what a concert asks of them is then known from their own look.
        let mut order: Vec<usize> = (0..cards.len()).collect();
        let is_piece = |at: &usize| {
            cards
                .get(*at)
                .is_some_and(|(_, entry, _)| entry.kind == Some(Kind::Piece))
        };
        order.sort_by_key(|at| !is_piece(at));
        let found = cores::spread(
            &order,
            |at| {
                let card = cards.get(*at);
                card.map(|(id, ..)| Found::of(round.of_card(*id), wish, &known))
            },
            &mut |done| {
                progress.tell("Proofreading cards", done, cards.len());
                true
            },
        );
        drop(progress);
        let mut found: Vec<(usize, Option<Found>)> =
            order.into_iter().zip(found.unwrap_or_default()).collect();
        found.sort_unstable_by_key(|(at, _)| *at);
        for ((id, entry, sheet), (_, found)) in cards.into_iter().zip(found) {
            let Some(found) = found else { continue };
            self.cards = self.cards.saturating_add(usize::from(entry.kind.is_some()));
            self.hints = self.hints.saturating_add(found.hints);
            self.weaker = self.weaker.saturating_add(found.weaker);
            for finding in found.findings {
                let mark = Mark::of(entry, finding.phrase, finding.span);
                let is_known = known.take(&mark);
                let left_out = match too_weak(&finding, wish) {
                    _ if is_known && !wish.all => Some(&mut self.known),
                    Some(Severity::Hint) => Some(&mut self.hints),
                    Some(_) => Some(&mut self.weaker),
                    None => None,
                };
                if let Some(count) = left_out {
                    *count = count.saturating_add(1);
                    continue;
                }
                self.told.push(Told {
                    shelf: Arc::clone(&shelf),
                    sheet,
                    lines: shelf.lines_of(id),
                    id,
                    entry: Arc::clone(entry),
                    finding,
                    known: is_known,
                    mark,
                });
            }
        }
        // Only who reads the whole catalogue can tell what is gone from it.
        if room.sheets.iter().all(|sheet| sheet.asked) {
            self.gone = self.gone.saturating_add(known.len());
        }
    }

    /// Whether something was found that is stronger than a hint.
    pub fn is_earnest(&self) -> bool {
        self.told
            .iter()
            .any(|told| told.finding.severity != Severity::Hint)
    }
}

/// What was found on one card and may be told, with the counts of what is too weak for that.
struct Found {
    findings: Vec<Finding>,
    hints: usize,
    weaker: usize,
}

impl Found {
    /// Lets go at once of what is too weak to be told: a large catalogue has many times more hints than anything
    /// else. A known finding is known whatever its strength, so those must all be seen.
    fn of(findings: Vec<Finding>, wish: Wish, known: &Known) -> Found {
        let mut found = Found {
            findings,
            hints: 0,
            weaker: 0,
        };
        if known.is_empty() {
            found.findings.retain(|finding| {
                let weak = too_weak(finding, wish);
                match weak {
                    Some(Severity::Hint) => found.hints = found.hints.saturating_add(1),
                    Some(_) => found.weaker = found.weaker.saturating_add(1),
                    None => {}
                }
                weak.is_none()
            });
            found.findings.shrink_to_fit();
        }
        found
    }
}

/// The strength of a finding that is weaker than what is wished for.
fn too_weak(finding: &Finding, wish: Wish) -> Option<Severity> {
    (finding.severity > wish.least).then_some(finding.severity)
}

impl<'r> Shelf<'r> {
    fn of(room: &'r Room) -> Shelf<'r> {
        Shelf {
            room,
            lines: room.sheets.iter().map(|_| OnceLock::new()).collect(),
        }
    }

    /// The lines of the file that a card is in.
    fn lines_of(&self, id: EntryId) -> Arc<Lines> {
        let text = self
            .room
            .sheets
            .get(id.file as usize)
            .map_or("", |sheet| &sheet.text);
        match self.lines.get(id.file as usize) {
            Some(lines) => Arc::clone(lines.get_or_init(|| Arc::new(Lines::of(text)))),
            None => Arc::new(Lines::of(text)),
        }
    }

    /// Line and character, counted from 0, of a byte of a file.
    fn position(&self, file: usize, offset: u32) -> Position {
        let text = self.room.sheets.get(file).map_or("", |sheet| &sheet.text);
        let id = EntryId {
            file: u32::try_from(file).unwrap_or(u32::MAX),
            entry: 0,
        };
        self.lines_of(id).position(text, offset, Encoding::Utf32)
    }

    /// A place on a card.
    fn place(&self, id: EntryId, span: Span) -> Option<Place<'r>> {
        let file = self.room.snapshot.file_of(id)?;
        Some(Place {
            sheet: self.room.sheets.get(id.file as usize)?,
            lines: self.lines_of(id),
            span: file.in_file(id.entry as usize, span),
        })
    }
}

impl<'r> Told<'r> {
    /// Where a place of the card stands in the file.
    pub fn in_file(&self, span: Span) -> Span {
        match self.shelf.room.snapshot.file_of(self.id) {
            Some(file) => file.in_file(self.id.entry as usize, span),
            None => span,
        }
    }

    /// The finding's own place.
    pub fn place(&self) -> Place<'r> {
        Place {
            sheet: self.sheet,
            lines: Arc::clone(&self.lines),
            span: self.in_file(self.finding.span),
        }
    }

    /// The finding for other programs.
    pub fn line(&self) -> FindingLine<'_> {
        let room = self.shelf.room;
        let lines = FindingLines {
            snapshot: &room.snapshot,
            called: &|file| room.sheets.get(file).map(|sheet| sheet.shown.as_str()),
            position: &|file, offset| self.shelf.position(file, offset),
        };
        lines.of(self.id, &self.finding, self.known)
    }

    /// Where something stands that explains the finding.
    pub fn related(&self, related: &Related) -> Option<Place<'r>> {
        self.shelf.place(related.card.unwrap_or(self.id), related.span)
    }

    /// What people call the card.
    pub fn card(&self) -> &str {
        match self.entry.kind {
            None => "Above the first card",
            Some(kind) if kind.is_named() && !self.entry.name.trim().is_empty() => &self.entry.name,
            Some(kind) if kind.is_named() => kind.word(),
            Some(_) => "Handbook",
        }
    }

    /// The whole finding in one paragraph, with its card and its place in the music.
    pub fn paragraph(&self) -> String {
        let saying = &self.finding.saying;
        let place = match saying.place.is_empty() {
            true => String::new(),
            false => format!(", {}", saying.place),
        };
        format!("{}{place}: {}", self.card(), saying.whole())
    }
}

impl Place<'_> {
    /// The first line, counted from 1.
    pub fn line(&self) -> u32 {
        self.lines.line_at(self.span.start).saturating_add(1)
    }

    /// Start and end, lines and characters counted from 0.
    pub fn ends(&self) -> (Position, Position) {
        let at = |offset| self.lines.position(&self.sheet.text, offset, Encoding::Utf32);
        (at(self.span.start), at(self.span.end))
    }
}
