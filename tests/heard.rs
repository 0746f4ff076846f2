//! Nothing that is typed is dropped: a made-up word at any place of any typed line is told there, or stands
//! in words that the manual leaves to the director.

#[allow(dead_code)]
#[path = "heard/planted.rs"]
mod planted;

use std::fmt::Write as _;

use planted::{Catalogue, Plant};

/// Words that mean nothing anywhere; several, so that nothing is fitted to one of them.
const WORDS: [&str; 4] = ["zqxv", "grolp", "vomplet", "plitz"];

fn untold(folder: &str, word: &str) -> String {
    let catalogue = Catalogue::read(folder);
    let plants = catalogue.plants(word);
    assert!(plants.len() > 40, "too few places in {folder}: {}", plants.len());
    let mut text = String::new();
    let mut missed = 0;
    for plant in &plants {
        if !catalogue.is_told(plant, word) {
            missed += 1;
            let Plant { card, line, .. } = plant;
            let _ = writeln!(text, "  {card}: {line}");
        }
    }
    eprintln!("{folder}: {word} at {} places, {missed} not told", plants.len());
    text
}

fn check(folder: &str) {
    // Each folder with a word of its own, so that all of them are tried and the time stays bounded.
    let word = WORDS[folder.len() % WORDS.len()];
    let missed = untold(folder, word);
    assert!(missed.is_empty(), "dropped in silence:\n{missed}");
}

#[test]
fn a_made_up_word_in_the_demo_is_told() {
    check("demo");
}

#[test]
fn a_made_up_word_in_the_neat_catalogue_is_told() {
    check("tests/catalogues/neat");
}

#[test]
fn a_made_up_word_in_the_hasty_catalogue_is_told() {
    check("tests/catalogues/hasty");
}

#[test]
fn a_made_up_word_in_the_odd_catalogue_is_told() {
    check("tests/catalogues/odd");
}

#[test]
fn a_made_up_word_in_the_planned_catalogue_is_told() {
    check("tests/catalogues/planned");
}

#[test]
fn a_made_up_word_by_the_river_is_told() {
    check("tests/catalogues/river");
}

#[test]
fn a_made_up_word_at_the_summit_is_told() {
    check("tests/catalogues/summit");
}

/// Whether the manual leaves the place of a word to the director, beyond what is passed over everywhere: names of
/// lists, where a track is, an occasion, whoever has a part, where a set was bought, and what stands behind an `if`. Conditions of a concert are
/// told as a whole, and tried in the catalogs.
fn is_own_words(line: &str, word: &str) -> bool {
    let line = line.trim_start();
    let field = ["listed ", "track ", "performed ", "lent ", "calls for "];
    let before = line.split(word).next().unwrap_or("");
    let condition = [" if ", " unless ", " or however "];
    let shop = line.starts_with("price") && before.contains(" from ");
    shop || field.iter().any(|field| line.starts_with(field))
        || condition.iter().any(|lead| before.contains(lead))
}

/// The lines that directors typed from instinct, where the readers bend the farthest.
#[test]
fn a_made_up_word_in_directors_lines_is_told() {
    let mut missed = String::new();
    let mut places = 0;
    let mut files: Vec<String> = std::fs::read_dir("tests/lines")
        .expect("the lines are there")
        .filter_map(|file| file.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".levare"))
        .collect();
    files.sort();
    for (at, name) in files.iter().enumerate() {
        let word = WORDS[at % WORDS.len()];
        // Each line on a small card of its own, since a card is read anew for each place.
        for card in planted::line_by_line(&format!("tests/lines/{name}")) {
            let catalogue = Catalogue::of(&card);
            for plant in catalogue.plants(word) {
                if is_own_words(&plant.line, word) {
                    continue;
                }
                places += 1;
                if !catalogue.is_told(&plant, word) {
                    let _ = writeln!(missed, "  {name}: {}", plant.line);
                }
            }
        }
    }
    eprintln!("directors' lines: {places} places");
    assert!(places > 2000, "too few places: {places}");
    assert!(missed.is_empty(), "dropped in silence:\n{missed}");
}

#[test]
fn a_made_up_line_at_any_depth_is_told() {
    let words = "grolp zqxv";
    let mut missed = String::new();
    for folder in [
        "demo",
        "tests/catalogues/neat",
        "tests/catalogues/hasty",
        "tests/catalogues/odd",
    ] {
        let catalogue = Catalogue::read(folder);
        let plants = catalogue.line_plants(words);
        assert!(plants.len() > 400, "too few places in {folder}: {}", plants.len());
        for plant in plants.iter().filter(|plant| !catalogue.is_told(plant, "grolp")) {
            let _ = writeln!(missed, "  {folder} {}: {}", plant.card, plant.line);
        }
    }
    assert!(missed.is_empty(), "dropped in silence:\n{missed}");
}

/// The check itself can fail: in running text a word is not told.
#[test]
fn a_word_in_running_text_is_not_told() {
    let catalogue = Catalogue::of("piece \"Fogbell\"\n  notes           Look out for the second ending.\n");
    let plant = Plant::at(
        0,
        0,
        "piece \"Fogbell\"\n  notes           Look zqxv out for the second ending.\n",
        "zqxv",
    );
    assert!(!catalogue.is_told(&plant, "zqxv"));
}
