//! Any bytes can be read, and the tree prints what was read.
#![no_main]

use levare::notation::{read, split};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let mut starts = split(&text);
    starts.push(text.len());
    let mut printed = String::new();
    for ends in starts.windows(2) {
        let card = &text[ends[0]..ends[1]];
        printed.push_str(&read(card).tree.print(card));
    }
    assert_eq!(printed, text);
});
