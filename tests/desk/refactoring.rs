//! Drafts, records, moves: each action's edit is worked out when it is chosen, from the text as it is then.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::all;
use crate::places::position;

const BAND: &str = "ensemble \"Seventh Grade Band\"
  players
    flute           9
    clarinet        12
  owns            bells, snare
";

const SHELF: &str = "piece \"Night Ferry\"
  style           lyrical
  key signature   1 flat
  lasts           4:00
  asks            ties

piece \"Harbor Parade\"
  style           march
  key signature   2 flats
  lasts           3:10

piece \"Gravel Road\"
  style           march
  key signature   5 flats
  lasts           2:00
";

const CONCERT: &str = "concert \"Spring evening\"
  on              2026-03-05
  for             \"Seventh Grade Band\"
  length          12 minutes
  calls for       a march, up to 3 flats
";

fn desk(asks: bool) -> (Folder, Client) {
    let handbook = "handbook\n  notation        1\n  for             \"Seventh Grade Band\"\n";
    let folder = Folder::with(&[
        ("handbook.levare", handbook),
        ("band.levare", BAND),
        ("shelf.levare", SHELF),
        ("spring.levare", CONCERT),
    ]);
    let properties = if asks { json!(["edit"]) } else { json!([]) };
    let mut client = Setup::new(&[&folder.path("")])
        .can(json!({
            "workspace": {"workspaceEdit": {"resourceOperations": ["create"]}},
            "textDocument": {"codeAction": {"dataSupport": true, "resolveSupport": {"properties": properties}}},
        }))
        .start();
    for (name, text) in [("shelf.levare", SHELF), ("spring.levare", CONCERT)] {
        client.open(&folder.uri(name), text);
    }
    read(&mut client, &folder);
    (folder, client)
}

fn read(client: &mut Client, folder: &Folder) {
    for name in ["handbook.levare", "band.levare", "shelf.levare", "spring.levare"] {
        client.told(&folder.uri(name));
    }
}

fn actions(client: &mut Client, uri: &str, text: &str, words: &str, only: Option<&str>) -> Vec<Value> {
    let at = position(text, text.find(words).unwrap() + 1, "utf-16");
    // Somebody asks; on its own an editor is offered fixes alone.
    let mut context = json!({"diagnostics": [], "triggerKind": 1});
    if let Some(only) = only {
        context["only"] = json!([only]);
    }
    let params = json!({"textDocument": {"uri": uri}, "range": {"start": at, "end": at}, "context": context});
    let found = client.ask("textDocument/codeAction", params);
    found.as_array().unwrap().clone()
}

fn titled<'a>(actions: &'a [Value], start: &str) -> Option<&'a Value> {
    actions
        .iter()
        .find(|action| action["title"].as_str().unwrap().starts_with(start))
}

/// The changes of an action, asked for when it has none: each file's address, and its text after the edits.
fn done(client: &mut Client, action: &Value, texts: &[(String, &str)]) -> Vec<(String, String)> {
    let whole = match action.get("edit") {
        Some(_) => action.clone(),
        None => client.ask("codeAction/resolve", action.clone()),
    };
    let mut found = Vec::new();
    for change in whole["edit"]["documentChanges"].as_array().unwrap() {
        if change["kind"] == "create" {
            continue;
        }
        let uri = change["textDocument"]["uri"].as_str().unwrap().to_owned();
        let before = texts
            .iter()
            .find(|(own, _)| *own == uri)
            .map_or("", |(_, text)| text);
        let after = all(before, change["edits"].as_array().unwrap(), "utf-16");
        found.push((uri, after));
    }
    found
}

#[test]
fn parts_and_percussion_are_drafted_from_the_band() {
    for asks in [true, false] {
        let (folder, mut client) = desk(asks);
        let shelf = folder.uri("shelf.levare");
        let found = actions(&mut client, &shelf, SHELF, "Night Ferry", Some("refactor"));
        let action = titled(&found, "Draft the parts").expect("offered");
        assert_eq!(action.get("edit").is_none(), asks, "{action}");
        let texts = [(shelf.clone(), SHELF)];
        let after = done(&mut client, action, &texts);
        let wanted = SHELF.replacen("4:00\n", "4:00\n  parts\n    flute\n    clarinet\n", 1);
        assert_eq!(after, [(shelf.clone(), wanted.clone())]);
        let action = titled(&found, "Draft the percussion").expect("offered");
        let after = done(&mut client, action, &texts);
        assert!(
            after[0]
                .1
                .contains("4:00\n  percussion\n    bells\n    snare\n  asks"),
            "{after:?}"
        );
        // Once they are there, nothing is left to draft.
        client.change(&shelf, json!([{"text": wanted}]));
        let found = actions(&mut client, &shelf, &wanted, "Night Ferry", Some("refactor"));
        assert!(titled(&found, "Draft the parts").is_none());
        assert!(
            titled(
                &actions(&mut client, &shelf, &wanted, "Night Ferry", Some("quickfix")),
                "Draft"
            )
            .is_none()
        );
        read(&mut client, &folder);
    }
}

#[test]
fn a_program_from_what_the_concert_calls_for() {
    let (folder, mut client) = desk(true);
    let (spring, shelf) = (folder.uri("spring.levare"), folder.uri("shelf.levare"));
    let found = actions(&mut client, &spring, CONCERT, "Spring", None);
    let action = titled(&found, "Draft the program").expect("offered");
    let texts = [(spring.clone(), CONCERT)];
    let after = done(&mut client, action, &texts);
    // Five flats are too many; the march is needed, the other fits into the twelve minutes.
    let program = "  program\n    \"Harbor Parade\"\n    \"Night Ferry\"\n";
    assert!(after[0].1.contains(program), "{}", after[0].1);
    assert!(!after[0].1.contains("Gravel Road"), "{}", after[0].1);
    // A piece that became too long for the evening is left out.
    let longer = SHELF.replace("4:00", "10:00");
    client.change(&shelf, json!([{"text": longer}]));
    let after = done(&mut client, action, &texts);
    assert!(
        after[0].1.contains("\"Harbor Parade\"") && !after[0].1.contains("Night Ferry"),
        "{after:?}"
    );
    // What is left of the evening is filled around what stands there.
    client.change(&shelf, json!([{"text": SHELF}]));
    let begun = format!("{CONCERT}  program\n    \"Harbor Parade\"  (always)\n");
    client.change(&spring, json!([{"text": begun}]));
    let found = actions(&mut client, &spring, &begun, "Spring", None);
    let filling = titled(&found, "Choose pieces for the 8:50 that are left").expect("offered");
    let filled = done(&mut client, filling, &[(spring.clone(), begun.as_str())]);
    let text = &filled[0].1;
    assert!(
        text.contains("    \"Harbor Parade\"  (always)\n") && text.contains("    \"Night Ferry\"\n"),
        "{text}"
    );
    read(&mut client, &folder);
}

#[test]
fn a_season_is_chosen_over_several_files() {
    let (folder, mut client) = desk(true);
    let (spring, shelf) = (folder.uri("spring.levare"), folder.uri("shelf.levare"));
    // One concert is no season.
    let found = actions(&mut client, &spring, CONCERT, "Spring", None);
    assert!(titled(&found, "coming concerts together").is_none());
    let far = |text: &str| text.replace("2026-03-05", "2079-03-05");
    let one = far(CONCERT);
    let other = far(CONCERT)
        .replace("Spring", "Summer")
        .replace("2079-03-05", "2079-06-05");
    let both = format!(
        "{SHELF}\n{}",
        other.replace("  calls for       a march, up to 3 flats\n", "")
    );
    client.change(&spring, json!([{"text": one}]));
    client.change(&shelf, json!([{"text": both}]));
    let found = actions(&mut client, &spring, &one, "Spring", None);
    let action = titled(&found, "Choose pieces for the 2 coming concerts together").expect("offered");
    let after = done(
        &mut client,
        action,
        &[(spring.clone(), one.as_str()), (shelf.clone(), both.as_str())],
    );
    let all: String = after.iter().map(|(_, text)| text.as_str()).collect();
    assert!(all.contains("  program\n"), "{all}");
    assert!(all.matches("    \"Harbor Parade\"\n").count() < 2, "{all}");
    read(&mut client, &folder);
}

#[test]
fn performances_are_recorded() {
    let (folder, mut client) = desk(true);
    let (spring, shelf) = (folder.uri("spring.levare"), folder.uri("shelf.levare"));
    let found = actions(&mut client, &shelf, SHELF, "Harbor Parade", None);
    let action = titled(&found, "Record a performance").expect("offered");
    let after = done(&mut client, action, &[(shelf.clone(), SHELF)]);
    let line = after[0]
        .1
        .lines()
        .find(|line| line.starts_with("  performed"))
        .unwrap();
    assert!(line.ends_with("\"Seventh Grade Band\""), "{line}");
    // All pieces of a concert, on the cards they have.
    let played = format!("{CONCERT}  program\n    \"Harbor Parade\"\n    \"Gravel Road\"\n");
    let [to_come, played] = ["2096-03-05", "2024-03-05"].map(|day| played.replace("2026-03-05", day));
    client.change(&spring, json!([{"text": to_come}]));
    let found = actions(&mut client, &spring, &to_come, "Spring", None);
    assert!(titled(&found, "Record that these pieces").is_none(), "{found:?}");
    client.change(&spring, json!([{"text": played}]));
    let found = actions(&mut client, &spring, &played, "Spring", None);
    let action = titled(&found, "Record that these pieces were performed").expect("offered");
    let after = done(&mut client, action, &[(shelf.clone(), SHELF)]);
    assert_eq!(after[0].0, shelf);
    let line = "  performed       2024-03-05 \"Seventh Grade Band\"";
    assert_eq!(after[0].1.matches(line).count(), 2, "{}", after[0].1);
    assert!(
        after[0].1.contains(&format!("3:10\n{line}\n\npiece \"Gravel")),
        "{}",
        after[0].1
    );
    read(&mut client, &folder);
}

#[test]
fn cards_move_to_files_of_their_own() {
    let (folder, mut client) = desk(true);
    let shelf = folder.uri("shelf.levare");
    let texts = [(shelf.clone(), SHELF)];
    let found = actions(&mut client, &shelf, SHELF, "Harbor Parade", Some("refactor.move"));
    let action = titled(&found, "Move piece \"Harbor Parade\"").expect("offered");
    let after = done(&mut client, action, &texts);
    let card = &SHELF[SHELF.find("piece \"Harbor").unwrap()..SHELF.find("\npiece \"Gravel").unwrap()];
    assert_eq!(after[0], (folder.uri("harbor-parade.levare"), card.to_owned()));
    assert_eq!(after[1], (shelf.clone(), SHELF.replace(&format!("{card}\n"), "")));
    let action = titled(&found, "Split this file").expect("offered");
    let after = done(&mut client, action, &texts);
    assert_eq!(after.len(), 3, "{after:?}");
    assert_eq!(after[1].0, folder.uri("gravel-road.levare"));
    assert!(after[2].1.starts_with("piece \"Night Ferry\"") && !after[2].1.contains("Gravel"));
    // An edit between the list and the choice: nothing is done with what is no longer there.
    client.change(&shelf, json!([{"text": "piece \"Night Ferry\"\n"}]));
    let id = client.begin("codeAction/resolve", action.clone());
    assert_eq!(client.answer(id)["error"]["code"], -32801);
    let found = actions(
        &mut client,
        &shelf,
        "piece \"Night Ferry\"\n",
        "Night",
        Some("refactor.move"),
    );
    assert!(found.is_empty(), "{found:?}");
    read(&mut client, &folder);
}

#[test]
fn cards_are_sorted_and_once_sorted_left_alone() {
    let (folder, mut client) = desk(true);
    let shelf = folder.uri("shelf.levare");
    let found = actions(&mut client, &shelf, SHELF, "Harbor Parade", None);
    let action = titled(&found, "Sort the cards").expect("offered");
    let after = done(&mut client, action, &[(shelf.clone(), SHELF)]);
    let heads: Vec<&str> = after[0]
        .1
        .lines()
        .filter(|line| line.starts_with("piece"))
        .collect();
    assert_eq!(
        heads,
        [
            "piece \"Gravel Road\"",
            "piece \"Harbor Parade\"",
            "piece \"Night Ferry\""
        ]
    );
    let mut lines: [Vec<&str>; 2] = [SHELF.lines().collect(), after[0].1.lines().collect()];
    lines.iter_mut().for_each(|lines| lines.sort_unstable());
    assert_eq!(lines[0], lines[1], "no line is lost");
    client.change(&shelf, json!([{"text": after[0].1}]));
    let found = actions(&mut client, &shelf, &after[0].1, "Harbor Parade", None);
    assert!(titled(&found, "Sort the cards").is_none());
    read(&mut client, &folder);
}

#[test]
fn all_findings_are_written_down_as_known() {
    let (folder, mut client) = desk(true);
    let shelf = folder.uri("shelf.levare");
    let known = folder.uri("known-findings.json");
    let wrong = SHELF.replace("1 flat\n", "1 flat\n  tonal center    E major\n");
    for (text, is_there) in [(SHELF, false), (wrong.as_str(), true)] {
        client.change(&shelf, json!([{"text": text}]));
        let found = actions(&mut client, &shelf, text, "Harbor Parade", Some("source"));
        let action = titled(&found, "Write all findings").expect("offered");
        let whole = client.ask("codeAction/resolve", action.clone());
        let changes = whole["edit"]["documentChanges"].as_array().unwrap();
        assert_eq!(
            changes[0],
            json!({"kind": "create", "uri": known, "options": {"overwrite": true}})
        );
        let text = changes[1]["edits"][0]["newText"].as_str().unwrap();
        let all: Value = serde_json::from_str(text).unwrap();
        let lines = all["known findings"].as_array().unwrap();
        let is_it = |line: &Value| line["phrase"] == "signature against center";
        assert_eq!(lines.iter().any(is_it), is_there, "{text}");
    }
    read(&mut client, &folder);
}
