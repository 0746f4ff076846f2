//! The page's questions, asked as the page asks them.

use serde_json::{Value, json};

use crate::catalogue::ready;

use super::Page;

const PIECE: &str =
    "piece \"Gravel Road\"\r\n  by              Tam Lindqvist\r\n  key signature   2 flats\r\n";

fn ask(page: &mut Page, question: Value) -> Value {
    serde_json::from_str(&page.answer(&question.to_string())).unwrap()
}

fn with(files: &[(&str, &str)]) -> Page {
    let mut page = Page::default();
    ask(&mut page, json!({"ask": "begin", "today": "2026-10-20"}));
    let files: Vec<Value> = files
        .iter()
        .map(|(file, text)| json!({"file": file, "text": text}))
        .collect();
    assert_eq!(
        ask(&mut page, json!({"ask": "put", "files": files})),
        json!({"amiss": null})
    );
    page
}

fn text(page: &mut Page, file: &str) -> String {
    let answer = ask(page, json!({"ask": "text", "file": file}));
    answer["text"].as_str().unwrap().to_owned()
}

#[test]
fn edits_are_made_where_the_editor_means_them_however_lines_end() {
    let mut page = with(&[("a.levare", PIECE)]);
    // One after another, the last of the text first, columns in UTF-16 units.
    let edits = json!([
        {"at": [1, 18, 1, 21], "text": "𝄞 Ann"},
        {"at": [0, 7, 0, 13], "text": "Sand"},
    ]);
    ask(
        &mut page,
        json!({"ask": "edit", "file": "a.levare", "edits": edits}),
    );
    let wanted = PIECE.replace("Tam", "𝄞 Ann").replace("Gravel", "Sand");
    assert_eq!(text(&mut page, "a.levare"), wanted);
    let edits = json!([{"at": [1, 20, 1, 24], "text": ""}]);
    ask(
        &mut page,
        json!({"ask": "edit", "file": "a.levare", "edits": edits}),
    );
    assert_eq!(text(&mut page, "a.levare"), wanted.replace("𝄞 Ann", "𝄞"));
}

#[test]
fn a_finding_on_the_line_that_is_written_waits_once() {
    let mut page = with(&[("a.levare", "piece \"Gravel Road\"\n  meas")]);
    let written = json!({"ask": "found", "file": "a.levare", "written": [1, 6]});
    let waits = ask(&mut page, written.clone());
    assert_eq!((&waits["found"], &waits["waiting"]), (&json!([]), &json!(true)));
    let told = ask(
        &mut page,
        json!({"ask": "found", "file": "a.levare", "written": null}),
    );
    let count = told["found"].as_array().unwrap().len();
    assert!(count > 0);
    // What has been told stays while the line is written on.
    let again = ask(&mut page, written);
    assert_eq!(again["found"].as_array().unwrap().len(), count);
    assert_eq!(again["waiting"], json!(false));
}

#[test]
fn an_edit_in_one_file_is_seen_from_another() {
    let concert = "concert \"Spring\"\n  on              2027-05-01\n  program\n    \"Gravel Road\"\n";
    let mut page = with(&[("a.levare", PIECE), ("b.levare", concert)]);
    let card = json!({"ask": "card", "file": "b.levare", "at": [3, 7]});
    assert_eq!(ask(&mut page, card.clone())[0]["file"], json!("a.levare"));
    let edits = json!([{"at": [0, 7, 0, 13], "text": "Sand"}]);
    ask(
        &mut page,
        json!({"ask": "edit", "file": "a.levare", "edits": edits}),
    );
    assert_eq!(ask(&mut page, card), json!([]));
    let rename = json!({"ask": "rename", "file": "a.levare", "at": [0, 8], "words": "Sand \"Way\""});
    assert!(ask(&mut page, rename)["amiss"].is_string());
    ask(&mut page, json!({"ask": "gone", "file": "a.levare"}));
    assert!(ask(&mut page, json!({"ask": "text", "file": "a.levare"}))["amiss"].is_string());
}

#[test]
fn every_question_is_answered_at_every_line_of_the_demo() {
    let mut page = with(ready::DEMO);
    let mut answers = std::collections::BTreeMap::<String, usize>::new();
    for (file, text) in ready::DEMO {
        let end = u32::try_from(text.lines().count()).unwrap();
        let whole = json!([0, 0, end, 0]);
        for name in [
            "found", "outline", "folds", "lenses", "links", "fix_all", "recopy",
        ] {
            let answer = ask(&mut page, json!({"ask": name, "file": file, "written": null}));
            count(&mut answers, name, &answer);
        }
        for name in ["colors", "hints", "fixes"] {
            let answer = ask(&mut page, json!({"ask": name, "file": file, "within": whole}));
            count(&mut answers, name, &answer);
        }
        for line in (0..end).step_by(7) {
            let column = 18;
            let at = json!([line, column]);
            for name in [
                "hover", "offers", "example", "card", "uses", "alike", "works", "name",
            ] {
                let answer = ask(
                    &mut page,
                    json!({"ask": name, "file": file, "at": at, "blank": false}),
                );
                count(&mut answers, name, &answer);
            }
            let tidied = json!({"ask": "tidied", "file": file, "at": at, "words": " "});
            assert!(ask(&mut page, tidied).is_array());
        }
    }
    let (_, concerts) = ready::DEMO
        .iter()
        .find(|(file, _)| *file == "concerts.levare")
        .unwrap();
    let line = concerts
        .lines()
        .position(|line| line.starts_with("concert "))
        .unwrap();
    for which in ["door", "seating", "counting"] {
        let sheet = json!({"ask": "sheet", "file": "concerts.levare", "at": [line, 3], "which": which, "size": "letter"});
        let answer = ask(&mut page, sheet);
        let html = answer["html"]
            .as_str()
            .unwrap_or_else(|| panic!("{which}: {answer}"));
        assert!(html.contains("<svg"), "{which}");
    }
    count(
        &mut answers,
        "find",
        &ask(&mut page, json!({"ask": "find", "words": "a march"})),
    );
    count(
        &mut answers,
        "everywhere",
        &ask(&mut page, json!({"ask": "everywhere"})),
    );
    count(
        &mut answers,
        "reason",
        &ask(
            &mut page,
            json!({"ask": "reason", "words": "short of percussionists"}),
        ),
    );
    let lines = ask(
        &mut page,
        json!({"ask": "lines", "least": "information", "all": false}),
    );
    count(&mut answers, "lines", &lines);
    // Something was to be said to each of them.
    for (name, said) in answers {
        assert!(
            said > 0 || ["links", "fix_all", "recopy"].contains(&name.as_str()),
            "{name} is never answered"
        );
    }
}

/// Counts the answers that hold something. None says that the question is not understood.
fn count(answers: &mut std::collections::BTreeMap<String, usize>, name: &str, answer: &Value) {
    let amiss = answer.get("amiss").and_then(Value::as_str).unwrap_or("");
    assert!(!amiss.contains("cannot be asked"), "{name}: {amiss}");
    let holds = match answer {
        Value::Null => false,
        Value::Array(all) => !all.is_empty(),
        Value::Object(all) => !all.contains_key("amiss") && !all.is_empty(),
        _ => true,
    };
    *answers.entry(name.to_owned()).or_default() += usize::from(holds);
}

#[test]
fn what_cannot_be_asked_is_said_so_and_does_no_harm() {
    let mut page = with(&[("a.levare", PIECE)]);
    for question in [
        "",
        "{",
        "{}",
        "{\"ask\":\"nothing\",\"file\":\"a.levare\"}",
        "[1,2",
        "\u{0}",
    ] {
        let answer: Value = serde_json::from_str(&page.answer(question)).unwrap();
        assert!(answer["amiss"].is_string(), "{question}");
    }
    for at in [[0, 0], [9, 9], [u32::MAX, u32::MAX]] {
        for name in ["hover", "offers", "card", "name", "works"] {
            ask(
                &mut page,
                json!({"ask": name, "file": "a.levare", "at": at, "blank": false}),
            );
        }
        let edits = json!([{"at": [at[0], at[1], 0, 0], "text": ""}]);
        ask(
            &mut page,
            json!({"ask": "edit", "file": "a.levare", "edits": edits}),
        );
    }
    assert_eq!(text(&mut page, "a.levare"), PIECE);
}
