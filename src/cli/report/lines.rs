//! Findings for programs: one JSON object a line.
//!
//! `about` is `finding` (see `assist/lines`), or `file` for a file that could not be used.

use std::io::{self, Write};

use serde::Serialize;

use super::Report;
use crate::disk::DiskProblem;

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
        line(&told.line(), out)?;
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
