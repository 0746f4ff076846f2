//! While writing: whole cards, offers that never stand in the way, shapes of values, facts in hovers, layout.

use serde_json::{Value, json};

use crate::client::{Client, Folder, Setup};
use crate::found::all;
use crate::places::{UNITS, marked, position, range};

const BAND: &str = "ensemble \"Seventh Grade Band\"
  players
    flute           9
    clarinet        12
    alto sax        6
    trumpet         8
  percussionists
    P1              mallets, timpani
    P2 P3           snare, bass drum
  owns            bells, snare
  keys            Bb major, Eb major
  taught          quarter notes, slurs by 2026-10-01
  introduced      ties

criteria \"our grade 1\"
  calls for       up to 3 flats

list \"Thrum Hollow list\"
  holds           \"Harbor Parade\" grade 1.5
";

const PIECE: &str = "piece \"Harbor Parade\"
  by              Tam Lindqvist
  style           march
  key signature   2 flats
  lasts           3:10
  parts
    trumpet         C4-C5
  asks            ties, slurs, syncopation
";

const HANDBOOK: &str = "handbook\n  notation        1\n  for             \"Seventh Grade Band\"\n";

/// What an editor of today can do.
fn today(setup: Setup) -> Setup {
    setup.can(json!({
        "workspace": {"workspaceEdit": {"resourceOperations": ["create", "rename", "delete"]}},
        "textDocument": {
            "synchronization": {"willSave": true, "willSaveWaitUntil": true},
            "completion": {"completionItem": {
                "snippetSupport": true,
                "documentationFormat": ["markdown", "plaintext"],
                "resolveSupport": {"properties": ["documentation", "detail"]},
            }},
            "signatureHelp": {"signatureInformation": {"parameterInformation": {"labelOffsetSupport": true}}},
            "rangeFormatting": {"rangesSupport": true},
            "codeAction": {"dataSupport": true, "resolveSupport": {"properties": ["edit"]}},
        },
    }))
}

fn desk(setup: fn(Setup) -> Setup, unit: &str) -> (Folder, Client) {
    let folder = Folder::with(&[
        ("handbook.levare", HANDBOOK),
        ("band.levare", BAND),
        ("shelf.levare", PIECE),
    ]);
    let mut client = setup(Setup::new(&[&folder.path("")]).unit(unit)).start();
    for name in ["handbook.levare", "band.levare", "shelf.levare"] {
        client.told(&folder.uri(name));
    }
    (folder, client)
}

fn read(client: &mut Client, folder: &Folder) {
    for name in ["handbook.levare", "band.levare", "shelf.levare", "new.levare"] {
        client.told(&folder.uri(name));
    }
}

fn offers(client: &mut Client, uri: &str, text: &str, unit: &str) -> (String, Vec<Value>) {
    let (plain, at) = marked(text, unit);
    client.change(uri, json!([{"text": plain}]));
    let answer = client.at("textDocument/completion", uri, &at);
    let items = answer["items"].as_array().cloned().unwrap_or_default();
    assert_eq!(
        answer["isIncomplete"],
        json!(!items.is_empty()),
        "it is asked for anew with every key"
    );
    for item in &items {
        assert_eq!(item.get("commitCharacters"), None);
        assert_eq!(item.get("preselect"), None);
    }
    (plain, items)
}

fn taken(plain: &str, item: &Value, unit: &str) -> String {
    let edit = &item["textEdit"];
    all(
        plain,
        &[json!({"range": edit["range"], "newText": edit["newText"]})],
        unit,
    )
}

fn named<'i>(items: &'i [Value], label: &str) -> &'i Value {
    items
        .iter()
        .find(|item| item["label"] == label)
        .unwrap_or_else(|| panic!("no {label} in {items:?}"))
}

#[test]
fn a_whole_card_with_the_instruments_of_the_band() {
    for unit in UNITS {
        let (folder, mut client) = desk(today, unit);
        let uri = folder.uri("new.levare");
        client.open(&uri, "");
        // A head in quotation marks that the editor has closed by itself.
        let (plain, items) = offers(&mut client, &uri, "piece \"|\"", unit);
        let card = taken(&plain, &items[0], unit);
        assert_eq!(items[0]["insertTextFormat"], 2);
        for row in [
            "piece \"$1\"\n",
            "\n    flute           $",
            "\n    trumpet         $",
            "\n    bells           $",
        ] {
            assert!(card.contains(row), "{row:?} in {card}");
        }
        assert!(card.ends_with("$0") && !card.contains("oboe"), "{card}");
        // The choice of a kind offers it too, and the lines below a head alone.
        let (_, items) = offers(&mut client, &uri, "pie|", unit);
        named(&items, "piece");
        named(&items, "piece, the whole card");
        let (plain, items) = offers(&mut client, &uri, "piece \"É𝄞\"\n  |", unit);
        let all = taken(&plain, named(&items, "all usual lines of a piece"), unit);
        assert!(all.starts_with("piece \"É𝄞\"\n  by              $1\n"), "{all}");
        let (plain, items) = offers(&mut client, &uri, "concert \"|", unit);
        assert!(taken(&plain, &items[0], unit).contains("for             \"Seventh Grade Band\""));
        // After an edit of the band, its new instruments.
        let band = folder.uri("band.levare");
        client.open(&band, &BAND.replace("trumpet  ", "oboe     "));
        let (plain, items) = offers(&mut client, &uri, "piece \"|", unit);
        let card = taken(&plain, &items[0], unit);
        assert!(
            card.contains("    oboe            $") && !card.contains("trumpet"),
            "{card}"
        );
        read(&mut client, &folder);
    }
}

#[test]
fn without_blanks_to_step_through_it_is_plain_text() {
    let (folder, mut client) = desk(|setup| setup, "utf-16");
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let (plain, items) = offers(&mut client, &uri, "piece \"|\"", "utf-16");
    let card = taken(&plain, &items[0], "utf-16");
    assert_eq!(items[0]["insertTextFormat"], 1);
    assert!(
        card.starts_with("piece \"\"\n  by\n") && !card.contains('$'),
        "{card}"
    );
    // What cannot be asked for later is there at once.
    let (_, items) = offers(&mut client, &uri, "piece \"X\"\n  parts\n    clar|", "utf-16");
    assert!(
        named(&items, "clarinet")["documentation"]
            .as_str()
            .unwrap()
            .contains("In your band")
    );
    read(&mut client, &folder);
}

#[test]
fn nothing_is_offered_that_the_enter_key_could_take_for_something_else() {
    let (folder, mut client) = desk(today, "utf-16");
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let silent = [
        "handbook|",
        "piece \"Night Ferry\"|",
        "piece \"Night|\"",
        "piece \"X\"\n  key signature   2 flats|",
        "piece \"X\"\n  meter           4/4|",
        "piece \"X\"\n  tempo           quarter = 76|",
        "piece \"X\"\n  tempo           quarter = 76 at 33|",
        "piece \"X\"\n  measures        88|",
        "piece \"X\"\n  lasts           3:10|",
        "piece \"X\"\n  style           march|",
        "piece \"X\"\n  notes           The melody reaches a |",
        "piece \"X\"\n  meter           4/4 (from the s|",
        "piece \"X\"\n  stet            over the break because the |",
        "piece \"X\"\n  parts\n    flute|",
        "piece \"X\"\n  parts\n    flute           D5-C6|",
        "concert \"X\"\n  program\n    \"Harbor Parade\"|",
    ];
    for text in silent {
        let (_, items) = offers(&mut client, &uri, text, "utf-16");
        let labels: Vec<&Value> = items.iter().map(|item| &item["label"]).collect();
        assert!(items.is_empty(), "{text}: {labels:?}");
    }
    read(&mut client, &folder);
}

#[test]
fn a_blank_alone_opens_nothing_but_a_value() {
    let (folder, mut client) = desk(today, "utf-16");
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let table = [
        ("piece \"X\"\n  |", ""),
        ("piece \"X\"\n  parts |", ""),
        ("piece \"X\"\n  parts\n    flute           |", ""),
        ("piece \"X\"\n  parts\n    flute\n    oboe  same as |", "flute"),
        ("piece \"X\"\n  meter |", "4/4"),
        (
            "piece \"X\"\n  rehearsal marks A 9\n  tempo           76, 80 at |",
            "A",
        ),
        ("piece |", ""),
    ];
    for (text, wanted) in table {
        let (plain, at) = marked(text, "utf-16");
        client.change(&uri, json!([{"text": plain}]));
        let context = json!({"triggerKind": 2, "triggerCharacter": " "});
        let params = json!({"textDocument": {"uri": uri}, "position": at, "context": context});
        let answer = client.ask("textDocument/completion", params);
        let items = answer["items"].as_array().unwrap();
        match wanted {
            "" => assert!(items.is_empty(), "{text}: {items:?}"),
            label => assert_eq!(named(items, label)["label"], label),
        }
    }
    read(&mut client, &folder);
}

#[test]
fn what_the_catalogue_knows_is_offered() {
    let (folder, mut client) = desk(today, "utf-16");
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let table = [
        ("concert \"X\"\n  absent          |", "P1"),
        ("concert \"X\"\n  calls for       |", "at most 3 percussionists"),
        ("concert \"X\"\n  calls for       |", "at least 1 march"),
        ("concert \"X\"\n  calls for       |", "by Tam Lindqvist"),
        ("piece \"X\"\n  by              Ta|", "Tam Lindqvist"),
        ("piece \"X\"\n  needs           |", "3 percussionists"),
        ("piece \"X\"\n  rehearsal marks A 9, |", "B "),
        ("piece \"X\"\n  parts\n    cl.|", "clarinet"),
        (
            "piece \"X\"\n  percussion\n    snare  1-8\n  pages\n    percussion 1    |",
            "snare",
        ),
        ("instrument \"X\"\n  reads           |", "treble clef"),
        ("handbook\n  hint            short|", "short of percussionists"),
        ("handbook\n  follows         contest|", "contest bands"),
    ];
    for (text, label) in table {
        let (_, items) = offers(&mut client, &uri, text, "utf-16");
        named(&items, label);
    }
    // After an edit of another card, another offer.
    let shelf = folder.uri("shelf.levare");
    client.open(&shelf, &PIECE.replace("Tam Lindqvist", "Nell Farrow"));
    let (_, items) = offers(
        &mut client,
        &uri,
        "concert \"X\"\n  calls for       by|",
        "utf-16",
    );
    named(&items, "by Nell Farrow");
    assert!(!items.iter().any(|item| item["label"] == "by Tam Lindqvist"));
    read(&mut client, &folder);
}

#[test]
fn an_offer_is_documented_when_it_is_shown() {
    let (folder, mut client) = desk(today, "utf-16");
    let uri = folder.uri("new.levare");
    client.open(&uri, "");
    let table = [
        (
            "piece \"X\"\n  tonal center    Eb|",
            "Eb major",
            "alto sax reads C major",
        ),
        (
            "piece \"X\"\n  stet            short|",
            "short of percussionists",
            "Why:",
        ),
        (
            "concert \"X\"\n  program\n    \"Har|",
            "\"Harbor Parade\"",
            "style: march",
        ),
        (
            "piece \"X\"\n  asks            tie|",
            "ties",
            "Seventh Grade Band: introduced",
        ),
        ("piece \"X\"\n  temp|", "tempo", "For example:"),
    ];
    for (text, label, wanted) in table {
        let (_, items) = offers(&mut client, &uri, text, "utf-16");
        let item = named(&items, label).clone();
        assert_eq!(
            (item.get("documentation"), item.get("detail")),
            (None, None),
            "{item}"
        );
        let told = client.ask("completionItem/resolve", item);
        assert_eq!(told["documentation"]["kind"], "markdown");
        let says = told["documentation"]["value"].as_str().unwrap();
        assert!(says.contains(wanted), "{text}: {says}");
        assert_eq!(told["label"], label);
    }
    // The same offer after an edit of the card that it is about.
    let shelf = folder.uri("shelf.levare");
    let (_, items) = offers(
        &mut client,
        &uri,
        "concert \"X\"\n  program\n    \"Har|",
        "utf-16",
    );
    client.open(&shelf, &PIECE.replace("march", "waltz"));
    let told = client.ask(
        "completionItem/resolve",
        named(&items, "\"Harbor Parade\"").clone(),
    );
    assert!(
        told["documentation"]["value"]
            .as_str()
            .unwrap()
            .contains("style: waltz")
    );
    read(&mut client, &folder);
}

#[test]
fn the_shape_of_a_value_follows_the_cursor() {
    for unit in UNITS {
        let (folder, mut client) = desk(today, unit);
        let uri = folder.uri("new.levare");
        client.open(&uri, "");
        let table = [
            ("piece \"É𝄞\"\n  tempo           |", "quarter"),
            ("piece \"É𝄞\"\n  tempo           quarter = |", "= 76"),
            ("piece \"É𝄞\"\n  tempo           quarter = 76 at |", "at 33"),
            ("piece \"X\"\n  grade           1.5 |", "publisher"),
            ("piece \"X\"\n  percussion\n    snare           |", "5-20"),
            (
                "piece \"X\"\n  stet            over the break because |",
                "because the seconds are eighth graders this year",
            ),
        ];
        for (text, wanted) in table {
            let (plain, at) = marked(text, unit);
            client.change(&uri, json!([{"text": plain}]));
            let help = client.at("textDocument/signatureHelp", &uri, &at);
            let signature = &help["signatures"][0];
            let active = help["activeParameter"].as_u64().unwrap() as usize;
            let ends = &signature["parameters"][active]["label"];
            let label = signature["label"].as_str().unwrap();
            let slot = &label[ends[0].as_u64().unwrap() as usize..ends[1].as_u64().unwrap() as usize];
            assert_eq!(slot, wanted, "{text}: {help}");
            // An example that a director would type, and no grammar.
            assert!(
                !label.contains(['<', '[', '|']) && !label.contains("..."),
                "{help}"
            );
            assert!(
                signature["documentation"].as_str().unwrap().ends_with('.'),
                "{help}"
            );
        }
        let (plain, at) = marked("piece \"X\"\n  notes           so it |", unit);
        client.change(&uri, json!([{"text": plain}]));
        assert_eq!(client.at("textDocument/signatureHelp", &uri, &at), Value::Null);
        read(&mut client, &folder);
    }
}

#[test]
fn hovers_tell_the_trade_s_facts() {
    let (folder, mut client) = desk(today, "utf-16");
    let shelf = folder.uri("shelf.levare");
    client.open(&shelf, PIECE);
    let at = |words: &str| position(PIECE, PIECE.find(words).unwrap() + 1, "utf-16");
    let mut says = |words: &str| {
        let hover = client.at("textDocument/hover", &shelf, &at(words));
        hover["contents"]["value"].as_str().unwrap_or_default().to_owned()
    };
    let staff = says("C4-C5");
    assert!(
        !staff.contains("---") && staff.contains("third-space C") && staff.contains("Bb3"),
        "{staff}"
    );
    let piece = says("Harbor Parade");
    for wanted in [
        "meets our grade 1",
        "our grade 1: met",
        "on Thrum Hollow list: grade 1.5",
    ] {
        assert!(piece.contains(wanted), "{wanted}: {piece}");
    }
    assert!(says("ties").contains("Seventh Grade Band: introduced"));
    assert!(says("slurs").contains("Seventh Grade Band: taught by 2026-10-01"));
    assert!(says("syncopation").contains("Seventh Grade Band: not taught yet"));
    client.change(&shelf, json!([{"text": PIECE.replace("2 flats", "4 flats")}]));
    let hover = client.at("textDocument/hover", &shelf, &at("Harbor Parade"));
    let piece = hover["contents"]["value"].as_str().unwrap();
    assert!(
        piece.contains("our grade 1: not met: it has 4 flats in its key signature (up to 3 flats)"),
        "{piece}"
    );
    read(&mut client, &folder);
}

#[test]
fn lines_are_put_right_when_they_are_left() {
    for unit in UNITS {
        let (folder, mut client) = desk(today, unit);
        let uri = folder.uri("new.levare");
        client.open(&uri, "");
        let table = [
            (
                "piece \"É𝄞\"\n  tonal center Bb major\n|",
                "piece \"É𝄞\"\n  tonal center    Bb major\n  ",
            ),
            // The director's own words are never written otherwise while typing.
            (
                "piece \"É𝄞\"\n  key Bb major\n|",
                "piece \"É𝄞\"\n  key             Bb major\n  ",
            ),
            ("piece \"É𝄞\"\n  parts\n  |\n", "piece \"É𝄞\"\n  parts\n    \n"),
            (
                "piece \"X\"\r\n  measures 7\r\n|  notes  a  b\r\n",
                "piece \"X\"\r\n  measures        7\r\n  notes  a  b\r\n",
            ),
        ];
        for (text, wanted) in table {
            let (plain, at) = marked(text, unit);
            client.change(&uri, json!([{"text": plain}]));
            let options = json!({"tabSize": 4, "insertSpaces": true});
            let edits = client.ask(
                "textDocument/onTypeFormatting",
                json!({"textDocument": {"uri": uri}, "position": at, "ch": "\n", "options": options}),
            );
            assert_eq!(all(&plain, edits.as_array().unwrap(), unit), wanted, "{edits}");
        }
        read(&mut client, &folder);
    }
}

#[test]
fn several_stretches_are_laid_out_at_once() {
    let text = "piece \"É𝄞\"\n  key Bb major\n  bars 72\n  time 4/4\n";
    let (folder, mut client) = desk(today, "utf-16");
    assert_eq!(
        client.capabilities["documentRangeFormattingProvider"]["rangesSupport"],
        true
    );
    let uri = folder.uri("new.levare");
    client.open(&uri, text);
    let ask = |client: &mut Client, words: &[&str]| {
        let ranges: Vec<Value> = words.iter().map(|words| range(text, words, "utf-16")).collect();
        let edits = client.ask(
            "textDocument/rangesFormatting",
            json!({"textDocument": {"uri": uri}, "ranges": ranges, "options": {"tabSize": 4, "insertSpaces": true}}),
        );
        all(text, edits.as_array().unwrap(), "utf-16")
    };
    let done = ask(&mut client, &["  key Bb major", "  time 4/4"]);
    assert_eq!(
        done,
        "piece \"É𝄞\"\n  tonal center    Bb major\n  bars 72\n  meter           4/4\n"
    );
    let done = ask(&mut client, &["  bars 72", "  bars 72"]);
    assert_eq!(
        done,
        "piece \"É𝄞\"\n  key Bb major\n  measures        72\n  time 4/4\n"
    );
    read(&mut client, &folder);
}

#[test]
fn a_file_is_laid_out_before_saving_only_where_it_is_wanted() {
    let text = "piece \"X\"\n  key Bb major\n";
    let (folder, mut client) = desk(today, "utf-16");
    let sync = client.capabilities["textDocumentSync"].clone();
    assert_eq!(
        (&sync["willSave"], &sync["willSaveWaitUntil"]),
        (&json!(true), &json!(true))
    );
    let uri = folder.uri("new.levare");
    client.open(&uri, text);
    let saves = |client: &mut Client| {
        client.note(
            "textDocument/willSave",
            json!({"textDocument": {"uri": uri}, "reason": 1}),
        );
        let params = json!({"textDocument": {"uri": uri}, "reason": 1});
        client.ask("textDocument/willSaveWaitUntil", params)
    };
    assert_eq!(saves(&mut client), json!([]));
    let set = |on: bool| json!({"settings": {"levare": {"recopyOnSave": on}}});
    client.note("workspace/didChangeConfiguration", set(true));
    let edits = saves(&mut client);
    let done = all(text, edits.as_array().unwrap(), "utf-16");
    assert_eq!(done, "piece \"X\"\n  tonal center    Bb major\n");
    // The empty row that the cursor stands in keeps its depth.
    let row = "piece \"X\"\n  percussion\n    snare  1-8\n    ";
    client.change(&uri, json!([{"text": row.trim_end_matches(' ')}]));
    let end = json!({"line": 3, "character": 0});
    client.change(
        &uri,
        json!([{"range": {"start": end, "end": end}, "text": "    "}]),
    );
    let edits = saves(&mut client);
    let done = all(row, edits.as_array().unwrap(), "utf-16");
    assert_eq!(done, row.replace("snare  1-8", "snare           1-8"));
    client.note("workspace/didChangeConfiguration", set(false));
    assert_eq!(saves(&mut client), json!([]));
    read(&mut client, &folder);
    // A client that cannot is not told that it could.
    let (folder, mut client) = desk(|setup| setup, "utf-16");
    assert_eq!(
        client.capabilities["textDocumentSync"].get("willSaveWaitUntil"),
        None
    );
    read(&mut client, &folder);
}
