//! The outline of a file, what folds in it, and the cards of all catalogues.

use std::sync::Arc;

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::symbols::{self, Sort};
use crate::assist::{Target, folding};

use super::super::capabilities::Client;
use super::super::moment::{Moment, Stop, View};
use super::super::to_protocol;

/// The most cards that a search by name gives.
const MOST: usize = 500;

pub(in super::super) fn document(view: &View, can: &Client) -> lsp::DocumentSymbolResponse {
    let found = symbols::of_file(&view.paper.cards);
    if !can.outline_tree {
        let flat = found
            .iter()
            .map(|symbol| to_protocol::flat_symbol(symbol, &view.paper, can.encoding))
            .collect();
        return lsp::DocumentSymbolResponse::SymbolInformationList(flat);
    }
    let sheet = view.paper.sheet();
    let tree = found
        .into_iter()
        .map(|symbol| to_protocol::symbol(symbol, sheet, can.encoding))
        .collect();
    lsp::DocumentSymbolResponse::DocumentSymbolList(tree)
}

pub(in super::super) fn folding(view: &View, can: &Client) -> Vec<lsp::FoldingRange> {
    let sheet = view.paper.sheet();
    folding::of_file(&view.paper.cards)
        .into_iter()
        .map(|span| {
            let range = to_protocol::range(sheet, span, can.encoding);
            lsp::FoldingRange {
                start_line: range.start.line,
                start_character: None,
                end_line: range.end.line,
                end_character: None,
                kind: None,
                collapsed_text: None,
            }
        })
        .collect()
}

pub(in super::super) fn workspace(
    moments: &[Arc<Moment>],
    query: &str,
    can: &Client,
    stop: &Stop,
) -> Vec<lsp::WorkspaceSymbol> {
    let mut all = Vec::new();
    for moment in moments {
        let found = symbols::of_catalogue(moment.snapshot(), query, MOST, &|| stop.is_set());
        all.extend(found.into_iter().filter_map(|card| {
            let target = Target {
                id: card.id,
                span: card.span,
            };
            Some(lsp::WorkspaceSymbol {
                location: lsp::WorkspaceSymbolLocation::Location(to_protocol::location(
                    moment,
                    target,
                    can.encoding,
                )?),
                data: None,
                base_symbol_information: lsp::BaseSymbolInformation {
                    name: card.name,
                    kind: to_protocol::symbol_kind(Sort::Card(card.kind)),
                    tags: None,
                    container_name: Some(card.kind.word().to_owned()),
                },
            })
        }));
    }
    all.truncate(MOST);
    all
}
