//! Recopying a file twice changes nothing more than recopying it once.
#![no_main]

use levare::notation::recopy::{How, recopy_file};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let once = recopy_file(&text, How::default()).text;
    let twice = recopy_file(&once, How::default()).text;
    assert_eq!(once, twice);
});
