//! Findings for programs: one JSON object a line.
//!
//! `about` is `finding`, or `file` for a file that could not be used. Lines and columns count from 1, columns
//! in characters; `bytes` counts from 0 in the file as UTF-8 without a byte order mark. The end is the place
//! after the last character.

use std::io::{self, Write};

use serde::Serialize;

use super::{Place, Report, Told};
use crate::disk::DiskProblem;
use crate::text::Edit;

#[derive(Serialize)]
struct FindingLine<'t> {
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

#[derive(Serialize)]
struct At {
    line: u32,
    column: u32,
}

#[derive(Serialize)]
struct RelatedLine<'t> {
    says: &'t str,
    file: Option<&'t str>,
    from: Option<At>,
    to: Option<At>,
}

#[derive(Serialize)]
struct RepairLine<'t> {
    title: &'t str,
    sure: bool,
    edits: Vec<EditLine<'t>>,
}

#[derive(Serialize)]
struct EditLine<'t> {
    from: At,
    to: At,
    bytes: [u32; 2],
    text: &'t str,
}

#[derive(Serialize)]
struct FileLine {
    about: &'static str,
    severity: &'static str,
    file: String,
    says: String,
    why: &'static str,
    todo: &'static str,
}

/// Tells all that was found.
pub fn tell(report: &Report<'_>, out: &mut dyn Write) -> io::Result<()> {
    for told in &report.told {
        line(&finding(told), out)?;
    }
    for problem in &report.problems {
        line(&file(problem), out)?;
    }
    Ok(())
}

/// Writes one object on its line.
pub fn line(object: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    let text = serde_json::to_string(object).map_err(io::Error::other)?;
    writeln!(out, "{text}")
}

fn finding<'t>(told: &'t Told<'_>) -> FindingLine<'t> {
    let finding = &told.finding;
    let place = told.place();
    let (from, to) = ends(&place);
    FindingLine {
        about: "finding",
        phrase: finding.phrase,
        severity: finding.severity.word(),
        file: &told.sheet.shown,
        from,
        to,
        bytes: [place.span.start, place.span.end],
        kind: told.entry.kind.map(|kind| kind.word()),
        name: &told.entry.name,
        place: &finding.saying.place,
        says: &finding.saying.says,
        why: &finding.saying.why,
        todo: &finding.saying.todo,
        known: told.known,
        related: finding
            .related
            .iter()
            .map(|related| {
                let place = told.related(related);
                let ends = place.as_ref().map(ends);
                let (from, to) = ends.map_or((None, None), |(from, to)| (Some(from), Some(to)));
                RelatedLine {
                    says: &related.says,
                    file: place.map(|place| place.sheet.shown.as_str()),
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
                edits: repair.edits.iter().map(|edit| changed(told, edit)).collect(),
            })
            .collect(),
    }
}

fn changed<'t>(told: &Told<'_>, edit: &'t Edit) -> EditLine<'t> {
    let place = Place {
        span: told.in_file(edit.span),
        ..told.place()
    };
    let (from, to) = ends(&place);
    EditLine {
        from,
        to,
        bytes: [place.span.start, place.span.end],
        text: &edit.text,
    }
}

fn ends(place: &Place<'_>) -> (At, At) {
    let (from, to) = place.ends();
    let at = |position: crate::text::Position| At {
        line: position.line.saturating_add(1),
        column: position.column.saturating_add(1),
    };
    (at(from), at(to))
}

fn file(problem: &DiskProblem) -> FileLine {
    FileLine {
        about: "file",
        severity: "error",
        file: crate::cli::room::shown(&problem.path),
        says: problem.what(),
        why: problem.why(),
        todo: problem.remedy(),
    }
}
