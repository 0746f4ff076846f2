//! Drawn edits, compared with what was before: no change is passed over, and no layout is taken for a change.

use std::sync::Arc;

use crate::draw::Draw;
use crate::edits::{Edits, Paper};
use crate::pairs::papers;
use levare::catalogue::{CardFile, Snapshot};
use levare::comparing::{Compared, compare};

fn compared(old: &str, new: &str) -> Compared {
    let today = jiff::civil::date(2026, 10, 20);
    let of = |text: &str| Snapshot::new(vec![Arc::new(CardFile::read("a.levare", text))], today);
    compare(&of(old), &of(new), &|_| true)
}

#[test]
fn every_change_of_words_is_told_and_no_other() {
    let papers = papers();
    let (mut words, mut layouts) = (0, 0);
    for seed in 0..600 {
        let mut draw = Draw::of(seed + 70_000);
        let paper = Paper::of(draw.one::<String>(&papers));
        let base: String = paper.lines.iter().map(|line| format!("{line}\n")).collect();
        let edits = Edits::draw(&paper, &(0..paper.lines.len()), 1, &mut draw);
        let now = edits.made(&paper);
        let found = compared(&base, &now);
        let tell = || format!("{seed}: {:?}\n{found:?}", edits.told);
        if edits.touched.is_empty() && edits.added.is_empty() {
            layouts += usize::from(now != base);
            assert!(found.is_empty(), "{}", tell());
        } else {
            // A number may be written in another way and say the same, and a blank line taken out says nothing.
            let said = |text: &str| -> Vec<String> {
                let text = levare::notation::recopy::recopy_file(text, Default::default()).text;
                text.split_whitespace().map(str::to_owned).collect()
            };
            words += 1;
            assert!(!found.is_empty() || said(&base) == said(&now), "{}", tell());
        }
    }
    assert!(words > 200 && layouts > 10, "{words} and {layouts}");
}
