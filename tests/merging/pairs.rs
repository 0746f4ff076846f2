//! Drawn pairs of edits: nothing is lost, nothing clashes that does not meet, and `git merge-file` beside it.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::draw::Draw;
use crate::edits::{Edits, Paper};
use crate::git;
use levare::comparing::merge::merge;
use levare::notation::recopy::{How, recopy_file};

/// The files that edits are drawn for, as they were typed and as they are recopied.
pub fn papers() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut texts = Vec::new();
    let mut open = vec![root.join("demo"), root.join("tests/catalogues")];
    while let Some(folder) = open.pop() {
        let mut paths: Vec<_> = fs::read_dir(folder)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").path())
            .collect();
        paths.sort();
        for path in paths {
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|ext| ext == "levare") {
                let text = fs::read_to_string(path).expect("its text").replace("\r\n", "\n");
                texts.push(recopy_file(&text, How::default()).text);
                texts.push(text);
            }
        }
    }
    texts.retain(|text| text.lines().count() > 3);
    texts
}

/// How often each word stands in a text, marks left out.
fn words(text: &str) -> BTreeMap<String, i64> {
    let mut words = BTreeMap::new();
    let marks = ["<<<<<<<", "=======", ">>>>>>>"];
    for line in text
        .lines()
        .filter(|line| !marks.iter().any(|mark| line.starts_with(mark)))
    {
        for word in line
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|word| !word.is_empty())
        {
            *words.entry(word.to_owned()).or_insert(0) += 1;
        }
    }
    words
}

/// The words that a merge lost, and those it made up.
pub fn amiss(base: &str, ours: &str, theirs: &str, merged: &str) -> Vec<String> {
    let (b, o, t, r) = (words(base), words(ours), words(theirs), words(merged));
    let many = |words: &BTreeMap<String, i64>, word: &str| words.get(word).copied().unwrap_or(0);
    let all = b.keys().chain(o.keys()).chain(t.keys()).chain(r.keys());
    let mut found: Vec<String> = all
        .filter_map(|word| {
            let (b, o, t, r) = (many(&b, word), many(&o, word), many(&t, word), many(&r, word));
            let least = if o >= b && t >= b { o.max(t) } else { o + t - b };
            if r < least && word != "and" {
                return Some(format!("lost {word:?}: {b} {o} {t} -> {r}"));
            }
            (r > o + t).then(|| format!("made up {word:?}"))
        })
        .collect();
    found.dedup();
    found
}

fn pairs() -> u64 {
    std::env::var("LEVARE_PAIRS")
        .ok()
        .and_then(|count| count.parse().ok())
        .unwrap_or(600)
}

#[test]
fn nothing_is_lost_and_only_what_meets_clashes() {
    let papers = papers();
    let folder = tempfile::tempdir().expect("a folder");
    let (mut ours_clash, mut git_clash, mut git_alone, mut we_alone, mut met, mut pairs_seen) =
        (0, 0, 0, 0, 0, 0);
    let mut faults = Vec::new();
    for seed in 0..pairs() {
        let mut draw = Draw::of(seed);
        let paper = Paper::of(draw.one::<String>(&papers));
        let base: String = paper.lines.iter().map(|line| format!("{line}\n")).collect();
        let count = 1 + draw.below(4);
        // Half of the pairs meet on one card.
        let card = draw.below(paper.cards.len());
        let zone = match seed % 2 {
            0 => paper.lines_of(card),
            _ => 0..paper.lines.len(),
        };
        let (one, two) = (
            Edits::draw(&paper, &zone, count, &mut draw),
            Edits::draw(&paper, &zone, count, &mut draw),
        );
        let (ours, theirs) = (one.made(&paper), two.made(&paper));
        if ours == base || theirs == base || ours == theirs {
            continue;
        }
        pairs_seen += 1;
        let merged = merge(&base, &ours, &theirs);
        let meets = one.meets(&two, &paper);
        let clash = !merged.clashes.is_empty();
        let tell = || {
            format!(
                "pair {seed}\n  ours {:?}\n  theirs {:?}\n  {:?}",
                one.told, two.told, merged.clashes
            )
        };
        let lost = amiss(&base, &ours, &theirs, &merged.text);
        if !lost.is_empty() {
            faults.push(format!("{}\n  {lost:?}", tell()));
        }
        if clash && !meets {
            faults.push(format!("{}\n  clashes, and nothing meets", tell()));
        }
        met += usize::from(meets);
        ours_clash += usize::from(clash);
        let (_, theirs_clash) = git::merge_file(folder.path(), &base, &ours, &theirs);
        git_clash += usize::from(theirs_clash);
        git_alone += usize::from(theirs_clash && !clash);
        we_alone += usize::from(clash && !theirs_clash);
    }
    println!(
        "{pairs_seen} pairs, {met} of them meet: {ours_clash} clash here; {git_clash} in git merge-file ({git_alone} only there, {we_alone} only here)"
    );
    assert!(
        faults.is_empty(),
        "{} faults\n{}",
        faults.len(),
        faults[..faults.len().min(12)].join("\n")
    );
    assert!(pairs_seen > 0 && ours_clash > 0, "nothing was tried");
    assert!(
        ours_clash < git_clash,
        "a program that knows no cards clashes less often"
    );
}
