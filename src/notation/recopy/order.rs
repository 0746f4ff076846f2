//! Putting the fields of a card in the order of the manual, for those who ask for it.

use crate::notation::build::build;
use crate::notation::fields::{FieldSpec, fields_of};
use crate::notation::tree::LineKind;

/// The card with its fields in the table's order. A remark or blank line above a field moves with it.
///
/// A card with lines that belong to nothing is left alone, since such a line may be part of its neighbor.
pub fn ordered(text: &str) -> String {
    let tree = build(text);
    let Some(kind) = tree.kind().filter(|_| tree.strays.is_empty()) else {
        return text.to_owned();
    };
    let specs = fields_of(kind);
    let mut head = String::new();
    let mut blocks: Vec<(usize, String)> = Vec::new();
    // Lines seen since the last line of a field; they belong to the next one.
    let mut lead = String::new();
    let mut rank = 0;
    let mut indent = 0;
    for (index, line) in tree.lines.iter().enumerate() {
        let written = line.span.slice(text);
        // A field among the rows of another stays among them; where it belongs is the director's to say.
        let mut fields = tree.fields.iter().filter(|field| !field.among_rows);
        let field = fields.find(|field| field.line == index);
        if let Some(field) = field {
            let place = |spec: &FieldSpec| specs.iter().position(|known| std::ptr::eq(known, spec));
            indent = line.indent;
            rank = field.spec.and_then(place).unwrap_or(rank);
            blocks.push((rank, std::mem::take(&mut lead) + written));
            continue;
        }
        match (line.kind, blocks.last_mut()) {
            // A remark deeper than the field stays below it, as rows do, those that slipped to its column too.
            (kind, Some((_, block)))
                if matches!(kind, LineKind::Deeper | LineKind::Field)
                    || (kind == LineKind::Remark && line.indent > indent) =>
            {
                block.push_str(&std::mem::take(&mut lead));
                block.push_str(written);
            }
            (LineKind::Head, _) => head.push_str(written),
            _ => lead.push_str(written),
        }
    }
    blocks.sort_by_key(|(rank, _)| *rank);
    let fields: String = blocks.into_iter().map(|(_, block)| block).collect();
    head + &fields + &lead
}
