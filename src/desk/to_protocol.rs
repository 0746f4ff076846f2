//! From our types to the protocol's.

use std::collections::HashMap;
use std::sync::Arc;

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::Target;
use crate::assist::completion::{Offer, OfferKind};
use crate::assist::drafts::{Bit, Draft};
use crate::assist::markdown;
use crate::assist::symbols::{Sort, Symbol};
use crate::findings::Severity;
use crate::notation::Kind;
use crate::text::{Edit, Encoding, Sheet, Span};

use super::capabilities::Client;
use super::moment::{Moment, Paper, View};

pub(super) fn position(sheet: &Sheet, offset: u32, encoding: Encoding) -> lsp::Position {
    let position = sheet.position(offset, encoding);
    lsp::Position {
        line: position.line,
        character: position.column,
    }
}

pub(super) fn range(sheet: &Sheet, span: Span, encoding: Encoding) -> lsp::Range {
    lsp::Range {
        start: position(sheet, span.start, encoding),
        end: position(sheet, span.end, encoding),
    }
}

/// A place on a card, as the client finds it.
pub(super) fn location(moment: &Moment, target: Target, encoding: Encoding) -> Option<lsp::Location> {
    let paper = moment.paper_of(target.id)?;
    let span = paper.cards.in_file(target.id.entry as usize, target.span);
    Some(lsp::Location {
        uri: paper.uri.clone(),
        range: range(paper.sheet(), span, encoding),
    })
}

pub(super) fn severity(severity: Severity) -> lsp::DiagnosticSeverity {
    match severity {
        Severity::Error => lsp::DiagnosticSeverity::Error,
        Severity::Warning => lsp::DiagnosticSeverity::Warning,
        Severity::Information => lsp::DiagnosticSeverity::Information,
        Severity::Hint => lsp::DiagnosticSeverity::Hint,
    }
}

/// An edit of a file.
pub(super) fn edit(sheet: &Sheet, edit: &Edit, encoding: Encoding) -> lsp::TextEdit {
    lsp::TextEdit {
        range: range(sheet, edit.span, encoding),
        new_text: edit.text.clone(),
    }
}

/// Edits of one file, with the version they are meant for when the client takes that.
pub(super) fn workspace_edit(
    paper: &Arc<Paper>,
    edits: Vec<lsp::TextEdit>,
    client: &Client,
) -> lsp::WorkspaceEdit {
    workspace_edits([(Arc::clone(paper), edits)], client)
}

/// Edits of several files, each with the version it is meant for when the client takes that.
pub(super) fn workspace_edits(
    files: impl IntoIterator<Item = (Arc<Paper>, Vec<lsp::TextEdit>)>,
    client: &Client,
) -> lsp::WorkspaceEdit {
    if client.versioned_edits {
        let change = |(paper, edits): (Arc<Paper>, Vec<lsp::TextEdit>)| {
            let text_document = lsp::OptionalVersionedTextDocumentIdentifier {
                version: paper.version,
                text_document_identifier: lsp::TextDocumentIdentifier {
                    uri: paper.uri.clone(),
                },
            };
            let edits = edits.into_iter().map(lsp::Edit::TextEdit).collect();
            lsp::DocumentChange::TextDocumentEdit(lsp::TextDocumentEdit { text_document, edits })
        };
        return lsp::WorkspaceEdit {
            document_changes: Some(files.into_iter().map(change).collect()),
            ..lsp::WorkspaceEdit::default()
        };
    }
    let changes: HashMap<lsp::Uri, Vec<lsp::TextEdit>> = files
        .into_iter()
        .map(|(paper, edits)| (paper.uri.clone(), edits))
        .collect();
    lsp::WorkspaceEdit {
        changes: Some(changes),
        ..lsp::WorkspaceEdit::default()
    }
}

/// An offer. What the client asks for when it shows it is left out.
pub(super) fn completion(
    offer: Offer,
    number: usize,
    view: &View,
    at: lsp::Position,
    can: &Client,
) -> lsp::CompletionItem {
    // Everything the offer may be found by is in its filter, abbreviations too. A name in quotation marks
    // is found with and without them.
    let mut filter = offer.text.lines().next().unwrap_or("").to_owned();
    if !filter.contains(&offer.label) {
        filter.push(' ');
        filter.push_str(&offer.label);
    }
    for also in &offer.also {
        filter.push(' ');
        filter.push_str(also);
    }
    let writing = can.writing;
    let snippet = offer.draft.as_ref().filter(|_| writing.snippets).map(snippet);
    let (format, new_text) = match snippet {
        Some(text) => (lsp::InsertTextFormat::Snippet, text),
        None => (lsp::InsertTextFormat::PlainText, offer.text),
    };
    lsp::CompletionItem {
        // Kinds that the protocol had from the beginning, so that no client has to be asked whether it knows them.
        kind: Some(match offer.kind {
            OfferKind::Kind => lsp::CompletionItemKind::Class,
            OfferKind::Card => lsp::CompletionItemKind::Snippet,
            OfferKind::Field => lsp::CompletionItemKind::Field,
            OfferKind::Name => lsp::CompletionItemKind::Reference,
            OfferKind::Instrument => lsp::CompletionItemKind::Variable,
            OfferKind::Value => lsp::CompletionItemKind::Value,
            OfferKind::Phrase => lsp::CompletionItemKind::Enum,
            OfferKind::Words => lsp::CompletionItemKind::Keyword,
        }),
        detail: (!offer.detail.is_empty() && !writing.asks_detail).then_some(offer.detail),
        documentation: match writing.asks_documentation {
            true => None,
            false => documentation(offer.says, can),
        },
        sort_text: Some(format!("{number:05}")),
        filter_text: Some(filter),
        insert_text_format: Some(format),
        // The draft's lines are indented as they are meant to stand.
        insert_text_mode: None,
        text_edit: Some(lsp::CompletionItemTextEdit::TextEdit(lsp::TextEdit {
            range: range(view.paper.sheet(), offer.replaces, can.encoding),
            new_text,
        })),
        data: (writing.asks_documentation || writing.asks_detail)
            .then(|| serde_json::json!({"uri": view.paper.uri, "line": at.line, "character": at.character})),
        label: offer.label,
        ..lsp::CompletionItem::default()
    }
}

/// Words beside an offer, in the form the client shows.
pub(super) fn documentation(says: String, can: &Client) -> Option<lsp::Documentation> {
    if says.is_empty() {
        return None;
    }
    Some(match can.writing.markdown {
        true => lsp::Documentation::MarkupContent(markup(says, true)),
        false => lsp::Documentation::String(markdown::plain(&says)),
    })
}

/// A text of `assist`, for a client that shows Markdown or one that does not.
pub(super) fn markup(text: String, shows_markdown: bool) -> lsp::MarkupContent {
    match shows_markdown {
        true => lsp::MarkupContent {
            kind: lsp::MarkupKind::Markdown,
            value: text,
        },
        false => lsp::MarkupContent {
            kind: lsp::MarkupKind::PlainText,
            value: markdown::plain(&text),
        },
    }
}

/// A draft as the protocol writes blanks; `$`, `}` and `\` in its words are told apart by a `\`.
fn snippet(draft: &Draft) -> String {
    let mut out = String::new();
    let mut number = 0u32;
    for bit in &draft.0 {
        match bit {
            Bit::Text(text) => {
                for c in text.chars() {
                    if matches!(c, '$' | '}' | '\\') {
                        out.push('\\');
                    }
                    out.push(c);
                }
            }
            Bit::Blank => {
                number = number.saturating_add(1);
                out.push_str(&format!("${number}"));
            }
        }
    }
    out.push_str("$0");
    out
}

/// What a kind of card looks like in an outline. Only kinds that the protocol had from the beginning are used
/// (`File` to `Array`): an older client knows no others.
pub(super) fn symbol_kind(sort: Sort) -> lsp::SymbolKind {
    match sort {
        Sort::Card(Kind::Handbook) => lsp::SymbolKind::Package,
        Sort::Card(Kind::Ensemble) => lsp::SymbolKind::Class,
        Sort::Card(Kind::Piece) => lsp::SymbolKind::File,
        Sort::Card(Kind::Concert) => lsp::SymbolKind::Module,
        Sort::Card(Kind::Criteria) => lsp::SymbolKind::Interface,
        Sort::Card(Kind::Bundle | Kind::List) => lsp::SymbolKind::Array,
        Sort::Card(Kind::Skill) => lsp::SymbolKind::Method,
        Sort::Card(Kind::Instrument) => lsp::SymbolKind::Constant,
        Sort::Field => lsp::SymbolKind::Field,
        Sort::Row => lsp::SymbolKind::Property,
    }
}

/// An outline as a tree.
#[allow(
    deprecated,
    reason = "the protocol's own struct has a field that it no longer wants"
)]
pub(super) fn symbol(symbol: Symbol, sheet: &Sheet, encoding: Encoding) -> lsp::DocumentSymbol {
    let inside: Vec<_> = symbol
        .inside
        .into_iter()
        .map(|inner| self::symbol(inner, sheet, encoding))
        .collect();
    lsp::DocumentSymbol {
        name: symbol.name,
        detail: (!symbol.detail.is_empty()).then_some(symbol.detail),
        kind: symbol_kind(symbol.sort),
        tags: None,
        deprecated: None,
        range: range(sheet, symbol.whole, encoding),
        selection_range: range(sheet, symbol.name_span, encoding),
        children: (!inside.is_empty()).then_some(inside),
    }
}

/// An outline's cards, one after another, for a client that shows no tree.
#[allow(
    deprecated,
    reason = "the protocol's own struct has a field that it no longer wants"
)]
pub(super) fn flat_symbol(symbol: &Symbol, paper: &Paper, encoding: Encoding) -> lsp::SymbolInformation {
    lsp::SymbolInformation {
        deprecated: None,
        location: lsp::Location {
            uri: paper.uri.clone(),
            range: range(paper.sheet(), symbol.whole, encoding),
        },
        base_symbol_information: lsp::BaseSymbolInformation {
            name: symbol.name.clone(),
            kind: symbol_kind(symbol.sort),
            tags: None,
            container_name: None,
        },
    }
}
