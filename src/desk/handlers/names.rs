//! From a name to where it is said, and to where it is used.

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::{Target, definition, references};

use super::super::capabilities::Client;
use super::super::moment::View;
use super::super::to_protocol;
use super::writing::place;

fn locations(view: &View, targets: Vec<Target>, can: &Client) -> Vec<lsp::Location> {
    targets
        .into_iter()
        .filter_map(|target| to_protocol::location(&view.moment, target, can.encoding))
        .collect()
}

pub(in super::super) fn definition(
    view: &View,
    at: lsp::Position,
    can: &Client,
) -> Option<lsp::DefinitionResponse> {
    let found = locations(view, definition::of(&place(view, at, can)?), can);
    if found.is_empty() {
        return None;
    }
    Some(lsp::DefinitionResponse::Definition(
        lsp::Definition::LocationList(found),
    ))
}

pub(in super::super) fn references(
    view: &View,
    at: lsp::Position,
    heads: bool,
    can: &Client,
) -> Option<Vec<lsp::Location>> {
    let targets = references::of(&place(view, at, can)?, heads);
    Some(locations(view, targets, can))
}
