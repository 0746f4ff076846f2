//! How fast cards are read, on one core: `reading FOLDER`.

use std::hint::black_box;
use std::io::Write as _;
use std::path::Path;
use std::time::{Duration, Instant};

fn gather(folder: &Path, texts: &mut Vec<String>) -> std::io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            gather(&path, texts)?;
        } else {
            texts.push(std::fs::read_to_string(path)?);
        }
    }
    Ok(())
}

/// The shortest of three times: what the work takes when nothing else is in its way.
fn shortest(work: impl Fn()) -> Duration {
    (0..3)
        .map(|_| {
            let begun = Instant::now();
            work();
            begun.elapsed()
        })
        .min()
        .unwrap_or_default()
}

fn main() -> std::io::Result<()> {
    let mut texts = Vec::new();
    gather(
        Path::new(&std::env::args().nth(1).unwrap_or_default()),
        &mut texts,
    )?;
    let cards: Vec<&str> = texts
        .iter()
        .flat_map(|text| {
            let mut starts = levare::notation::split(text);
            starts.push(text.len());
            let ends: Vec<_> = starts.windows(2).map(|ends| (ends[0], ends[1])).collect();
            ends.into_iter().map(|(start, end)| &text[start..end])
        })
        .collect();
    let bytes: usize = cards.iter().map(|card| card.len()).sum();
    let read = shortest(|| {
        for card in &cards {
            black_box(levare::notation::read(card));
        }
    });
    let facts = shortest(|| {
        for card in &cards {
            black_box(levare::catalogue::Entry::read((*card).into()));
        }
    });
    let speed = |time: Duration| bytes as f64 / 1e6 / time.as_secs_f64();
    writeln!(
        std::io::stdout(),
        "{:.1} MB/s ({:.1} µs a card; with its facts {:.1} MB/s)",
        speed(read),
        read.as_secs_f64() * 1e6 / cards.len() as f64,
        speed(facts)
    )
}
