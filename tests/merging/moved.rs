//! Cards that one person moves to another file while the other changes them.

use std::collections::{BTreeMap, BTreeSet};

use levare::comparing::merge::{Files, merge_all};

use crate::draw::Draw;
use crate::edits::{Edits, Paper};
use crate::pairs::{amiss, papers};

fn files(texts: &[(&str, &str)]) -> Files {
    texts
        .iter()
        .map(|(name, text)| ((*name).to_owned(), (*text).to_owned()))
        .collect()
}

/// The merged texts and the number of clashes; a file that is to go has no text.
fn merged(base: &Files, ours: &Files, theirs: &Files) -> (BTreeMap<String, Option<String>>, usize) {
    let all = merge_all(base, ours, theirs);
    let clashes = all.values().flatten().map(|merged| merged.clashes.len()).sum();
    let texts = all
        .into_iter()
        .map(|(name, merged)| (name, merged.map(|merged| merged.text)));
    (texts.collect(), clashes)
}

const PARADE: &str = "piece \"Harbor Parade\"\n  style           march\n  measures        88\n";
const BARGE: &str = "piece \"Barge Song\"\n  grade           1\n";
const WEIR: &str = "piece \"Lanterns on the Weir\"\n  grade           2\n";

#[test]
fn a_card_that_moved_takes_the_changes_along_whoever_moved_it() {
    let base = files(&[
        ("fall.levare", &format!("{PARADE}\n{BARGE}")),
        ("spring.levare", WEIR),
    ]);
    let moved = files(&[
        ("fall.levare", BARGE),
        ("spring.levare", &format!("{WEIR}\n{PARADE}")),
    ]);
    let changed = files(&[
        ("fall.levare", &format!("{}\n{BARGE}", PARADE.replace("88", "90"))),
        ("spring.levare", WEIR),
    ]);
    let wanted = [
        ("fall.levare".to_owned(), Some(BARGE.to_owned())),
        (
            "spring.levare".to_owned(),
            Some(format!("{WEIR}\n{}", PARADE.replace("88", "90"))),
        ),
    ];
    for (ours, theirs) in [(&moved, &changed), (&changed, &moved)] {
        let (texts, clashes) = merged(&base, ours, theirs);
        assert_eq!(clashes, 0);
        assert_eq!(texts, BTreeMap::from(wanted.clone()));
    }
}

#[test]
fn a_file_that_lost_its_last_card_goes_and_a_new_one_comes() {
    let base = files(&[("fall.levare", PARADE), ("spring.levare", WEIR)]);
    let moved = files(&[("marches.levare", PARADE), ("spring.levare", WEIR)]);
    let changed = files(&[
        ("fall.levare", &PARADE.replace("88", "90")),
        ("spring.levare", WEIR),
    ]);
    let (texts, clashes) = merged(&base, &moved, &changed);
    let wanted = [
        ("fall.levare".to_owned(), None),
        ("marches.levare".to_owned(), Some(PARADE.replace("88", "90"))),
        ("spring.levare".to_owned(), Some(WEIR.to_owned())),
    ];
    assert_eq!((texts, clashes), (BTreeMap::from(wanted), 0));
}

#[test]
fn moved_by_both_it_stands_once_where_we_put_it() {
    let base = files(&[("fall.levare", PARADE), ("spring.levare", WEIR)]);
    let ours = files(&[
        ("marches.levare", &PARADE.replace("march", "march, slow")),
        ("spring.levare", WEIR),
    ]);
    let theirs = files(&[(
        "spring.levare",
        &format!("{WEIR}\n{}", PARADE.replace("88", "90")),
    )]);
    let (texts, clashes) = merged(&base, &ours, &theirs);
    assert_eq!(clashes, 0);
    let all: String = texts.values().flatten().cloned().collect();
    assert_eq!(all.matches("Harbor Parade").count(), 1, "{all}");
    let there = texts["marches.levare"].clone().expect("the file");
    assert_eq!(there, PARADE.replace("march", "march, slow").replace("88", "90"));
}

#[test]
fn nothing_is_lost_when_cards_move() {
    let papers = papers();
    let (mut tried, mut clean) = (0, 0);
    for seed in 0..300 {
        let mut draw = Draw::of(seed);
        let (one, two) = (
            draw.one::<String>(&papers).clone(),
            draw.one::<String>(&papers).clone(),
        );
        let paper = Paper::of(&one);
        let heads = |text: &str| -> Vec<String> {
            let heads = text.lines().filter(|line| levare::notation::starts_entry(line));
            heads.map(|line| line.trim().to_lowercase()).collect()
        };
        let names: Vec<String> = heads(&one).into_iter().chain(heads(&two)).collect();
        let single: BTreeSet<&String> = names.iter().collect();
        let card = draw.below(paper.cards.len());
        let zone = paper.lines_of(card);
        let head = paper.lines[zone.start].clone();
        // A card with a name of its own, in two files that have no name twice.
        if single.len() != names.len() || !head.contains('"') || !levare::notation::starts_entry(&head) {
            continue;
        }
        let text = |lines: &[String]| -> String { lines.iter().map(|line| format!("{line}\n")).collect() };
        let base = files(&[("a.levare", &text(&paper.lines)), ("b.levare", &two)]);
        let rest: Vec<String> = [&paper.lines[..zone.start], &paper.lines[zone.end..]].concat();
        let there = Paper::of(&two);
        let at = *draw.one(&there.cards);
        let mut lines = there.lines.clone();
        // Above the first card stays what stood there.
        let at = if levare::notation::starts_entry(&lines[at]) {
            at
        } else {
            lines.len()
        };
        let mut put = paper.lines[zone.clone()].to_vec();
        if put.last().is_some_and(|line| !line.trim().is_empty()) {
            put.push(String::new());
        }
        lines.splice(at..at, put);
        let moved = files(&[("a.levare", &text(&rest)), ("b.levare", &text(&lines))]);
        let edits = Edits::draw(&paper, &zone, 1 + draw.below(3), &mut draw);
        let edited = files(&[("a.levare", &edits.made(&paper)), ("b.levare", &two)]);
        let renamed = !edited["a.levare"].contains(&head);
        let whole = |files: &Files| -> String { files.values().cloned().collect::<Vec<_>>().join("\n") };
        for (ours, theirs) in [(&moved, &edited), (&edited, &moved)] {
            tried += 1;
            let (texts, clashes) = merged(&base, ours, theirs);
            let result: Vec<String> = texts.into_values().flatten().collect();
            let lost = amiss(&whole(&base), &whole(ours), &whole(theirs), &result.join("\n"));
            assert!(lost.is_empty(), "pair {seed}: {lost:?}\n{:?}", edits.told);
            clean += usize::from(clashes == 0);
            assert!(
                clashes == 0 || renamed,
                "pair {seed} clashes, and nothing meets: {:?}",
                edits.told
            );
        }
    }
    println!("{tried} pairs in which a card moved to another file, {clean} without a clash");
    assert!(tried > 100 && clean * 10 > tried * 9, "{clean} of {tried}");
}
