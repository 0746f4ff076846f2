//! Any text can stand as conditions: every piece of the demo answers them, a concert that calls for them is
//! looked through, and nothing takes long.
#![no_main]

use std::sync::{Arc, OnceLock};

use jiff::civil::date;
use levare::catalogue::conditions::read;
use levare::catalogue::ready;
use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use levare::planning::find;
use libfuzzer_sys::fuzz_target;

fn demo() -> &'static [Arc<CardFile>] {
    static DEMO: OnceLock<Vec<Arc<CardFile>>> = OnceLock::new();
    DEMO.get_or_init(|| {
        let files = ready::DEMO.iter();
        files.map(|(path, text)| Arc::new(CardFile::read(*path, *text))).collect()
    })
}

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let line = text.replace(['\n', '\r'], " ");
    let card = format!("criteria \"Fuzz\"\n  calls for       {line}\nconcert \"Fuzz\"\n  calls for       {line}, \"Fuzz\"\n");
    let mut files = demo().to_vec();
    files.push(Arc::new(CardFile::read("fuzz.levare", &card)));
    let snapshot = Snapshot::new(files, date(2026, 10, 20));
    let conditions = read(&snapshot, &text);
    for piece in find::pieces(&snapshot) {
        let _ = find::hit(&snapshot, &conditions, &[], piece);
    }
    let mine: Vec<_> = snapshot.entries().map(|(id, _)| id).collect();
    for id in mine.into_iter().rev().take(2) {
        let _ = findings::of_card(&snapshot, id);
    }
});
