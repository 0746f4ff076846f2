//! What each word of a file is, so that an editor can color it: kinds, field words, names, numbers, keys,
//! remarks. A grammar colors by shape; this colors by meaning, and leaves alone what has none.

use std::sync::Arc;

use crate::catalogue::{Entry, Snapshot, Wants};
use crate::notation::row::Fact;
use crate::notation::values::Value;
use crate::notation::{Body, FieldReading, remarks};
use crate::text::Span;

use super::{marks, words};

/// What a word is. The order is that of [`Sort::ALL`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// The kind of a card.
    Kind,
    /// The words of a field.
    Field,
    /// The name of a card.
    Name,
    /// A part, an instrument, a seat.
    Part,
    /// A number, a range, measures, a tempo, a length, a day.
    Number,
    /// A key or a key signature.
    Key,
    /// A rehearsal mark.
    Mark,
    /// A skill.
    Skill,
    /// Words that put one thing into a relation to another: `same as`, `instead of`.
    Relation,
    /// The phrase of a finding that is let stand.
    Phrase,
    /// A remark.
    Remark,
    /// A name in quotation marks that no card bears.
    Missing,
}

impl Sort {
    /// All sorts.
    pub const ALL: [Sort; 12] = [
        Sort::Kind,
        Sort::Field,
        Sort::Name,
        Sort::Part,
        Sort::Number,
        Sort::Key,
        Sort::Mark,
        Sort::Skill,
        Sort::Relation,
        Sort::Phrase,
        Sort::Remark,
        Sort::Missing,
    ];
}

/// One word or several of one sort on one line, in bytes of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// Where.
    pub span: Span,
    /// What it is.
    pub sort: Sort,
    /// Whether a name is given here rather than used.
    pub gives: bool,
}

/// The tokens of a file in the order of the text, or those of the cards that `within` touches. They do not
/// overlap, and none goes over the end of a line. `stop` is asked at each card.
pub fn of_file(
    snapshot: &Snapshot,
    file: usize,
    within: Option<Span>,
    stop: &dyn Fn() -> bool,
) -> Vec<Token> {
    let Some(cards) = snapshot.files().get(file) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (index, entry) in cards.entries.iter().enumerate() {
        if stop() {
            break;
        }
        let whole = cards.in_file(index, Span::whole(&entry.text));
        if within.is_some_and(|within| !whole.overlaps(within) && !whole.touches(within.start)) {
            continue;
        }
        found.extend(of_card(snapshot, entry).into_iter().map(|token| Token {
            span: cards.in_file(index, token.span),
            ..token
        }));
    }
    if let Some(within) = within {
        found.retain(|token| token.span.overlaps(within));
    }
    found
}

/// What is painted over what: the later over the earlier.
struct Paint<'t> {
    text: &'t str,
    /// For each byte, one more than the index of what it is painted with.
    bytes: Vec<u32>,
    used: Vec<(Sort, bool)>,
}

impl Paint<'_> {
    fn add(&mut self, span: Span, sort: Sort, gives: bool) {
        let span = words::trimmed(self.text, span);
        self.used.push((sort, gives));
        let number = u32::try_from(self.used.len()).unwrap_or(u32::MAX);
        if let Some(bytes) = self.bytes.get_mut(span.range(self.text)) {
            bytes.fill(number);
        }
    }

    fn clear(&mut self, span: Span) {
        if let Some(bytes) = self.bytes.get_mut(span.range(self.text)) {
            bytes.fill(0);
        }
    }

    fn tokens(self) -> Vec<Token> {
        let mut found: Vec<Token> = Vec::new();
        let mut before = 0;
        for (at, c) in self.text.char_indices() {
            let now = match c {
                '\n' | '\r' => 0,
                _ => self.bytes.get(at).copied().unwrap_or(0),
            };
            let end = at.saturating_add(c.len_utf8());
            let (at, end) = (
                u32::try_from(at).unwrap_or(u32::MAX),
                u32::try_from(end).unwrap_or(u32::MAX),
            );
            if now != 0
                && now == before
                && let Some(last) = found.last_mut()
            {
                last.span.end = end;
            } else if let Some((sort, gives)) = (now as usize)
                .checked_sub(1)
                .and_then(|index| self.used.get(index))
            {
                found.push(Token {
                    span: Span::new(at, end),
                    sort: *sort,
                    gives: *gives,
                });
            }
            before = now;
        }
        found
    }
}

fn of_card(snapshot: &Snapshot, entry: &Arc<Entry>) -> Vec<Token> {
    let text: &str = &entry.text;
    let reading = entry.reading();
    let mut paint = Paint {
        text,
        bytes: vec![0; text.len()],
        used: Vec::new(),
    };
    if let Some(head) = &reading.tree.head {
        paint.add(head.kind_span, Sort::Kind, false);
        paint.add(head.name_span, Sort::Name, true);
    }
    for field in &reading.fields {
        of_field(field, &mut paint);
    }
    for used in &entry.uses {
        let sort = match used.wants {
            Wants::Skill => Sort::Skill,
            _ if snapshot.meant(used).is_empty() => Sort::Missing,
            _ => Sort::Name,
        };
        paint.add(used.span, sort, false);
    }
    of_marks(&reading.fields, &mut paint);
    // A word that counts for nothing looks like one.
    for unheard in &reading.unheard {
        paint.clear(unheard.span);
    }
    for line in reading.tree.lines.iter().filter(|line| !line.body.is_empty()) {
        // In running text parentheses are just text.
        let running = reading
            .fields
            .iter()
            .any(|field| matches!(field.body, Body::Running(..)) && field.whole.overlaps(line.body));
        if !running {
            for (start, end) in remarks::remarks(line.body.slice(text)) {
                let start = line.body.start.saturating_add(u32::try_from(start).unwrap_or(0));
                let end = line.body.start.saturating_add(u32::try_from(end).unwrap_or(0));
                paint.add(Span::new(start, end), Sort::Remark, false);
            }
        }
    }
    paint.tokens()
}

fn of_marks(fields: &[FieldReading], paint: &mut Paint<'_>) {
    for name in marks::names(fields) {
        for spot in marks::spots(fields, paint.text, &name) {
            paint.add(spot.span, Sort::Mark, spot.sets);
        }
    }
    for row in fields.iter().flat_map(FieldReading::rows) {
        of_marks(&row.fields, paint);
    }
}

fn of_field(field: &FieldReading, paint: &mut Paint<'_>) {
    if field.spec.is_some() {
        paint.add(field.word, Sort::Field, false);
    }
    for item in field.items() {
        let sort = match &item.value {
            Some(
                Value::Number(_)
                | Value::Counted { .. }
                | Value::Meter(_)
                | Value::Tempo(_)
                | Value::Lasts(_)
                | Value::Moment(_)
                | Value::Money(_)
                | Value::Price(_)
                | Value::Unnamed(_)
                | Value::Grade(_)
                | Value::Range(_)
                | Value::Days(_)
                | Value::Needs(_)
                | Value::Season(_)
                | Value::Meets(_)
                | Value::Pickup(_)
                | Value::Takes(_)
                | Value::Events(_)
                | Value::Change(_)
                | Value::Staffing(_)
                | Value::Pace(_)
                | Value::Postage(_)
                | Value::ConcertLength(_)
                | Value::PartNumbers(_)
                | Value::Size(_),
            ) => Sort::Number,
            Some(Value::Key(_) | Value::KeySoon(_) | Value::Signature(_) | Value::Signatures(_)) => Sort::Key,
            Some(Value::Skill(_)) => Sort::Skill,
            Some(Value::Equipment(_) | Value::Copies(_) | Value::Owned(_) | Value::Together(_)) => Sort::Part,
            Some(Value::Stet(stet)) => {
                if let Some(span) = words::find(paint.text, item.core, &stet.phrase).first() {
                    paint.add(*span, Sort::Phrase, false);
                }
                continue;
            }
            Some(Value::NamedRange(named)) => {
                paint.add(item.core, Sort::Number, false);
                if let Some(span) = words::find(paint.text, item.core, &named.name).first() {
                    paint.add(*span, Sort::Part, false);
                }
                continue;
            }
            _ => continue,
        };
        paint.add(item.core, sort, false);
    }
    match &field.body {
        Body::Block(inside) => {
            for inner in inside {
                of_field(inner, paint);
            }
        }
        Body::Rows(rows) => {
            for row in rows {
                of_row(row, paint);
            }
        }
        _ => {}
    }
}

fn of_row(row: &crate::notation::TableRow, paint: &mut Paint<'_>) {
    for name in &row.row.names {
        paint.add(name.span, Sort::Part, true);
    }
    if let Some(count) = &row.row.count {
        paint.add(count.span, Sort::Number, false);
    }
    for fact in &row.row.facts {
        match &fact.what {
            Fact::Range { .. }
            | Fact::Plays(..)
            | Fact::Events(_)
            | Fact::Movements(_)
            | Fact::Pitches(..)
            | Fact::Retune(..)
            | Fact::Bound { .. }
            | Fact::Notes(..)
            | Fact::Change(..)
            | Fact::Positions(_)
            | Fact::Measures(_)
            | Fact::Lasts(_)
            | Fact::Line(..)
            | Fact::Players(..)
            | Fact::CompleteWith(_) => paint.add(fact.span, Sort::Number, false),
            Fact::Relation {
                targets, target_span, ..
            } => {
                let before = Span::new(fact.span.start, target_span.start);
                paint.add(before, Sort::Relation, false);
                for name in targets {
                    paint.add(name.span, Sort::Part, false);
                }
            }
            Fact::Instruments { names, .. } => {
                for name in names {
                    paint.add(name.span, Sort::Part, false);
                }
            }
            Fact::Some { count: Some(_), .. } => {
                let words = fact.span.slice(paint.text);
                let digits = words.len() - words.trim_start_matches(|c: char| c.is_ascii_digit()).len();
                let number = Span::long(fact.span.start, u32::try_from(digits).unwrap_or(0));
                paint.add(number, Sort::Number, false);
            }
            Fact::OverTheBreak(_) => paint.add(fact.span, Sort::Number, false),
            Fact::Solo(_) | Fact::BelowTheBreak | Fact::OnePlayer => {
                paint.add(fact.span, Sort::Relation, false);
            }
            Fact::Asks(_) => paint.add(fact.span, Sort::Skill, false),
            Fact::Stet(_) => paint.add(fact.span, Sort::Phrase, false),
            _ => {}
        }
        // The same words have the same color, whether a number of players stands before them or measures after.
        if !matches!(fact.what, Fact::Stet(_)) {
            for span in words::find(paint.text, fact.span, "over the break") {
                paint.add(span, Sort::Relation, false);
            }
        }
    }
    for inner in &row.fields {
        of_field(inner, paint);
    }
}
