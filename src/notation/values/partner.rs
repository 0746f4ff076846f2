//! Whom one lends to, borrows from, shares or plays with: the usual words, or a name.

use crate::notation::scan;

use super::cursor::{ARTICLES, Cursor};

/// Who that may be, in the usual words. Anybody else stands in quotation marks.
const WHO: [&str; 76] = [
    "hs",
    "ms",
    "elementary",
    "primary school",
    "secondary school",
    "prep school",
    "music center",
    "music centre",
    "arts center",
    "arts centre",
    "music service",
    "youth band",
    "general music room",
    "general music teacher",
    "high school",
    "middle school",
    "elementary school",
    "junior high",
    "grade school",
    "school",
    "schools",
    "other school",
    "university",
    "college",
    "church",
    "parish church",
    "choir",
    "chorus",
    "choirs",
    "orchestra",
    "string orchestra",
    "jazz band",
    "marching band",
    "band",
    "other band",
    "bands",
    "community band",
    "town band",
    "city band",
    "alumni band",
    "alumni",
    "district",
    "county",
    "library",
    "city",
    "town",
    "theater",
    "theatre",
    "drama club",
    "dance team",
    "color guard",
    "music store",
    "shop",
    "dealer",
    "publisher",
    "seller",
    "director",
    "other director",
    "teacher",
    "colleague",
    "friend",
    "parents",
    "narrator",
    "soloist",
    "speaker",
    "audience",
    "singer",
    "singers",
    "piano",
    "pianist",
    "organ",
    "track",
    "staff",
    "orchestra class",
    "percussion studio",
    "music department",
];

/// Words before or behind that change nothing but stay: `the middle school across town`.
const BEFORE: [&str; 12] = [
    "county",
    "town",
    "neighboring",
    "nearby",
    "local",
    "old",
    "new",
    "combined",
    "massed",
    "eighth grade",
    "seventh grade",
    "sixth grade",
];
const BEHIND: [&str; 7] = [
    "across town",
    "down the road",
    "next door",
    "across the street",
    "downtown",
    "in town",
    "on stage",
];

/// Reads `the high school`, `the middle school across town`, `Ferry Street School`, `"the shop on the corner"`.
pub fn read(text: &str) -> Option<String> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Ok((rest, name)) = scan::quoted(&text) {
        return (rest.is_empty() && !name.is_empty()).then(|| format!("\"{name}\""));
    }
    if is_name(&text) || matches!(text.as_str(), "them" | "him" | "her" | "somebody" | "us") {
        return Some(text);
    }
    let mut words = Cursor::new(&text);
    words.any(&ARTICLES);
    while words.any(&BEFORE) {}
    words.longest(|text| {
        let plain = text.to_lowercase();
        WHO.contains(&plain.as_str()).then_some(())
    })?;
    words.any(&BEHIND);
    words.done().then(|| text.clone())
}

/// A name with its capitals: `Tannerfield High School`, `Ms. Orrin`, `the Town Hall`, `G. Tolleymead`.
fn is_name(text: &str) -> bool {
    let mut words: Vec<&str> = text.split(' ').collect();
    if words.first().is_some_and(|first| ARTICLES.contains(first)) {
        words.remove(0);
    }
    let capital = |word: &&str| word.starts_with(char::is_uppercase);
    let small = |word: &str| matches!(word, "of" | "the" | "and" | "&" | "de" | "la" | "von" | "for");
    words.first().is_some_and(capital)
        && words.last().is_some_and(capital)
        && words.len() <= 8
        && words.iter().all(|word| capital(word) || small(word))
}
