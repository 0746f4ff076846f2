//! Positions as an editor counts them, written here once more and on purpose not taken from the program.

use serde_json::{Value, json};

/// The three units of the protocol.
pub const UNITS: [&str; 3] = ["utf-8", "utf-16", "utf-32"];

fn units(text: &str, unit: &str) -> usize {
    match unit {
        "utf-8" => text.len(),
        "utf-16" => text.encode_utf16().count(),
        _ => text.chars().count(),
    }
}

/// The position of a byte of `text`.
pub fn position(text: &str, byte: usize, unit: &str) -> Value {
    let before = &text[..byte];
    let mut line = 0;
    let mut start = 0;
    let bytes = before.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        let two = bytes[at] == b'\r' && text.as_bytes().get(at + 1) == Some(&b'\n');
        if bytes[at] == b'\n' || bytes[at] == b'\r' {
            at += if two { 2 } else { 1 };
            // A place between the two halves of a break is still on the line they end.
            if at <= bytes.len() {
                line += 1;
                start = at;
            }
        } else {
            at += 1;
        }
    }
    let column = before[start..].trim_end_matches('\r');
    json!({"line": line, "character": units(column, unit)})
}

/// The range of the first `words` in `text`.
pub fn range(text: &str, words: &str, unit: &str) -> Value {
    let start = text
        .find(words)
        .unwrap_or_else(|| panic!("{words:?} is not in\n{text}"));
    json!({
        "start": position(text, start, unit),
        "end": position(text, start + words.len(), unit),
    })
}

/// The position of `|` in `marked`, and the text without it.
pub fn marked(marked: &str, unit: &str) -> (String, Value) {
    let at = marked.find('|').expect("a mark");
    let text = marked.replacen('|', "", 1);
    let position = position(&text, at, unit);
    (text, position)
}
