//! What a card says, fact by fact, whatever line it stands on.

use crate::notation::fields::{RowsOf, Shape};
use crate::notation::row::{Fact, RowItem};
use crate::notation::tree::LineKind;
use crate::notation::values::Value;
use crate::notation::{Body, FieldReading, Reading, remarks};
use crate::text::Span;

use super::keys::{self, single};
use super::pairs::Sibling;

/// One thing that a card says.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// The field; for fields inside another, both: `library, copies`.
    pub field: String,
    /// The row of a table; empty where it is said of no row.
    pub row: String,
    /// What it is found again by among what is said of the same.
    pub key: String,
    /// What is said, in the one form where it was understood.
    pub words: String,
    /// What it is.
    pub what: What,
}

/// What something said is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// An item of a list.
    Item,
    /// A value, or one of its stages.
    Value,
    /// That there is such a row; whether the order of the rows counts.
    Row {
        /// It does in a program and among movements.
        ordered: bool,
    },
    /// A fact of a row.
    Fact,
    /// Measures in which a part plays.
    Entrance,
    /// A head count.
    Count,
    /// Running text.
    Text,
    /// A remark in parentheses.
    Remark,
    /// Words that were not understood.
    Words,
}

impl Sibling for Said {
    fn key(&self) -> String {
        self.key.clone()
    }

    fn says(&self) -> String {
        self.words.clone()
    }

    fn may_become(&self, other: &Said) -> bool {
        self.what == other.what && !matches!(self.what, What::Item | What::Row { .. })
    }

    fn repeats(&self) -> bool {
        false
    }

    fn stage(&self) -> Option<Option<u32>> {
        None
    }
}

/// All that a card says.
pub fn of_card(text: &str, reading: &Reading) -> Vec<Said> {
    let mut teller = Teller {
        text,
        reading,
        said: Vec::new(),
        plain: Vec::new(),
    };
    teller.fields("", &reading.fields);
    teller.others();
    teller.said
}

struct Teller<'t> {
    text: &'t str,
    reading: &'t Reading,
    said: Vec<Said>,
    /// Running text, where parentheses are no remark.
    plain: Vec<Span>,
}

impl Teller<'_> {
    fn fields(&mut self, within: &str, fields: &[FieldReading]) {
        for field in fields {
            let own = match field.spec {
                Some(spec) => spec.name.to_owned(),
                None => single(field.word.slice(self.text)),
            };
            let name = match within.is_empty() {
                true => own,
                false => format!("{within}, {own}"),
            };
            self.field(&name, field);
        }
    }

    fn put(&mut self, field: &str, row: &str, key: String, words: String, what: What) {
        self.said.push(Said {
            field: field.to_owned(),
            row: row.to_owned(),
            key,
            words,
            what,
        });
    }

    fn field(&mut self, name: &str, field: &FieldReading) {
        let text = self.text;
        match &field.body {
            Body::Running(paragraphs, span) => {
                self.plain.push(*span);
                self.put(name, "", String::new(), paragraphs.join("\n\n"), What::Text);
            }
            Body::Items(items) => {
                let stages = field
                    .spec
                    .is_some_and(|spec| matches!(spec.shape, Shape::Value(_)));
                let what = if stages { What::Value } else { What::Item };
                if items
                    .iter()
                    .any(|item| matches!(item.value, Some(Value::Stet(_))))
                {
                    self.plain.push(field.whole);
                }
                for item in items {
                    let words = keys::item_says(text, item);
                    self.put(name, "", keys::item_key(text, item, stages), words, what);
                }
            }
            Body::Rows(rows) => {
                let of = match field.spec.map(|spec| spec.shape) {
                    Some(Shape::Rows(of)) => of,
                    _ => RowsOf::Parts,
                };
                for table_row in rows {
                    self.row(name, &table_row.row, of);
                    let within = format!("{name}, {}", keys::row_name(text, &table_row.row));
                    self.fields(&within, &table_row.fields);
                }
                let left: Vec<String> = self
                    .reading
                    .unheard
                    .iter()
                    .filter(|left| field.whole.encloses(left.span))
                    .map(|left| single(left.span.slice(text)))
                    .collect();
                for words in left {
                    self.put(name, "", words.clone(), words, What::Words);
                }
            }
            Body::Block(inside) => self.fields(name, inside),
            Body::Unknown => {
                let words = single(field.whole.slice(text));
                self.put(name, "", words.clone(), words, What::Words);
            }
        }
    }

    fn row(&mut self, field: &str, row: &RowItem, of: RowsOf) {
        let name = keys::row_name(self.text, row);
        let ordered = matches!(of, RowsOf::Program | RowsOf::Movements | RowsOf::Seats);
        self.put(field, &name, String::new(), name.clone(), What::Row { ordered });
        if let Some(count) = row.count {
            self.put(field, &name, "count".to_owned(), count.to_string(), What::Count);
        }
        let mut open = row
            .names
            .iter()
            .filter(|name| name.open)
            .map(|name| name.one_form());
        if let Some(open) = open.next() {
            self.put(field, &name, "?".to_owned(), open, What::Fact);
        }
        for (at, fact) in row.facts.iter().enumerate() {
            let words = fact.to_string();
            // A title alone says no more than that the row is there.
            if at == 0 && row.names.is_empty() && words == name {
                continue;
            }
            let what = match fact.what {
                Fact::Plays(..) => What::Entrance,
                _ => What::Fact,
            };
            self.put(field, &name, keys::fact_key(fact), words, what);
        }
    }

    /// Remarks, and lines that belong to nothing.
    fn others(&mut self) {
        let text = self.text;
        for stray in &self.reading.tree.strays {
            let words = single(stray.body.slice(text));
            self.put("", "", words.clone(), words, What::Words);
        }
        for (index, line) in self.reading.tree.lines.iter().enumerate() {
            let known = self.reading.tree.strays.iter().any(|stray| stray.line == index);
            let lost = line.kind == LineKind::Deeper && !known && !self.belongs(index);
            if lost {
                let words = single(line.body.slice(text));
                self.put("", "", words.clone(), words, What::Words);
            }
        }
        let spoken = self.reading.asides.iter().copied();
        let remarks = remarks::remarks(text).into_iter();
        let remarks = remarks.map(|(start, end)| Span::new(start as u32, end as u32));
        for span in remarks.chain(spoken) {
            if self.plain.iter().any(|plain| plain.encloses(span)) {
                continue;
            }
            let words = single(span.slice(text));
            self.put("", "", words.clone(), words, What::Remark);
        }
    }

    fn belongs(&self, line: usize) -> bool {
        let place = self.reading.tree.lines.get(line).map(|line| line.body);
        let fields = self.reading.fields.iter();
        place.is_some_and(|place| fields.map(|field| field.whole).any(|whole| whole.encloses(place)))
    }
}
