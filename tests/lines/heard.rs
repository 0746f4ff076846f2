//! What the program hears in each line of a file, and the table that says what was meant.

use std::path::Path;
use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use levare::notation;
use levare::notation::Of;
use levare::notation::fields::Shape;
use levare::notation::values::{Loan, Track, Value};
use levare::notation::{Body, FieldReading};
use levare::text::Span;

/// What is told where words mean nothing, or may mean several things.
const NOT_UNDERSTOOD: [&str; 10] = [
    "line at the margin",
    "day or month first",
    "word not on the card",
    "instrument not known",
    "name without quotes",
    "not a condition",
    "not understood",
    "morning or evening",
    "which instrument is meant",
    "which year",
];

/// A row of the table.
#[derive(Debug, Default)]
pub struct Line {
    pub words: String,
    pub meaning: String,
    pub class: String,
    pub form: String,
    pub told: String,
}

/// What is heard in a line.
#[derive(Debug, Default)]
pub struct Heard {
    /// The line as it was typed.
    pub line: String,
    /// The line in the one form.
    pub form: String,
    /// What is told on it, as the table writes it.
    pub told: String,
    /// Whether words are told that are not understood, or that may not stand there.
    pub notation: bool,
    /// Whether a finding asks which of several readings is meant.
    pub asks: bool,
    /// Whether the line's words are the director's own by the manual.
    pub own_words: bool,
}

impl Heard {
    pub fn not_understood(&self) -> bool {
        self.notation
    }

    /// What a line that nobody has looked at yet seems to be.
    fn seems(&self) -> &'static str {
        match (self.notation, self.asks, self.own_words) {
            (true, true, _) => "asked?",
            (true, ..) => "told?",
            (false, _, true) => "own words?",
            (false, ..) => "meant?",
        }
    }

    /// The row of the table as it would be now.
    pub fn row(&self, meaning: &str, class: &str) -> String {
        let class = if class == "?" { self.seems() } else { class };
        format!(
            "| `{}` | {meaning} | {class} | `{}` | {} |",
            self.line, self.form, self.told
        )
    }
}

fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/lines")
}

/// The table beside a file.
pub fn table(name: &str) -> Vec<Line> {
    let page = std::fs::read_to_string(folder().join(format!("{name}.md"))).unwrap_or_default();
    let bare = |cell: &str| cell.trim().trim_matches('`').to_owned();
    page.lines()
        .filter(|line| line.starts_with("| `"))
        .map(|line| {
            let mut cells = line.trim_matches('|').split('|');
            let mut next = || cells.next().unwrap_or("").trim().to_owned();
            Line {
                words: bare(&next()),
                meaning: next(),
                class: next(),
                form: bare(&next()),
                told: next(),
            }
        })
        .collect()
}

/// Each line of a file that says something, as the program hears it.
pub fn hear(name: &str) -> Vec<Heard> {
    let path = format!("{name}.levare");
    let text = std::fs::read_to_string(folder().join(&path)).expect("the lines are there");
    let file = Arc::new(CardFile::read(&path, &text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let mut heard = Vec::new();
    for (id, entry) in snapshot.entries() {
        let text: &str = &entry.text;
        let reading = notation::read(text);
        let findings = findings::of_card(&snapshot, id);
        let own = own_words(&reading.fields);
        let mut at = 0;
        for (number, line) in text.split_inclusive('\n').enumerate() {
            let span = Span::long(at, line.len() as u32);
            at += line.len() as u32;
            let words = line.trim();
            // The head of a card, and a word alone that only opens a table.
            if number == 0 || !words.contains(' ') {
                continue;
            }
            let mut told = Vec::new();
            let mut notation = false;
            let mut asks = false;
            for finding in findings.iter().filter(|finding| {
                finding.span.start >= span.start
                    && finding.span.start < span.end
                    && finding.phrase != "open question"
            }) {
                told.push(format!(
                    "{} at `{}`",
                    finding.phrase,
                    finding.span.slice(text).trim()
                ));
                let which = finding.phrase.starts_with("which") || finding.repairs.len() > 1;
                asks |= which;
                notation |= NOT_UNDERSTOOD.contains(&finding.phrase);
                // Words without quotation marks that no card bears are not understood.
                let before = text[..finding.span.start as usize].chars().next_back();
                notation |= finding.phrase == "title not found"
                    && !before.is_some_and(|c| matches!(c, '"' | '“' | '”'));
            }
            for left in reading.unheard.iter().filter(|left| left.span.overlaps(span)) {
                notation = true;
                let said = findings
                    .iter()
                    .any(|finding| finding.span.overlaps(left.span) || finding.span.overlaps(span));
                if !said {
                    told.push(format!("unsaid `{}`", left.span.slice(text)));
                }
            }
            // Lines below one that is told at the margin belong to no card.
            let above = text.lines().take(number).collect::<Vec<_>>();
            let edge = above
                .iter()
                .rposition(|line| line.starts_with(|c: char| !c.is_whitespace()));
            let stray = line.starts_with(char::is_whitespace) && edge.is_some_and(|edge| edge > 0);
            // So do those below a word that is no field.
            let field = reading.tree.fields.iter().rfind(|field| field.line <= number);
            let below = field.is_some_and(|field| field.spec.is_none() && field.line < number);
            if (stray || below) && told.is_empty() {
                notation = true;
                told.push("told with the line above".to_owned());
            }
            heard.push(Heard {
                line: words.to_owned(),
                form: form(text, number),
                told: told.join("; "),
                notation,
                asks,
                own_words: own.iter().any(|field| field.overlaps(span)),
            });
        }
    }
    heard
}

/// The line in the one form, recopied alone on its card, below the lines that it hangs under.
fn form(card: &str, number: usize) -> String {
    let lines: Vec<&str> = card.lines().collect();
    let indent = |line: &str| line.len() - line.trim_start().len();
    let mut kept = vec![lines[number]];
    let mut depth = indent(lines[number]);
    for line in lines[..number].iter().rev() {
        if !line.trim().is_empty() && indent(line) < depth {
            depth = indent(line);
            kept.push(line);
        }
    }
    kept.reverse();
    let text = kept.join("\n") + "\n";
    let new = notation::recopy::recopy(&text).text;
    let last = new.lines().last().unwrap_or("");
    last.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The stretches of fields whose words are the director's own.
fn own_words(fields: &[FieldReading]) -> Vec<Span> {
    let mut found = Vec::new();
    for field in fields {
        let own = field.spec.is_some_and(|spec| {
            matches!(
                spec.shape,
                Shape::Running | Shape::List(Of::Words | Of::People) | Shape::Value(Of::Words)
            )
        });
        if own {
            found.push(field.whole);
        }
        // Whom a set is lent to and where a track is kept are told in the director's own words.
        for item in field.items() {
            let kept = match &item.value {
                Some(Value::Track(Track::Kept(_))) => true,
                Some(Value::Loan(Loan::Out { to, .. })) => to.is_some(),
                _ => false,
            };
            if kept {
                found.push(item.span);
            }
        }
        if let Body::Block(inside) = &field.body {
            found.extend(own_words(inside));
        }
    }
    found
}
