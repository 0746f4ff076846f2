//! Tests of the file of known findings.

use super::*;

const CARD: &str = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  key signature   3 flats\n";

fn mark_at(text: &str, words: &str) -> Mark {
    let start = text.find(words).expect("the words are on the card") as u32;
    let entry = Entry::read(crate::text::Shared::from(text));
    Mark::of(
        &entry,
        "signature against center",
        Span::long(start, words.len() as u32),
    )
}

#[test]
fn known_by_card_phrase_and_words() {
    let mark = mark_at(CARD, "3 flats");
    assert_eq!(mark.card, "piece \"Harbor Parade\"");
    assert_eq!(mark.line, "key signature 3 flats");
    // Laid out anew, with a line more above it, and with the other line ending.
    let same =
        "piece \"Harbor Parade\"\r\n  grade 1\r\n  key signature\t3 flats\r\n  tonal center Bb major\r\n";
    assert_eq!(mark_at(same, "3 flats"), mark);
    // Changed words are news.
    let changed = CARD.replace("3 flats", "3 flats?");
    assert_ne!(mark_at(&changed, "3 flats?"), mark);
    let renamed = CARD.replace("Harbor", "Garden");
    assert_ne!(mark_at(&renamed, "3 flats"), mark);
}

#[test]
fn each_is_used_up_once() {
    let mark = mark_at(CARD, "3 flats");
    let mut known = Known::default();
    assert!(!known.take(&mark));
    known.add(mark.clone());
    known.add(mark.clone());
    assert_eq!(known.len(), 2);
    assert!(known.take(&mark) && known.take(&mark) && !known.take(&mark));
    assert!(known.is_empty());
}

#[test]
fn the_file_says_the_same_when_read_again() {
    let mut known = Known::default();
    assert_eq!(Known::read(&known.write()), Ok(known.clone()));
    known.add(mark_at(CARD, "3 flats"));
    known.add(mark_at(CARD, "3 flats"));
    known.add(mark_at(CARD, "Bb major"));
    let text = known.write();
    assert_eq!(text.lines().count(), 6, "{text}");
    assert_eq!(Known::read(&text), Ok(known));
}

#[test]
fn what_is_no_file_of_known_findings() {
    for (text, line) in [
        ("", 1),
        ("{\n", 2),
        ("[]", 1),
        ("{\"known findings\": [\n{\"card\": 1}]}", 2),
        ("{\"known findings\": [], \"more\": 1}", 1),
    ] {
        assert_eq!(Known::read(text), Err(line), "{text}");
    }
}

#[test]
fn digests_tell_parts_and_counts_apart() {
    let mark = |card: &str, phrase: &str| Mark {
        card: card.to_owned(),
        phrase: phrase.to_owned(),
        line: String::new(),
    };
    let digests = [
        mark("ab", "c").digest(0),
        mark("a", "bc").digest(0),
        mark("ab", "c").digest(1),
    ];
    let different: std::collections::HashSet<u64> = digests.into_iter().collect();
    assert_eq!(different.len(), 3);
}
