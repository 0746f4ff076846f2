//! Selecting more and more around a cursor, and links out of the catalogue.

use std::path::{Path, PathBuf};

use serde_json::json;
use tower_lsp::gen_lsp_types as lsp;

use crate::assist::links::{self, Leads};
use crate::assist::selection;
use crate::text::Span;

use super::super::capabilities::Client;
use super::super::moment::View;
use super::super::to_protocol;
use super::writing::place;

pub(in super::super) fn ranges(
    view: &View,
    positions: &[lsp::Position],
    can: &Client,
) -> Vec<lsp::SelectionRange> {
    let sheet = view.paper.sheet();
    let of = |at: &lsp::Position| {
        let spans = match place(view, *at, can) {
            Some(place) => selection::of(&place),
            None => Vec::new(),
        };
        // The answer goes from the innermost outwards, so it is put together from the outside.
        let mut found: Option<lsp::SelectionRange> = None;
        for span in spans.into_iter().rev() {
            found = Some(lsp::SelectionRange {
                range: to_protocol::range(sheet, span, can.encoding),
                parent: found.map(Box::new),
            });
        }
        found.unwrap_or_else(|| lsp::SelectionRange {
            range: to_protocol::range(sheet, Span::at(0), can.encoding),
            parent: None,
        })
    };
    positions.iter().map(of).collect()
}

/// The links of a file. An address is there at once; a file is looked for, and its address is told when the
/// link is followed.
pub(in super::super) fn links(view: &View, root: Option<&Path>, can: &Client) -> Vec<lsp::DocumentLink> {
    let sheet = view.paper.sheet();
    let own = view.paper.key.path();
    let found = links::of_file(&view.paper.cards).into_iter().filter_map(|link| {
        let (target, data, tooltip) = match link.leads {
            Leads::Page(address) => (Some(lsp::Uri::parse(&address).ok()?), None, "Open the page"),
            Leads::File(name) => {
                let path = look_for(&name, own.as_deref(), root)?;
                (None, Some(json!({ "file": path })), "Open the file")
            }
        };
        Some(lsp::DocumentLink {
            range: to_protocol::range(sheet, link.span, can.encoding),
            target,
            tooltip: Some(tooltip.to_owned()),
            data,
        })
    });
    found.collect()
}

/// A file that a card names: beside the card's own file, else below the catalogue's folder.
pub(super) fn look_for(name: &str, own: Option<&Path>, root: Option<&Path>) -> Option<PathBuf> {
    let beside = own.and_then(Path::parent);
    // What a card names lies in the catalogue's folder; a catalogue from elsewhere must not lead to other files
    // of whoever opens it.
    let top = root.or(beside)?;
    [beside, root]
        .into_iter()
        .flatten()
        .map(|folder| folder.join(name))
        .find(|path| path.is_file() && crate::disk::lies_in(top, path))
}

/// The address of a link that names a file.
pub(in super::super) fn resolved(mut link: lsp::DocumentLink) -> lsp::DocumentLink {
    if link.target.is_none() {
        let path = link.data.as_ref().and_then(|data| data.get("file")?.as_str());
        link.target = path.and_then(|path| lsp::Uri::from_file_path(path).ok());
    }
    link
}
