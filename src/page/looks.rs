//! How a file looks: colors, folds, outline, lines above cards, facts beside words.

use serde_json::Value;

use crate::assist::links::{self, Leads};
use crate::assist::symbols::{self, Sort, Symbol};
use crate::assist::{folding, hints, lens, tokens};
use crate::text::Sheet;

use super::answer::{Said, answer};
use super::places;
use super::question::Range;
use super::shelf::File;

/// What each word is: line, column, length, what it is, for each one after another.
pub(super) fn colors(file: &File<'_>, within: Range) -> Value {
    let sheet = &file.paper.sheet;
    let within = places::span(sheet, within);
    let mut flat: Vec<Value> = Vec::new();
    for token in tokens::of_file(file.page.snapshot(), file.number, Some(within), &|| false) {
        let [line, from, to_line, to] = places::range(sheet, token.span);
        if line == to_line {
            flat.extend([
                line.said(),
                from.said(),
                to.saturating_sub(from).said(),
                word(token.sort).said(),
            ]);
        }
    }
    flat.said()
}

fn word(sort: tokens::Sort) -> &'static str {
    use tokens::Sort as Of;
    match sort {
        Of::Kind => "kind",
        Of::Field => "field",
        Of::Name => "name",
        Of::Part => "part",
        Of::Number => "number",
        Of::Key => "key",
        Of::Mark => "mark",
        Of::Skill => "skill",
        Of::Relation => "relation",
        Of::Phrase => "phrase",
        Of::Remark => "remark",
        Of::Missing => "missing",
    }
}

/// Pairs of lines between which can be folded.
pub(super) fn folds(file: &File<'_>) -> Value {
    let lines: Vec<[u32; 2]> = folding::of_file(&file.paper.cards)
        .into_iter()
        .map(|span| places::range(&file.paper.sheet, span))
        .map(|[from, _, to, _]| [from, to])
        .collect();
    lines.said()
}

/// The cards with their fields and rows.
pub(super) fn outline(file: &File<'_>) -> Value {
    let all: Vec<Value> = symbols::of_file(&file.paper.cards)
        .iter()
        .map(|symbol| line(symbol, &file.paper.sheet))
        .collect();
    all.said()
}

fn line(symbol: &Symbol, sheet: &Sheet) -> Value {
    let inside: Vec<Value> = symbol.inside.iter().map(|inner| line(inner, sheet)).collect();
    let sort = match symbol.sort {
        Sort::Card(_) => "card",
        Sort::Field => "field",
        Sort::Row => "row",
    };
    answer!(
        "name": &symbol.name,
        "detail": &symbol.detail,
        "sort": sort,
        "at": places::range(sheet, symbol.name_span),
        "whole": places::range(sheet, symbol.whole),
        "inside": inside,)
}

/// The lines above cards.
pub(super) fn lenses(file: &File<'_>) -> Value {
    let snapshot = file.page.snapshot();
    let all: Vec<Value> = lens::of_file(snapshot, file.number)
        .into_iter()
        .filter_map(|target| {
            let title = lens::title(snapshot, target.id)?;
            let span = file.paper.cards.in_file(target.id.entry as usize, target.span);
            let places: Vec<Value> = lens::places(snapshot, target.id)
                .into_iter()
                .filter_map(|place| places::target(file.page, place))
                .collect();
            Some(answer!(
                "at": places::range(&file.paper.sheet, span),
                "title": title,
                "leads": places,))
        })
        .collect();
    all.said()
}

/// The facts at the ends of lines.
pub(super) fn hints(file: &File<'_>, within: Range) -> Value {
    let sheet = &file.paper.sheet;
    let within = places::span(sheet, within);
    let all: Vec<Value> = hints::of_file(file.page.snapshot(), file.number, within, &|_| true, &|| false)
        .into_iter()
        .map(|hint| answer!("at": places::at(sheet, hint.offset), "text": hint.text))
        .collect();
    all.said()
}

/// The addresses of pages that cards name.
pub(super) fn links(file: &File<'_>) -> Value {
    let all: Vec<Value> = links::of_file(&file.paper.cards)
        .into_iter()
        .filter_map(|link| match link.leads {
            Leads::Page(address) => {
                Some(answer!("at": places::range(&file.paper.sheet, link.span), "address": address))
            }
            // A page of a browser cannot look beside the catalogue.
            Leads::File(_) => None,
        })
        .collect();
    all.said()
}
