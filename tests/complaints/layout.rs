//! Laying out and mending without surprises.

use serde_json::{Value, json};

use crate::client::{Folder, Setup};
use crate::shared::{HANDBOOK, PHRASE, WRONG, actions, edits_of, laid_out, make};

const MESSY: &str = "(for the spring)
piece \"Harbor Parade\"   (ours)
  meter 6/8
  (a remark between)
  by              Tam Lindqvist

  style           march
  parts
    flute D5-C6
    (and the rest)
    alto sax        same as flute
  wood            unknown words stay


  asks            ties
";

/// The words of a text, without what lies between them.
fn words(text: &str) -> Vec<&str> {
    text.split_whitespace().collect()
}

#[test]
fn laying_out_keeps_every_word_in_its_order() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, MESSY);
    let edits = laid_out(&mut client, &uri);
    assert!(!edits.is_empty());
    let after = make(&mut client, &uri, &edits);
    assert_ne!(after, MESSY);
    assert_eq!(words(&after), words(MESSY));
    assert_eq!(laid_out(&mut client, &uri), [Value::Null; 0], "once is enough");
    client.told(&uri);
}

#[test]
fn a_setting_that_nobody_knows_is_told() {
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("handbook.levare");
    for (text, words) in [
        (
            "handbook\n  notation        1\n  largst file     2 MB\n",
            "largst file",
        ),
        (
            "handbook\n  notation        1\n  hint            no such phrase\n",
            "no such phrase",
        ),
    ] {
        client.open(&uri, text);
        let told = client.told(&uri);
        let line = &told.first().unwrap_or(&Value::Null)["range"]["start"]["line"];
        assert_eq!(line, 2, "{words}: {told:?}");
        client.close(&uri);
        client.told(&uri);
    }
}

#[test]
fn laying_out_touches_only_what_is_laid_out_wrong() {
    // A thousand lines in the one form, with three that are not.
    let card = |n: u32| {
        format!(
            "piece \"Etude of {n} Lamps\"\n  style           march\n  meter           6/8\n  tonal center    Bb major\n\n"
        )
    };
    let wanted = (0..200).map(card).collect::<String>().trim_end().to_owned() + "\n";
    let mut text = wanted.clone();
    for number in [3, 90, 170] {
        let lines =
            format!("piece \"Etude of {number} Lamps\"\n  style           march\n  meter           6/8\n");
        assert!(text.contains(&lines));
        text = text.replace(&lines, &lines.replace("  meter           6/8", "  meter 6/8"));
    }
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, &text);
    let edits = laid_out(&mut client, &uri);
    let lines: Vec<u64> = edits
        .iter()
        .map(|edit| edit["range"]["start"]["line"].as_u64().unwrap())
        .collect();
    assert_eq!(lines, [3 * 5 + 2, 90 * 5 + 2, 170 * 5 + 2], "{edits:?}");
    for edit in &edits {
        assert_eq!(
            edit["range"]["start"]["line"], edit["range"]["end"]["line"],
            "{edit}"
        );
        assert!(
            edit["newText"].as_str().unwrap().trim().is_empty(),
            "no word is written anew: {edit}"
        );
    }
    let after = make(&mut client, &uri, &edits);
    assert_eq!(after, wanted);
    client.told(&uri);
}

#[test]
fn line_ends_of_windows_are_line_ends() {
    let windows = |text: &str| text.replace('\n', "\r\n");
    let folder = Folder::with(&[("handbook.levare", &windows(HANDBOOK))]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    // What is in the one form stays as it is.
    client.open(&uri, &windows(WRONG));
    assert_eq!(laid_out(&mut client, &uri), [Value::Null; 0]);
    assert_eq!(client.phrases(&uri), [PHRASE]);
    // Every repair keeps the line ends that the file has.
    let here = json!({"start": {"line": 2, "character": 20}, "end": {"line": 2, "character": 20}});
    let mut found = actions(&mut client, &uri, &here, &Value::Null, 1);
    // Some show a page and change nothing.
    found.retain(|action| !action["edit"].is_null());
    assert!(found.len() > 1, "{found:?}");
    for action in &found {
        client.change(&uri, json!([{"text": windows(WRONG)}]));
        let after = make(&mut client, &uri, &edits_of(&action["edit"]));
        assert_eq!(
            windows(&after.replace("\r\n", "\n")),
            after,
            "{}",
            action["title"]
        );
    }
    // What is not in the one form is laid out as it would be with the other line ends.
    let mut laid = Vec::new();
    for text in [MESSY.to_owned(), windows(MESSY)] {
        client.change(&uri, json!([{"text": text}]));
        let edits = laid_out(&mut client, &uri);
        laid.push(make(&mut client, &uri, &edits));
    }
    assert_eq!(windows(&laid[0]), laid[1]);
    assert_eq!(laid_out(&mut client, &uri), [Value::Null; 0], "once is enough");
    client.told(&uri);
}

#[test]
fn on_saving_only_what_is_safe() {
    let twice = "\n\npiece \"Harbor Parade\"\n  tonal center    Bb major\n  key signature   2 flats\n  key signature   2 flats\n";
    let text = format!("{WRONG}{twice}");
    let folder = Folder::with(&[]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    let uri = folder.uri("a.levare");
    client.open(&uri, &text);
    let mut phrases = client.phrases(&uri);
    phrases.sort();
    assert_eq!(phrases, ["said twice", PHRASE]);
    let whole = json!({"start": {"line": 0, "character": 0}, "end": {"line": 99, "character": 0}});
    // An editor that saves asks for one kind, by itself; 2 says so.
    let on_save = actions(&mut client, &uri, &whole, &json!(["source.fixAll"]), 2);
    assert_eq!(on_save.len(), 1, "{on_save:?}");
    let kinds: Vec<&Value> = on_save.iter().map(|action| &action["kind"]).collect();
    assert_eq!(kinds, ["source.fixAll"]);
    let after = make(&mut client, &uri, &edits_of(&on_save[0]["edit"]));
    assert!(
        after.contains("3 flats"),
        "what has to be decided is left: {after}"
    );
    assert_eq!(after.matches("2 flats").count(), 1, "{after}");
    // By hand, it can be taken, and its title says that one must look.
    let here = json!({"start": {"line": 2, "character": 20}, "end": {"line": 2, "character": 20}});
    let by_hand = actions(&mut client, &uri, &here, &json!(["quickfix"]), 1);
    let titles: Vec<&str> = by_hand.iter().map(|a| a["title"].as_str().unwrap()).collect();
    assert!(
        titles.iter().any(|title| title.ends_with("(check the score)")),
        "{titles:?}"
    );
    for other in ["refactor", "source.organizeImports", "nothing"] {
        let kinds: Vec<Value> = actions(&mut client, &uri, &here, &json!([other]), 1)
            .iter()
            .map(|action| action["kind"].clone())
            .collect();
        let strangers = kinds
            .iter()
            .filter(|kind| !kind.as_str().unwrap().starts_with(other));
        assert_eq!(strangers.count(), 0, "{other}: {kinds:?}");
    }
    client.told(&uri);
}
