//! Findings for programs: one JSON object a finding, the same from the command line and from the page.
//!
//! `about` is `finding`. Lines and columns count from 1, columns in characters; `bytes` counts from 0 in the file
//! as UTF-8 without a byte order mark. The end is the place after the last character.

use serde::Serialize;

use crate::catalogue::{EntryId, Snapshot};
use crate::findings::Finding;
use crate::text::{Edit, Position, Span};

/// A finding as it is written for programs.
#[derive(Debug, Serialize)]
pub struct FindingLine<'t> {
    about: &'static str,
    phrase: &'static str,
    severity: &'static str,
    file: &'t str,
    from: At,
    to: At,
    bytes: [u32; 2],
    kind: Option<&'static str>,
    name: &'t str,
    place: &'t str,
    says: &'t str,
    why: &'t str,
    todo: &'t str,
    known: bool,
    related: Vec<RelatedLine<'t>>,
    repairs: Vec<RepairLine<'t>>,
}

#[derive(Debug, Serialize)]
struct At {
    line: u32,
    column: u32,
}

#[derive(Debug, Serialize)]
struct RelatedLine<'t> {
    says: &'t str,
    file: Option<&'t str>,
    from: Option<At>,
    to: Option<At>,
}

#[derive(Debug, Serialize)]
struct RepairLine<'t> {
    title: &'t str,
    sure: bool,
    edits: Vec<EditLine<'t>>,
}

#[derive(Debug, Serialize)]
struct EditLine<'t> {
    from: At,
    to: At,
    bytes: [u32; 2],
    text: &'t str,
}

/// What lines are made with: the catalogue, what its files are called, and where their bytes stand.
pub struct Lines<'c, 't> {
    /// The catalogue.
    pub snapshot: &'t Snapshot,
    /// What people call the file of a number.
    pub called: &'c dyn Fn(usize) -> Option<&'t str>,
    /// Line and character, both from 0, of a byte of the file of a number.
    pub position: &'c dyn Fn(usize, u32) -> Position,
}

impl<'t> Lines<'_, 't> {
    /// A finding of a card.
    pub fn of(&self, id: EntryId, finding: &'t Finding, known: bool) -> FindingLine<'t> {
        let span = self.in_file(id, finding.span);
        let (from, to) = self.ends(id, span);
        let entry = self.snapshot.entry(id);
        FindingLine {
            about: "finding",
            phrase: finding.phrase,
            severity: finding.severity.word(),
            file: (self.called)(id.file as usize).unwrap_or(""),
            from,
            to,
            bytes: [span.start, span.end],
            kind: entry.and_then(|entry| entry.kind).map(|kind| kind.word()),
            name: entry.map_or("", |entry| &entry.name),
            place: &finding.saying.place,
            says: &finding.saying.says,
            why: &finding.saying.why,
            todo: &finding.saying.todo,
            known,
            related: finding
                .related
                .iter()
                .map(|related| {
                    let card = related.card.unwrap_or(id);
                    let file = self
                        .snapshot
                        .file_of(card)
                        .and_then(|_| (self.called)(card.file as usize));
                    let ends = file.map(|_| self.ends(card, self.in_file(card, related.span)));
                    let (from, to) = ends.map_or((None, None), |(from, to)| (Some(from), Some(to)));
                    RelatedLine {
                        says: &related.says,
                        file,
                        from,
                        to,
                    }
                })
                .collect(),
            repairs: finding
                .repairs
                .iter()
                .map(|repair| RepairLine {
                    title: &repair.title,
                    sure: repair.safe,
                    edits: repair.edits.iter().map(|edit| self.changed(id, edit)).collect(),
                })
                .collect(),
        }
    }

    fn changed(&self, id: EntryId, edit: &'t Edit) -> EditLine<'t> {
        let span = self.in_file(id, edit.span);
        let (from, to) = self.ends(id, span);
        EditLine {
            from,
            to,
            bytes: [span.start, span.end],
            text: &edit.text,
        }
    }

    fn in_file(&self, id: EntryId, span: Span) -> Span {
        match self.snapshot.file_of(id) {
            Some(file) => file.in_file(id.entry as usize, span),
            None => span,
        }
    }

    fn ends(&self, id: EntryId, span: Span) -> (At, At) {
        let at = |offset| {
            let position = (self.position)(id.file as usize, offset);
            At {
                line: position.line.saturating_add(1),
                column: position.column.saturating_add(1),
            }
        };
        (at(span.start), at(span.end))
    }
}
