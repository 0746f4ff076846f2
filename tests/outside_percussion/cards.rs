//! Fresh instances written as cards, read and answered by the program itself.

use std::process::Command;

use serde_json::Value;

use super::{list, read};

/// What the program says of a catalogue of one file: its counts.
fn counts(cards: &str, name: &str) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("handbook.levare"), cards).expect("the cards are written");
    let told = Command::new(env!("CARGO_BIN_EXE_levare"))
        .args(["assign", name, "--as", "json", "--in"])
        .arg(folder.path())
        .output()
        .expect("the program runs");
    let told: Value = serde_json::from_slice(&told.stdout)
        .unwrap_or_else(|why| panic!("{name}: {why}: {}", String::from_utf8_lossy(&told.stderr)));
    told["counts"].clone()
}

/// Where the program's counts are not the optima.
fn differences(case: &Value) -> Vec<String> {
    let name = case["name"].as_str().expect("a name");
    let cards = case["cards"].as_str().expect("cards");
    let told = counts(cards, name);
    let wanted = case["wanted"].as_object().expect("optima");
    wanted
        .iter()
        .filter(|(question, optimum)| {
            told[question.as_str()]["players"] != **optimum || told[question.as_str()]["proven"] != true
        })
        .map(|(question, optimum)| {
            format!(
                "{name} {question}: {}, and {optimum} is proven",
                told[question.as_str()]
            )
        })
        .collect()
}

#[test]
fn every_answer_to_fresh_cards_is_the_optimum() {
    let file = read("percussion-cards.json");
    let cases = list(&file["cases"]);
    assert!(cases.len() >= 40, "only {} cases", cases.len());
    let found: Vec<String> = cases.iter().flat_map(differences).collect();
    assert!(found.is_empty(), "seed {}\n{}", file["seed"], found.join("\n"));
}

#[test]
fn a_wrong_optimum_is_seen() {
    let file = read("percussion-cards.json");
    let mut case = list(&file["cases"])[0].clone();
    let all = case["wanted"]["all"].as_u64().expect("a number");
    case["wanted"]["all"] = Value::from(all + 1);
    assert_eq!(differences(&case).len(), 1);
}
