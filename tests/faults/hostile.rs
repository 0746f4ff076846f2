//! Cards that somebody made to keep the program busy. Each is read to an end, by the command and by whoever asks.

use std::time::{Duration, Instant};

use crate::bench::{Bench, Ended};

const BAND: &str = "handbook\n  for             \"Band\"\n\nensemble \"Band\"\n  percussionists  4\n";
/// How many entrances one row has, and how many titles are alike: as many as are soon read without optimization.
const ENTRANCES: usize = 1_000;
const TITLES: usize = 200;
/// Far longer than any of these takes; only what has no end waits for it.
const STUCK: Duration = Duration::from_secs(120);

fn read(text: &str) -> Ended {
    let bench = Bench::bare(&[("handbook.levare", BAND), ("a.levare", text)]);
    let start = Instant::now();
    let ended = bench.run(&["proofread", "--as", "json"]);
    assert!(start.elapsed() < STUCK, "it took {:?}", start.elapsed());
    assert!(ended.status < 2, "{}", ended.err);
    let again = bench.run(&["recopy"]);
    assert!(start.elapsed() < STUCK, "it took {:?}", start.elapsed());
    assert_eq!(again.status, 0, "{}", again.err);
    ended
}

#[test]
fn conditions_that_go_very_deep() {
    for deep in [
        "not ".repeat(2000),
        "(".repeat(4000),
        "a march or ".repeat(2000),
        "not a march, ".repeat(2000),
    ] {
        read(&format!("criteria \"C\"\n  calls for       {deep}a march\n"));
    }
}

#[test]
fn roads_that_would_never_end() {
    let nested: Vec<String> = (1..60)
        .map(|at| format!("repeat {at}-{} 9 times", 400 - at))
        .collect();
    for road in [
        nested.join(", "),
        "repeat 1-400 99999 times, repeat 2-399 99999 times".to_owned(),
        "segno at 1, D.S. at 400, D.C. at 400, D.S. al Coda at 399".to_owned(),
        (1..60)
            .map(|at| format!("repeat {at}-{at} 99 times"))
            .collect::<Vec<_>>()
            .join(", "),
    ] {
        let text = format!(
            "piece \"R\"\n  measures        400\n  roadmap         {road}\n  percussion\n    snare           1-400\n    bass drum       1-400\n"
        );
        read(&text);
        let bench = Bench::bare(&[("handbook.levare", BAND), ("a.levare", &text)]);
        let ended = bench.run(&["assign", "R"]);
        assert!(ended.status <= 2, "{}", ended.err);
    }
}

#[test]
fn a_row_with_entrances_without_end() {
    let entrances = |step: usize| {
        (0..ENTRANCES)
            .map(|at| format!("{}-{}", at * step + 1, at * step + 2))
            .collect::<Vec<_>>()
            .join(", ")
    };
    read(&format!(
        "piece \"E\"\n  measures        400000\n  percussion\n    snare           {}\n",
        entrances(4)
    ));
    read(&format!(
        "piece \"E\"\n  measures        400000\n  percussion\n    snare           {}\n    bass drum       1-20\n",
        entrances(3)
    ));
}

#[test]
fn names_of_nearly_a_megabyte() {
    let name = "a".repeat(450_000);
    let ended = read(&format!(
        "piece \"{name}\"\n  grade           1\n\nconcert \"C\"\n  program\n    \"{name}b\"\n"
    ));
    assert!(
        ended.out.contains("\"phrase\""),
        "{}",
        &ended.out[..ended.out.len().min(400)]
    );
}

#[test]
fn titles_that_are_nearly_the_same() {
    let letters = |number: usize| -> String {
        (0..4u32)
            .map(|place| char::from(b'a' + u8::try_from(number / 26usize.pow(place) % 26).expect("a letter")))
            .collect()
    };
    let titles: String = (0..TITLES)
        .map(|number| format!("piece \"The Long Winding Road Home {}\"\n", letters(number)))
        .collect();
    read(&titles);
}
