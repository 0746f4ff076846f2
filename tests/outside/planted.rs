//! One wrong reference answer planted in each subject: each must be seen, and nothing else.

use serde_json::{Value, json};

use super::answers::{Row, rows};
use super::{instruments, roads, theory, times};

type Compare = fn(&[Row]) -> Vec<String>;

#[test]
fn a_wrong_answer_is_seen() {
    let table: [(&str, Compare, &str, Value); 11] = [
        ("pitches", theory::pitches, "music21", json!(61)),
        ("intervals", theory::intervals, "semitones", json!(8)),
        ("intervals", theory::intervals, "quality", json!("perfect")),
        ("signatures", theory::signatures, "fifths", json!(5)),
        ("key-names", theory::key_names, "name", json!("Em")),
        ("written-keys", theory::written_keys, "fifths", json!(6)),
        ("instruments", instruments::transpositions, "semitones", json!(1)),
        ("lowest", instruments::lowest, "written", json!("C1")),
        ("sounding", instruments::sounding, "sounding", json!("C#2")),
        ("roads", roads::orders, "music21", json!([1, 3, 2])),
        ("meters", times::meters, "quarters", json!(7.25)),
    ];
    for (subject, compare, field, wrong) in table {
        let mut rows = rows(subject);
        assert_eq!(compare(&rows), Vec::<String>::new(), "{subject}");
        let middle = rows.len() / 2;
        assert_ne!(
            rows[middle][field], wrong,
            "{subject}: the planted answer is no other one"
        );
        rows[middle][field] = wrong;
        assert_eq!(compare(&rows).len(), 1, "{subject} {field}: {:?}", compare(&rows));
    }
}

/// A second too many, and a known slip that a library would have mended.
#[test]
fn small_and_late_differences_are_seen() {
    let mut lengths = rows("times");
    lengths[1]["seconds"] = json!(lengths[1]["seconds"].as_f64().map(|seconds| seconds + 1.0));
    assert_eq!(times::lengths(&lengths).len(), 1);
    let mut asked = rows("instruments");
    let bells = asked.iter_mut().find(|row| row["name"] == "bells");
    bells.expect("bells are asked")["semitones"] = json!(24);
    let said = instruments::transpositions(&asked);
    assert!(
        said.len() == 1 && said[0].contains("changed its mind"),
        "{said:?}"
    );
    asked.retain(|row| row["name"] != "bells");
    assert_eq!(instruments::transpositions(&asked), ["bells was not asked"]);
}
