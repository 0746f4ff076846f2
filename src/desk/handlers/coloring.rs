//! What each word is, in the numbers of the protocol: whole, by a stretch, or as what changed.

use tower_lsp::gen_lsp_types as lsp;
use xxhash_rust::xxh3::xxh3_64;

use crate::assist::tokens::{self, Sort};

use super::super::capabilities::Client;
use super::super::from_protocol;
use super::super::moment::{Stop, View};
use super::super::to_protocol;

/// The sorts in the protocol's own words (Language Server Protocol 3.17, `SemanticTokenTypes`), so that every
/// color theme knows them.
pub(in super::super) fn legend() -> lsp::SemanticTokensLegend {
    let word = |sort: Sort| match sort {
        Sort::Kind => "keyword",
        Sort::Field => "property",
        Sort::Name => "class",
        Sort::Part => "variable",
        Sort::Number => "number",
        Sort::Key => "enumMember",
        Sort::Mark => "event",
        Sort::Skill => "function",
        Sort::Relation => "operator",
        Sort::Phrase => "decorator",
        Sort::Remark => "comment",
        Sort::Missing => "string",
    };
    lsp::SemanticTokensLegend {
        token_types: Sort::ALL.into_iter().map(|sort| word(sort).to_owned()).collect(),
        token_modifiers: vec!["declaration".to_owned()],
    }
}

/// The tokens of a file, or of a stretch of it.
pub(in super::super) fn tokens(
    view: &View,
    range: Option<lsp::Range>,
    can: &Client,
    stop: &Stop,
) -> Vec<lsp::SemanticToken> {
    let sheet = view.paper.sheet();
    let within = range.map(|range| from_protocol::span(sheet, range, can.encoding));
    let mut found = Vec::new();
    let (mut line, mut column) = (0u32, 0u32);
    for token in tokens::of_file(view.moment.snapshot(), view.file, within, &|| stop.is_set()) {
        let range = to_protocol::range(sheet, token.span, can.encoding);
        if range.start.line != range.end.line {
            continue;
        }
        let same_line = range.start.line == line;
        found.push(lsp::SemanticToken {
            delta_line: range.start.line.saturating_sub(line),
            delta_start: match same_line {
                true => range.start.character.saturating_sub(column),
                false => range.start.character,
            },
            length: range.end.character.saturating_sub(range.start.character),
            token_type: Sort::ALL
                .iter()
                .position(|sort| *sort == token.sort)
                .and_then(|at| u32::try_from(at).ok())
                .unwrap_or(0),
            token_modifiers_bitset: u32::from(token.gives),
        });
        (line, column) = (range.start.line, range.start.character);
    }
    found
}

/// A name for exactly these tokens.
pub(in super::super) fn result_id(found: &[lsp::SemanticToken]) -> String {
    let mut bytes = Vec::with_capacity(found.len().saturating_mul(20));
    for number in found.iter().flat_map(numbers) {
        bytes.extend(number.to_le_bytes());
    }
    format!("{:016x}", xxh3_64(&bytes))
}

fn numbers(token: &lsp::SemanticToken) -> [u32; 5] {
    [
        token.delta_line,
        token.delta_start,
        token.length,
        token.token_type,
        token.token_modifiers_bitset,
    ]
}

/// The one edit that makes the tokens of before into those of now; none when they are the same.
pub(in super::super) fn delta(
    before: &[lsp::SemanticToken],
    now: &[lsp::SemanticToken],
) -> Vec<lsp::SemanticTokensEdit> {
    let head = before.iter().zip(now).take_while(|(a, b)| a == b).count();
    let (before, now) = (
        before.get(head..).unwrap_or_default(),
        now.get(head..).unwrap_or_default(),
    );
    let tail = before
        .iter()
        .rev()
        .zip(now.iter().rev())
        .take_while(|(a, b)| a == b)
        .count();
    let gone = before.len().saturating_sub(tail);
    let come = now.get(..now.len().saturating_sub(tail)).unwrap_or_default();
    if gone == 0 && come.is_empty() {
        return Vec::new();
    }
    // Each token takes five numbers, and the protocol counts those.
    let five = |tokens: usize| u32::try_from(tokens.saturating_mul(5)).unwrap_or(u32::MAX);
    vec![lsp::SemanticTokensEdit {
        start: five(head),
        delete_count: five(gone),
        data: (!come.is_empty()).then(|| come.iter().flat_map(numbers).collect()),
    }]
}
