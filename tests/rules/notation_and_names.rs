//! The rules about notation and names: short cards and what they draw, repairs that mend, and texts that nobody
//! would write.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::{self, Family, Finding, find};
use levare::text;
use proptest::prelude::*;

/// All findings of a file, with the card they stand on.
pub fn all(text: &str) -> (Arc<CardFile>, Vec<(usize, Finding)>) {
    let file = Arc::new(CardFile::read("cards.levare", text));
    let snapshot = Snapshot::new(vec![Arc::clone(&file)], jiff::civil::date(2026, 10, 20));
    let found = snapshot
        .entries()
        .flat_map(|(id, _)| {
            let findings = findings::of_card(&snapshot, id);
            findings
                .into_iter()
                .map(move |finding| (id.entry as usize, finding))
        })
        .collect();
    (file, found)
}

/// Findings of the two families, as `phrase: the words marked`.
fn drawn(text: &str) -> Vec<String> {
    let (file, found) = all(text);
    found
        .into_iter()
        .filter(|(_, finding)| {
            let family = find(finding.phrase).map(|rule| rule.family);
            matches!(family, Some(Family::Notation | Family::Names))
        })
        .map(|(card, finding)| {
            let span = file.in_file(card, finding.span);
            format!("{}: {}", finding.phrase, span.slice(text))
        })
        .collect()
}

#[test]
fn short_cards_draw_what_they_should() {
    #[rustfmt::skip]
    let table: &[(&str, &[&str])] = &[
        // Words that are not on the card.
        ("piece \"A\"\n  rehersal marks A 9, B 33\n", &["word not on the card: rehersal marks"]),
        ("piece \"A\"\n  meets Monday\n", &["word not on the card: meets"]),
        ("piece \"A\"\n  movements\n    1 Rain\n      mesures 32\n", &["word not on the card: mesures"]),
        ("piece \"A\"\n  Percussion  snare\n  KEY SIG 2 flats\n", &[]),
        ("piece \"A\"\n  library\n    asks torn\n", &["line in the wrong column: asks torn"]),
        // Said twice.
        ("piece \"A\"\n  measures 40\n  bars 40\n", &["said twice: bars 40"]),
        ("piece \"A\"\n  tempo 120\n  tempo then slower\n", &[]),
        ("piece \"A\"\n  library\n    price $40\n    price $45\n  price $40\n", &["said twice: price $45"]),
        ("piece \"A\"\n  measures\n  measures 40\n", &[]),
        // Not understood.
        ("piece \"A\"\n  key G mayor\n", &["not understood: mayor"]),
        ("piece \"A\"\n  measures about plenty\n", &["not understood: plenty"]),
        ("piece \"A\"\n  performed 2025-02-30 \"Band\"\n", &["not understood: 2025-02-30"]),
        ("piece \"A\"\n  performed May 12 \"Band\"\n  roadmap as often as wanted\n  tempo swing\n", &["which year: May 12 \"Band\""]),
        ("piece \"A\"\n  performed spring 2019, fall '21\n  roadmap 1st and 2nd endings\n", &[]),
        ("piece \"A\"\n  meter 6/8 and zqxv\n  performed May 14, 20226\n", &["not understood: and zqxv", "not understood: 20226"]),
        ("handbook\n  stet said twice (until June)\n", &[]),
        ("piece \"A\"\n  grade easy\n  grade 2? publisher\n", &["open question: 2? publisher"]),
        // Instruments.
        ("piece \"A\"\n  parts\n    clarinett 1 A3-C5\n", &["instrument not known: clarinett"]),
        ("piece \"A\"\n  parts\n    horns and saxes with tuba\n    solo cornet C4-G5\n    part 2 for oboe\n", &[]),
        ("piece \"A\"\n  percussion  washboard, thunder shet, trash can, bag of marbles\n", &["instrument not known: washboard", "instrument not known: thunder shet", "instrument not known: trash can", "instrument not known: bag of marbles"]),
        ("ensemble \"B\"\n  players\n    zink 2\n  owns bells, gong, soup pot\n", &["instrument not known: zink", "instrument not known: soup pot"]),
        ("ensemble \"B\"\n  players\n    zink 2\ninstrument \"zink\"\n  range A3-G5\n", &[]),
        ("piece \"A\"\n  parts  flute 1-2, clarinet 1-2, occasional divisi\n", &[]),
        ("piece \"A\"\n  percussion  cym. 1-8\n", &["which instrument is meant: cym."]),
        ("ensemble \"B\"\n  owns cymbals, snare\n", &[]),
        ("piece \"A\"\n  parts\n    bass C2-G3\n", &["which instrument is meant: bass"]),
        // Ranges and places.
        ("ensemble \"B\"\n  ranges trumpet D5-Bb3, flute C4-C6\n", &["range backwards: D5-Bb3"]),
        ("piece \"A\"\n  measures about 40\n  percussion  snare 1-50\n", &[]),
        ("piece \"A\"\n  measures 40\n  meter 4/4, 3/4 at 41-44\n", &["measure past the end: at 41-44"]),
        ("piece \"A\"\n  marks A 9, B 33\n  parts\n    flute solo at C\n    oboe solo at B\n", &["mark not found: solo at C"]),
        ("piece \"A\"\n  marks A 9, coda 33\n  tempo 120, 80 at coda, 90 at the end\n", &[]),
        ("piece \"A\"\n  marks A 9\n  form introduction, two strains\n  tempo 120, 80 at second strain\n", &[]),
        // Lines and heads.
        ("piece Air\n  style lyrical\n", &["name without quotes: Air"]),
        ("Winter\nMore\npiece \"A\"\n", &["line above the first card: Winter"]),
        ("piece \"A\"\nlovely piece\n", &["line at the margin: lovely piece"]),
        ("piece \"A\", a march\n", &["words after the name: , a march"]),
        // Names.
        ("piece \"Sleds\"\nconcert \"C\"\n  program\n    \"Sledz\"\n    “SLEDS”\n", &["title not found: Sledz"]),
        ("piece \"Air\"\n  by Tam Lindqvist\nlist \"L\"\n  holds \"Air\" by Abara\n", &["title not found: Air"]),
        ("ensemble \"8th Grade Band\"\npiece \"A\"\n  performed 2020-05-01 \"7th Grade Band\"\n", &[]),
        ("list \"L\"\n  holds \"Snowball Polkas\", \"Elsewhere\"\npiece \"Snowball Polka\"\n", &["title not found: Snowball Polkas"]),
        ("piece \"Air\"\npiece \"Air\"\n", &["two cards for one piece: Air"]),
        ("piece \"Air\"\n  by Ann Oak\npiece \"Air\"\npiece \"Air\"\n  by Bo Elm\n", &["two cards for one piece: Air", "two cards for one piece: Air"]),
        ("piece \"\"\npiece \"\"\n", &[]),
        ("handbook\n  notation 1\nhandbook\n", &["two cards of one name: handbook"]),
        ("skill \"ties\"\npiece \"A\"\n  percussion\n    easy snare  asks ties\n", &[]),
        ("ensemble \"B\"\nensemble \"C\"\nconcert \"D\"\n  for \"B\"\n", &["card nobody uses: C"]),
        ("piece \"A\"\n  measures 40?\n  price $40?, about\n", &["open question: 40?", "open question: $40?, about", "not understood: about"]),
        ("piece \"A\"\n  percussion  snare 1-8?, bass drum?\n", &["open question: 1-8?"]),
    ];
    let mut faults = String::new();
    for (text, expected) in table {
        let drawn = drawn(text);
        if drawn != *expected {
            faults.push_str(&format!("{text}expected {expected:?}\ndrawn    {drawn:?}\n\n"));
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}

/// Cards of every kind, for tearing apart.
const CARDS: &str = include_str!("../catalogues/odd/suites.levare");
const MORE: &str = include_str!("../catalogues/hasty/shelf.levare");
const BANDS: &str = include_str!("../../demo/ensembles.levare");

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever is torn out of cards or put into them, the rules answer, and all places lie in the text.
    #[test]
    fn torn_cards_draw_findings_that_lie_in_their_text(
        which in 0usize..3,
        from in 0usize..4000,
        tears in prop::collection::vec((0usize..1500, 0usize..30, "[ \\t\\n\"“”(),?:=<>a-zA-Z0-9♭é-]{0,8}"), 0..6),
    ) {
        let source: Vec<char> = [CARDS, MORE, BANDS][which].chars().collect();
        let mut torn: Vec<char> = source.iter().skip(from % source.len()).take(1500).copied().collect();
        for (at, length, put) in tears {
            let at = at.min(torn.len());
            let end = (at + length).min(torn.len());
            torn.splice(at..end, put.chars());
        }
        let text: String = torn.into_iter().collect();
        let (file, found) = all(&text);
        for (card, finding) in found {
            let own = &file.entries[card].text;
            let repairs = finding.repairs.iter().flat_map(|repair| repair.edits.iter().map(|edit| edit.span));
            for span in std::iter::once(finding.span).chain(repairs) {
                prop_assert!(own.get(span.start as usize..span.end as usize).is_some(), "{finding:?} in {own:?}");
            }
            for repair in &finding.repairs {
                prop_assert!(text::apply(own, &repair.edits).is_ok(), "{repair:?}");
            }
        }
    }
}
