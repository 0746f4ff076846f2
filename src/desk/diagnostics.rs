//! From the findings of a file to what the client is told of them.

use std::collections::HashSet;

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types as lsp;
use xxhash_rust::xxh3::xxh3_64;

use crate::assist::Target;
use crate::catalogue::EntryId;
use crate::catalogue::known::{Known, Mark};
use crate::findings::{Finding, Severity};
use crate::text::{Edit, Encoding, Span};

use super::capabilities::Client;
use super::moment::{Stop, View, WAIT};
use super::session::Session;
use super::to_protocol;

/// The most findings that are told of one file.
pub(super) const MOST: usize = 200;

/// What a diagnostic says it comes from.
pub(super) const SOURCE: &str = "levare";

/// What is to be told of a file.
#[derive(Debug, Default)]
pub(super) struct Told {
    /// The diagnostics in the order of the text.
    pub(super) diagnostics: Vec<lsp::Diagnostic>,
    /// Digests of what they say, wherever it stands.
    pub(super) sayings: HashSet<u64>,
    /// Whether they rest on nothing but the file's own cards and the catalogue's context: none points at a place
    /// in another file, which moves with that file, and the text is the editor's.
    pub(super) is_own: bool,
}

impl Told {
    /// A name for exactly these diagnostics.
    pub(super) fn digest(&self) -> u64 {
        let text = serde_json::to_vec(&self.diagnostics).unwrap_or_default();
        xxh3_64(&text)
    }
}

/// What is to be told of a file of the session now.
pub(super) fn told(session: &Session, view: &View, stop: &Stop) -> Option<Told> {
    let can = session.can();
    if session.is_lost(&view.paper.key) {
        return Some(lost(view, &can));
    }
    of(view, &can, &session.said_of(&view.paper.key), stop)
}

/// Of a file whose text is not the editor's nothing true can be said but that.
fn lost(view: &View, can: &Client) -> Told {
    let first = view.paper.sheet().line_span(0);
    Told {
        diagnostics: vec![lsp::Diagnostic {
            range: to_protocol::range(view.paper.sheet(), first, can.encoding),
            severity: Some(to_protocol::severity(Severity::Warning)),
            source: Some(SOURCE.to_owned()),
            message: lsp::Message::String(
                "Levare could not read what was typed last in this file, so nothing is said about it or changed in it. Close the file and open it again.".to_owned(),
            ),
            ..lsp::Diagnostic::default()
        }],
        ..Told::default()
    }
}

/// What is to be told of a file now. `before` holds what was said of it last, which need not wait. None
/// when `stop` was set on the way.
fn of(view: &View, can: &Client, before: &HashSet<u64>, stop: &Stop) -> Option<Told> {
    if view.moment.quiet {
        return Some(Told::default());
    }
    let cards = &view.paper.cards;
    let fresh = view
        .paper
        .fresh
        .filter(|(_, at)| at.elapsed() < WAIT)
        // A client that cannot be told to ask again would never hear of what waited.
        .filter(|_| !can.pulls || can.refreshes)
        .map(|(offset, _)| being_written(view, offset));
    let all = view.moment.findings_of_all(view, stop)?;
    let mut found: Vec<(Span, EntryId, &Finding)> = Vec::new();
    let mut known = Known::clone(&view.moment.known);
    for (id, findings) in view.ids().zip(&all) {
        let entry = view.moment.snapshot().entry(id);
        for finding in findings.iter() {
            let is_known = !known.is_empty()
                && entry.is_some_and(|entry| known.take(&Mark::of(entry, finding.phrase, finding.span)));
            if is_known {
                continue;
            }
            let span = cards.in_file(id.entry as usize, finding.span);
            let waits = fresh.is_some_and(|line| span.overlaps(line) || span.touches(line.end))
                && !before.contains(&digest(finding));
            if !waits {
                found.push((span, id, finding));
            }
        }
    }
    let remaining = found.len().saturating_sub(MOST);
    if remaining > 0 {
        found.sort_by_key(|(span, _, finding)| (finding.severity, span.start));
        found.truncate(MOST);
    }
    found.sort_by_key(|(span, _, finding)| (span.start, span.end, finding.severity));
    let mut told = Told::default();
    let elsewhere = |id: &EntryId, finding: &Finding| {
        let mut cards = finding.related.iter().filter_map(|related| related.card);
        cards.any(|card| card.file != id.file)
    };
    told.is_own = !can.related || !found.iter().any(|(_, id, finding)| elsewhere(id, finding));
    for (span, id, finding) in &found {
        told.sayings.insert(digest(finding));
        told.diagnostics.push(diagnostic(view, *id, *span, finding, can));
    }
    if remaining > 0 {
        told.diagnostics.push(remainder(view, remaining, can));
    }
    Some(told)
}

/// The line that the last edit ended on, up to there: the line is still being written, so that half a field's
/// word (`tonal c`) or half a value is no mistake yet.
fn being_written(view: &View, offset: u32) -> Span {
    let sheet = view.paper.sheet();
    let line = sheet.line_span(sheet.position(offset, Encoding::Utf8).line);
    Span::new(line.start.min(offset), offset)
}

fn digest(finding: &Finding) -> u64 {
    xxh3_64(format!("{}\n{}", finding.phrase, finding.saying.says).as_bytes())
}

/// A finding as a diagnostic; `span` is of the file.
pub(super) fn diagnostic(
    view: &View,
    id: EntryId,
    span: Span,
    finding: &Finding,
    can: &Client,
) -> lsp::Diagnostic {
    let related: Vec<lsp::DiagnosticRelatedInformation> = finding
        .related
        .iter()
        .filter_map(|related| {
            let target = Target {
                id: related.card.unwrap_or(id),
                span: related.span,
            };
            Some(lsp::DiagnosticRelatedInformation {
                location: to_protocol::location(&view.moment, target, can.encoding)?,
                message: related.says.clone(),
            })
        })
        .collect();
    let card = view
        .moment
        .snapshot()
        .entry(id)
        .map_or("", |entry| entry.name.as_str());
    let mut message = message(card, finding);
    if !can.related {
        for related in &finding.related {
            message.push_str(&format!("\n{}", related.says));
        }
    }
    lsp::Diagnostic {
        range: to_protocol::range(view.paper.sheet(), span, can.encoding),
        severity: Some(to_protocol::severity(finding.severity)),
        code: Some(lsp::Code::String(finding.phrase.to_owned())),
        source: Some(SOURCE.to_owned()),
        message: lsp::Message::String(message),
        tags: (finding.idle && can.tags).then(|| vec![lsp::DiagnosticTag::Unnecessary]),
        related_information: (can.related && !related.is_empty()).then_some(related),
        data: Some(json!({
            "place": finding.saying.place,
            "repairs": repairs(view, span, finding, can),
        })),
        ..lsp::Diagnostic::default()
    }
}

/// What is wrong, why it matters and what to do, each a paragraph; the card's name first, since a list of
/// findings shows no card. The place in the music is said only where it tells more than the line does, as
/// measures worked out from several lines.
fn message(card: &str, finding: &Finding) -> String {
    let saying = &finding.saying;
    let place = match saying.place.contains("measure") {
        true => saying.place.as_str(),
        false => "",
    };
    // A sentence that begins with the card's name already needs no other beginning.
    let named = saying.says.trim_start_matches(['"', '“']).starts_with(card);
    let card = if named { "" } else { card };
    let leads: Vec<&str> = [card, place]
        .into_iter()
        .filter(|lead| !lead.is_empty())
        .collect();
    let says = match leads.is_empty() {
        true => saying.says.clone(),
        false => format!("{}: {}", capital(&leads.join(", ")), saying.says),
    };
    let parts: Vec<&str> = [says.as_str(), &saying.why, &saying.todo]
        .into_iter()
        .filter(|part| !part.trim().is_empty())
        .collect();
    match parts.is_empty() {
        // Some clients refuse a diagnostic that says nothing.
        true => finding.phrase.to_owned(),
        false => parts.join("\n\n"),
    }
}

fn capital(words: &str) -> String {
    let mut rest = words.chars();
    rest.next()
        .map(|first| first.to_uppercase().chain(rest).collect())
        .unwrap_or_default()
}

/// The ways to mend a finding, for editors that keep them. Ours are worked out anew when they are asked for.
fn repairs(view: &View, span: Span, finding: &Finding, can: &Client) -> Vec<Value> {
    let start = i64::from(span.start) - i64::from(finding.span.start);
    let edit = |edit: &Edit| {
        let in_file = Edit::replace(edit.span.shift(start), edit.text.clone());
        to_protocol::edit(view.paper.sheet(), &in_file, can.encoding)
    };
    finding
        .repairs
        .iter()
        .map(|repair| {
            let edits: Vec<lsp::TextEdit> = repair.edits.iter().map(edit).collect();
            json!({ "title": repair.title, "safe": repair.safe, "edits": edits })
        })
        .collect()
}

/// The one diagnostic that says how many are not shown.
fn remainder(view: &View, remaining: usize, can: &Client) -> lsp::Diagnostic {
    let end = view.paper.sheet().line_span(0);
    let more = match remaining {
        1 => "One more finding in this file is not shown.".to_owned(),
        _ => format!("{remaining} more findings in this file are not shown."),
    };
    lsp::Diagnostic {
        range: to_protocol::range(view.paper.sheet(), end, can.encoding),
        severity: Some(to_protocol::severity(Severity::Information)),
        source: Some(SOURCE.to_owned()),
        message: lsp::Message::String(format!(
            "{more} The worst {MOST} are; fix some of them and the others appear."
        )),
        ..lsp::Diagnostic::default()
    }
}
