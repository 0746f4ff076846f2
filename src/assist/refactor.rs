//! Changes that mend nothing and save writing: drafting, recording, moving and sorting cards.
//!
//! What can be done at a place is told cheaply; the change itself is worked out when it is asked for.

mod program;
mod shelf;

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::recopy::field_line;
use crate::notation::tree::LineKind;
use crate::notation::{Kind, fields};
use crate::text::sentences::{agree, counted};
use crate::text::{Edit, Ending, Span};

use super::{Place, drafts, planned, recorded, seasoned};

/// Something that can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refactor {
    /// The parts of a piece from the players of the band.
    Parts,
    /// The percussion of a piece from what the band owns.
    Percussion,
    /// The program of a concert from what it calls for.
    Program,
    /// The programs of all coming concerts together.
    Season,
    /// The days by which a concert's skills are taught.
    Taught,
    /// A performance of a piece, today.
    Performed,
    /// The performances of all pieces of a concert.
    Concert,
    /// A card to a file of its own.
    Move,
    /// The cards of a file by kind and name.
    Sort,
    /// Each card of a file to a file of its own.
    Split,
}

impl Refactor {
    /// All, in the order they are offered.
    pub const ALL: [Refactor; 10] = [
        Refactor::Parts,
        Refactor::Percussion,
        Refactor::Program,
        Refactor::Season,
        Refactor::Taught,
        Refactor::Performed,
        Refactor::Concert,
        Refactor::Move,
        Refactor::Sort,
        Refactor::Split,
    ];

    /// Whether it makes files.
    pub fn makes_files(self) -> bool {
        matches!(self, Refactor::Move | Refactor::Split)
    }
}

/// A change of one file.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Edits of a file of the catalogue, by its number there, in bytes of the file.
    Edit(usize, Vec<Edit>),
    /// A new file with this text; its name stands beside the file it comes from (by number).
    Make {
        /// The file it stands beside.
        beside: usize,
        /// Its name.
        name: String,
        /// Its text.
        text: String,
    },
}

/// What can be done at a place, each with its title.
pub fn at(place: &Place<'_>) -> Vec<(Refactor, String)> {
    Refactor::ALL
        .into_iter()
        .filter_map(|what| Some((what, title(place, what)?)))
        .collect()
}

fn has(place: &Place<'_>, field: &str) -> bool {
    place.reading.fields.iter().any(|one| one.name() == Some(field))
}

fn title(place: &Place<'_>, what: Refactor) -> Option<String> {
    let snapshot = place.snapshot;
    let kind = place.entry.kind?;
    let bands = || -> Option<String> {
        let names: Vec<&str> = drafts::bands(snapshot, Some(place.id))
            .into_iter()
            .filter_map(|id| snapshot.entry(id))
            .map(|band| band.name.as_str())
            .collect();
        (!names.is_empty()).then(|| names.join(", "))
    };
    match what {
        Refactor::Parts => {
            let can = kind == Kind::Piece && !has(place, "parts");
            let can = can && !drafts::parts(snapshot, Some(place.id)).is_empty();
            can.then(bands)?
                .map(|bands| format!("Draft the parts from the players of {bands}"))
        }
        Refactor::Percussion => {
            let can = kind == Kind::Piece && !has(place, "percussion");
            let can = can && !drafts::percussion(snapshot, Some(place.id)).is_empty();
            can.then(bands)?
                .map(|bands| format!("Draft the percussion from what {bands} owns"))
        }
        Refactor::Program => program::offer(place),
        Refactor::Season => {
            let all = seasoned::concerts(snapshot).filter(|all| all.contains(&place.id));
            all.map(|all| {
                format!(
                    "Choose pieces for the {} coming concerts together, none of them twice",
                    all.len()
                )
            })
        }
        Refactor::Taught => {
            let count = match kind == Kind::Concert {
                true => planned::count(&planned::of_concert(snapshot, place.id)),
                false => 0,
            };
            (count > 0).then(|| format!("Write on the band's card by when {} taught", skills(count)))
        }
        Refactor::Performed => (kind == Kind::Piece)
            .then(bands)?
            .map(|_| "Record a performance of today".to_owned()),
        Refactor::Concert => {
            let concert = place.entry.concert()?;
            let is_over = concert.day().is_some_and(|day| day <= snapshot.today);
            let can = is_over && !concert.program.is_empty() && !concert.bands.is_empty();
            can.then(|| "Record that these pieces were performed".to_owned())
        }
        Refactor::Move => {
            let cards = snapshot.file_of(place.id)?;
            let others = cards.entries.iter().filter(|entry| entry.kind.is_some()).count();
            (kind.is_named() && others > 1 && !place.entry.name.is_empty())
                .then(|| format!("Move {kind} \"{}\" to a file of its own", place.entry.name))
        }
        Refactor::Sort => {
            let cards = snapshot.file_of(place.id)?;
            (!shelf::is_sorted(cards)).then(|| "Sort the cards of this file by kind and name".to_owned())
        }
        Refactor::Split => {
            let cards = snapshot.file_of(place.id)?;
            let named = cards
                .entries
                .iter()
                .filter(|entry| shelf::can_move(entry))
                .count();
            (named > 2).then(|| "Split this file: a file for each card".to_owned())
        }
    }
}

/// `1 skill is`, `3 skills are`.
fn skills(count: usize) -> String {
    format!("{} {}", counted(count, "skill"), agree(count, "is", "are"))
}

/// Works the change out; none where there is nothing to do after all.
pub fn make(place: &Place<'_>, what: Refactor) -> Option<Vec<Change>> {
    title(place, what)?;
    let snapshot = place.snapshot;
    let own = place.id.file as usize;
    let ending = Ending::of(place.text()).as_str();
    let table = |word: &str, names: &[String]| -> Option<Vec<Change>> {
        let lines = drafts::table(word, names).replace('\n', ending);
        let edit = line_in_order(snapshot, place.id, word, &lines)?;
        Some(vec![Change::Edit(own, vec![edit])])
    };
    match what {
        Refactor::Parts => table("parts", &drafts::parts(snapshot, Some(place.id))),
        Refactor::Percussion => table("percussion", &drafts::percussion(snapshot, Some(place.id))),
        Refactor::Season => {
            let files = seasoned::edits(snapshot)?.into_iter();
            Some(files.map(|(file, edits)| Change::Edit(file, edits)).collect())
        }
        Refactor::Program => Some(vec![Change::Edit(own, program::chosen(place)?)]),
        Refactor::Taught => {
            let files = planned::edits(snapshot, &planned::of_concert(snapshot, place.id));
            Some(
                files
                    .into_iter()
                    .map(|(file, edits)| Change::Edit(file, edits))
                    .collect(),
            )
        }
        Refactor::Performed => {
            let bands = drafts::bands(snapshot, Some(place.id));
            let band = snapshot.entry(*bands.first()?)?;
            let value = format!("{} \"{}\"", snapshot.today, band.name);
            let edit = line_in_order(
                snapshot,
                place.id,
                "performed",
                &field_line(2, "performed", &value),
            )?;
            Some(vec![Change::Edit(own, vec![edit])])
        }
        Refactor::Concert => recorded(place),
        Refactor::Move => shelf::moved(place),
        Refactor::Sort => shelf::sorted(place),
        Refactor::Split => shelf::split(place),
    }
}

/// A performance on the card of every piece of a concert's program.
fn recorded(place: &Place<'_>) -> Option<Vec<Change>> {
    let pieces = recorded::played(place.snapshot, place.id);
    let files = recorded::edits(place.snapshot, place.id, &pieces, &recorded::Told::default())?;
    let changes: Vec<Change> = files
        .into_iter()
        .map(|(file, edits)| Change::Edit(file, edits))
        .collect();
    (!changes.is_empty()).then_some(changes)
}

/// An edit that puts lines of a field where the order of the one form has it: behind the last line of the
/// fields that come before it, else behind the head. In bytes of the file.
pub(super) fn line_in_order(snapshot: &Snapshot, id: EntryId, field: &str, lines: &str) -> Option<Edit> {
    let entry = snapshot.entry(id)?;
    let reading = entry.reading();
    let order = fields::fields_of(entry.kind?);
    let place_of = |name: &str| order.iter().position(|spec| spec.name == name);
    let wanted = place_of(field)?;
    let tree = &reading.tree;
    tree.head.as_ref()?;
    let head = tree.lines.iter().find(|line| line.kind == LineKind::Head)?;
    let before = tree
        .fields
        .iter()
        .filter(|one| {
            one.spec
                .and_then(|spec| place_of(spec.name))
                .is_some_and(|at| at <= wanted)
        })
        .map(|one| one.whole(tree).end)
        .max();
    let after = before.unwrap_or(head.body.end);
    // The end of the line's words; a remark behind them stays on its line.
    let line = tree
        .line_at(after.saturating_sub(1))
        .and_then(|at| tree.lines.get(at))?;
    let at = line.body.end.max(after);
    let start = snapshot
        .file_of(id)?
        .in_file(id.entry as usize, Span::at(at))
        .start;
    let ending = Ending::of(&entry.text).as_str();
    Some(Edit::insert(start, format!("{ending}{lines}")))
}
