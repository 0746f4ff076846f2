//! What finding pieces costs: reading the cards, taking their facts, and asking conditions of facts that are there, as
//! ratios to a floor measured in the same run: reading once over the bytes of the catalogue.
//!
//! Run with `cargo bench --bench finding`; `LEVARE_PIECES=100000` says how many pieces. One thread does all of it; the
//! command spreads reading and asking over all cores. Compare ratios between runs, not times.

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

use levare::catalogue::conditions::read;
use levare::catalogue::{CardFile, Snapshot};
use levare::planning::find::{Order, hit, pieces, sorted};

/// One invented piece; styles, flats and lengths differ from one to the next.
fn piece(number: usize) -> String {
    let letters = number.to_string();
    let title: String = letters
        .chars()
        .map(|digit| char::from(b'a' + (digit as u8 - b'0')))
        .collect();
    let style = ["march", "lyrical", "dance", "overture"][number % 4];
    format!(
        "piece \"Bench piece {title} of the shelf\"\n  by              Ida Quell\n  style           {style}\n  \
         key signature   {} flats\n  meter           4/4\n  tempo           quarter = {}\n  measures        88\n  \
         lasts           {}:{:02}\n  parts\n    flute           C5-D6\n    clarinet 1      A3-Bb4\n    \
         tuba            Bb1-C3\n  percussion\n    snare           1-88\n    bass drum       1-88\n  library\n    \
         place           box {}\n\n",
        1 + number % 5,
        60 + number % 90,
        2 + number % 4,
        number % 60,
        number % 40,
    )
}

fn timed<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let done = work();
    (start.elapsed(), done)
}

fn main() {
    let count = std::env::var("LEVARE_PIECES").ok();
    let count: usize = count.and_then(|count| count.parse().ok()).unwrap_or(5_000);
    let text: String = (0..count).map(piece).collect();
    let (floor, _) = timed(|| black_box(text.bytes().map(u64::from).sum::<u64>()));
    // Files as a director keeps them, two hundred cards each.
    let files: Vec<String> = (0..count)
        .collect::<Vec<usize>>()
        .chunks(200)
        .map(|numbers| numbers.iter().map(|number| piece(*number)).collect())
        .collect();
    let today = jiff::civil::date(2026, 10, 20);
    let (cold, snapshot) = timed(|| {
        let files = files.iter().enumerate();
        let files = files.map(|(at, text)| Arc::new(CardFile::read(&format!("{at}.levare"), text)));
        Snapshot::new(files.collect(), today)
    });
    let ids = pieces(&snapshot);
    let (facts, _) = timed(|| {
        let all = ids.iter().filter_map(|id| snapshot.entry(*id)?.piece());
        black_box(all.map(|piece| piece.styles.len()).sum::<usize>())
    });
    println!("{count} pieces, {} kB, floor {floor:?}", text.len() / 1024);
    let told = |what: &str, took: Duration, found: String| {
        let ratio = took.as_secs_f64() / floor.as_secs_f64();
        println!("{what:<44} {took:>12.2?} {ratio:>9.1} times the floor  {found}");
    };
    told("faces of all cards, and their names", cold, String::new());
    told("facts of all pieces", facts, String::new());
    for words in [
        "a march",
        "up to 3 flats, a march",
        "up to 3 flats, at most 4 minutes, tempo at most 120, owned",
    ] {
        let conditions = read(&snapshot, words);
        for again in ["first", "again"] {
            let (took, found) = timed(|| {
                let hits = ids.iter().filter_map(|id| hit(&snapshot, &conditions, &[], *id));
                sorted(ids.len(), hits.collect(), Order::Title)
            });
            told(
                &format!("{words} ({again})"),
                took,
                format!("{} found", found.met.len()),
            );
        }
    }
}
