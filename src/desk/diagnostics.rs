//! From the findings of a file to what the client is told of them.

use std::collections::HashSet;

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types as lsp;
use xxhash_rust::xxh3::xxh3_64;

use crate::assist::{Target, told};
use crate::catalogue::EntryId;
use crate::catalogue::known::Known;
use crate::findings::{Finding, Severity};
use crate::text::{Edit, Span};

use super::capabilities::Client;
use super::moment::{Stop, View, WAIT};
use super::session::Session;
use super::to_protocol;

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
        digest(&self.written())
    }

    /// The diagnostics as JSON.
    pub(super) fn written(&self) -> Vec<u8> {
        serde_json::to_vec(&self.diagnostics).unwrap_or_else(|_| b"[]".to_vec())
    }
}

/// A name for diagnostics that are written like this.
pub(super) fn digest(written: &[u8]) -> u64 {
    xxh3_64(written)
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
    let fresh = view
        .paper
        .fresh
        .filter(|(_, at)| at.elapsed() < WAIT)
        // A client that cannot be told to ask again would never hear of what waited.
        .filter(|_| !can.pulls || can.refreshes)
        .map(|(offset, _)| told::being_written(view.paper.sheet(), offset));
    let all = view.moment.findings_of_all(view, stop)?;
    let of_cards = view.ids().zip(all.iter().map(|findings| &**findings));
    let known = Known::clone(&view.moment.known);
    let told::Told { found, remaining, .. } =
        told::of_file(view.moment.snapshot(), of_cards, known, fresh, before);
    let mut said = Told::default();
    let elsewhere = |id: &EntryId, finding: &Finding| {
        let mut cards = finding.related.iter().filter_map(|related| related.card);
        cards.any(|card| card.file != id.file)
    };
    said.is_own = !can.related || !found.iter().any(|(_, id, finding)| elsewhere(id, finding));
    for (span, id, finding) in &found {
        said.sayings.insert(told::digest(finding));
        said.diagnostics.push(diagnostic(view, *id, *span, finding, can));
    }
    if remaining > 0 {
        said.diagnostics.push(remainder(view, remaining, can));
    }
    Some(said)
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
    let mut message = told::message(card, finding);
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
    lsp::Diagnostic {
        range: to_protocol::range(view.paper.sheet(), end, can.encoding),
        severity: Some(to_protocol::severity(Severity::Information)),
        source: Some(SOURCE.to_owned()),
        message: lsp::Message::String(told::remainder(remaining)),
        ..lsp::Diagnostic::default()
    }
}
