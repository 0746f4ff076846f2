//! Typing never fights: lines stand where a director wants them, nothing is marked while half a word stands there,
//! fixes do what they say, and nothing is offered where nothing is to be done.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::all;
use crate::places::{UNITS, marked, position, range};
use crate::year;

const HANDBOOK: &str = "handbook\n  notation        1\n  for             \"Seventh Grade Band\"\n";

const BANDS: &str = "ensemble \"Seventh Grade Band\"
  players         flute 6, clarinet 9, trumpet 8
  percussionists  2
  ranges          trumpet Bb3-D5

ensemble \"Sixth Grade Band\"
  players
    flute           3
    trumpet         5, 2 over the break
  percussionists  4
";

const DRUMS: &str = "piece \"Drum Hill\"
  percussion
    snare           1-80
    bass drum       1-80
    triangle        41-56
";

fn desk(setup: impl Fn(Setup) -> Setup) -> (Folder, Client) {
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("band.levare", BANDS),
        ("shelf.levare", DRUMS),
    ]);
    let mut client = setup(Setup::new(&[&folder.path("")])).start();
    client.told(&folder.uri("band.levare"));
    (folder, client)
}

fn plain(setup: Setup) -> Setup {
    setup
}

fn end(folder: &Folder, client: &mut Client) {
    for name in ["handbook.levare", "band.levare", "shelf.levare", "new.levare"] {
        client.told(&folder.uri(name));
    }
}

fn typed(client: &mut Client, uri: &str, text: &str, key: &str, unit: &str) -> String {
    let (plain, at) = marked(text, unit);
    client.change(uri, json!([{"text": plain}]));
    let edits = client.ask(
        "textDocument/onTypeFormatting",
        json!({
            "textDocument": {"uri": uri}, "position": at, "ch": key,
            "options": {"tabSize": 2, "insertSpaces": true},
        }),
    );
    all(&plain, edits.as_array().unwrap(), unit)
}

#[test]
fn a_field_typed_among_rows_leaves_the_table() {
    for unit in UNITS {
        let (folder, mut client) = desk(|setup| setup.unit(unit));
        let uri = folder.uri("new.levare");
        client.open(&uri, "");
        let table = [
            (
                "piece \"É𝄞\"\n  percussion\n    snare\n    asks |",
                "piece \"É𝄞\"\n  percussion\n    snare\n  asks ",
            ),
            // A letter more or less is a row as before.
            (
                "piece \"É𝄞\"\n  percussion\n    snare\n    mask |",
                "piece \"É𝄞\"\n  percussion\n    snare\n    mask ",
            ),
            (
                "concert \"É𝄞\"\n  program\n    On |",
                "concert \"É𝄞\"\n  program\n    On ",
            ),
            (
                "concert \"É𝄞\"\n  program\n    on |",
                "concert \"É𝄞\"\n  program\n  on ",
            ),
        ];
        for (text, wanted) in table {
            assert_eq!(typed(&mut client, &uri, text, " ", unit), wanted);
        }
        // A card's head goes to the margin.
        let card = "piece \"É𝄞\"\n  percussion\n    snare\n    piece \"|\"";
        let moved = typed(&mut client, &uri, card, "\"", unit);
        assert_eq!(moved, card.replace("    piece", "piece").replace('|', ""));
        // An empty row leaves the table, a second one the card.
        let row = "piece \"É𝄞\"\n  percussion\n    snare\n";
        let once = typed(&mut client, &uri, &format!("{row}\n    |"), "\n", unit);
        assert_eq!(once, format!("{row}\n  "));
        let twice = typed(&mut client, &uri, &format!("{row}\n\n  |"), "\n", unit);
        assert_eq!(twice, format!("{row}\n\n"));
        end(&folder, &mut client);
    }
}

/// The first lines of a card that the editor's extension writes, without its blanks to fill in.
fn template(kind: &str) -> String {
    let source = include_str!("../../editors/vscode/src/cards.js");
    let from = source.split(&format!("  {kind}: {{")).nth(1).unwrap();
    let lines = from.split("],").next().unwrap().split("lines: [").nth(1).unwrap();
    let mut text = String::new();
    for line in lines.lines().filter_map(|line| line.trim().strip_prefix('\'')) {
        let mut rest = line.trim_end_matches("',");
        while let Some((before, blank)) = rest.split_once("${") {
            let (blank, after) = blank.split_once('}').unwrap();
            text.push_str(before);
            text.push_str(blank.split_once(':').map_or("", |(_, words)| words));
            rest = after;
        }
        text.push_str(rest.trim_end_matches("$0"));
        text.push('\n');
    }
    text
}

#[test]
fn a_new_card_starts_without_a_mark() {
    for handbook in ["handbook\n  notation        1\n", HANDBOOK] {
        let folder = Folder::with(&[("handbook.levare", handbook)]);
        let mut client = Setup::new(&[&folder.path("")])
            .can(json!({"textDocument": {"completion": {"completionItem": {"snippetSupport": false}}}}))
            .start();
        client.told(&folder.uri("handbook.levare"));
        let uri = folder.uri("new.levare");
        client.open(&uri, "");
        for kind in ["ensemble", "piece", "concert"] {
            let text = template(kind);
            assert!(text.contains(kind) && text.lines().count() > 4, "{text}");
            client.change(&uri, json!([{"text": text}]));
            assert_eq!(client.phrases(&uri), [""; 0], "{text}");
            // The same for what is drafted as a whole card.
            client.change(&uri, json!([{"text": kind}]));
            let at = json!({"line": 0, "character": 3});
            client.change(&uri, json!([{"text": &kind[..3]}]));
            let offers = client.at("textDocument/completion", &uri, &at);
            let label = format!("{kind}, the whole card");
            let offer = offers["items"]
                .as_array()
                .unwrap()
                .iter()
                .find(|item| item["label"] == label);
            let draft = offer.unwrap()["textEdit"]["newText"].as_str().unwrap();
            let draft = draft.replacen("\"\"", "\"A Name\"", 1);
            client.change(&uri, json!([{"text": draft}]));
            assert_eq!(client.phrases(&uri), [""; 0], "{draft}");
        }
        client.told(&folder.uri("handbook.levare"));
    }
}

#[test]
fn nothing_is_marked_while_it_is_typed() {
    let (folder, mut client) = desk(plain);
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let text = "concert \"Winter evening\"
  on 2099-12-10, 7 pm
  for \"Seventh Grade Band\"
  length 20 minutes
  program
    \"Drum Hill\"
  calls for a march, at least 2 keys

piece \"Night Ferry\"
  by Tam Lindqvist
  grade 1 publisher
  tonal center Eb major
  key signature 3 flats
  meter 6/8
  tempo dotted quarter = 72
  measures 64
  lasts 3:20
  parts
    trumpet C4-D5
  percussion
    snare 1-64
";
    let mut so_far = String::new();
    let mut told: Vec<(String, String)> = Vec::new();
    for key in text.chars() {
        let at = position(&so_far, so_far.len(), "utf-16");
        so_far.push(key);
        client.change(
            &uri,
            json!([{"range": {"start": at, "end": at}, "text": key.to_string()}]),
        );
        for phrase in client.phrases(&uri) {
            let line = so_far.lines().last().unwrap_or_default().to_owned();
            told.push((phrase, line));
        }
    }
    let left = client.phrases(&uri);
    // What is true of the whole text may be told as soon as it is true; nothing else ever is.
    told.retain(|(phrase, _)| !left.contains(phrase));
    assert!(told.is_empty(), "{told:#?}");
    end(&folder, &mut client);
}

fn hover(client: &mut Client, uri: &str, text: &str, words: &str) -> String {
    let at = position(text, text.find(words).expect(words) + 1, "utf-16");
    let hover = client.at("textDocument/hover", uri, &at);
    hover["contents"]["value"].as_str().unwrap_or_default().to_owned()
}

#[test]
fn a_cards_words_stay_words_in_a_hover() {
    let text =
        "piece \"[c](command:x) <b>\"\n  by              ![i](http://x) *Odile*\n  grade           1 ours\n";
    for markdown in [true, false] {
        let formats = if markdown {
            json!(["markdown", "plaintext"])
        } else {
            json!(["plaintext"])
        };
        let (folder, mut client) =
            desk(|setup| setup.with("/textDocument/hover/contentFormat", formats.clone()));
        let uri = folder.uri("new.levare");
        client.open(&uri, text);
        let said = hover(&mut client, &uri, text, "[c]");
        if markdown {
            assert!(said.contains("**\\[c\\](command:x) \\<b>**"), "{said}");
            assert!(said.contains("\\!\\[i\\](http\\://x) \\*Odile\\*"), "{said}");
        } else {
            assert!(
                said.starts_with("piece [c](command:x) <b>\nby: ![i](http://x) *Odile*"),
                "{said}"
            );
            let field = hover(&mut client, &uri, text, "grade");
            assert!(
                field.starts_with("grade: ") && !field.contains(['*', '`']),
                "{field}"
            );
        }
        end(&folder, &mut client);
    }
}

#[test]
fn hovers_speak_of_the_band_at_hand() {
    let (folder, mut client) = desk(plain);
    let band = folder.uri("band.levare");
    client.open(&band, BANDS);
    let sixth = "    trumpet         5";
    let said = hover(&mut client, &band, BANDS, &sixth[3..]);
    assert!(
        said.contains("Sixth Grade Band has 5") && !said.contains("Seventh"),
        "{said}"
    );
    // A title is a title, whatever skill is called so.
    let concert = "concert \"Winter\"\n  program\n    \"Slurs\"\n";
    let uri = folder.uri("new.levare");
    client.open(&uri, concert);
    let said = hover(&mut client, &uri, concert, "Slurs");
    assert_eq!(said, "There is no card for **Slurs** yet.");
    end(&folder, &mut client);
}

#[test]
fn a_staff_is_drawn_for_those_who_see_pictures() {
    let text = "piece \"X\"\n  parts\n    trumpet         C4-C5\n";
    for pictures in [false, true] {
        let options = json!({"initializationOptions": {"levare": {"pictures": pictures}, "checks": true}});
        let (folder, mut client) = desk(|setup| setup.instead(options.clone()));
        let uri = folder.uri("new.levare");
        client.open(&uri, text);
        let said = hover(&mut client, &uri, text, "C4-C5");
        assert!(said.contains("third-space C"), "{said}");
        assert_eq!(said.contains("](data:image/svg+xml;base64,"), pictures, "{said}");
        assert!(!said.contains("```"), "{said}");
        end(&folder, &mut client);
    }
}

#[test]
fn a_finding_names_its_piece_and_is_told_in_paragraphs() {
    let (folder, mut client) = desk(plain);
    let told = client.told(&folder.uri("shelf.levare"));
    let message = told[0]["message"].as_str().unwrap();
    assert!(
        message.starts_with("Drum Hill, percussion, measures 41-56: "),
        "{message}"
    );
    assert_eq!(message.split("\n\n").count(), 3, "{message}");
    end(&folder, &mut client);
}

fn actions(client: &mut Client, uri: &str, text: &str, words: &str, context: Value) -> Vec<Value> {
    let at = position(text, text.find(words).expect(words) + 1, "utf-16");
    let found = client.ask(
        "textDocument/codeAction",
        json!({"textDocument": {"uri": uri}, "range": {"start": at, "end": at}, "context": context}),
    );
    found.as_array().unwrap().clone()
}

fn offered(client: &mut Client, uri: &str, text: &str, words: &str) -> Vec<Value> {
    actions(
        client,
        uri,
        text,
        words,
        json!({"diagnostics": [], "triggerKind": 2}),
    )
}

fn made(actions: &[Value], title: &str, uri: &str, text: &str) -> String {
    let action = actions
        .iter()
        .find(|action| action["title"].as_str().unwrap().starts_with(title))
        .unwrap_or_else(|| panic!("no {title} in {actions:#?}"));
    let changes = action["edit"]["documentChanges"].as_array().unwrap();
    let change = changes.iter().find(|change| change["textDocument"]["uri"] == uri);
    all(text, change.unwrap()["edits"].as_array().unwrap(), "utf-16")
}

#[test]
fn no_bulb_where_nothing_is_to_be_done() {
    let folder = year::folder();
    let mut client = year::able(&folder).start();
    let uri = folder.uri("shelf.levare");
    client.open(&uri, year::SHELF);
    client.told(&uri);
    let quiet = offered(&mut client, &uri, year::SHELF, "march");
    assert_eq!(quiet, [Value::Null; 0]);
    // Whoever asks gets what can be done.
    let asked = json!({"diagnostics": [], "only": ["refactor"]});
    let asked = actions(&mut client, &uri, year::SHELF, "march", asked);
    assert!(!asked.is_empty());
    let here = range(year::SHELF, "march", "utf-16");
    let context = json!({"diagnostics": [], "triggerKind": 2});
    let marked = client.ask(
        "textDocument/codeAction",
        json!({"textDocument": {"uri": uri}, "range": here, "context": context}),
    );
    assert!(!marked.as_array().unwrap().is_empty());
    year::quiet(&folder, &mut client);
}

#[test]
fn the_missing_card_is_written_where_its_like_stand() {
    let (folder, mut client) = desk(plain);
    let (uri, shelf) = (folder.uri("new.levare"), folder.uri("shelf.levare"));
    let text =
        "concert \"Winter\"\n  for             \"Seventh Grade Band\"\n  program\n    \"Night Ferry\"\n";
    client.open(&uri, text);
    let found = offered(&mut client, &uri, text, "Night Ferry");
    let written = made(&found, "Write a card: piece \"Night Ferry\"", &shelf, DRUMS);
    assert_eq!(written, format!("{DRUMS}\npiece \"Night Ferry\"\n"));
    client.open(&shelf, &written);
    assert!(!client.phrases(&uri).contains(&"title not found".to_owned()));
    end(&folder, &mut client);
}

#[test]
fn a_shortage_is_fixed_on_the_card_or_in_the_handbook() {
    let (folder, mut client) = desk(plain);
    let (uri, handbook) = (folder.uri("shelf.levare"), folder.uri("handbook.levare"));
    client.open(&uri, DRUMS);
    client.open(&handbook, HANDBOOK);
    assert_eq!(client.phrases(&uri), ["short of percussionists"]);
    let found = offered(&mut client, &uri, DRUMS, "triangle");
    let fixed = made(&found, "Let triangle be left out", &uri, DRUMS);
    assert_eq!(fixed, DRUMS.replace("41-56", "41-56, optional"));
    client.change(&uri, json!([{"text": fixed}]));
    assert_eq!(client.phrases(&uri), [""; 0]);
    client.change(&uri, json!([{"text": DRUMS}]));
    let fixed = made(
        &found,
        "Let one player have triangle and snare",
        &handbook,
        HANDBOOK,
    );
    assert_eq!(fixed, format!("{HANDBOOK}  one player      triangle and snare\n"));
    client.change(&handbook, json!([{"text": fixed}]));
    assert_eq!(client.phrases(&uri), [""; 0]);
    end(&folder, &mut client);
}

#[test]
fn a_line_goes_to_the_depth_of_what_it_is() {
    let (folder, mut client) = desk(plain);
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let table = [
        // A row at the margin goes to the rows, a field to the fields.
        (
            "piece \"X\"\n  percussion\n    snare           1-8\ntriangle 1-4\n",
            "triangle",
            "Indent",
            "    triangle 1-4",
        ),
        (
            "piece \"X\"\n  percussion\n    snare           1-8\nlasts 3:10\n",
            "lasts",
            "Indent",
            "  lasts 3:10",
        ),
    ];
    for (text, words, title, line) in table {
        client.change(&uri, json!([{"text": text}]));
        let found = offered(&mut client, &uri, text, words);
        let fixed = made(&found, title, &uri, text);
        assert_eq!(fixed.lines().last(), Some(line));
    }
    end(&folder, &mut client);
}

#[test]
fn a_value_stands_in_its_column_after_a_fix() {
    let (folder, mut client) = desk(plain);
    let uri = folder.uri("new.levare");
    let text = "piece \"X\"\n  temppo          quarter = 76\n";
    client.open(&uri, text);
    let found = offered(&mut client, &uri, text, "temppo");
    let fixed = made(&found, "Write", &uri, text);
    assert_eq!(fixed, "piece \"X\"\n  tempo           quarter = 76\n");
    end(&folder, &mut client);
}

#[test]
fn the_reason_is_typed_where_the_cursor_lands() {
    for unit in UNITS {
        let (folder, mut client) = desk(|setup| {
            setup
                .unit(unit)
                .can(json!({"window": {"showDocument": {"support": true}}}))
        });
        let uri = folder.uri("new.levare");
        let text = DRUMS.replace("Drum Hill", "É𝄞");
        client.open(&uri, &text);
        let found = offered(&mut client, &uri, &text, "triangle");
        let action = found
            .iter()
            .find(|action| action["title"].as_str().unwrap().contains("stand"));
        let action = action.unwrap();
        let edits = action["edit"]["documentChanges"][0]["edits"].as_array().unwrap();
        let fixed = all(&text, edits, unit);
        let wanted = format!("{text}  stet            short of percussionists because \n");
        assert_eq!(fixed, wanted);
        client
            .replies
            .insert("window/showDocument".to_owned(), json!({"success": true}));
        let command = &action["command"];
        client.ask(
            "workspace/executeCommand",
            json!({"command": command["command"], "arguments": command["arguments"]}),
        );
        let shown = client.last_asked("window/showDocument");
        assert_eq!(
            shown["selection"]["start"],
            position(&wanted, wanted.len() - 1, unit)
        );
        // Nobody has said why yet, and a remark is no reason.
        for (reason, left) in [("", true), ("(say why)", true), ("we borrow a player", false)] {
            let full = wanted.trim_end_matches('\n').to_owned() + reason + "\n";
            client.change(&uri, json!([{"text": full}]));
            let phrases = client.phrases(&uri);
            assert_eq!(
                phrases.contains(&"reason missing".to_owned()),
                left,
                "{full}: {phrases:?}"
            );
        }
        end(&folder, &mut client);
    }
}

#[test]
fn many_unreadable_files_are_one_message() {
    let folder = Folder::with(&[("handbook.levare", HANDBOOK)]);
    for number in 0..30 {
        std::fs::write(
            folder.path(&format!("old-{number}.levare")),
            b"piece \"Caf\xe9\"\n",
        )
        .unwrap();
    }
    let mut client = Setup::new(&[&folder.path("")]).start();
    client.told(&folder.uri("handbook.levare"));
    // One to read, and a line in the log for each file.
    let all: Vec<Value> = (0..31).map(|_| client.message()).collect();
    let shown: Vec<&Value> = all
        .iter()
        .filter(|message| message["method"] == "window/showMessage")
        .collect();
    assert_eq!(shown.len(), 1, "{all:#?}");
    let text = shown[0]["params"]["message"].as_str().unwrap();
    assert!(text.contains("29 more files"), "{text}");
}

#[test]
fn nothing_is_offered_inside_a_word() {
    let (folder, mut client) = desk(plain);
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    for (text, some) in [
        ("piece \"X\"\n  meas|", true),
        ("piece \"X\"\n  meas|ures 72\n", false),
        // A word that is wrong is helped.
        ("piece \"X\"\n  t|mepo 72\n", true),
        ("piece \"X\"\n  parts\n    tru|mpet C4-C5\n", false),
    ] {
        let (text, at) = marked(text, "utf-16");
        client.change(&uri, json!([{"text": text}]));
        let offers = client.at("textDocument/completion", &uri, &at);
        assert_eq!(
            !offers["items"].as_array().unwrap().is_empty(),
            some,
            "{text}: {offers}"
        );
    }
    end(&folder, &mut client);
}
