//! Findings in SARIF, the Static Analysis Results Interchange Format (OASIS Standard, version 2.1.0).
//!
//! The names are the standard's. Addresses of files are below the current folder where the files are, and
//! columns count characters from 1 (`columnKind` `unicodeCodePoints`, section 3.14.17).

use std::io::{self, Write};

use serde::Serialize;

use super::{Place, Report, Told};
use crate::findings::{RULES, Repair, Rule, Severity, page};
use crate::text::Span;

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Log<'t> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'t>; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'t> {
    tool: Tool,
    invocations: [Invocation; 1],
    column_kind: &'static str,
    results: Vec<Finding<'t>>,
}

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Driver {
    name: &'static str,
    version: &'static str,
    semantic_version: &'static str,
    rules: Vec<RuleLine>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct RuleLine {
    id: &'static str,
    short_description: Words,
    full_description: Words,
    help: Words,
    default_configuration: Strength,
    properties: Tags,
}

#[derive(Serialize)]
struct Words {
    text: String,
}

#[derive(Serialize)]
struct Strength {
    level: &'static str,
}

#[derive(Serialize)]
struct Tags {
    tags: [&'static str; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Invocation {
    execution_successful: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tool_execution_notifications: Vec<Notification>,
}

#[derive(Serialize)]
struct Notification {
    level: &'static str,
    message: Words,
    locations: [Location; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Finding<'t> {
    rule_id: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    rule_index: Option<usize>,
    level: &'static str,
    message: Words,
    locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    partial_fingerprints: Fingerprints,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Fix<'t>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    suppressions: Vec<Suppression>,
}

#[derive(Serialize)]
struct Fingerprints {
    #[serde(rename = "cardPhraseAndWords/v1")]
    words: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Words>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    #[serde(skip_serializing_if = "Option::is_none")]
    region: Option<Region>,
}

#[derive(Serialize)]
struct Artifact {
    uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: u32,
    start_column: u32,
    end_line: u32,
    end_column: u32,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Fix<'t> {
    description: Words,
    artifact_changes: [Change<'t>; 1],
    properties: Decision,
}

#[derive(Serialize)]
struct Decision {
    /// Whether the change needs no decision.
    sure: bool,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Change<'t> {
    artifact_location: Artifact,
    replacements: Vec<Replacement<'t>>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement<'t> {
    deleted_region: Region,
    inserted_content: Inserted<'t>,
}

#[derive(Serialize)]
struct Inserted<'t> {
    text: &'t str,
}

#[derive(Serialize)]
struct Suppression {
    kind: &'static str,
    justification: &'static str,
}

/// Tells all that was found.
pub fn tell(report: &Report<'_>, out: &mut dyn Write) -> io::Result<()> {
    let log = Log {
        schema: SCHEMA,
        version: "2.1.0",
        runs: [Run {
            tool: Tool {
                driver: Driver {
                    name: "levare",
                    version: env!("CARGO_PKG_VERSION"),
                    semantic_version: env!("CARGO_PKG_VERSION"),
                    rules: RULES.iter().map(|rule| rule_line(rule)).collect(),
                },
            },
            invocations: [Invocation {
                execution_successful: report.problems.is_empty(),
                tool_execution_notifications: report
                    .problems
                    .iter()
                    .map(|problem| Notification {
                        level: "error",
                        message: text(problem.to_string()),
                        locations: [Location {
                            physical_location: Physical {
                                artifact_location: artifact(&crate::cli::room::shown(&problem.path)),
                                region: None,
                            },
                            message: None,
                        }],
                    })
                    .collect(),
            }],
            column_kind: "unicodeCodePoints",
            results: report
                .told
                .iter()
                .zip(report.fingerprints())
                .map(|(told, print)| finding(told, print))
                .collect(),
        }],
    };
    serde_json::to_writer_pretty(&mut *out, &log).map_err(io::Error::from)?;
    writeln!(out)
}

fn rule_line(rule: &Rule) -> RuleLine {
    let page = page::parse(rule.page);
    RuleLine {
        id: rule.phrase,
        short_description: text(page.notices.trim()),
        full_description: text(page.why.trim()),
        help: text(format!("{} {}", page.why.trim(), page.todo.trim())),
        default_configuration: Strength {
            level: level(rule.severity),
        },
        properties: Tags {
            tags: [rule.family.word()],
        },
    }
}

fn finding<'t>(told: &'t Told<'_>, print: String) -> Finding<'t> {
    Finding {
        rule_id: told.finding.phrase,
        rule_index: RULES.iter().position(|rule| rule.phrase == told.finding.phrase),
        level: level(told.finding.severity),
        message: text(told.paragraph()),
        locations: [location(&told.place(), None)],
        related_locations: told
            .finding
            .related
            .iter()
            .filter_map(|related| Some(location(&told.related(related)?, Some(&related.says))))
            .collect(),
        partial_fingerprints: Fingerprints { words: print },
        fixes: told
            .finding
            .repairs
            .iter()
            .map(|repair| fix(told, repair))
            .collect(),
        suppressions: match told.known {
            true => vec![Suppression {
                kind: "external",
                justification: "It is one of the known findings.",
            }],
            false => Vec::new(),
        },
    }
}

fn fix<'t>(told: &Told<'_>, repair: &'t Repair) -> Fix<'t> {
    let region_of = |span: Span| {
        region(&Place {
            span: told.in_file(span),
            ..told.place()
        })
    };
    Fix {
        description: text(repair.title.as_str()),
        artifact_changes: [Change {
            artifact_location: artifact(&told.sheet.shown),
            replacements: repair
                .edits
                .iter()
                .map(|edit| Replacement {
                    deleted_region: region_of(edit.span),
                    inserted_content: Inserted { text: &edit.text },
                })
                .collect(),
        }],
        properties: Decision { sure: repair.safe },
    }
}

fn location(place: &Place<'_>, says: Option<&str>) -> Location {
    Location {
        physical_location: Physical {
            artifact_location: artifact(&place.sheet.shown),
            region: Some(region(place)),
        },
        message: says.map(text),
    }
}

fn region(place: &Place<'_>) -> Region {
    let (from, to) = place.ends();
    Region {
        start_line: from.line.saturating_add(1),
        start_column: from.column.saturating_add(1),
        end_line: to.line.saturating_add(1),
        end_column: to.column.saturating_add(1),
    }
}

fn text(words: impl Into<String>) -> Words {
    Words { text: words.into() }
}

/// The standard's word (section 3.27.10); it has one for both information and hints.
fn level(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Information | Severity::Hint => "note",
    }
}

/// The address of a file: below the current folder, or whole with `file:` before it. All but the unreserved
/// characters of RFC 3986 (section 2.3) and `/` are percent-encoded.
fn artifact(shown: &str) -> Artifact {
    let shown = if cfg!(windows) {
        shown.replace('\\', "/")
    } else {
        shown.to_owned()
    };
    let mut uri = String::with_capacity(shown.len());
    // `/` begins a whole path, and so does a drive.
    let whole = shown.starts_with('/') || shown.get(1..3) == Some(":/");
    if whole {
        uri.push_str(if shown.starts_with('/') {
            "file://"
        } else {
            "file:///"
        });
    }
    for byte in shown.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => {
                uri.push(char::from(byte));
            }
            b':' if whole => uri.push(':'),
            _ => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    Artifact { uri }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses() {
        for (shown, uri) in [
            ("pieces/marches.levare", "pieces/marches.levare"),
            ("band stuff.levare", "band%20stuff.levare"),
            ("a:b/50% #1?.levare", "a%3Ab/50%25%20%231%3F.levare"),
            ("Übung.levare", "%C3%9Cbung.levare"),
            ("/home/x y/a.levare", "file:///home/x%20y/a.levare"),
            ("C:/band/a.levare", "file:///C:/band/a.levare"),
        ] {
            assert_eq!(artifact(shown).uri, uri);
        }
    }
}
