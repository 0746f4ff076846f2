//! Walking a card level by level: the card itself, the blocks in it, its movements.

use crate::findings::card::Card;
use crate::notation::fields::{self, FieldSpec, RowsOf, Shape};
use crate::notation::{Body, FieldReading};
use crate::text::Span;

/// Fields that stand side by side, and which there may be.
pub(in crate::findings) struct Level<'c> {
    /// The fields.
    pub fields: &'c [FieldReading],
    /// The fields that may stand there.
    pub specs: &'static [FieldSpec],
    /// Where it is, as a finding's place says it: empty for the card itself, `library`, `movement 2`.
    pub place: String,
    /// The movement's number, where it is one.
    pub movement: Option<u32>,
}

impl Level<'_> {
    /// A place on this level: `movement 2, percussion`.
    pub fn at(&self, name: &str) -> String {
        [self.place.as_str(), name]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// All levels of a card, the card itself first.
pub(in crate::findings) fn levels<'c>(card: &Card<'c>) -> Vec<Level<'c>> {
    let Some(kind) = card.kind() else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let mut open = vec![Level {
        fields: &card.reading.fields,
        specs: fields::fields_of(kind),
        place: String::new(),
        movement: None,
    }];
    while let Some(level) = open.pop() {
        for field in level.fields {
            let Some(spec) = field.spec else { continue };
            match (&field.body, spec.shape) {
                (Body::Block(inside), Shape::Block(specs)) => open.push(Level {
                    fields: inside,
                    specs,
                    place: level.at(spec.name),
                    movement: level.movement,
                }),
                (Body::Rows(rows), Shape::Rows(RowsOf::Movements)) => {
                    let with_fields = rows.iter().enumerate().filter(|(_, row)| !row.fields.is_empty());
                    for (index, row) in with_fields {
                        let said = row.row.names.first().and_then(|name| name.numbers);
                        let number = said.map_or((index as u32).saturating_add(1), |(number, _)| number);
                        open.push(Level {
                            fields: &row.fields,
                            specs: fields::movement_fields(),
                            place: level.at(&format!("movement {number}")),
                            movement: Some(number),
                        });
                    }
                }
                _ => {}
            }
        }
        found.push(level);
    }
    found
}

/// The blanks that the card's fields are indented with.
pub(super) fn indent_of(card: &Card<'_>) -> String {
    let fields = card.reading.tree.fields.iter().filter(|field| !field.at_margin);
    fields
        .filter_map(|field| card.reading.tree.lines.get(field.line))
        .map(|line| Span::new(line.span.start, line.body.start).slice(card.text()))
        .map(|blanks| blanks.trim_start_matches('\u{feff}'))
        .find(|blanks| !blanks.is_empty())
        .unwrap_or("  ")
        .to_owned()
}

/// How lines of the card end.
pub(super) fn ending_of(text: &str) -> &'static str {
    match (text.contains("\r\n"), text.contains('\n'), text.contains('\r')) {
        (true, ..) => "\r\n",
        (_, false, true) => "\r",
        _ => "\n",
    }
}
