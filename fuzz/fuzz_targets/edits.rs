//! A row of edits leaves the same cards as reading the edited text afresh.
//!
//! The bytes are a script: two bytes of place, one of how much goes, one of how much comes, and what comes.
#![no_main]

use levare::notation::split;
use levare::text::{Sheet, Span};
use libfuzzer_sys::fuzz_target;

const START: &str = "piece \"Air\"\n  by Y\n  parts\n    flute 1 D5-C6\n\nconcert \"Z\"\r\n  on 2026-12-10\r\nhandbook\n";

fuzz_target!(|bytes: &[u8]| {
    let mut sheet = Sheet::new(START, split);
    let mut text = START.to_owned();
    let mut rest = bytes;
    while let [high, low, gone, come, tail @ ..] = rest {
        let (new, next) = tail.split_at(usize::from(*come % 40).min(tail.len()));
        let new = String::from_utf8_lossy(new);
        let start = u32::from(u16::from_be_bytes([*high, *low])) % (text.len() as u32 + 1);
        let span = Span::new(start, start.saturating_add(u32::from(*gone)).min(text.len() as u32));
        // A place inside a character is moved back to its start, for the sheet and for the plain text alike.
        text.replace_range(span.range(&text), &new);
        sheet.replace(span, &new);
        assert_eq!(sheet.to_string(), text);
        let afresh = Sheet::new(&text, split);
        let cards = |sheet: &Sheet| sheet.chunks().map(|chunk| chunk.text.to_string()).collect::<Vec<_>>();
        assert_eq!(cards(&sheet), cards(&afresh));
        rest = next;
    }
});
