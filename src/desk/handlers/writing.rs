//! While writing: what a word means and what could come next.

use std::path::Path;

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::completion::Offer;
use crate::assist::{Place, completion, hover};

use super::super::capabilities::Client;
use super::super::from_protocol;
use super::super::moment::View;
use super::super::to_protocol;
use super::past;

/// The cursor on its card.
pub(super) fn place<'v>(view: &'v View, at: lsp::Position, can: &Client) -> Option<Place<'v>> {
    let offset = from_protocol::offset(view.paper.sheet(), at, can.encoding);
    Place::at(view.moment.snapshot(), view.file, offset)
}

/// What there is to say about a place; `root` is the folder of the catalogue, if it is one.
pub(in super::super) fn hover(
    view: &View,
    at: lsp::Position,
    root: Option<&Path>,
    can: &Client,
) -> Option<lsp::Hover> {
    let place = place(view, at, can)?;
    let hover = hover::of(&place, can.pictures);
    let past = root.and_then(|root| past::since_last_commit(root, view, &place));
    let hover = match (hover, past) {
        (hover, None) => hover?,
        (Some(hover), Some(past)) => hover::Hover {
            text: format!("{}\n\n{past}", hover.text),
            ..hover
        },
        (None, Some(text)) => hover::Hover {
            span: place.in_file(place.head()?),
            text,
        },
    };
    Some(lsp::Hover {
        contents: lsp::Contents::MarkupContent(to_protocol::markup(hover.text, can.markdown)),
        range: Some(to_protocol::range(view.paper.sheet(), hover.span, can.encoding)),
    })
}

/// What could be written at a place.
fn offers(view: &View, at: lsp::Position, can: &Client) -> Vec<Offer> {
    match place(view, at, can) {
        Some(place) => completion::of(&place),
        // An empty file has no card yet, and its first word is a kind.
        None => completion::first(),
    }
}

/// The list is never said to be complete: with every key typed it is asked for anew, and once a word is whole
/// nothing is offered that the Enter key could take for it.
pub(in super::super) fn completion(
    view: &View,
    at: lsp::Position,
    typed: Option<&str>,
    can: &Client,
) -> Option<lsp::CompletionResponse> {
    let offers = match typed {
        Some(" ") => place(view, at, can).map_or_else(Vec::new, |place| completion::after_blank(&place)),
        _ => offers(view, at, can),
    };
    let items: Vec<lsp::CompletionItem> = offers
        .into_iter()
        .enumerate()
        .map(|(number, offer)| to_protocol::completion(offer, number, view, at, can))
        .collect();
    Some(lsp::CompletionResponse::CompletionList(lsp::CompletionList {
        is_incomplete: !items.is_empty(),
        items,
        ..lsp::CompletionList::default()
    }))
}

/// An offer with what the client asks for when it shows it.
pub(in super::super) fn documented(
    view: &View,
    mut item: lsp::CompletionItem,
    can: &Client,
) -> lsp::CompletionItem {
    let data = item.data.clone().unwrap_or_default();
    let number = |name: &str| {
        let number = data.get(name).and_then(serde_json::Value::as_u64);
        number.and_then(|number| u32::try_from(number).ok())
    };
    let (Some(line), Some(character)) = (number("line"), number("character")) else {
        return item;
    };
    let at = lsp::Position { line, character };
    // After an edit the offer may no longer be there; then it is shown as it is.
    let Some(offer) = offers(view, at, can)
        .into_iter()
        .find(|offer| offer.label == item.label)
    else {
        return item;
    };
    if can.writing.asks_detail && !offer.detail.is_empty() {
        item.detail = Some(offer.detail.clone());
    }
    if can.writing.asks_documentation {
        let says = match place(view, at, can) {
            Some(place) => completion::documentation(&place, &offer),
            None => offer.says.clone(),
        };
        item.documentation = to_protocol::documentation(says, can);
    }
    item
}
