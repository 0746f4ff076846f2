//! The outline of a file, what folds in it, and the cards of all catalogues.

use std::sync::Arc;

use serde_json::json;
use tower_lsp::gen_lsp_types as lsp;

use crate::assist::symbols::{self, Sort};
use crate::assist::{Target, folding};
use crate::catalogue::EntryId;
use crate::cores;

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

/// The cards whose names are like the query, then the pieces that meet it as conditions.
pub(in super::super) fn workspace(
    moments: &[Arc<Moment>],
    query: &str,
    can: &Client,
    stop: &Stop,
) -> Vec<lsp::WorkspaceSymbol> {
    let mut all = Vec::new();
    for moment in moments {
        let stops = || stop.is_set();
        let named = symbols::of_catalogue(moment.snapshot(), query, MOST, &stops);
        if symbols::are_conditions(moment.snapshot(), query) {
            cores::take_facts(moment.snapshot());
        }
        let mut met = symbols::meeting(moment.snapshot(), query, MOST, &stops);
        met.retain(|one| !named.iter().any(|other| other.id == one.id));
        let named = named.into_iter().map(|card| {
            let container = card.kind.word().to_owned();
            (card, container)
        });
        // Editors look for the query's letters once more in what they are given, and find them here.
        let met = met.into_iter().map(|card| (card, query.trim().to_owned()));
        all.extend(
            named
                .chain(met)
                .filter_map(|(card, container)| found(moment, card, container, can)),
        );
    }
    all.truncate(MOST);
    all
}

fn found(
    moment: &Moment,
    card: symbols::Found,
    container: String,
    can: &Client,
) -> Option<lsp::WorkspaceSymbol> {
    let target = Target {
        id: card.id,
        span: card.span,
    };
    let (location, data) = if can.resolves_symbols {
        let uri = moment.paper_of(card.id)?.uri.clone();
        let data = json!({ "uri": uri, "card": card.id.entry, "name": card.name });
        let only = lsp::LocationUriOnly { uri };
        (lsp::WorkspaceSymbolLocation::LocationUriOnly(only), Some(data))
    } else {
        let location = to_protocol::location(moment, target, can.encoding)?;
        (lsp::WorkspaceSymbolLocation::Location(location), None)
    };
    Some(lsp::WorkspaceSymbol {
        location,
        data,
        base_symbol_information: lsp::BaseSymbolInformation {
            name: card.name,
            kind: to_protocol::symbol_kind(Sort::Card(card.kind)),
            tags: None,
            container_name: Some(container),
        },
    })
}

/// A found card with its place. Where the cards have moved since, it is looked for by its name.
pub(in super::super) fn resolved(
    view: &View,
    mut symbol: lsp::WorkspaceSymbol,
    can: &Client,
) -> lsp::WorkspaceSymbol {
    let number = symbol
        .data
        .as_ref()
        .and_then(|data| data.get("card")?.as_u64())
        .and_then(|number| usize::try_from(number).ok());
    let name = &symbol.base_symbol_information.name;
    let snapshot = view.moment.snapshot();
    let is_it = |id: &EntryId| snapshot.entry(*id).is_some_and(|entry| entry.name == *name);
    let at = number.and_then(|number| view.ids().nth(number));
    let id = at.filter(is_it).or_else(|| view.ids().find(is_it)).or(at);
    let location = id.and_then(|id| {
        let span = snapshot.entry(id)?.name_span;
        to_protocol::location(&view.moment, Target { id, span }, can.encoding)
    });
    if let Some(location) = location {
        symbol.location = lsp::WorkspaceSymbolLocation::Location(location);
    }
    symbol
}
