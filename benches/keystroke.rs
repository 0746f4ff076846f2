//! What a keystroke costs in catalogues of growing size, as a ratio to a floor measured in the same run:
//! reading once over the bytes of the card that is edited, and of the whole catalogue.
//!
//! Run with `cargo bench`. Figures are medians; compare ratios between runs, not times.

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

use levare::catalogue::{CardFile, EntryId, Snapshot};
use levare::findings::Kept;

/// One invented piece, large enough to be like a real card.
fn piece(number: usize) -> String {
    let title: String = number
        .to_string()
        .chars()
        .map(|digit| char::from(b'a' + (digit as u8 - b'0')))
        .collect();
    format!(
        "piece \"Bench piece {title} of the shelf\"\n  by              Ida Quell\n  tonal center    G minor, Bb major at 33\n  \
         key signature   2 flats\n  meter           4/4\n  tempo           quarter = 96\n  measures        88\n  \
         lasts           3:40\n  parts\n    flute           C5-D6\n    clarinet 1      A3-Bb4\n    clarinet 2      E3-A4\n    \
         trumpet         C4-D5\n    tuba            Bb1-C3\n  percussion\n    bells           5-20, same as flute\n    \
         snare           1-88\n    bass drum       1-88\n    crash cymbals   9-16, 41-72\n\n"
    )
}

const BAND: &str = "handbook\n  for \"Band\"\nensemble \"Band\"\n  players\n    flute 9\n    clarinet 12, 4 over the break\n    \
                    trumpet 8\n    tuba 1\n  percussionists 5\n  owns bells, snare, bass drum, crash cymbals\n  keys Bb major, G minor\n";

/// The median of some runs.
fn median(mut run: impl FnMut() -> Duration) -> Duration {
    let mut times: Vec<Duration> = (0..15).map(|_| run()).collect();
    times.sort_unstable();
    times[times.len() / 2]
}

fn timed(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn main() {
    let today = jiff::civil::date(2026, 10, 20);
    println!(
        "{:>8} {:>12} {:>12} {:>14} {:>14}",
        "pieces", "cold", "keystroke", "cold/floor", "key/floor"
    );
    for count in [100, 400, 1600] {
        let shelf: String = (0..count).map(piece).collect();
        let band = Arc::new(CardFile::read("band.levare", BAND));
        let floor_all = median(|| {
            timed(|| {
                let _ = black_box(shelf.bytes().map(u64::from).sum::<u64>());
            })
        });
        let card = piece(1);
        let floor_card = median(|| {
            timed(|| {
                for _ in 0..1000 {
                    black_box(black_box(&card).bytes().map(u64::from).sum::<u64>());
                }
            })
        }) / 1000;
        let cold = median(|| {
            timed(|| {
                let file = Arc::new(CardFile::read("shelf.levare", &shelf));
                let snapshot = Snapshot::new(vec![Arc::clone(&band), file], today);
                let mut kept = Kept::default();
                let ids: Vec<EntryId> = snapshot.entries().map(|(id, _)| id).collect();
                black_box(
                    ids.into_iter()
                        .map(|id| kept.of_card(&snapshot, id).len())
                        .sum::<usize>(),
                );
            })
        });
        let mut sheet = levare::text::Sheet::new(&shelf, levare::notation::split);
        let mut file = Arc::new(CardFile::from_sheet("shelf.levare", &sheet, None));
        let mut snapshot = Snapshot::new(vec![Arc::clone(&band), Arc::clone(&file)], today);
        let mut kept = Kept::default();
        for (id, _) in snapshot.entries() {
            kept.of_card(&snapshot, id);
        }
        let place = shelf.find("quarter = 96").unwrap_or(0) as u32 + 10;
        let mut digit = 0u8;
        let keystroke = median(|| {
            timed(|| {
                digit = (digit + 1) % 10;
                let span = levare::text::Span::new(place, place + 1);
                sheet.replace(span, &char::from(b'0' + digit).to_string());
                file = Arc::new(CardFile::from_sheet("shelf.levare", &sheet, Some(&file)));
                snapshot = snapshot.after(vec![Arc::clone(&band), Arc::clone(&file)], today);
                let (file_index, _) = snapshot.file("shelf.levare").expect("the file is there");
                let edited = EntryId {
                    file: file_index as u32,
                    entry: sheet.number_at(place) as u32,
                };
                black_box(kept.of_card(&snapshot, edited).len());
            })
        });
        println!(
            "{count:>8} {cold:>12.2?} {keystroke:>12.2?} {:>14.0} {:>14.0}",
            cold.as_secs_f64() / floor_all.as_secs_f64(),
            keystroke.as_secs_f64() / floor_card.as_secs_f64()
        );
    }
}
