//! How cards are read, sentence by sentence of the manual: each card with marks under its text.
//!
//! `reading.marks` holds a heading for each sentence, the card's lines after `| `, and after `: ` what the
//! reader made of the line above, with a mark under the very letters. Set `LEVARE_BLESS=1` to write the
//! marks anew, and read the difference before keeping it.

use std::fmt::Write;
use std::path::Path;

use levare::notation::row::{Fact, RowFact};
use levare::notation::tree::LineKind;
use levare::notation::values::Value;
use levare::notation::{Body, FieldReading, Reading, TableRow, read};
use levare::text::Span;

/// A mark: where, and what is said of it.
type Marks = Vec<(Span, String)>;

fn flags(flags: &[(bool, &str)]) -> String {
    let said = flags.iter().filter(|(said, _)| *said);
    said.map(|(_, word)| format!(", {word}")).collect()
}

fn marks(text: &str, reading: &Reading) -> Marks {
    let mut out = Marks::new();
    if let Some(head) = &reading.tree.head {
        out.push((head.kind_span, format!("kind {}", head.kind)));
        let closed = if head.closed { "" } else { ", not closed" };
        if head.kind.is_named() {
            out.push((head.name_span, format!("name{closed}")));
        }
        if let Some(rest) = head.rest {
            out.push((rest, "words behind the name".to_owned()));
        }
    }
    for line in &reading.tree.lines {
        if line.kind == LineKind::Remark {
            out.push((line.body, "remark".to_owned()));
        }
    }
    for stray in &reading.tree.strays {
        out.push((stray.body, format!("stray {:?}", stray.why)));
    }
    for field in &reading.fields {
        mark_field(text, field, &mut out);
    }
    out.sort_by_key(|(span, _)| (span.start, span.end));
    out
}

fn mark_field(text: &str, field: &FieldReading, out: &mut Marks) {
    let name = field
        .name()
        .map_or("no field".to_owned(), |name| format!("field {name}"));
    out.push((field.word, name));
    match &field.body {
        Body::Running(paragraphs, _) => {
            for paragraph in paragraphs {
                // A paragraph is shown under its first word.
                let first = paragraph.split(' ').next().unwrap_or("");
                let at = field.word.end as usize + text[field.word.end as usize..].find(first).unwrap_or(0);
                out.push((
                    Span::long(at as u32, first.len() as u32),
                    format!("text {paragraph:?}"),
                ));
            }
        }
        Body::Items(items) => {
            for item in items {
                let form = item.one_form().unwrap_or_else(|| "NOT UNDERSTOOD".to_owned());
                let certain = flags(&[
                    (item.about, "about"),
                    (item.open, "open"),
                    (item.then, "then"),
                    (item.some, "some"),
                ]);
                let kind = item.value.as_ref().map_or("item", kind_of);
                out.push((item.core, format!("{kind} {form}{certain}")));
            }
        }
        Body::Rows(rows) => rows.iter().for_each(|row| mark_row(text, row, out)),
        Body::Block(fields) => fields.iter().for_each(|field| mark_field(text, field, out)),
        Body::Unknown => {}
    }
}

fn mark_row(text: &str, row: &TableRow, out: &mut Marks) {
    let under = row
        .under
        .map_or(String::new(), |row| format!(", under row {row}"));
    for name in &row.row.names {
        out.push((
            name.span,
            format!("row {}{}", name.one_form(), flags(&[(name.open, "open")])),
        ));
    }
    if let Some(count) = row.row.count {
        out.push((
            count.span,
            format!(
                "count {}{}",
                count.number,
                flags(&[(count.about, "about"), (count.open, "open")])
            ),
        ));
    }
    for fact in &row.row.facts {
        out.push((fact.span, format!("{} {fact}{under}", fact_of(fact))));
    }
    row.fields.iter().for_each(|field| mark_field(text, field, out));
}

fn kind_of(value: &Value) -> &'static str {
    match value {
        Value::Words(_) => "words",
        Value::Titled(_) => "title",
        Value::Number(_) | Value::Counted { .. } => "number",
        Value::Unnamed(_) => "pieces",
        Value::Key(_) | Value::KeySoon(_) => "key",
        Value::Signature(_) | Value::Signatures(_) => "signature",
        Value::Meter(_) => "meter",
        Value::Tempo(_) => "tempo",
        Value::Lasts(_) => "length",
        Value::Moment(_) => "day",
        Value::Days(..) => "days",
        Value::Money(_) | Value::Price(_) => "money",
        Value::Grade(_) => "grade",
        Value::Mark(_) => "mark",
        Value::Road(_) => "road",
        Value::Range(_) | Value::NamedRange(_) | Value::NamedBounds(_) => "range",
        Value::Equipment(_) => "equipment",
        Value::Skill(_) => "skill",
        Value::Stet(_) => "stet",
        Value::People(_) => "people",
        Value::Copies(_) => "copies",
        Value::Needs(_) => "needs",
        Value::Performance(_) => "performance",
        Value::Season(_) => "season",
        Value::Meets(_) => "meets",
        Value::Pickup(_) | Value::PlayedBy(_) => "pickup",
        Value::Takes(_) => "takes",
        Value::Loan(_) => "loan",
        Value::License(_) => "license",
        Value::Bought(_) => "bought",
        Value::Track(_) => "track",
        Value::Events(_) => "events",
        Value::Change(_) => "change",
        Value::Staffing(_) => "staffing",
        Value::Pace(_) => "pace",
        Value::Postage(_) => "postage",
        Value::Absent(_) => "absent",
        Value::Away(_) => "away",
        Value::Pin(_) => "an assignment",
        Value::ConcertLength(_) => "concert length",
        Value::Owned(_) => "owned",
        Value::Together(_) => "together",
        Value::PartNumbers(_) => "part numbers",
        Value::Size(_) => "size",
        Value::YesNo(_) => "yes or no",
        Value::Done(_) => "done or not",
        Value::Family(_) => "family",
        Value::Clef(_) => "clef",
        Value::Sounds(_) => "sounds",
        Value::Marks(_) => "rehearsal marks",
    }
}

fn fact_of(fact: &RowFact) -> &'static str {
    match fact.what {
        Fact::Range { .. } => "range",
        Fact::Plays(..) => "plays",
        Fact::Relation { .. } => "relation",
        Fact::Some { .. } => "some",
        Fact::Title(_) => "title",
        Fact::Stet(_) => "stet",
        Fact::Pitches(..) | Fact::Retune(..) => "pitches",
        Fact::Players(..) => "players",
        _ => "fact",
    }
}

/// A card with its marks, as the file holds it.
fn drawn(card: &str) -> String {
    let reading = read(card);
    let marks = marks(card, &reading);
    let mut out = String::new();
    for line in &reading.tree.lines {
        let text = line.span.slice(card).trim_end_matches('\n');
        writeln!(out, "| {text}").expect("a string takes it");
        for (span, label) in &marks {
            let here = line.span.start <= span.start && span.start < line.span.end;
            if !here {
                continue;
            }
            // A mark that goes on over lines below is drawn to the end of its first.
            let end = span.end.min(line.span.start + text.len() as u32);
            let lead = Span::new(line.span.start, span.start).slice(card);
            let lead: String = lead.chars().map(|c| if c == '\t' { '\t' } else { ' ' }).collect();
            let width = Span::new(span.start, end).slice(card).chars().count().max(1);
            writeln!(out, ": {lead}{} {label}", "^".repeat(width)).expect("a string takes it");
        }
    }
    out
}

fn draw_all(file: &str) -> String {
    let mut out = String::new();
    let mut card = String::new();
    for line in file.lines().chain([""]) {
        if let Some(text) = line.strip_prefix("| ").or_else(|| line.strip_prefix('|')) {
            card.push_str(text);
            card.push('\n');
        } else if !line.starts_with(':') {
            out.push_str(&drawn(&std::mem::take(&mut card)));
            out.push_str(line);
            out.push('\n');
        }
    }
    out.trim_end().to_owned() + "\n"
}

#[test]
fn cards_are_read_as_the_manual_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/notation/reading.marks");
    let file = std::fs::read_to_string(&path).expect("the file of marks is there");
    let drawn = draw_all(&file);
    if std::env::var_os("LEVARE_BLESS").is_some() {
        std::fs::write(&path, &drawn).expect("the file of marks can be written");
        return;
    }
    for (number, (was, is)) in file.lines().zip(drawn.lines()).enumerate() {
        assert_eq!(was, is, "line {} of reading.marks", number + 1);
    }
    assert_eq!(file.lines().count(), drawn.lines().count());
    let lines = file.lines().filter(|line| line.starts_with("| ")).count();
    assert!(lines >= 60, "only {lines} lines are read");
}
