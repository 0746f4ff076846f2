//! Says of every line of the named files what the reader took it for, to be held against other readers.
//!
//! Prints one JSON line a file: the file's name and its lines, each as `[letter, from, to]` or
//! `[letter, from, to, from, to]` in bytes of the file. The letters are `card` (the kind's word and the
//! name without its quotes), `field` and `other` (a field's words, of a field that the card has or has not),
//! `deeper`, `broken`, `remark`, `conflict` and `blank`; what has no words of its own gives its text.
//! Files are read as UTF-8; what is none is left out and named on standard error.

use std::io::{self, Write as _};

use levare::notation::tree::{LineKind, StrayWhy, Tree};
use levare::notation::{read, split, unknown_word};
use serde_json::{Value, json};

/// What one entry's lines are, with places counted from `base`.
fn lines(tree: &Tree, text: &str, base: usize, into: &mut Vec<Value>) {
    let at = |offset: u32| base + offset as usize;
    for (index, line) in tree.lines.iter().enumerate() {
        let body = (at(line.body.start), at(line.body.end));
        let field = tree.fields.iter().find(|field| field.line == index);
        let conflict = tree
            .strays
            .iter()
            .any(|stray| stray.line == index && stray.why == StrayWhy::Conflict);
        let plain = |letter: &str| json!([letter, body.0, body.1]);
        into.push(match (line.kind, &tree.head, field) {
            (LineKind::Head, Some(head), _) => json!([
                "card",
                at(head.kind_span.start),
                at(head.kind_span.end),
                at(head.name_span.start),
                at(head.name_span.end)
            ]),
            (LineKind::Field, _, Some(field)) if !field.word.is_empty() => {
                let letter = if field.spec.is_some() { "field" } else { "other" };
                json!([letter, at(field.word.start), at(field.word.end)])
            }
            // A row beside its table, or a line that needs no word, looks like one that the card does not have.
            (LineKind::Field, ..) => json!(["other", body.0, body.0 + unknown_word(line.body.slice(text))]),
            (LineKind::Deeper, ..) => plain("deeper"),
            (LineKind::Remark, ..) => plain("remark"),
            (LineKind::Blank, ..) => plain("blank"),
            _ if conflict => plain("conflict"),
            _ => plain("broken"),
        });
    }
}

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for name in std::env::args().skip(1) {
        let Ok(text) = std::fs::read_to_string(&name) else {
            writeln!(io::stderr(), "{name} is not UTF-8 text")?;
            continue;
        };
        let mut starts = split(&text);
        starts.push(text.len());
        let mut all = Vec::new();
        for pair in starts.windows(2) {
            if let [from, to] = *pair
                && let Some(entry) = text.get(from..to)
            {
                lines(&read(entry).tree, entry, from, &mut all);
            }
        }
        writeln!(out, "{}", json!({ "file": name, "lines": all }))?;
    }
    Ok(())
}
