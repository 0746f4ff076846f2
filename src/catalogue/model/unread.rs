//! What a card says that nobody understood, line by line: whoever draws a conclusion from what a card does
//! not say asks here first.

use crate::notation::fields::{self, FieldSpec};
use crate::notation::{Body, FieldReading};
use crate::text::Span;

/// Words of a line that were not understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// The line's name; for a line whose own word has a slip, the name that is nearest.
    pub field: &'static str,
    /// The item or row that holds them, as written.
    pub words: String,
    /// Whether nothing of it was understood.
    pub wholly: bool,
}

/// Whether something on a line of that name was not understood.
pub fn is_unread(unread: &[Unread], field: &str) -> bool {
    unread.iter().any(|unread| unread.field == field)
}

/// Collects what was not understood on these lines, the lines of blocks included.
pub(super) fn unread(all: &[FieldReading], specs: &'static [FieldSpec], text: &str) -> Vec<Unread> {
    let mut found = Vec::new();
    for field in all {
        let Some(spec) = field.spec else {
            let word = field.word.slice(text);
            let named = fields::nearest(specs, word).and_then(|near| fields::named(specs, near));
            found.extend(named.map(|spec| {
                Unread {
                    field: spec.name,
                    words: Span::new(field.word.end, field.whole.end.max(field.word.end))
                        .slice(text)
                        .trim()
                        .to_owned(),
                    wholly: true,
                }
            }));
            continue;
        };
        let mut push = |span: Span, wholly: bool| {
            found.push(Unread {
                field: spec.name,
                words: span.slice(text).to_owned(),
                wholly,
            });
        };
        match &field.body {
            Body::Items(items) => {
                for item in items.iter().filter(|item| item.is_wrong() || item.partial) {
                    push(item.span, item.is_wrong());
                }
            }
            Body::Rows(rows) => {
                for row in rows.iter().filter(|row| row.row.partial) {
                    push(row.row.span, row.row.names.is_empty());
                }
            }
            Body::Block(inside) => {
                if let fields::Shape::Block(specs) = spec.shape {
                    found.extend(unread(inside, specs, text));
                }
            }
            Body::Running(..) | Body::Unknown => {}
        }
    }
    found
}
