//! Findings for programs.

use crate::bench::{ALDER, Bench, PARADE, WEIR};
use serde_json::Value;

fn schema() -> jsonschema::Validator {
    let mut schema: Value =
        serde_json::from_str(include_str!("sarif/sarif-2.1.0.schema.json")).expect("a schema");
    // Two patterns of the published schema have a bracket that nothing opens, which strict readers refuse.
    // They are about the language of a run, which is not written here.
    for holder in ["run", "toolComponent"] {
        let pattern = schema
            .pointer_mut(&format!("/definitions/{holder}/properties/language/pattern"))
            .expect("the pattern");
        assert_eq!(pattern, "^[a-zA-Z]{2}|^[a-zA-Z]{2}-[a-zA-Z]{2}]?$");
        *pattern = Value::from("^[a-zA-Z]{2}(-[a-zA-Z]{2})?$");
    }
    jsonschema::validator_for(&schema).expect("a schema that can be used")
}

fn faults(log: &Value) -> Vec<String> {
    schema().iter_errors(log).map(|fault| fault.to_string()).collect()
}

fn sarif(bench: &Bench, arguments: &[&str]) -> (Value, i32) {
    let mut all = vec!["proofread", "--as", "sarif"];
    all.extend(arguments);
    let ended = bench.run(&all);
    (serde_json::from_str(&ended.out).expect("JSON"), ended.status)
}

#[test]
fn one_object_a_line() {
    // The characters before the finding are of one to four bytes.
    let card = ALDER.replace("3 flats", "(𝄞♭é) 3 flats");
    let bench = Bench::with(&[("band stuff/alder.levare", &card)]);
    let ended = bench.run(&["proofread", "--as", "json"]);
    let [line] = ended.out.lines().collect::<Vec<_>>()[..] else {
        panic!("one line: {}", ended.out)
    };
    let finding: Value = serde_json::from_str(line).expect("JSON");
    let table = [
        ("/about", "\"finding\""),
        ("/phrase", "\"signature against center\""),
        ("/severity", "\"warning\""),
        ("/file", "\"band stuff/alder.levare\""),
        ("/kind", "\"piece\""),
        ("/name", "\"Night Train to Alder\""),
        ("/place", "\"key signature\""),
        ("/from", "{\"column\":25,\"line\":3}"),
        ("/to", "{\"column\":32,\"line\":3}"),
        ("/bytes", "[85,92]"),
        ("/known", "false"),
        ("/repairs/0/title", "\"Write the signature of G minor: 2 flats\""),
        ("/repairs/0/sure", "false"),
        ("/repairs/0/edits/0/text", "\"2 flats\""),
        ("/repairs/0/edits/0/bytes", "[85,92]"),
    ];
    for (pointer, wanted) in table {
        let found = finding.pointer(pointer).map(Value::to_string);
        assert_eq!(found.as_deref(), Some(wanted), "{pointer}");
    }
    assert_eq!(card.get(85..92), Some("3 flats"));
}

#[test]
fn aloud_says_all_that_the_cards_show_and_draws_nothing() {
    for bench in [
        Bench::with(&[("alder.levare", ALDER)]),
        Bench::with(&[("a.levare", PARADE), ("b.levare", WEIR)]),
    ] {
        let aloud = bench.run(&["proofread", "--as", "aloud"]);
        let json = bench.run(&["proofread", "--as", "json"]);
        assert_eq!(aloud.status, json.status);
        let drawn = |c: char| ('\u{2500}'..='\u{25ff}').contains(&c) || c == '☐' || c == '·' || c == '\u{1b}';
        assert!(!aloud.out.contains(drawn), "{}", aloud.out);
        for line in json.out.lines() {
            let finding: Value = serde_json::from_str(line).expect("JSON");
            for word in ["says", "why", "todo", "phrase", "name", "file"] {
                let said = finding[word].as_str().expect("words");
                assert!(
                    aloud.out.contains(said),
                    "{word}: {said} is not in\n{}",
                    aloud.out
                );
            }
            let number = finding.pointer("/from/line").expect("a line");
            assert!(
                aloud.out.contains(&format!("Line {number} reads: ")),
                "{}",
                aloud.out
            );
        }
        let paragraphs = aloud.out.matches("This finding is called").count();
        assert!(paragraphs > 0 && paragraphs <= json.out.lines().count());
    }
}

#[test]
fn files_that_cannot_be_used_are_lines_too() {
    let bench = Bench::with(&[]);
    bench.write("bad.levare", b"\xff\xfe\x00");
    let ended = bench.run(&["proofread", "--as", "json"]);
    let line: Value = serde_json::from_str(&ended.out).expect("one line");
    assert_eq!(line.pointer("/about"), Some(&Value::from("file")));
    assert_eq!(line.pointer("/file"), Some(&Value::from("bad.levare")));
    assert_eq!(ended.status, 2);
}

#[test]
fn sarif_is_what_the_standard_says() {
    let bench = Bench::with(&[
        ("band stuff/50% ü.levare", ALDER),
        ("parade.levare", PARADE),
        ("weir.levare", WEIR),
    ]);
    bench.write("bad.levare", b"\xff\xfe\x00");
    let (log, status) = sarif(&bench, &[]);
    assert_eq!(faults(&log), Vec::<String>::new());
    assert_eq!(status, 2);
    let at = |pointer: &str| log.pointer(pointer).cloned().unwrap_or_default();
    assert_eq!(at("/runs/0/columnKind"), "unicodeCodePoints");
    assert_eq!(at("/runs/0/invocations/0/executionSuccessful"), false);
    assert_eq!(
        at("/runs/0/results/0/locations/0/physicalLocation/artifactLocation/uri"),
        "band%20stuff/50%25%20%C3%BC.levare"
    );
    let rules = at("/runs/0/tool/driver/rules");
    assert_eq!(
        rules.as_array().map(Vec::len),
        Some(levare::findings::RULES.len())
    );
    for result in at("/runs/0/results").as_array().expect("results") {
        let index = result["ruleIndex"].as_u64().expect("an index") as usize;
        assert_eq!(rules[index]["id"], result["ruleId"]);
        let print = &result["partialFingerprints"]["cardPhraseAndWords/v1"];
        assert_eq!(print.as_str().map(str::len), Some(16), "{result}");
    }
    for rule in rules.as_array().expect("rules") {
        for part in ["shortDescription", "fullDescription", "help"] {
            assert!(!rule[part]["text"].as_str().unwrap_or("").is_empty(), "{rule}");
        }
    }
}

#[test]
fn the_whole_demo_and_nothing_at_all_are_sarif() {
    let demo = sarif(&Bench::bare(&[]), &["--demo", "--least", "hint"]);
    assert_eq!(faults(&demo.0), Vec::<String>::new());
    let (nothing, status) = sarif(&Bench::with(&[]), &[]);
    assert_eq!(faults(&nothing), Vec::<String>::new());
    assert_eq!(
        (status, &nothing["runs"][0]["results"]),
        (0, &Value::Array(Vec::new()))
    );
    let (nowhere, status) = sarif(&Bench::bare(&[]), &["nowhere"]);
    assert_eq!((faults(&nowhere), status), (Vec::new(), 2));
}

#[test]
fn known_findings_are_marked_as_such() {
    let bench = Bench::with(&[("alder.levare", ALDER)]);
    bench.run(&["proofread", "--record-known"]);
    let (log, _) = sarif(&bench, &["--all"]);
    assert_eq!(faults(&log), Vec::<String>::new());
    let kind = log.pointer("/runs/0/results/0/suppressions/0/kind");
    assert_eq!(kind, Some(&Value::from("external")));
}

#[test]
fn fingerprints_stay_when_lines_move_and_tell_twins_apart() {
    let prints = |text: &str| -> Vec<String> {
        let (log, _) = sarif(&Bench::with(&[("a.levare", text)]), &["--least", "warning"]);
        let results = log["runs"][0]["results"].as_array().cloned().unwrap_or_default();
        results
            .iter()
            .filter(|result| result["ruleId"] == "signature against center")
            .map(|result| result["partialFingerprints"].to_string())
            .collect()
    };
    let alone = prints(ALDER);
    let moved = prints(&format!("{WEIR}\n{ALDER}"));
    assert_eq!((alone.len(), &alone), (1, &moved));
    let twins = prints(&format!("{ALDER}\n{ALDER}"));
    assert_eq!((twins.len(), &twins[0]), (2, &alone[0]));
    assert_ne!(twins[0], twins[1]);
}

#[test]
fn a_log_that_is_not_sarif_is_caught() {
    let (mut log, _) = sarif(&Bench::with(&[("alder.levare", ALDER)]), &[]);
    log["runs"][0]["columnKind"] = Value::from("letters");
    assert_eq!(faults(&log).len(), 1);
    log["runs"][0]["results"][0]["mistake"] = Value::from(1);
    assert_eq!(faults(&log).len(), 2);
}
