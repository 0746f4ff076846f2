//! Lines above cards, facts beside words: listed cheaply, told in full when they are shown.

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types as lsp;
use tower_lsp::jsonrpc::{Error, Result};

use crate::assist::hints::{self, About};
use crate::assist::{Place, hover, lens};
use crate::catalogue::EntryId;

use super::super::capabilities::Client;
use super::super::commands;
use super::super::from_protocol;
use super::super::moment::{Stop, View};
use super::super::settings::Settings;
use super::super::to_protocol;

/// The lenses of a file; what each says is told when it is shown.
pub(in super::super) fn lenses(view: &View, can: &Client) -> Vec<lsp::CodeLens> {
    let sheet = view.paper.sheet();
    let found = lens::of_file(view.moment.snapshot(), view.file);
    found
        .into_iter()
        .filter_map(|target| {
            let name = &view.moment.snapshot().entry(target.id)?.name;
            let span = view.paper.cards.in_file(target.id.entry as usize, target.span);
            Some(lsp::CodeLens {
                range: to_protocol::range(sheet, span, can.encoding),
                command: None,
                data: Some(json!({
                    "uri": view.paper.uri,
                    "card": target.id.entry,
                    "name": name,
                })),
            })
        })
        .collect()
}

/// What a lens or a hint is about.
pub(in super::super) fn uri_of(data: Option<&Value>) -> Option<lsp::Uri> {
    lsp::Uri::parse(data?.get("uri")?.as_str()?).ok()
}

/// The card that a lens stands above, if it is still the same.
pub(in super::super) fn card_of(view: &View, data: &Value) -> Option<EntryId> {
    let number = data.get("card")?.as_u64()?;
    let id = view.ids().nth(usize::try_from(number).ok()?)?;
    let entry = view.moment.snapshot().entry(id)?;
    (Some(entry.name.as_str()) == data.get("name")?.as_str()).then_some(id)
}

/// The lens with what it says.
pub(in super::super) fn told(view: &View, mut lens: lsp::CodeLens) -> Result<lsp::CodeLens> {
    let data = lens.data.clone().unwrap_or_default();
    let id = card_of(view, &data).ok_or_else(Error::content_modified)?;
    let title = lens::title(view.moment.snapshot(), id).ok_or_else(Error::content_modified)?;
    lens.command = Some(lsp::Command {
        title,
        tooltip: None,
        command: commands::USES.to_owned(),
        arguments: Some(vec![data]),
    });
    Ok(lens)
}

/// The facts in a stretch of a file.
pub(in super::super) fn hints(
    view: &View,
    range: lsp::Range,
    settings: &Settings,
    can: &Client,
    stop: &Stop,
) -> Vec<lsp::InlayHint> {
    let sheet = view.paper.sheet();
    let within = from_protocol::span(sheet, range, can.encoding);
    let shown = |about: About| settings.hints(about);
    hints::of_file(view.moment.snapshot(), view.file, within, &shown, &|| {
        stop.is_set()
    })
    .into_iter()
    .map(|hint| lsp::InlayHint {
        data: Some(json!({
            "uri": view.paper.uri,
            "word": to_protocol::position(sheet, hint.word, can.encoding),
        })),
        position: to_protocol::position(sheet, hint.offset, can.encoding),
        label: lsp::Label::String(hint.text),
        kind: None,
        text_edits: None,
        tooltip: None,
        padding_left: Some(true),
        padding_right: None,
    })
    .collect()
}

/// The hint with more about it: what a hover says of the word that it follows from.
pub(in super::super) fn hint_told(view: &View, mut hint: lsp::InlayHint, can: &Client) -> lsp::InlayHint {
    let word = hint.data.as_ref().and_then(|data| data.get("word"));
    let word = word.and_then(|word| serde_json::from_value(word.clone()).ok());
    let at = word.unwrap_or(hint.position);
    let offset = from_protocol::offset(view.paper.sheet(), at, can.encoding);
    let place = Place::at(view.moment.snapshot(), view.file, offset);
    if let Some(hover) = place.and_then(|place| hover::of(&place, can.pictures)) {
        hint.tooltip = Some(lsp::Tooltip::MarkupContent(to_protocol::markup(
            hover.text,
            can.markdown,
        )));
    }
    hint
}
