//! The instruments that a card names, and what each name means.

use std::collections::HashMap;

use crate::findings::card::Card;
use crate::music::instruments::key;
use crate::music::{self, Lookup};
use crate::notation::FieldReading;
use crate::notation::fields::{RowsOf, Shape};
use crate::notation::names;
use crate::notation::row::{Can, Fact, RowName};
use crate::notation::values::Value;
use crate::text::Span;

/// Which instruments a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::findings) enum Family {
    /// Winds, strings and keyboards.
    Parts,
    /// Percussion.
    Percussion,
    /// Any.
    Any,
}

impl Family {
    /// Whether an instrument is of these.
    pub fn takes(self, family: music::instruments::Family) -> bool {
        match self {
            Family::Parts => !family.is_percussion(),
            Family::Percussion => family.is_percussion(),
            Family::Any => true,
        }
    }
}

/// An instrument as a card names it.
pub(in crate::findings) struct Named {
    /// Where the words stand, without a part number.
    pub span: Span,
    /// The words with single blanks.
    pub name: String,
    /// The field it stands in.
    pub field: &'static str,
    /// What the field is about.
    pub family: Family,
}

/// What a name means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Meant {
    /// An instrument, a group of them, or words that need not be one.
    Known,
    /// One of several.
    OneOf(Vec<String>),
    /// Nothing that is known.
    Unknown,
}

/// Names of parts that are no instrument of a band and yet stand among the parts (common practice, no source).
const OTHERS: [&str; 16] = [
    "any instrument",
    "anything",
    "part",
    "parts",
    "score",
    "conductor",
    "narrator",
    "speaker",
    "reader",
    "singer",
    "choir",
    "chorus",
    "audience",
    "dancer",
    "soloist",
    "track",
];

/// All instruments that a card names in its tables of parts and players and in its lists of instruments.
pub(in crate::findings) fn named(card: &Card<'_>) -> Vec<Named> {
    let mut found = Vec::new();
    for level in card.levels() {
        for field in level.fields {
            let Some(spec) = field.spec else { continue };
            let family = match spec.shape {
                Shape::Rows(RowsOf::Parts) => Family::Parts,
                Shape::Rows(RowsOf::Percussion) => Family::Percussion,
                Shape::Rows(RowsOf::Players | RowsOf::Seats | RowsOf::Pages | RowsOf::Percussionists) => {
                    Family::Any
                }
                _ => match spec.name {
                    "owns" | "borrowed" | "change" | "one player" => Family::Percussion,
                    "ranges" | "copies" | "missing" | "without" | "parts" => Family::Any,
                    _ => continue,
                },
            };
            let mut rows = Rows::of(field);
            for row in field.rows() {
                let own = row.row.names.iter().filter(|_| spec.name != "percussionists");
                let others = row.row.facts.iter().flat_map(|fact| match &fact.what {
                    Fact::Relation { targets, .. } => targets.as_slice(),
                    Fact::Instruments { names, .. } => names.as_slice(),
                    _ => &[],
                });
                for fact in &row.row.facts {
                    if let Fact::Some {
                        can: Can::Also(name), ..
                    } = &fact.what
                    {
                        found.push(Named {
                            span: place_of(card, fact.span, name),
                            name: name.clone(),
                            field: spec.name,
                            family,
                        });
                    }
                }
                for name in own.chain(others) {
                    // `anything` and names in quotation marks are nobody's instrument.
                    if name.words.is_empty() || name.text.contains('"') || rows.has(name) {
                        continue;
                    }
                    found.push(Named {
                        span: name.words,
                        name: name.text.strip_prefix("strong ").unwrap_or(&name.text).to_owned(),
                        field: spec.name,
                        family,
                    });
                }
            }
            for item in field.items() {
                let several: Vec<&str> = match &item.value {
                    Some(Value::Together(names)) => names.iter().map(String::as_str).collect(),
                    Some(Value::Change(change)) => change.what.names(),
                    _ => Vec::new(),
                };
                for name in several {
                    found.push(Named {
                        span: place_of(card, item.core, name),
                        name: name.to_owned(),
                        field: spec.name,
                        family,
                    });
                }
                let name = match &item.value {
                    Some(Value::Equipment(equipment)) => equipment.name.as_str(),
                    Some(Value::Copies(copies)) if copies.is_known() => continue,
                    Some(Value::Copies(copies)) => names::cut_number(&copies.part, true).words,
                    Some(Value::Words(words)) => names::cut_number(words, true).words,
                    Some(Value::NamedRange(range)) => names::cut_number(&range.name, true).words,
                    _ => continue,
                };
                found.push(Named {
                    span: place_of(card, item.core, name),
                    name: name.to_owned(),
                    field: spec.name,
                    family,
                });
            }
        }
    }
    found
}

/// Where a name stands in an item. Blanks and capitals may differ between the words as written and as read;
/// then all of the item is marked.
fn place_of(card: &Card<'_>, item: Span, name: &str) -> Span {
    let written = card.words(item).to_lowercase();
    let at = written.find(&name.to_lowercase());
    at.map_or(item, |at| Span::long(item.start + at as u32, name.len() as u32))
}

/// The rows of a table by their names as compared, put together when a fact names something.
struct Rows<'f> {
    field: &'f FieldReading,
    by_name: Option<HashMap<String, Vec<Span>>>,
}

impl<'f> Rows<'f> {
    fn of(field: &'f FieldReading) -> Rows<'f> {
        Rows { field, by_name: None }
    }

    /// Whether a name that a fact holds is that of another row of the table, which names itself.
    fn has(&mut self, name: &RowName) -> bool {
        let by_name = self.by_name.get_or_insert_with(|| {
            let mut by_name: HashMap<String, Vec<Span>> = HashMap::new();
            for row in self.field.rows().iter().flat_map(|row| &row.row.names) {
                let places = by_name.entry(key(&row.text)).or_default();
                // Two places are enough to tell another row from this one.
                if places.len() < 2 && !places.contains(&row.span) {
                    places.push(row.span);
                }
            }
            by_name
        });
        let rows = by_name.get(&key(&name.text));
        rows.is_some_and(|places| places.iter().any(|place| *place != name.span))
    }
}

/// What a name means on this card.
pub(super) fn meant(card: &Card<'_>, named: &Named) -> Meant {
    let name = named.name.as_str();
    if names::is_group(name) {
        return Meant::Known;
    }
    match card.instruments().find(name) {
        Lookup::Exact(_) => return Meant::Known,
        Lookup::Ambiguous(all) => {
            let fitting: Vec<String> = all
                .iter()
                .filter(|instrument| named.family.takes(instrument.family))
                .map(|instrument| instrument.name.to_string())
                .collect();
            return match fitting.len() {
                0 | 1 => Meant::Known,
                _ => Meant::OneOf(fitting),
            };
        }
        Lookup::None => {}
    }
    // Words that change nothing may stand around a name, and names may stand side by side; every one of them
    // must be known.
    let pieces = name.split([',', '/', '&']).flat_map(|piece| piece.split(" or "));
    let mut pieces = pieces
        .flat_map(|piece| piece.split(" and "))
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
        .peekable();
    match pieces.peek().is_some() && pieces.all(|piece| is_known(card, piece)) {
        true => Meant::Known,
        false => Meant::Unknown,
    }
}

/// Whether all of these words are an instrument, a group, another name that parts go by, or a row of the card.
pub(super) fn is_known(card: &Card<'_>, words: &str) -> bool {
    let bare = names::bare(words);
    let single = bare.to_lowercase();
    let single = single.strip_suffix('s').unwrap_or(&single);
    let cut = names::cut_number(bare, true).words;
    names::is_group(bare)
        || OTHERS
            .iter()
            .any(|other| other.strip_suffix('s').unwrap_or(other) == single)
        || card.instruments().find(bare) != Lookup::None
        || (cut != bare && (cut.eq_ignore_ascii_case("part") || card.instruments().find(cut) != Lookup::None))
}
