//! Names change everywhere at once, and what cannot be renamed is refused in plain words.

use serde_json::{Value, json};

use crate::client::Client;
use crate::year::{self, BAND, OPEN, SHELF, SPRING, nth, words};

fn rename(client: &mut Client, uri: &str, at: &Value, new: &str) -> Value {
    let id = client.begin(
        "textDocument/rename",
        json!({"textDocument": {"uri": uri}, "position": at, "newName": new}),
    );
    client.answer(id)
}

#[test]
fn a_name_changes_wherever_it_stands() {
    let (folder, mut client) = year::desk();
    let (band, shelf, spring) = (
        folder.uri("band.levare"),
        folder.uri("shelf.levare"),
        folder.uri("spring.levare"),
    );
    let table: &[(&str, Value, &str, &str, &[(&str, &str)])] = &[
        // From a use, across files; the quotation marks stay as they are.
        (
            &spring,
            nth(SPRING, "Harbor", 0, 2),
            "Harbor Parade",
            "Quay Parade",
            &[
                ("shelf.levare", "\"Quay Parade\""),
                ("spring.levare", "\"Quay Parade\""),
            ],
        ),
        (
            &band,
            nth(BAND, "Seventh", 0, 0),
            "Seventh Grade Band",
            "Eighth Grade Band",
            &[
                ("band.levare", "ensemble \"Eighth Grade Band\""),
                ("spring.levare", "“Eighth Grade Band”"),
                ("handbook.levare", "for             \"Eighth Grade Band\""),
            ],
        ),
        (
            &shelf,
            nth(SHELF, "trio", 1, 1),
            "trio",
            "coda",
            &[(
                "shelf.levare",
                "A 9, coda 41\n  tempo           quarter = 116, quarter = 100 at coda\n  roadmap         D.C. al Fine, Fine at coda",
            )],
        ),
        (
            &shelf,
            nth(SHELF, "sharing", 0, 3),
            "sharing a solo",
            "trading solos",
            &[
                ("shelf.levare", "ties, trading solos"),
                ("band.levare", "skill \"trading solos\""),
            ],
        ),
        (
            &band,
            nth(BAND, "alto horn", 0, 3),
            "alto horn",
            "peck horn",
            &[
                ("band.levare", "peck horn       2".get(..9).unwrap()),
                ("band.levare", "instrument \"peck horn\""),
                ("shelf.levare", "    peck horn       with alto sax"),
            ],
        ),
    ];
    for (uri, at, old, new, wanted) in table {
        let found = client.at("textDocument/prepareRename", uri, at);
        assert_eq!(found["placeholder"], *old, "{found}");
        let answer = rename(&mut client, uri, at, new);
        let mut texts = OPEN.to_vec();
        texts.push(("handbook.levare", year::HANDBOOK));
        let made = year::done(&folder, &answer["result"], &texts);
        let mut names: Vec<&str> = wanted.iter().map(|(name, _)| *name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(made.keys().collect::<Vec<_>>(), names, "{new}");
        for (name, text) in *wanted {
            assert!(made[*name].contains(text), "{new}: {}", made[*name]);
        }
        for text in made.values() {
            assert!(!text.contains(old) || *old == "trio", "{old} is left in {text}");
        }
    }
    // After an edit, one place more.
    let more = format!("{SPRING}    \"Harbor Parade\" (again)\n");
    client.change(&spring, json!([{"text": more}]));
    let answer = rename(&mut client, &shelf, &nth(SHELF, "Harbor", 0, 0), "Quay");
    let edits = answer["result"]["documentChanges"].as_array().unwrap();
    assert_eq!(edits.len(), 2);
    assert_eq!(edits[1]["edits"].as_array().unwrap().len(), 2, "{answer}");
    assert_eq!(edits[1]["textDocument"]["version"], 2);
    year::quiet(&folder, &mut client);
}

#[test]
fn what_cannot_be_renamed_is_refused_in_plain_words() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let harbor = nth(SHELF, "Harbor", 0, 0);
    let table = [
        (&harbor, "Lanterns on the Weir", "already a piece named"),
        (&harbor, "The \"Quay\"", "quotation mark"),
        (&harbor, "  ", "at least one letter"),
        (&nth(SHELF, "trio", 0, 0), "A", "already has a mark A"),
        (&nth(SHELF, "trio", 0, 0), "B, C", "could not be read"),
        (&nth(SHELF, "sharing", 0, 0), "one, two", "could not be read"),
        (&nth(SHELF, "ties", 0, 0), "bows", "a word of the trade"),
        (
            &nth(SHELF, "alto horn", 0, 0),
            "alto sax",
            "already means the alto sax",
        ),
        (
            &nth(SHELF, "clarinet 1", 0, 0),
            "clarinet one",
            "has no card of its own",
        ),
    ];
    for (at, new, wanted) in table {
        let answer = rename(&mut client, &shelf, at, new);
        let said = answer["error"]["message"].as_str().unwrap_or_default();
        assert!(said.contains(wanted), "{new}: {answer}");
        assert_eq!(answer["error"]["code"], -32803);
    }
    let nothing = nth(SHELF, "march", 0, 1);
    assert_eq!(
        client.at("textDocument/prepareRename", &shelf, &nothing),
        Value::Null
    );
    // After an edit the name is free.
    client.change(
        &shelf,
        json!([{"text": SHELF.replace("Lanterns on", "Lamps on")}]),
    );
    let answer = rename(&mut client, &shelf, &harbor, "Lanterns on the Weir");
    assert!(answer.get("error").is_none(), "{answer}");
    year::quiet(&folder, &mut client);
}

#[test]
fn a_name_lights_up_where_it_is_given_and_used() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let lit = |client: &mut Client, text: &str, at: &Value| -> Vec<(String, u64)> {
        let found = client.at("textDocument/documentHighlight", &shelf, at);
        let found = found.as_array().cloned().unwrap_or_default();
        found
            .iter()
            .map(|one| {
                (
                    words(text, &one["range"]).to_owned(),
                    one["kind"].as_u64().unwrap(),
                )
            })
            .collect()
    };
    let (read, write) = (2, 3);
    let trio = nth(SHELF, "trio", 2, 1);
    let wanted = [("trio", write), ("trio", read), ("trio", read), ("trio", read)];
    assert_eq!(
        lit(&mut client, SHELF, &trio),
        wanted.map(|(word, kind)| (word.to_owned(), kind))
    );
    let flute = nth(SHELF, "flute", 1, 1);
    let wanted = [("flute", write), ("flute", read)];
    assert_eq!(
        lit(&mut client, SHELF, &flute),
        wanted.map(|(word, kind)| (word.to_owned(), kind))
    );
    let less = SHELF.replace(", Fine at trio", "");
    client.change(&shelf, json!([{"text": less}]));
    assert_eq!(lit(&mut client, &less, &nth(&less, "trio", 0, 1)).len(), 3);
    year::quiet(&folder, &mut client);
}

#[test]
fn names_that_pair_are_typed_together() {
    let (folder, mut client) = year::desk();
    let shelf = folder.uri("shelf.levare");
    let linked = |client: &mut Client, text: &str, at: &Value| -> Vec<String> {
        let found = client.at("textDocument/linkedEditingRange", &shelf, at);
        let found = found["ranges"].as_array().cloned().unwrap_or_default();
        found.iter().map(|range| words(text, range).to_owned()).collect()
    };
    assert_eq!(linked(&mut client, SHELF, &nth(SHELF, "trio", 0, 2)), ["trio"; 4]);
    assert_eq!(
        linked(&mut client, SHELF, &nth(SHELF, "flute", 0, 2)),
        ["flute"; 2]
    );
    // A title also stands in another file, so typing here alone would part the two.
    assert!(linked(&mut client, SHELF, &nth(SHELF, "Harbor", 0, 2)).is_empty());
    let more = SHELF.replace("asks ", "techniques      muted at trio\n  asks ");
    client.change(&shelf, json!([{"text": more}]));
    assert!(linked(&mut client, &more, &nth(&more, "trio", 0, 2)).len() >= 4);
    let other = SHELF.replace("at trio", "at Trio");
    client.change(&shelf, json!([{"text": other}]));
    assert!(linked(&mut client, &other, &nth(&other, "trio", 0, 2)).is_empty());
    year::quiet(&folder, &mut client);
}

#[test]
fn in_a_hundred_files_of_two_catalogues_and_back_again() {
    let two = crate::client::Folder::with(&[]);
    let mut texts = Vec::new();
    for root in ["one", "two"] {
        two.write(
            &format!("{root}/handbook.levare"),
            "handbook\n  notation        1\n",
        );
        for number in 0..50 {
            let name = format!("{root}/concerts {number}.levare");
            let text = format!("concert \"Évening {number}\"\n  program\n    “Harbor Parade” (𝄞 first)\n");
            two.write(&name, &text);
            texts.push((name, text));
        }
        let name = format!("{root}/shelf.levare");
        two.write(&name, "piece \"Harbor Parade\"\n");
        texts.push((name, "piece \"Harbor Parade\"\n".to_owned()));
    }
    let mut client = crate::client::Setup::new(&[&two.path("one"), &two.path("two")]).start();
    // One of them is open, and its last change is on no disk.
    let open = two.uri("one/concerts 7.levare");
    let unsaved = format!("{}    \"Harbor Parade\"\n", texts[7].1);
    client.open(&open, &texts[7].1);
    client.change(&open, json!([{"text": unsaved}]));
    texts[7].1 = unsaved;
    let shelf = two.uri("one/shelf.levare");
    let before = texts.clone();
    for new in ["Quay Parade", "Harbor Parade"] {
        let answer = rename(&mut client, &shelf, &json!({"line": 0, "character": 9}), new);
        let named: Vec<(&str, &str)> = texts.iter().map(|(name, text)| (&**name, &**text)).collect();
        let made = year::done(&two, &answer["result"], &named);
        assert_eq!(made.len(), 51, "the other catalog is another");
        assert!(made.keys().all(|name| name.starts_with("one/")));
        let mut changed = Vec::new();
        for (name, text) in &mut texts {
            let Some(now) = made.get(name) else { continue };
            *text = now.clone();
            two.write(name, now);
            changed.push(two.uri(name));
            if two.uri(name) == open {
                client.change(&open, json!([{"text": now}]));
            }
        }
        let changed: Vec<(&str, u8)> = changed.iter().map(|uri| (&**uri, 2)).collect();
        client.changed_on_disk(&changed);
    }
    assert_eq!(texts, before);
    for (name, _) in &texts {
        client.told(&two.uri(name));
    }
}
