//! While writing: what a word means and what could come next.

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::{Place, completion, hover};

use super::super::capabilities::Client;
use super::super::from_protocol;
use super::super::moment::View;
use super::super::to_protocol;

/// The cursor on its card.
pub(super) fn place<'v>(view: &'v View, at: lsp::Position, can: &Client) -> Option<Place<'v>> {
    let offset = from_protocol::offset(view.paper.sheet(), at, can.encoding);
    Place::at(view.moment.snapshot(), view.file, offset)
}

pub(in super::super) fn hover(view: &View, at: lsp::Position, can: &Client) -> Option<lsp::Hover> {
    let hover = hover::of(&place(view, at, can)?)?;
    let kind = if can.markdown {
        lsp::MarkupKind::Markdown
    } else {
        lsp::MarkupKind::PlainText
    };
    Some(lsp::Hover {
        contents: lsp::Contents::MarkupContent(lsp::MarkupContent {
            kind,
            value: hover.text,
        }),
        range: Some(to_protocol::range(view.paper.sheet(), hover.span, can.encoding)),
    })
}

pub(in super::super) fn completion(
    view: &View,
    at: lsp::Position,
    can: &Client,
) -> Option<lsp::CompletionResponse> {
    let offers = match place(view, at, can) {
        Some(place) => completion::of(&place),
        // An empty file has no card yet, and its first word is a kind.
        None => completion::first(),
    };
    let items = offers
        .into_iter()
        .enumerate()
        .map(|(number, offer)| to_protocol::completion(offer, number, view.paper.sheet(), can.encoding))
        .collect();
    Some(lsp::CompletionResponse::CompletionItemList(items))
}
