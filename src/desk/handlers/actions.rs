//! Ways to mend what was found, and to let it stand.
//!
//! They are worked out anew from the stretch that is asked about, never from what the client gives back:
//! many clients drop a diagnostic's data.

use std::sync::Arc;

use tower_lsp::gen_lsp_types as lsp;
use tower_lsp::jsonrpc::{Error, Result};

use crate::assist::Place;
use crate::assist::fixes::{self, InFile};
use crate::text::{Edit, Sheet, Span};

use super::super::capabilities::Client;
use super::super::commands;
use super::super::diagnostics;
use super::super::from_protocol;
use super::super::moment::{Stop, View};
use super::super::pages;
use super::super::to_protocol;
use super::refactoring;

/// The title of the action that mends all that can be mended without looking.
const ALL: &str = "Fix everything in this file that needs no decision";

pub(in super::super) fn actions(
    view: &View,
    params: &lsp::CodeActionParams,
    can: &Client,
    stop: &Stop,
) -> Vec<lsp::CodeActionResponse> {
    if !can.code_actions {
        return Vec::new();
    }
    let only = params.context.only.as_deref();
    let wants = |kind: &str| {
        only.is_none_or(|only| {
            only.iter().any(|wanted| {
                let wanted = kind_word(wanted);
                kind == wanted || kind.starts_with(&format!("{wanted}."))
            })
        })
    };
    // A bulb beside every line would say nothing: what fixes nothing is offered to those who ask for it, by its
    // kind, by their own key, or by marking a stretch.
    let asks = only.is_some()
        || params.context.trigger_kind == Some(lsp::CodeActionTriggerKind::Invoked)
        || params.range.start != params.range.end;
    let mut actions = Vec::new();
    if wants("quickfix") {
        let span = from_protocol::span(view.paper.sheet(), params.range, can.encoding);
        actions.extend(quick_fixes(view, span, can, stop));
    }
    let span = from_protocol::span(view.paper.sheet(), params.range, can.encoding);
    if asks && let Some(place) = Place::at(view.moment.snapshot(), view.file, span.start) {
        for (what, title) in refactoring::at(&place, can) {
            let kind = refactoring::kind(what);
            if !wants(&kind_word(&kind)) {
                continue;
            }
            let edit = match can.writing.asks_edits {
                true => None,
                false => match refactoring::edit(view, &place, what, can) {
                    Some(edit) => Some(edit),
                    None => continue,
                },
            };
            actions.push(later(view, params.range, title, kind, edit));
        }
        // A page is no change of any kind, and nobody wants it who only marks a stretch.
        if only.is_none() && params.context.trigger_kind == Some(lsp::CodeActionTriggerKind::Invoked) {
            actions.extend(pages::actions(view, &place));
        }
    }
    // Going through the whole catalogue is for those who ask, or for those who can wait for the edit.
    let asked = only.is_some_and(|only| only.iter().any(|kind| kind_word(kind) == "source"));
    if asks && wants("source") && can.writing.makes_files && (asked || can.writing.asks_edits) {
        let edit = match can.writing.asks_edits {
            true => None,
            false => refactoring::known(view, stop),
        };
        if !view.moment.is_a_part
            && refactoring::known_file(view).is_some()
            && (edit.is_some() || can.writing.asks_edits)
        {
            let title = refactoring::KNOWN.to_owned();
            actions.push(later(
                view,
                params.range,
                title,
                lsp::CodeActionKind::Source,
                edit,
            ));
        }
    }
    if asks
        && wants("source.fixAll")
        && let Some(action) = fix_all(view, can, stop)
    {
        actions.push(action);
    }
    actions
        .into_iter()
        .map(lsp::CodeActionResponse::CodeAction)
        .collect()
}

/// An action whose edit is there, or is asked for when it is chosen.
fn later(
    view: &View,
    range: lsp::Range,
    title: String,
    kind: lsp::CodeActionKind,
    edit: Option<lsp::WorkspaceEdit>,
) -> lsp::CodeAction {
    let data = edit.is_none().then(|| {
        serde_json::json!({
            "uri": view.paper.uri,
            "line": range.start.line,
            "character": range.start.character,
            "version": view.paper.version,
        })
    });
    lsp::CodeAction {
        title,
        kind: Some(kind),
        edit,
        data,
        ..lsp::CodeAction::default()
    }
}

/// An action with its edit, worked out from the text as it is now.
pub(in super::super) fn resolved(
    view: &View,
    mut action: lsp::CodeAction,
    can: &Client,
    stop: &Stop,
) -> Result<lsp::CodeAction> {
    let data = action.data.clone().unwrap_or_default();
    let number = |name: &str| data.get(name).and_then(serde_json::Value::as_i64);
    let position = |name: &str| number(name).and_then(|number| u32::try_from(number).ok());
    let moved = number("version") != view.paper.version.map(i64::from);
    let (Some(line), Some(character), false) = (position("line"), position("character"), moved) else {
        return Err(Error::content_modified());
    };
    let edit = if action.title == refactoring::KNOWN {
        refactoring::known(view, stop)
    } else {
        let at = from_protocol::offset(
            view.paper.sheet(),
            lsp::Position { line, character },
            can.encoding,
        );
        Place::at(view.moment.snapshot(), view.file, at).and_then(|place| {
            let all = refactoring::at(&place, can);
            let (what, _) = all.into_iter().find(|(_, title)| *title == action.title)?;
            refactoring::edit(view, &place, what, can)
        })
    };
    action.edit = Some(edit.ok_or_else(Error::content_modified)?);
    Ok(action)
}

/// The word of a kind, as the protocol writes it.
fn kind_word(kind: &lsp::CodeActionKind) -> String {
    match serde_json::to_value(kind) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

fn quick_fixes(view: &View, span: Span, can: &Client, stop: &Stop) -> Vec<lsp::CodeAction> {
    let findings = |id| view.moment.findings(id);
    let fixes = fixes::of_stretch(view.moment.snapshot(), view.file, span, &findings, &|| {
        stop.is_set()
    });
    fixes.into_iter().map(|fix| action(view, fix, can)).collect()
}

fn action(view: &View, fix: InFile, can: &Client) -> lsp::CodeAction {
    let own = fix.files.iter().find(|(file, _)| *file == view.file);
    let command = goes_on(view, &fix, own.map_or(&[], |(_, edits)| edits), can);
    let files = fix.files.iter().filter_map(|(file, edits)| {
        let paper = view.moment.papers.get(*file)?;
        let edits = edits
            .iter()
            .map(|edit| to_protocol::edit(paper.sheet(), edit, can.encoding))
            .collect();
        Some((Arc::clone(paper), edits))
    });
    let edit = to_protocol::workspace_edits(files, can);
    // On a part of a catalogue what looks wrong may be right, so nothing is put forward.
    let preferred = fix.first && !view.moment.is_a_part;
    lsp::CodeAction {
        title: fix.title,
        kind: Some(lsp::CodeActionKind::QuickFix),
        diagnostics: Some(vec![diagnostics::diagnostic(
            view,
            fix.fix.id,
            fix.span,
            &fix.fix.finding,
            can,
        )]),
        is_preferred: preferred.then_some(true),
        edit: Some(edit),
        command,
        ..lsp::CodeAction::default()
    }
}

/// The command that puts the cursor where typing goes on, once the edits are made.
fn goes_on(view: &View, fix: &InFile, edits: &[Edit], can: &Client) -> Option<lsp::Command> {
    if !can.shows_documents {
        return None;
    }
    let at = fix.goes_on?;
    let fixed = crate::text::apply(&view.paper.sheet().to_string(), edits).ok()?;
    let sheet = Sheet::new(&fixed, crate::notation::split);
    let position = to_protocol::position(&sheet, at, can.encoding);
    Some(lsp::Command {
        title: "Go on typing".to_owned(),
        command: commands::GO_ON.to_owned(),
        arguments: Some(vec![serde_json::json!({
            "uri": view.paper.uri,
            "line": position.line,
            "character": position.character,
        })]),
        ..lsp::Command::default()
    })
}

fn fix_all(view: &View, can: &Client, stop: &Stop) -> Option<lsp::CodeAction> {
    // The user has been told which file could not be read, and that nothing is mended meanwhile.
    if view.moment.is_a_part {
        return None;
    }
    let findings = |id| view.moment.findings(id);
    let edits = fixes::all_of_file(view.moment.snapshot(), view.file, &findings, &|| stop.is_set())?;
    if edits.is_empty() {
        return None;
    }
    Some(lsp::CodeAction {
        title: ALL.to_owned(),
        kind: Some(lsp::CodeActionKind::SourceFixAll),
        edit: Some(edit_of(view, &edits, can)),
        ..lsp::CodeAction::default()
    })
}

fn edit_of(view: &View, edits: &[Edit], can: &Client) -> lsp::WorkspaceEdit {
    let edits = edits
        .iter()
        .map(|edit| to_protocol::edit(view.paper.sheet(), edit, can.encoding))
        .collect();
    to_protocol::workspace_edit(&view.paper, edits, can)
}
