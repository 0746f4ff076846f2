//! Findings as the code quality report that GitLab shows in a merge request: a JSON array with an object a finding.
//!
//! The names are those of that report's published description
//! (<https://docs.gitlab.com/ci/testing/code_quality/#code-quality-report-format>). Paths are below the current
//! folder, lines count from 1, and a finding keeps its `fingerprint` when lines above it come and go.

use std::io::{self, Write};

use serde::Serialize;

use super::{Report, Told};
use crate::disk::DiskProblem;
use crate::findings::Severity;

#[derive(Serialize)]
struct Issue {
    description: String,
    check_name: &'static str,
    fingerprint: String,
    severity: &'static str,
    location: Location,
}

#[derive(Serialize)]
struct Location {
    path: String,
    lines: Lines,
}

#[derive(Serialize)]
struct Lines {
    begin: u32,
}

/// Tells all that was found.
pub fn tell(report: &Report<'_>, out: &mut dyn Write) -> io::Result<()> {
    let findings = report.told.iter().zip(report.fingerprints());
    let issues: Vec<Issue> = findings
        .map(|(told, print)| finding(told, print))
        .chain(report.problems.iter().map(|one| problem(one)))
        .collect();
    serde_json::to_writer_pretty(&mut *out, &issues).map_err(io::Error::from)?;
    writeln!(out)
}

fn finding(told: &Told<'_>, fingerprint: String) -> Issue {
    let (from, _) = told.place().ends();
    Issue {
        description: told.paragraph(),
        check_name: told.finding.phrase,
        fingerprint,
        severity: match told.finding.severity {
            Severity::Error => "critical",
            Severity::Warning => "major",
            Severity::Information => "minor",
            Severity::Hint => "info",
        },
        location: location(&told.sheet.shown, from.line.saturating_add(1)),
    }
}

fn problem(problem: &DiskProblem) -> Issue {
    let path = crate::cli::room::shown(&problem.path);
    Issue {
        description: problem.to_string(),
        check_name: "file not read",
        fingerprint: format!(
            "{:016x}",
            xxhash_rust::xxh3::xxh3_64(format!("file {path}").as_bytes())
        ),
        severity: "blocker",
        location: location(&path, 1),
    }
}

fn location(shown: &str, begin: u32) -> Location {
    let path = match cfg!(windows) {
        true => shown.replace('\\', "/"),
        false => shown.to_owned(),
    };
    Location {
        path,
        lines: Lines { begin },
    }
}
