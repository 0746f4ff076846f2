//! The names of fields laid out by their first letter, so that few are compared with a line.

use std::sync::LazyLock;

use super::{FieldSpec, Shape, fields_of};
use crate::notation::kind::Kind;

/// A name, and the place of its field in its table.
type Named = (usize, &'static str);

/// A table and its names by their first letter, capitals aside, in the order of the table.
struct LaidOut {
    fields: &'static [FieldSpec],
    by_letter: [Vec<Named>; 32],
}

static TABLES: LazyLock<Vec<LaidOut>> = LazyLock::new(|| {
    let mut tables = Vec::new();
    for kind in Kind::ALL {
        lay_out(fields_of(kind), &mut tables);
    }
    tables
});

/// The names that may stand at the start of a line; none where the table is not one of the notation's.
pub(super) fn starting_like(fields: &[FieldSpec], line: &str) -> Option<&'static [Named]> {
    let table = TABLES.iter().find(|table| std::ptr::eq(table.fields, fields))?;
    let Some(first) = line.as_bytes().first() else {
        return Some(&[]);
    };
    table.by_letter.get(place(*first)).map(Vec::as_slice)
}

fn lay_out(fields: &'static [FieldSpec], tables: &mut Vec<LaidOut>) {
    let mut by_letter: [Vec<Named>; 32] = Default::default();
    for (at, spec) in fields.iter().enumerate() {
        for name in std::iter::once(&spec.name).chain(spec.also) {
            let first = name.as_bytes().first().map_or(0, |first| place(*first));
            if let Some(named) = by_letter.get_mut(first) {
                named.push((at, name));
            }
        }
        if let Shape::Block(inside) = spec.shape {
            lay_out(inside, tables);
        }
    }
    tables.push(LaidOut { fields, by_letter });
}

/// Where names with this first byte are kept: small and large letters share one place.
fn place(first: u8) -> usize {
    usize::from(first & 31)
}

#[cfg(test)]
mod tests {
    use super::super::{find, starts_with_words};
    use super::*;

    #[test]
    fn every_name_is_found_where_it_is_laid() {
        for table in TABLES.iter() {
            for spec in table.fields {
                for name in std::iter::once(&spec.name).chain(spec.also) {
                    let named = starting_like(table.fields, &name.to_uppercase()).unwrap_or(&[]);
                    assert!(named.iter().any(|(_, laid)| laid == name), "{name}");
                    assert_eq!(starts_with_words(name, name), Some(name.len()));
                    assert_eq!(find(table.fields, name), Some((spec, name.len())), "{name}");
                }
            }
        }
        // All tables of a kind are there, and so is the library's among a piece's fields.
        assert!(TABLES.len() > Kind::ALL.len());
    }
}
