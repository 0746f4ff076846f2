//! Every feature gives a right answer that is not empty, and another one after an edit.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::places::{marked, position, range};

const BAND: &str = "ensemble \"Seventh Grade Band\"
  players
    flute           9
    clarinet        12, 4 over the break
    alto sax        6
  keys            Bb major, Eb major

skill \"ties\"
  takes           1 week
";

const SHELF: &str = "piece \"Harbor Parade\"
  by              Tam Lindqvist
  style           march
  tonal center    Bb major
  key signature   2 flats
  meter           6/8
  rehearsal marks A 9, trio 41
  tempo           quarter = 116, quarter = 100 at trio
  parts
    flute           D5-C6
    clarinet 1      A3-C5, over the break at 41-44
    alto sax        same as flute
  asks            ties
";

const CONCERT: &str = "concert \"Spring evening\"
  for             \"Seventh Grade Band\"
  program
    \"Harbor Parade\"
";

fn desk() -> (Folder, Client) {
    let folder = Folder::with(&[
        (
            "handbook.levare",
            "handbook\n  notation        1\n  for             \"Seventh Grade Band\"\n",
        ),
        ("band.levare", BAND),
        ("shelf.levare", SHELF),
        ("spring.levare", CONCERT),
    ]);
    let mut client = Setup::new(&[&folder.path("")]).start();
    for (name, text) in [
        ("band.levare", BAND),
        ("shelf.levare", SHELF),
        ("spring.levare", CONCERT),
    ] {
        let uri = folder.uri(name);
        client.open(&uri, text);
        // What is found is the business of other tests.
        client.told(&uri);
    }
    (folder, client)
}

fn hover(client: &mut Client, uri: &str, at: &Value) -> String {
    let hover = client.at("textDocument/hover", uri, at);
    hover["contents"]["value"].as_str().unwrap_or_default().to_owned()
}

/// Inside the first `words` of a text.
fn inside(text: &str, words: &str) -> Value {
    position(text, text.find(words).expect(words) + 1, "utf-16")
}

fn labels(answer: &Value) -> Vec<String> {
    let items = answer["items"].as_array().cloned().unwrap_or_default();
    items
        .iter()
        .map(|item| item["label"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn hover_says_what_a_word_means() {
    let (folder, mut client) = desk();
    let shelf = folder.uri("shelf.levare");
    let table = [
        ("Bb major", "alto sax reads G major"),
        ("2 flats", "clarinet reads no sharps or flats"),
        ("tonal center", "The concert key it is heard in."),
        ("6/8", "compound"),
        ("D5-C6", "seventh"),
        ("alto sax", "sounds"),
        ("ties", "1 week"),
        ("Harbor Parade", "Spring evening"),
    ];
    for (words, wanted) in table {
        let said = hover(&mut client, &shelf, &inside(SHELF, words));
        assert!(said.contains(wanted), "{words}: {said}");
    }
    let spring = folder.uri("spring.levare");
    let at = inside(CONCERT, "Harbor Parade");
    assert!(hover(&mut client, &spring, &at).contains("Tam Lindqvist"));
    // After an edit of the other card, another answer.
    client.change(
        &shelf,
        json!([{"text": SHELF.replace("Tam Lindqvist", "Nell Farrow")}]),
    );
    let said = hover(&mut client, &spring, &at);
    assert!(said.contains("Nell Farrow") && !said.contains("Tam"), "{said}");
    // A rule's reason where it is let stand.
    let stet = format!("{SHELF}  stet            signature against center because of the score\n");
    client.change(&shelf, json!([{"text": stet}]));
    let said = hover(&mut client, &shelf, &inside(&stet, "signature against"));
    assert!(said.contains("Why:"), "{said}");
    // The sticks that a row names, not the usual ones.
    let brushes = format!("{SHELF}\npiece \"Reed Song\"\n  percussion\n    snare           1-8, brushes\n");
    client.change(&shelf, json!([{"text": brushes}]));
    let said = hover(
        &mut client,
        &shelf,
        &inside(&brushes, "snare           1-8, brushes"),
    );
    assert!(said.contains("played with brushes here"), "{said}");
    client.told(&shelf);
}

#[test]
fn completion_knows_where_it_is() {
    let (folder, mut client) = desk();
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let table: &[(&str, &[&str], &[&str])] = &[
        ("|", &["piece", "concert", "handbook"], &["march"]),
        ("pi|", &["piece"], &["flute"]),
        (
            "piece \"X\"\n  meter           4/4\n  |",
            &["tonal center", "parts", "stet"],
            &["meter", "piece", "players"],
        ),
        ("piece \"X\"\n  to|", &["tonal center"], &["players"]),
        (
            "piece \"X\"\n  tonal center    |",
            &["Bb major", "G minor"],
            &["4/4"],
        ),
        (
            "piece \"X\"\n  key signature   |",
            &["2 flats", "none"],
            &["Bb major"],
        ),
        (
            "piece \"X\"\n  meter           4/4, |",
            &["3/4", "cut"],
            &["Bb major"],
        ),
        ("piece \"X\"\n  style           |", &["march"], &["4/4"]),
        ("piece \"X\"\n  asks            |", &["ties"], &["Bb major"]),
        (
            "piece \"X\"\n  rehearsal marks A 9, B 33\n  tempo           100, 90 at |",
            &["A", "B", "trio"],
            &["slower"],
        ),
        (
            "piece \"X\"\n  parts\n    |",
            &["flute", "clarinet"],
            &["piece", "same as"],
        ),
        (
            "piece \"X\"\n  parts\n    flute           D5-C6\n    oboe            |",
            &["same as", "solo", "over the break"],
            &["flute"],
        ),
        (
            "piece \"X\"\n  parts\n    flute 1         D5-C6\n    oboe            same as |",
            &["flute 1"],
            &["oboe", "solo"],
        ),
        ("piece \"X\"\n  library\n    |", &["copies", "place"], &["parts"]),
        (
            "piece \"X\"\n  stet            |",
            &["signature against center"],
            &["4/4"],
        ),
        (
            "handbook\n  hint            |",
            &["signature against center"],
            &["4/4"],
        ),
        (
            "concert \"X\"\n  for             |",
            &["\"Seventh Grade Band\""],
            &["\"Harbor Parade\""],
        ),
        (
            "concert \"X\"\n  program\n    |",
            &["\"Harbor Parade\""],
            &["\"Seventh Grade Band\""],
        ),
        (
            "concert \"X\"\n  program\n    \"Har|",
            &["\"Harbor Parade\""],
            &[],
        ),
        ("piece \"X\"\n  notes           |", &[], &["4/4"]),
        ("piece \"X|", &[], &["piece"]),
    ];
    for (text, wanted, unwanted) in table {
        let (plain, at) = marked(text, "utf-16");
        client.change(&uri, json!([{"text": plain}]));
        let found = labels(&client.at("textDocument/completion", &uri, &at));
        for label in *wanted {
            assert!(
                found.iter().any(|f| f == label),
                "{text}: no {label} in {found:?}"
            );
        }
        for label in *unwanted {
            assert!(!found.iter().any(|f| f == label), "{text}: {label} in {found:?}");
        }
    }
    // Found by its abbreviation; documented; the opening mark is replaced, not doubled.
    let (plain, at) = marked("piece \"X\"\n  parts\n    cl|", "utf-16");
    client.change(&uri, json!([{"text": plain}]));
    let answer = client.at("textDocument/completion", &uri, &at);
    let clarinet = answer["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|i| i["label"] == "clarinet")
        .unwrap();
    assert!(
        clarinet["filterText"].as_str().unwrap().contains("cl."),
        "{clarinet}"
    );
    assert!(
        clarinet["documentation"]
            .as_str()
            .unwrap()
            .contains("In your band"),
        "{clarinet}"
    );
    let (plain, at) = marked("concert \"X\"\n  program\n    \"Har|\"\n", "utf-16");
    client.change(&uri, json!([{"text": plain}]));
    let answer = client.at("textDocument/completion", &uri, &at);
    let parade = answer["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|i| i["label"] == "\"Harbor Parade\"")
        .unwrap();
    let edits = [json!({"range": parade["textEdit"]["range"], "newText": parade["textEdit"]["newText"]})];
    let done = crate::found::all(&plain, &edits, "utf-16");
    assert_eq!(done, "concert \"X\"\n  program\n    \"Harbor Parade\"\n");
    client.told(&uri);
    for name in ["band.levare", "shelf.levare", "spring.levare", "handbook.levare"] {
        client.told(&folder.uri(name));
    }
}

#[test]
fn from_a_name_to_its_card_and_back() {
    let (folder, mut client) = desk();
    let (shelf, spring) = (folder.uri("shelf.levare"), folder.uri("spring.levare"));
    let at = inside(CONCERT, "Harbor Parade");
    let found = client.at("textDocument/definition", &spring, &at);
    assert_eq!(
        found,
        json!([{"uri": shelf, "range": range(SHELF, "Harbor Parade", "utf-16")}])
    );
    let found = client.at("textDocument/references", &spring, &at);
    assert_eq!(
        found,
        json!([
            {"uri": shelf, "range": range(SHELF, "Harbor Parade", "utf-16")},
            {"uri": spring, "range": range(CONCERT, "Harbor Parade", "utf-16")},
        ])
    );
    // A mark, and a part.
    let trio = position(SHELF, SHELF.find("at trio").unwrap() + 4, "utf-16");
    let found = client.at("textDocument/definition", &shelf, &trio);
    assert_eq!(found[0]["range"], range(SHELF, "trio 41", "utf-16"));
    let flute = position(SHELF, SHELF.find("as flute").unwrap() + 4, "utf-16");
    let found = client.at("textDocument/definition", &shelf, &flute);
    assert_eq!(found[0]["range"], range(SHELF, "flute", "utf-16"));
    // After an edit, elsewhere.
    let moved = format!("\n\n{SHELF}");
    client.change(&shelf, json!([{"text": moved}]));
    let found = client.at("textDocument/definition", &spring, &at);
    assert_eq!(found[0]["range"], range(&moved, "Harbor Parade", "utf-16"));
    client.change(
        &shelf,
        json!([{"text": SHELF.replace("Harbor Parade", "Another March")}]),
    );
    assert_eq!(client.at("textDocument/definition", &spring, &at), Value::Null);
    client.told(&spring);
    client.told(&shelf);
}

#[test]
fn outlines_and_folds() {
    let (folder, mut client) = desk();
    let shelf = folder.uri("shelf.levare");
    let outline = client.ask(
        "textDocument/documentSymbol",
        json!({"textDocument": {"uri": shelf}}),
    );
    assert_eq!(outline[0]["name"], "Harbor Parade");
    let fields: Vec<&str> = outline[0]["children"]
        .as_array()
        .unwrap()
        .iter()
        .map(|field| field["name"].as_str().unwrap())
        .collect();
    assert!(
        fields.contains(&"parts") && fields.contains(&"tempo"),
        "{fields:?}"
    );
    let folds = client.ask(
        "textDocument/foldingRange",
        json!({"textDocument": {"uri": shelf}}),
    );
    let lines: Vec<(u64, u64)> = folds
        .as_array()
        .unwrap()
        .iter()
        .map(|fold| {
            (
                fold["startLine"].as_u64().unwrap(),
                fold["endLine"].as_u64().unwrap(),
            )
        })
        .collect();
    assert!(lines.contains(&(0, 12)) && lines.contains(&(8, 11)), "{lines:?}");

    let more = format!("{SHELF}\npiece \"Night Ferry\"\n  style           lyrical\n");
    client.change(&shelf, json!([{"text": more}]));
    let outline = client.ask(
        "textDocument/documentSymbol",
        json!({"textDocument": {"uri": shelf}}),
    );
    assert_eq!(outline.as_array().unwrap().len(), 2);
    let after = client.ask(
        "textDocument/foldingRange",
        json!({"textDocument": {"uri": shelf}}),
    );
    assert_eq!(after.as_array().unwrap().len(), lines.len() + 1);

    let found = client.ask("workspace/symbol", json!({"query": "nferry"}));
    assert_eq!(found[0]["name"], "Night Ferry");
    assert_eq!(found[0]["location"]["uri"], json!(shelf));
    // A condition finds the pieces that meet it.
    let found = client.ask(
        "workspace/symbol",
        json!({"query": "style says \"lyrical\", tempo unknown"}),
    );
    let names: Vec<&str> = found
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| one["name"].as_str())
        .collect();
    assert!(names.contains(&"Night Ferry"), "{found}");
    client.change(&shelf, json!([{"text": SHELF}]));
    assert_eq!(
        client.ask("workspace/symbol", json!({"query": "nferry"})),
        json!([])
    );
    let all = client.ask("workspace/symbol", json!({"query": ""}));
    assert_eq!(all.as_array().unwrap().len(), 5);
    client.told(&shelf);
}

#[test]
fn laid_out_in_the_one_form_by_small_edits() {
    let text = "piece \"Harbor é𝄞\"\n  key Bb major\n  bars 72\n  meter           6/8\n";
    for unit in crate::places::UNITS {
        for ending in ["\n", "\r\n"] {
            let text = text.replace('\n', ending);
            let folder = Folder::with(&[]);
            let mut client = Setup::new(&[&folder.path("")]).unit(unit).start();
            let uri = folder.uri("a.levare");
            client.open(&uri, &text);
            let ask = |client: &mut Client, range: Value| {
                let method = match range {
                    Value::Null => "textDocument/formatting",
                    _ => "textDocument/rangeFormatting",
                };
                let options = json!({"tabSize": 4, "insertSpaces": true});
                let document = json!({"uri": uri});
                let edits = client.ask(
                    method,
                    json!({"textDocument": document, "options": options, "range": range}),
                );
                edits.as_array().unwrap().clone()
            };
            let second = range(&text, "  bars 72", unit);
            let done = crate::found::all(&text, &ask(&mut client, second), unit);
            let wanted = text.replace("bars 72", "measures        72");
            assert_eq!(done, wanted, "only the line asked for");
            let edits = ask(&mut client, Value::Null);
            let done = crate::found::all(&text, &edits, unit);
            let wanted = wanted.replace("key Bb major", "tonal center    Bb major");
            assert_eq!(done, wanted, "{edits:?}");
            client.change(&uri, json!([{"text": done}]));
            assert!(ask(&mut client, Value::Null).is_empty(), "once is enough");
            client.told(&uri);
        }
    }
}
