//! Any text can stand as the way through a piece: its order is found or said to be unknown, all rules run, and
//! nothing takes long.
#![no_main]

use std::sync::Arc;

use jiff::civil::date;
use levare::catalogue::course::Course;
use levare::catalogue::{CardFile, Snapshot};
use levare::findings;
use libfuzzer_sys::fuzz_target;

const MEASURES: [&str; 8] = ["40", "1", "0", "99999", "?", "40?", "88 and a pickup", "4294967295"];
const BAND: &str = "handbook\n  for \"Band\"\nensemble \"Band\"\n  players\n    flute 4\n  percussionists  3\n";

fuzz_target!(|bytes: &[u8]| {
    let Some((first, rest)) = bytes.split_first() else { return };
    let road = String::from_utf8_lossy(rest);
    let measures = MEASURES[usize::from(*first) % MEASURES.len()];
    let text = format!(
        "piece \"R\"\n  measures        {measures}\n  tempo           quarter = 96, then 120 at 17\n  rehearsal marks A 9, B 33\n  roadmap         {road}\n  percussion\n    snare           1-8, 9-16 second time only, at 20\n    bass drum       throughout\n    triangle        A-B\n    bells           20-24 first time\n"
    );
    let files = [("a.levare", text.as_str()), ("handbook.levare", BAND)];
    let files = files.map(|(path, text)| Arc::new(CardFile::read(path, text))).to_vec();
    let snapshot = Snapshot::new(files, date(2026, 10, 20));
    for (id, entry) in snapshot.entries() {
        if let Some(piece) = entry.piece() {
            for course in Course::all(piece) {
                if let Ok(order) = course.order() {
                    // The bound of a walk; the findings tell where it is met.
                    assert!(order.len() < 5_000_000, "{} measures sound", order.len());
                }
            }
        }
        let _ = findings::of_card(&snapshot, id);
    }
});
