//! The code quality report that GitLab shows in a merge request.

use std::collections::BTreeSet;

use crate::bench::{ALDER, Bench, PARADE, WEIR};
use serde_json::{Value, json};

/// What the published description of the report asks of each object, in words of JSON schema
/// (<https://docs.gitlab.com/ci/testing/code_quality/#code-quality-report-format>; from memory of that page).
fn schema() -> jsonschema::Validator {
    let schema = json!({
        "type": "array",
        "items": {
            "type": "object",
            "required": ["description", "check_name", "fingerprint", "severity", "location"],
            "properties": {
                "description": {"type": "string", "minLength": 1},
                "check_name": {"type": "string", "minLength": 1},
                "fingerprint": {"type": "string", "minLength": 1},
                "severity": {"enum": ["info", "minor", "major", "critical", "blocker"]},
                "location": {
                    "type": "object",
                    "required": ["path", "lines"],
                    "properties": {
                        // A path below the repository, without `./` before it.
                        "path": {"type": "string", "pattern": "^[^./]"},
                        "lines": {
                            "type": "object",
                            "required": ["begin"],
                            "properties": {"begin": {"type": "integer", "minimum": 1}}
                        }
                    }
                }
            }
        }
    });
    jsonschema::validator_for(&schema).expect("a schema that can be used")
}

fn report(bench: &Bench, arguments: &[&str]) -> (Value, i32) {
    let mut all = vec!["proofread", "--as", "merge-request"];
    all.extend(arguments);
    let ended = bench.run(&all);
    (serde_json::from_str(&ended.out).expect("JSON"), ended.status)
}

fn faults(report: &Value) -> Vec<String> {
    schema()
        .iter_errors(report)
        .map(|fault| fault.to_string())
        .collect()
}

#[test]
fn each_finding_is_one_object_with_its_line() {
    let bench = Bench::with(&[
        ("band stuff/ü.levare", ALDER),
        ("parade.levare", PARADE),
        ("weir.levare", WEIR),
    ]);
    bench.write("bad.levare", b"\xff\xfe\x00");
    let (told, status) = report(&bench, &[]);
    assert_eq!((faults(&told), status), (Vec::new(), 2));
    let told = told.as_array().expect("an array");
    let alder = told
        .iter()
        .find(|one| one["location"]["path"] == "band stuff/ü.levare")
        .expect("the card");
    assert_eq!(alder["check_name"], "signature against center");
    assert_eq!(alder["severity"], "major");
    assert_eq!(alder["location"]["lines"]["begin"], 3);
    let words = alder["description"].as_str().expect("words");
    assert!(
        words.starts_with("Night Train to Alder, key signature: "),
        "{words}"
    );
    let bad = told.last().expect("the file that cannot be read");
    assert_eq!(bad["location"]["path"], "bad.levare");
    let prints: BTreeSet<&str> = told
        .iter()
        .filter_map(|one| one["fingerprint"].as_str())
        .collect();
    assert_eq!(prints.len(), told.len(), "two findings have one fingerprint");
}

#[test]
fn the_demo_twins_and_nothing_at_all() {
    let (demo, _) = report(&Bench::bare(&[]), &["--demo", "--least", "hint"]);
    assert_eq!(faults(&demo), Vec::<String>::new());
    assert!(demo.as_array().is_some_and(|all| all.len() > 5));
    let twins = format!("{ALDER}\n{ALDER}");
    let (twins, _) = report(
        &Bench::with(&[("a.levare", twins.as_str())]),
        &["--least", "warning"],
    );
    let prints: BTreeSet<String> = twins
        .as_array()
        .expect("an array")
        .iter()
        .map(|one| one["fingerprint"].to_string())
        .collect();
    assert_eq!(Some(prints.len()), twins.as_array().map(Vec::len));
    assert_eq!(report(&Bench::with(&[]), &[]), (json!([]), 0));
    assert_eq!(report(&Bench::bare(&[]), &["nowhere"]), (json!([]), 2));
}

#[test]
fn a_report_that_is_none_is_caught() {
    let whole = report(&Bench::with(&[("alder.levare", ALDER)]), &[]).0;
    assert_eq!(faults(&whole), Vec::<String>::new());
    for (pointer, planted) in [
        ("/0/severity", json!("warning")),
        ("/0/location/path", json!("./alder.levare")),
        ("/0/location/lines/begin", json!(0)),
        ("/0/fingerprint", Value::Null),
    ] {
        let mut broken = whole.clone();
        *broken.pointer_mut(pointer).expect(pointer) = planted;
        assert_ne!(faults(&broken), Vec::<String>::new(), "{pointer}");
    }
}
